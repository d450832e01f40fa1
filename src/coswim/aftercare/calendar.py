"""The dated steps for a proposal: quarantine, the two waters, moving in, the filter, and what to watch when.

Quarantine of at least 30 days, counted anew with each addition; matching waters; lights and hour; rearranging:
common practice. Days of the filter and the months of a gape window are the screening's. Watch days: judgement.
"""

from __future__ import annotations

import calendar
from collections.abc import Iterator, Mapping, Sequence
from datetime import date, timedelta
from types import MappingProxyType
from typing import NamedTuple

from coswim.aftercare.company import Companion, Company
from coswim.aftercare.concerns import Concern
from coswim.aftercare.two_waters import A_DAY, LARGE, WaterDifference
from coswim.profiles import scales
from coswim.text import wording

QUARANTINE = 30
PREPARE, LEAD_OVER = 7, 10
BETWEEN_GROUPS = 14
CATCH_UP, CATCH_UP_MOST = 14, 42
"""Days of daily ammonia tests where the screening finds no trouble, and at most. Source: common practice, judgement."""
WATCH_DAILY, WATCH_EVERY, WATCH_UNTIL = 3, 7, 28
MEASURE_MONTHS = 3
LOOK = (
    "Count all fish. Who eats, who is chased, any damage (coswim explain damage)? Both sides, in good light: coswim "
    "diary add."
)
HOURS: Mapping[str, tuple[str, str]] = MappingProxyType(
    {
        "day": ("in the evening, with the lights out", " until next morning"),
        "dusk": ("at midday, in dim light", ""),
        "night": ("in the morning", ", with the whole day ahead"),
    }
)
"""When newcomers move in, by the time at which the resident to be heeded is awake: in short, and the rest of it.
Source: common practice."""
WHERE: Mapping[str, str] = MappingProxyType(
    {"surface": "at the surface", "mid": "in mid-water", "bottom": "on the bottom"}
)
TROUBLE = ("aggression", "gape-fit", "spine-choking", "nipping", "injury")


class DatedStep(NamedTuple):
    """What is due on a day, or from a day to another (both counted); where `every` is given, each so many days."""

    kind: str
    day: date
    until: date
    title: str
    what: tuple[str, ...]
    every: int = 0

    @property
    def when(self) -> str:
        """The day or days as a reader is told."""
        often = {0: "", 1: ", every day"}.get(self.every, f", every {self.every} days")
        return f"{self.day}" if self.until == self.day else f"{self.day} to {self.until}{often}"


class Calendar(NamedTuple):
    """The steps in order, and the day on which the first fish move in."""

    company: Company
    steps: tuple[DatedStep, ...]
    moving_in: date


def make_calendar(
    company: Company,
    concerns: Sequence[Concern],
    *,
    added: Sequence[date] = (),
    waters: Sequence[WaterDifference] = (),
) -> Calendar:
    """The calendar of a company whose newcomers come home on `company.start`.

    `added` are days on which more fish joined them in quarantine: each starts it anew. Only days within the
    quarantine count; ValueError for one before its start.
    """
    end = quarantine_end(company.start, added)
    moves = [end + timedelta(days=place * BETWEEN_GROUPS) for place in range(len(company.newcomers))]
    steps = (
        *_quarantine(company, end, waters),
        *_moving_in(company, concerns, moves),
        *_after(company, concerns, moves),
    )
    return Calendar(company, tuple(sorted(steps, key=lambda step: (step.day, step.until))), end)


def quarantine_end(start: date, added: Sequence[date] = ()) -> date:
    """The first day after at least 30 days without an addition.

    >>> str(quarantine_end(date(2026, 1, 5))), str(quarantine_end(date(2026, 1, 5), [date(2026, 1, 20)]))
    ('2026-02-04', '2026-02-19')
    """
    end = start + timedelta(days=QUARANTINE)
    for day in sorted(added):
        if day < start:
            raise ValueError(f"{day} is before the quarantine starts ({start})")
        if day < end:
            end = day + timedelta(days=QUARANTINE)
    return end


def _step(kind: str, day: date, title: str, *what: str, until: date | None = None, every: int = 0) -> DatedStep:
    return DatedStep(kind, day, until or day, title, tuple(what), every)


def _names(fish: Sequence[Companion]) -> str:
    return wording.listed([one.label for one in fish])


def _quarantine(company: Company, end: date, waters: Sequence[WaterDifference]) -> Iterator[DatedStep]:
    last = end - timedelta(days=1)
    yield _step(
        "quarantine",
        company.start,
        f"Quarantine of {_names(company.newcomers)}",
        f"At least {QUARANTINE} days in a tank of their own, with nets and buckets of its own. Each fish that is added "
        f"starts the {QUARANTINE} days anew.",
        "Look every day: do they eat, breathe calmly, hold their fins open? Any spot, wool, wound or swelling?",
        "A fish that looks ill stays there and goes to a veterinarian; the days start anew.",
        until=last,
        every=1,
    )
    yield _step("waters", end - timedelta(days=LEAD_OVER), "Match the two waters", *_waters(waters), until=last)
    yield _step(
        "prepare",
        end - timedelta(days=PREPARE),
        "Have ready before they meet",
        "The divider, the second tank or the name of whoever takes the fish: see the way out.",
        "Weigh or photograph every fish and write it down: coswim diary add. Later days are held against it.",
        "Test the tank: ammonia and nitrite must read zero.",
    )


def _waters(waters: Sequence[WaterDifference]) -> Iterator[str]:
    if waters:
        yield from (f"{wording.opening(one.words)}." for one in waters)
    else:
        large = f"{LARGE['temperature']:g} C, {LARGE['pH']:g} of pH or {LARGE['hardness']:g} dGH"
        yield f"Test temperature, pH and hardness of both. More than {large} between them is large."
    yield (
        "Lead the quarantine's water to the tank's with small changes: a day takes no more than "
        f"{A_DAY['temperature']:g} C, {A_DAY['pH']:g} of pH and {A_DAY['hardness']:g} dGH."
    )


def order_of_moving_in(fish: Sequence[Companion]) -> tuple[Companion, ...]:
    """The gentlest first and whoever holds a place last, so that nobody arrives in a tank that is shared out.

    Source: common practice.
    """
    return tuple(sorted(fish, key=lambda one: (_drive(one), one.length)))


def _drive(fish: Companion) -> float:
    """Its drive to attack other fish, 0 to 1; where it is not known, as if it had the most."""
    temper = fish.profile.temperament
    return scales.TEMPERAMENT.number(temper.other_fish) if temper else 1.0


def hour_of_moving_in(company: Company, concerns: Sequence[Concern]) -> str:
    """The hour at which those who might harm the newcomers rest, and why. Source: common practice."""
    heed = _who_is_heeded(company, concerns)
    hour = wording.opening("".join(HOURS[heed.active if heed else "day"]))
    if heed is None or heed.active == "day":
        who = f": {heed.label} {heed.verb('rests', 'rest')} by night" if heed else ""
        return f"{hour}{who}."
    return f"{hour}: {heed.label} {heed.verb('wakes', 'wake')} {wording.at_hour(heed.active)}."


def hour_in_short(company: Company, concerns: Sequence[Concern]) -> str:
    """The hour alone: `in the evening, with the lights out`."""
    heed = _who_is_heeded(company, concerns)
    return HOURS[heed.active if heed else "day"][0]


def _who_is_heeded(company: Company, concerns: Sequence[Concern]) -> Companion | None:
    """The resident that might harm the newcomers most."""
    doers = [c.doer for c in concerns if c.hazard in TROUBLE and c.doer and c.doer.is_resident]
    return doers[0] if doers else max(company.residents, key=_drive, default=None)


def _moving_in(company: Company, concerns: Sequence[Concern], moves: Sequence[date]) -> Iterator[DatedStep]:
    order = order_of_moving_in(company.newcomers)
    yield _step("feeding", moves[0] - timedelta(days=1), "Set up the feeding", *_feeding(company, concerns))
    for place, (fish, day) in enumerate(zip(order, moves, strict=True)):
        what = [hour_of_moving_in(company, concerns)]
        if place == 0 and company.residents:
            what.insert(0, "First rearrange roots, caves and plants, so that no place belongs to anybody.")
        what.append("Leave the quarantine's water behind. Feed the residents just before, elsewhere in the tank.")
        what.append("Stay and watch for an hour. Count and look all over next morning.")
        if len(order) > 1:
            what.append(f"Number {place + 1} of {len(order)}: the gentlest go first, who holds a place goes last.")
        yield _step("moving in", day, f"{fish.subject} {fish.verb('moves', 'move')} in", *what)


def _feeding(company: Company, concerns: Sequence[Concern]) -> Iterator[str]:
    feeding = company.plan.feeding
    hungry = [c for c in concerns if c.hazard == "feeding-competition"]
    yield from (concern.sentence for concern in hungry)
    for fish in company.fish:
        if fish not in [c.target for c in hungry]:
            continue
        hour = {"night": "after lights out", "dusk": "at dusk"}.get(fish.active, "while the others are busy elsewhere")
        level = fish.profile.feeding_style.level[0] if fish.profile.feeding_style else "bottom"
        yield f"Give {fish.label} food of {fish.verb('its', 'their')} own {hour}, {WHERE[level]}, with tongs or a tube."
    if not hungry:
        yield f"Feed in {wording.counted(max(2, feeding.places), 'place')} far apart for the first weeks."
    yield "Little for the first two days; take out what is left after a few minutes."


def _after(company: Company, concerns: Sequence[Concern], moves: Sequence[date]) -> Iterator[DatedStep]:
    moved, last = moves[0], moves[-1]
    yield _filter(concerns, moved, last)
    for day in moves:
        first, end = day + timedelta(days=1), day + timedelta(days=WATCH_DAILY)
        yield _step("watch", first, "Watch", *_watching(company), until=end, every=1)
    weekly, until = moved + timedelta(days=WATCH_EVERY), last + timedelta(days=WATCH_UNTIL)
    judge = "Ask for the judgement: coswim diary judge."
    yield _step("watch", weekly, "Watch", LOOK, judge, until=until, every=WATCH_EVERY)
    for month in range(1, MEASURE_MONTHS + 1):
        what = "Length or weight of each fish, into the diary; it is held against the first day."
        yield _step("measure", _months_after(moved, month), "Measure", what, judge)
    yield from _windows(company, concerns, moved)


def _filter(concerns: Sequence[Concern], moved: date, last: date) -> DatedStep:
    known = [c.figures["days_to_catch_up"] for c in concerns if "days_to_catch_up" in c.figures]
    days = min(max(CATCH_UP, round(max(known, default=0))), CATCH_UP_MOST)
    why = f"The filter needs about {wording.number(max(known))} days to grow to the new load." if known else (
        "The screening sees the filter follow; a test is still surer."
    )  # fmt: skip
    return _step(
        "filter",
        moved,
        "Test ammonia and nitrite",
        why,
        "Kits show NH3 and NH4 together; enter it with pH and temperature, and coswim says how much is poisonous.",
        "Anything above zero: change water the same day and feed less.",
        "Pull the plug with dry hands before you reach in; have residual-current protection; ask an electrician if in "
        "doubt.",
        until=last + timedelta(days=days - 1),
        every=1,
    )


def _watching(company: Company) -> Iterator[str]:
    yield LOOK
    night = [fish for fish in company.fish if fish.active != "day"]
    if night:
        awake = "is" if len(night) == 1 and night[0].number == 1 else "are"
        yield f"Look again an hour after lights out, with a weak lamp: {_names(night)} {awake} awake then."


def _windows(company: Company, concerns: Sequence[Concern], moved: date) -> Iterator[DatedStep]:
    """The months in which a mouth comes to fit a body, or no longer does, and in which a tank is outgrown.

    Months count from the day on which the fish come home, since that is when they are as long as the plan says.
    """
    start, horizon = company.start, round(company.plan.horizon)
    for concern in concerns:
        first, last = concern.from_month, concern.to_month
        if concern.hazard == "gape-fit" and first is not None and last is not None:
            opens, closes = (max(moved, _months_after(start, month)) for month in (first, last))
            title = "A mouth comes to fit a body" if first else "A mouth fits a body"
            yield _step("gape", opens, title, concern.sentence, "Count them every morning from now on.")
            if last < horizon:
                yield _step("gape", closes, "A mouth no longer fits a body", concern.sentence)
        elif concern.hazard == "space" and concern.topic == "room" and first:
            title = f"{concern.target.subject} and the tank"
            yield _step("space", _months_after(start, first), title, concern.sentence)


def _months_after(day: date, months: int) -> date:
    """The same day some months later, or the last one of a shorter month.

    >>> str(_months_after(date(2026, 1, 31), 1)), str(_months_after(date(2026, 11, 5), 14))
    ('2026-02-28', '2028-01-05')
    """
    year, month = divmod(day.year * 12 + day.month - 1 + months, 12)
    return date(year, month + 1, min(day.day, calendar.monthrange(year, month + 1)[1]))
