"""The way out, before it is needed: a divider, a second tank, a new home; never release."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import NamedTuple

from coswim.aftercare.company import Companion, Company
from coswim.aftercare.concerns import Concern
from coswim.biology import space
from coswim.profiles import scales
from coswim.text import wording
from coswim.text.quantities import ML_PER_CUBIC_CM, Box

STOPGAP = 2.0
"""Tank length of a stopgap for some weeks, in lengths of the fish. Source: judgement; three are a legal minimum."""
NEVER = float("inf")
ROUND_TO = 5.0


class Side(NamedTuple):
    """The fish on one side of a divider and the tank length that they need there, cm: for weeks, and for good."""

    fish: tuple[Companion, ...]
    for_weeks: float
    for_good: float

    @property
    def label(self) -> str:
        """Who lives on it."""
        return wording.listed([one.label for one in self.fish])


class Divided(NamedTuple):
    """Two sides of one tank; lengths that do not fit its width or height at all are infinite."""

    one: Side
    other: Side
    length: float

    @property
    def serves_for_weeks(self) -> bool:
        """Both sides have the stopgap that fish of this length need."""
        return self.one.for_weeks + self.other.for_weeks <= self.length

    @property
    def serves_for_good(self) -> bool:
        """Both sides have what keepers plan for the grown fish."""
        return self.one.for_good + self.other.for_good <= self.length

    @property
    def halves_serve(self) -> bool:
        """A divider in the middle is enough for some weeks."""
        return max(self.one.for_weeks, self.other.for_weeks) <= self.length / 2


def divided(company: Company, concerns: Sequence[Concern]) -> Divided | None:
    """The tank parted between the likeliest attacker and the rest; between old and new where nobody is one.

    None where there is nobody to part.
    """
    attacker = next((c.doer for c in concerns if c.doer and c.doer != c.target), None)
    first = (attacker,) if attacker else company.newcomers
    rest = tuple(fish for fish in company.fish if fish not in first)
    if not first or not rest:
        return None
    size = company.plan.tank.size
    return Divided(_side(first, size), _side(rest, size), size.length)


def _side(fish: tuple[Companion, ...], size: Box) -> Side:
    weeks = max(_legal(fish, size), *(_stopgap(one, size) for one in fish))
    return Side(fish, weeks, max(weeks, *(_planned(one, size) for one in fish)))


def _stopgap(fish: Companion, size: Box) -> float:
    """Tank length for some weeks, cm: to turn and to get away; infinite where it cannot turn at all."""
    turns = space.TURN[fish.profile.body.form] * fish.length <= size.width
    return STOPGAP * space.BEND[fish.profile.body.form] * fish.length if turns else NEVER


def _legal(fish: tuple[Companion, ...], size: Box) -> float:
    """Tank length whose water the law asks for, for fish of this number and length, cm."""
    litres = sum(float(space.legal_litres(one.length * one.standard_fraction, count=one.number)) for one in fish)
    return litres * ML_PER_CUBIC_CM / (size.width * size.height)


def _planned(fish: Companion, size: Box) -> float:
    """Tank length that keepers plan for the grown fish, and no less than the law asks for, cm."""
    adult, form = fish.profile.adult_length.middle, fish.profile.body.form
    swimming = fish.profile.swimming or scales.SWIMMING.words[-1]
    legal, width, height = space.legal_box(adult * fish.standard_fraction)
    if max(width, space.TURN[form] * adult) > size.width or height > size.height:
        return NEVER
    return max(
        legal, scales.SWIMMING.number(swimming) * space.BEND[form] * adult, space.RUN[swimming] * math.sqrt(adult)
    )


def words(company: Company, concerns: Sequence[Concern]) -> tuple[str, ...]:
    """The ways out as sentences, the quickest first."""
    parted = divided(company, concerns)
    lines = [_divider(parted)] if parted else []
    lines.append(_second_tank(parted.one.fish if parted else company.newcomers or company.fish))
    lines.append(
        "A new home: ask before you buy who would take the fish, a keeper with the room or whoever sells it to you, "
        "and write the name down."
    )
    lines.append("Never release a fish, its plants or its water into the wild; it is against the law in many places.")
    return tuple(lines)


def _divider(parted: Divided) -> str:
    one, other = parted.one, parted.other
    start = f"A divider, with {one.label} on one side and {other.label} on the other,"
    if not parted.serves_for_weeks:
        return f"{start} does not serve, not even for weeks: the tank is too small for it. Have a second tank ready."
    where = "In the middle of the tank"
    if not parted.halves_serve:
        where = f"With {_cm(one.for_weeks)} cm of the tank for {one.label} and the rest for {other.label}"
    for_good = "and for good" if parted.serves_for_good else "but not for good: grown, they need more room"
    return (
        f"{start} is the quickest. {where} it serves for some weeks {for_good}. It must be tight at the glass, let "
        "water through and stand up to a push; heater and filter must serve both sides."
    )


def _second_tank(fish: Sequence[Companion]) -> str:
    boxes = [space.legal_box(one.length * one.standard_fraction) for one in fish]
    sides = [max(box[side] for box in boxes) for side in range(3)]
    litres = sum(float(space.legal_litres(one.length * one.standard_fraction, count=one.number)) for one in fish)
    larger = max(1.0, litres * ML_PER_CUBIC_CM / math.prod(sides)) ** (1 / 3)
    return (
        f"A second tank for {wording.listed([one.label for one in fish])}: about "
        f"{' x '.join(_cm(larger * side) for side in sides)} cm, at least "
        f"{wording.number(litres)} L (a legal minimum used in Switzerland), with a sponge that has run in the main "
        "filter, a heater and a lid."
    )


def _cm(value: float) -> str:
    return f"{-(-value // ROUND_TO) * ROUND_TO:.0f}"
