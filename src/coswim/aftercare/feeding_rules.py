"""Stop rules on feeding and weight: how long a fish may go without, and how much it may lose.

What an unfed fish loses in a day follows from its weight and the warmth (`biology/energy.py`). A twentieth of
its weight asks for action, an eighth for parting, within bounds that keepers would name: 4 to 10 days and 8 to
21 days. So a keeper acts for a tetra within days, and a large predator has its week of settling in.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from functools import partial
from itertools import takewhile
from typing import NamedTuple

from coswim.aftercare.company import Companion, Company
from coswim.aftercare.diary import DiaryEntry
from coswim.aftercare.signs import Sign
from coswim.aftercare.stop_rule import ACT, PART, Met, StopRule, of_any_group
from coswim.aftercare.watched import Noted, Watched, days_between
from coswim.biology import energy
from coswim.library.portrait import weight_at
from coswim.text import wording

ACT_AT, PART_AT = 0.05, 0.125
"""Part of its weight that a fast may cost before its keeper acts, and before it is fed by itself. Source: judgement."""
ACT_DAYS, PART_DAYS = (4, 10), (8, 21)
"""Fewest and most days of that. Source: common practice (ten days for a resident), the rest judgement."""
SCRAPS_DAYS, SCRAPS_SEEN = 14, 3
LONG_SCRAPS_DAYS, LONG_SCRAPS_SEEN = 42, 5
"""Days without one full meal, and how often it must have been looked at. Source: judgement."""
POOR_SHARE, POOR_DAYS, POOR_SEEN = 0.4, 21, 5
SHARE = {"yes": 1.0, "some": 0.5, "no": 0.0}
"""What `ate` counts as, part of a meal. Source: judgement."""
LIGHTER, STANDING_LOSS, STARVING = 0.10, 0.05, 0.20
"""Part of its weight that is lost; gut filling is under a tenth. Source: common practice (a tenth), else judgement."""
BACK = 1.01
EXPONENT = 3.0
FEED_ALONE = (
    "Feed it by itself, with tongs or a tube, when the others are full or asleep; weigh or photograph it every week"
)
VETERINARIAN = "if it looks ill, ask a veterinarian"
UNFED = f"Part it today and feed it in quiet; {VETERINARIAN}"
OFFER = f"Offer live or other food, more cover, less light; test the water; {VETERINARIAN}"
PART_IT = "Part it and feed it in quiet"
THINNED = f"{PART_IT}; {VETERINARIAN}"
DOWN, NO_FULL_MEAL = "weight or girth is down {}", "a fish has no full meal in {} days"


class Fasts(NamedTuple):
    """Days that a fish may refuse all food: until its keeper acts, and until it is parted."""

    act: int
    part: int


def fasts(fish: Companion, temperature: float) -> Fasts:
    """How many days one of the group may go without food, from its weight and the warmth.

    Equation: part of weight / daily loss unfed, within bounds.
    Parameters: its length gives the weight [g]; temperature [C].
    Returns: days.
    Valid range: as `energy.daily_change`. Source: `biology/energy.py`; the parts and bounds are judgement.
    """
    daily = -float(energy.daily_change(weight_at(fish.profile, fish.length), temperature, coverage=0))
    return Fasts(_within(ACT_AT, daily, ACT_DAYS), _within(PART_AT, daily, PART_DAYS))


def _within(part: float, daily: float, bounds: tuple[int, int]) -> int:
    """Days until that part of the weight is lost; the most where the cold stops every loss."""
    low, high = bounds
    return round(min(max(part / daily, low), high)) if daily > 0 else high


def rules(company: Company) -> Iterator[StopRule]:
    """Two rules of fasting for every group, then those of weight and scraps, which hold for all."""
    temperature = company.plan.tank.temperature.middle
    for fish in company.fish:
        days = fasts(fish, temperature)
        for decision, limit, do in ((PART, days.part, UNFED), (ACT, days.act, OFFER)):
            sign = f"{fish.label} {fish.verb('eats', 'eat')} nothing for {limit} days"
            yield StopRule("fasting", decision, sign, do, partial(_fasted, fish=fish, limit=limit))
    yield from RULES


def _fasted(seen: Watched, fish: Companion, limit: int) -> Met | None:
    run = trailing(answers(seen, fish), lambda entry: entry.ate == "no")
    if not run or days_between(run[0], run[-1]) < limit or is_well_fed(seen, fish):
        return None
    return Met(f"{fish.label} {fish.verb('has', 'have')} eaten nothing for {_days(run)}", run[-1])


def answers(seen: Watched, fish: Companion) -> list[Noted]:
    """The entries that say whether it ate."""
    return [noted for noted in seen.of(fish) if noted.entry.ate]


def trailing(noted: Sequence[Noted], holds: Callable[[DiaryEntry], bool]) -> list[Noted]:
    """The last entries in an unbroken row that are such."""
    return [*takewhile(lambda one: holds(one.entry), reversed(noted))][::-1]


def is_well_fed(seen: Watched, fish: Companion) -> bool:
    """The last that a note says of its belly is good: it feeds where nobody sees it."""
    spoken = [noted for noted in seen.about(fish) if noted.says(Sign.WELL_FED, Sign.THIN, Sign.THINNER)]
    return bool(spoken) and spoken[-1].says(Sign.WELL_FED) is not None


def _days(run: Sequence[Noted]) -> str:
    return wording.counted(days_between(run[0], run[-1]), "day")


def _without_full_meal(seen: Watched, fish: Companion, days: int, least: int) -> Met | None:
    run = trailing(answers(seen, fish), lambda entry: entry.ate != "yes")
    if len(run) < least or days_between(run[0], run[-1]) < days or is_well_fed(seen, fish):
        return None
    return Met(f"{fish.label} {fish.verb('has', 'have')} not had one full meal in {_days(run)}", run[-1])


def _poor(seen: Watched, fish: Companion) -> Met | None:
    late = [one for one in answers(seen, fish) if days_between(one, seen.on) <= POOR_DAYS]
    share = sum(SHARE[one.entry.ate or "no"] for one in late) / len(late) if late else 1.0
    if len(late) < POOR_SEEN or share >= POOR_SHARE or is_well_fed(seen, fish) or late[-1].entry.ate == "yes":
        return None
    had = fish.verb("has", "have")
    return Met(f"{fish.label} {had} eaten {wording.share(share)} of what was seen in {POOR_DAYS} days", late[-1])


def is_hungry(seen: Watched, fish: Companion) -> bool:
    """When it was last looked at it did not eat its fill."""
    ate = answers(seen, fish)
    return bool(ate) and ate[-1].entry.ate != "yes"


def _emaciated(seen: Watched, fish: Companion) -> Met | None:
    spoken = [noted for noted in seen.about(fish) if noted.says(Sign.THIN, Sign.WELL_FED, Sign.BETTER)]
    if (
        not spoken
        or not (sign := spoken[-1].says(Sign.THIN))
        or not (is_hungry(seen, fish) or _lighter(seen, fish, 0.1))
    ):
        return None
    return Met(
        f'{fish.label}: "{sign.words}", and {fish.verb("does not eat its", "do not eat their")} fill', spoken[-1]
    )


def _thinner(seen: Watched, fish: Companion) -> Met | None:
    spoken = [n for n in seen.about(fish) if n.says(Sign.THIN, Sign.THINNER, Sign.WELL_FED, Sign.BETTER)]
    sign = spoken[-1].says(Sign.THIN, Sign.THINNER) if spoken else None
    return Met(f'{fish.label}: "{sign.words}"', spoken[-1]) if sign else None


class Loss(NamedTuple):
    """How much of its weight a fish has lost since it was heaviest, 0 to 1, and the last weighing."""

    share: float
    last: Noted
    rises: bool


def loss(seen: Watched, fish: Companion) -> Loss | None:
    """From the heaviest weighing to the last; of a fish that was measured at both, with its growth reckoned in.

    Without a length at both, weights are compared as they are: lengths are too uncertain to be guessed.
    """
    weighed = [noted for noted in seen.of(fish, ever=True) if noted.entry.weight]
    if len(weighed) < 2:
        return None
    last = weighed[-1]
    best = max(weighed, key=lambda one: _weight(one, like=last))
    share = 1 - _weight(last, like=last) / _weight(best, like=last)
    return Loss(share, last, _weight(last, like=last) >= BACK * _weight(weighed[-2], like=last))


def _weight(weighing: Noted, *, like: Noted) -> float:
    """What it weighed, or would have weighed at the length of the other weighing (by the cube), g."""
    length, wanted = weighing.entry.length, like.entry.length
    growth = (wanted / length) ** EXPONENT if length and wanted else 1.0
    return float((weighing.entry.weight or 0.0) * growth)


def _lighter(seen: Watched, fish: Companion, part: float) -> Met | None:
    lost = loss(seen, fish)
    if lost is None or round(lost.share, 3) < part or (lost.rises and not is_hungry(seen, fish)):
        return None
    lighter = f"{wording.share(lost.share)} lighter than {fish.verb('it was', 'they were')}"
    return Met(f"{fish.label} {fish.verb('is', 'are')} {lighter}", lost.last)


def _loses_for_a_reason(seen: Watched, fish: Companion) -> Met | None:
    met = _lighter(seen, fish, STANDING_LOSS)
    chases = [noted.entry.chased for noted in seen.of(fish) if noted.entry.chased]
    if met is None:
        return None
    if is_hungry(seen, fish):
        return Met(f"{met.words} and {fish.verb('does not eat its', 'do not eat their')} fill", met.noted)
    return Met(f"{met.words} and chased", met.noted) if chases and chases[-1] != "no" else None


RULES = (
    of_any_group("weight", PART, DOWN.format(wording.share(STARVING)), THINNED, partial(_lighter, part=STARVING)),
    of_any_group("weight", ACT, DOWN.format(wording.share(LIGHTER)), FEED_ALONE, partial(_lighter, part=LIGHTER)),
    of_any_group(
        "weight", ACT, f"weight is down {wording.share(STANDING_LOSS)} and the fish is not eating its fill, or is "
        "chased", FEED_ALONE, _loses_for_a_reason,
    ),
    of_any_group(
        "scraps", PART, NO_FULL_MEAL.format(LONG_SCRAPS_DAYS), f"{PART_IT} until it is round again",
        partial(_without_full_meal, days=LONG_SCRAPS_DAYS, least=LONG_SCRAPS_SEEN),
    ),
    of_any_group(
        "scraps", ACT, NO_FULL_MEAL.format(SCRAPS_DAYS), FEED_ALONE,
        partial(_without_full_meal, days=SCRAPS_DAYS, least=SCRAPS_SEEN),
    ),
    of_any_group(
        "scraps", ACT, f"a fish has had less than {wording.share(POOR_SHARE)} of its meals over {POOR_DAYS} days",
        FEED_ALONE, _poor,
    ),
    of_any_group(
        "thin", PART, "a belly is hollow or a head looks too large, and the fish is not eating its fill", THINNED,
        _emaciated,
    ),
    of_any_group("thin", ACT, "a fish looks thinner", FEED_ALONE, _thinner),
)  # fmt: skip
"""Of every group alike."""
