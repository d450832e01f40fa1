"""Ladders of what a keeper can buy otherwise: number and length of the newcomers, none of a kind, another tank.

Steps and ends of the ladders are judgement: what is sold and can be built.
"""

from __future__ import annotations

from collections.abc import Iterator
from math import floor, sqrt
from operator import methodcaller
from typing import Any

from coswim.plans.plan import GroupEntry
from coswim.profiles.profile import Profile
from coswim.remedies.change import Change, Ladder
from coswim.remedies.changed_plan import ChangedPlan
from coswim.simulation.phrases import plural
from coswim.text import wording
from coswim.text.quantities import Box

FINE_STEP, STEP, FINE_BELOW = 0.5, 1.0, 10.0  # cm between buying lengths; the fine one for fish up to 10 cm
FEWER = 0.25
"""Part of a group that must go for its keeper to notice."""
TANK_FACTORS = (1.2, 1.4, 1.55, 1.7, 2.0, 2.4, 2.8, 3.4, 4.0)
"""Length and width over those of the present tank."""
SIDE_STEP, LONGEST, WIDEST, TALLEST = 10.0, 400.0, 150.0, 80.0  # cm, a tank as it may be built at home
FITS_A_HOME = 2000.0
"""Litres; a larger tank can be built, but few rooms and floors hold it."""
COMPANY = frozenset({"schooling", "nipping", "aggression"})
"""Hazards that more of a kind may help against where it has too little company."""


def more(plan: ChangedPlan) -> Iterator[Ladder]:
    """Up to the smallest group advised, counting its kind in the whole tank."""
    for index, entry, profile in plan.groups():
        numbers = range(entry.count + 1, _advised(profile) - plan.others_of_kind(index) + 1)
        yield Ladder([_number(index, number, entry, profile) for number in numbers], COMPANY)


def longer(plan: ChangedPlan) -> Iterator[Ladder]:
    """Buy them longer, up to the largest they get."""
    for index, entry, profile in plan.groups():
        step = FINE_STEP if profile.adult_length.high <= FINE_BELOW else STEP
        first, last = floor((entry.length or 0.0) / step) + 1, floor(profile.adult_length.high / step)
        whom = _whom(plan, entry, profile)
        lengths = [step * number for number in range(first, last + 1)]
        yield Ladder([_bought(index, f"buy{whom} at {length:g} cm or longer", length=length) for length in lengths])


def fewer(plan: ChangedPlan) -> Iterator[Ladder]:
    """Fewer by a quarter and more, down to the smallest group advised, counting its kind in the whole tank."""
    for index, entry, profile in plan.groups():
        fewest = max(1, _advised(profile) - plan.others_of_kind(index))
        most = floor((1 - FEWER) * entry.count)
        yield Ladder([_number(index, number, entry, profile) for number in range(most, fewest - 1, -1)])


def left_out(plan: ChangedPlan) -> Iterator[Ladder]:
    """One kind of several is not bought."""
    groups = list(plan.groups())
    if len(groups) > 1:
        for index, entry, profile in groups:
            touches = (f"length of group {index}", f"count of group {index}")
            words = f"leave the {profile.name if entry.count == 1 else plural(profile.name)} out"
            yield Ladder([Change(touches, words, methodcaller("with_entry", index, None))])


def larger_tanks(plan: ChangedPlan) -> Iterator[Ladder]:
    """Larger tanks that a home usually holds."""
    yield Ladder([change for size, change in _tanks(plan) if size.litres <= FITS_A_HOME])


def vast_tanks(plan: ChangedPlan) -> Iterator[Ladder]:
    """Larger tanks up to what can be built, where that is more than a home usually holds."""
    tanks = list(_tanks(plan))
    if any(size.litres > FITS_A_HOME for size, _ in tanks):
        yield Ladder([change for _, change in tanks])


def _advised(profile: Profile) -> int:
    return profile.schooling.smallest_group if profile.schooling else 1


def _number(index: int, number: int, entry: GroupEntry, profile: Profile) -> Change:
    several = wording.counted(number, profile.name, plural(profile.name))
    return _bought(index, f"add {several} instead of {entry.count}", count=number)


def _bought(index: int, words: str, **values: Any) -> Change:
    touches = tuple(f"{name} of group {index}" for name in values)
    return Change(touches, words, lambda plan: plan.with_group(index, **values))


def _whom(plan: ChangedPlan, entry: GroupEntry, profile: Profile) -> str:
    """Which fish, where the proposal adds more than one kind."""
    if sum(1 for _ in plan.groups()) == 1:
        return ""
    return f" the {profile.name if entry.count == 1 else plural(profile.name)}"


def _tanks(plan: ChangedPlan) -> Iterator[tuple[Box, Change]]:
    now = plan.tank.size
    for size in dict.fromkeys(_larger(now, factor) for factor in TANK_FACTORS):
        if size.litres > now.litres:
            vast = ", more than most homes can hold" if size.litres > FITS_A_HOME else ""
            words = f"use a tank of {size} ({size.litres:,.0f} L) or larger{vast}"
            yield size, Change(("size",), words, methodcaller("with_tank", size=size))


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
