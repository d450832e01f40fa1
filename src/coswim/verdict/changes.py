"""What a keeper can change about a proposal, in the keeper's words, each as a changed copy of the plan.

Changes never add a species. Each kind comes as a ladder of steps from the smallest change to the largest,
so that the smallest one that helps can be looked for. Steps and ends of the ladders are judgement: what a
keeper can buy, build and keep up.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from math import floor, sqrt
from typing import Any

from coswim.plans.plan import FOODS, HOURS, GroupEntry
from coswim.profiles.profile import Profile
from coswim.simulation.phrases import plural
from coswim.text import wording
from coswim.text.quantities import Box, Range
from coswim.verdict.case import Case

FINE_STEP, STEP, FINE_BELOW = 0.5, 1.0, 10.0  # cm between buying lengths; the fine one for fish up to 10 cm
DEGREES = 0.5
WATER_CHANGES = ((0.25, 7), (0.3, 7), (0.4, 7), (0.5, 7), (0.5, 5), (0.5, 4), (0.5, 3), (0.5, 2), (0.5, 1))
"""Share and days between changes, from little work to much."""
TANK_FACTORS = (1.2, 1.4, 1.55, 1.7, 2.0, 2.4, 2.8, 3.4, 4.0)
"""Length and width over those of the present tank."""
SIDE_STEP, LONGEST, WIDEST, TALLEST = 10.0, 400.0, 150.0, 80.0  # cm, a tank as it may be built at home
FITS_A_HOME = 2000.0
"""Litres; a larger tank can be built, but few rooms and floors hold it."""
COMPANY = frozenset({"schooling", "nipping", "aggression"})
"""Hazards that more of a kind may help against where it has too little company."""
MORE_HIDING = (2, 4, 6, 10)
MOST_PLACES = 4
FOOD_WORDS = {
    "mixed": "feed mixed food",
    "floating pellet": "feed floating pellets",
    "sinking pellet": "feed sinking pellets",
    "frozen": "feed frozen food",
    "live": "feed live food",
    "soft": "feed soft food",
}


@dataclass(frozen=True)
class Change:
    """One change, or several together, in words, and how it is made to a copy of a case.

    No two changes that touch the same thing go together.
    """

    touches: tuple[str, ...]
    words: str
    apply: Callable[[Case], Case]

    @property
    def key(self) -> str:
        """What tells this change from all others of a case."""
        return f"{'|'.join(self.touches)}|{self.words}"


@dataclass(frozen=True)
class Ladder:
    """One kind of change in steps, from the smallest to the largest, against some hazards alone or against all."""

    steps: Sequence[Change]
    against: frozenset[str] | None = None

    def is_against(self, hazard: str) -> bool:
        """A keeper would think of it against this hazard."""
        return self.against is None or hazard in self.against


def together(changes: Sequence[Change]) -> Change:
    """Several changes made at once."""

    def apply(case: Case) -> Case:
        for change in changes:
            case = change.apply(case)
        return case

    touches = tuple(thing for change in changes for thing in change.touches)
    return Change(touches, wording.listed([change.words for change in changes]), apply)


def ladders(case: Case) -> tuple[Ladder, ...]:
    """Every kind of change that this proposal in this tank allows, those that cost a keeper least first."""
    groups = list(case.groups())
    keeping = [
        *_hours(case),
        *_foods(case),
        _places(case),
        _lid(case),
        _filter(case),
        _hiding_places(case),
        _temperatures(case),
        _water_changes(case),
    ]
    company = [_more(case, index, entry, profile) for index, entry, profile in groups]
    buying: list[list[Change]] = []
    for index, entry, profile in groups:
        buying += [_longer(case, index, entry, profile), _fewer(case, index, entry, profile)]
    if len(groups) > 1:
        buying += [_left_out(index, profile) for index, _, profile in groups]
    buying.append([change for size, change in _tanks(case) if size.litres <= FITS_A_HOME])
    return (
        *(Ladder(steps) for steps in keeping if steps),
        *(Ladder(steps, COMPANY) for steps in company if steps),
        *(Ladder(steps) for steps in buying if steps),
    )


def vast_tanks(case: Case) -> Ladder | None:
    """Larger tanks up to what can be built, where that is more than a home usually holds."""
    sizes, changes = zip(*tanks, strict=True) if (tanks := list(_tanks(case))) else ((), ())
    return Ladder(changes) if any(size.litres > FITS_A_HOME for size in sizes) else None


def _tank_change(words: str, **values: Any) -> Change:
    return Change(tuple(values), words, lambda case: case.with_tank(**values))


def _feeding_change(words: str, **values: Any) -> Change:
    return Change(tuple(values), words, lambda case: case.with_feeding(**values))


def _group_change(index: int, words: str, **values: Any) -> Change:
    touches = tuple(f"{name} of group {index}" for name in values)
    return Change(touches, words, lambda case: case.with_group(index, **values))


def _hours(case: Case) -> Iterator[list[Change]]:
    """Feed at the hour of a fish that is not fed at its own."""
    wanted = {profile.feeding_style.active for profile in case.profiles() if profile.feeding_style}
    for hour in HOURS:
        if hour in wanted and hour != case.feeding.at:
            yield [_feeding_change(f"feed {'at' if hour == 'dusk' else 'by'} {hour}", at=hour)]


def _foods(case: Case) -> Iterator[list[Change]]:
    """Sink the food, float it, or feed another kind."""
    for food in FOODS:
        if food != case.feeding.food:
            yield [_feeding_change(FOOD_WORDS[food], food=food)]


def _places(case: Case) -> list[Change]:
    more = range(case.feeding.places + 1, MOST_PLACES + 1)
    return [_feeding_change(f"spread the food over {number} places", places=number) for number in more]


def _lid(case: Case) -> list[Change]:
    return [] if case.tank.lid else [_tank_change("keep a lid on the tank", lid=True)]


def _hiding_places(case: Case) -> list[Change]:
    numbers = [case.tank.hiding_places + more for more in MORE_HIDING]
    return [_tank_change(f"give {number} hiding places", hiding_places=number) for number in numbers]


def _temperatures(case: Case) -> list[Change]:
    """From the nearest temperature that suits all fish to the middle of what suits them all."""
    ranges = [profile.water_ranges.temperature for profile in case.profiles() if profile.water_ranges]
    low, high = max((r.low for r in ranges), default=0.0), min((r.high for r in ranges), default=0.0)
    if low >= high:
        return []
    here, middle = min(max(case.tank.temperature.middle, low), high), (low + high) / 2
    toward = DEGREES if middle >= here else -DEGREES
    degrees = [here + toward * step for step in range(floor(abs(middle - here) / DEGREES) + 1)]
    return [
        _tank_change(f"keep the water at {value:g} C", temperature=Range(value, value))
        for value in degrees
        if case.tank.temperature != Range(value, value)
    ]


def _water_changes(case: Case) -> list[Change]:
    now = case.tank.water_change
    return [
        _tank_change(
            f"change {wording.share(share)} of the water every {wording.counted(days, 'day') if days > 1 else 'day'}",
            water_change=now.model_copy(update={"share": share, "every": float(days)}),
        )
        for share, days in WATER_CHANGES
        if share >= now.share and days <= now.every and (share, days) != (now.share, now.every)
    ]


def _filter(case: Case) -> list[Change]:
    mature = "mature"
    words = "let the filter run in until ammonia and nitrite read zero before they move in"
    return [] if case.tank.filter == mature else [_tank_change(words, filter=mature)]


def _longer(case: Case, index: int, entry: GroupEntry, profile: Profile) -> list[Change]:
    step = FINE_STEP if profile.adult_length.high <= FINE_BELOW else STEP
    first, last = floor(entry.length / step) + 1, floor(profile.adult_length.high / step)
    whom = _whom(case, entry, profile)
    lengths = [step * number for number in range(first, last + 1)]
    return [_group_change(index, f"buy{whom} at {length:g} cm or longer", length=length) for length in lengths]


def _fewer(case: Case, index: int, entry: GroupEntry, profile: Profile) -> list[Change]:
    """Down to the smallest group advised, counting its kind in the whole tank."""
    fewest = max(1, _advised(profile) - case.others_of_kind(index))
    numbers = range(entry.count - 1, fewest - 1, -1)
    return [_number_change(index, number, entry, profile) for number in numbers]


def _more(case: Case, index: int, entry: GroupEntry, profile: Profile) -> list[Change]:
    """Up to the smallest group advised, counting its kind in the whole tank."""
    numbers = range(entry.count + 1, _advised(profile) - case.others_of_kind(index) + 1)
    return [_number_change(index, number, entry, profile) for number in numbers]


def _advised(profile: Profile) -> int:
    return profile.schooling.smallest_group if profile.schooling else 1


def _number_change(index: int, number: int, entry: GroupEntry, profile: Profile) -> Change:
    name = profile.name
    words = f"add {wording.counted(number, name, plural(name))} instead of {entry.count}"
    return _group_change(index, words, count=number)


def _left_out(index: int, profile: Profile) -> list[Change]:
    touches = (f"length of group {index}", f"count of group {index}")
    return [Change(touches, f"leave the {plural(profile.name)} out", lambda case: case.without(index))]


def _whom(case: Case, entry: GroupEntry, profile: Profile) -> str:
    """Which fish, where the proposal adds more than one kind."""
    if sum(1 for _ in case.groups()) == 1:
        return ""
    return f" the {profile.name if entry.count == 1 else plural(profile.name)}"


def _tanks(case: Case) -> Iterator[tuple[Box, Change]]:
    now = case.tank.size
    for size in dict.fromkeys(_larger(now, factor) for factor in TANK_FACTORS):
        if size.litres > now.litres:
            yield size, _tank_change(_tank_words(size), size=size)


def _tank_words(size: Box) -> str:
    words = f"use a tank of {size} ({size.litres:,.0f} L) or larger"
    return words if size.litres <= FITS_A_HOME else f"{words}, more than most homes can hold"


def _larger(size: Box, factor: float) -> Box:
    """Longer and wider by the factor, higher by its root, in whole steps and no larger than can be built."""
    length, width, height = (
        max(now, min(most, SIDE_STEP * round(now * by / SIDE_STEP)))
        for now, by, most in (
            (size.length, factor, LONGEST),
            (size.width, factor, WIDEST),
            (size.height, sqrt(factor), TALLEST),
        )
    )
    return Box(length, width, height)
