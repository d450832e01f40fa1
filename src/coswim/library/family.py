"""Families of species and the figures of their traits, sorted once for all of their members.

Comparing every species with all others of a large family would take the square of their number. What
is asked of the others (lowest, highest, median) is read off the sorted figures of the whole family
instead, passing over the species' own.
"""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from functools import cached_property
from typing import Any

from coswim.profiles.profile import Profile

Measure = Callable[[Any], float]
"""A figure from what a profile says of a trait."""


@dataclass(frozen=True)
class Figures:
    """Sorted figures, one of which is passed over: the species' own, which stands at `own`.

    Where `count` is 0 there is no lowest, highest or median to ask for.
    """

    everyone: Sequence[float]
    own: int | None

    @property
    def count(self) -> int:
        """How many there are."""
        return len(self.everyone) - (self.own is not None)

    @property
    def low(self) -> float:
        """The lowest."""
        return self._at(0)

    @property
    def high(self) -> float:
        """The highest."""
        return self._at(self.count - 1)

    @property
    def median(self) -> float:
        """The middle one, or half way between the two in the middle."""
        return (self._at((self.count - 1) // 2) + self._at(self.count // 2)) / 2

    def _at(self, place: int) -> float:
        return self.everyone[place + (self.own is not None and place >= self.own)]


@dataclass(frozen=True)
class Family:
    """All known species of one family."""

    members: tuple[Profile, ...] = ()
    _sorted: dict[tuple[str, Measure], list[float]] = field(default_factory=dict)

    def figures(self, trait: str, measure: Measure) -> list[float]:
        """The figures of those that state a trait, sorted."""
        if (trait, measure) not in self._sorted:
            stated = (found for member in self.members if (found := member.value(trait)) is not None)
            self._sorted[trait, measure] = sorted(map(measure, stated))
        return self._sorted[trait, measure]


@dataclass(frozen=True)
class Relatives:
    """The other species of a profile's family."""

    family: Family
    itself: Profile | None
    """What the family holds of the species itself."""

    @property
    def count(self) -> int:
        """How many species they are."""
        return len(self.family.members) - (self.itself is not None)

    def figures(self, trait: str, measure: Measure) -> Figures:
        """The figures of those that state a trait."""
        everyone = self.family.figures(trait, measure)
        own = self.itself.value(trait) if self.itself else None
        return Figures(everyone, None if own is None else bisect_left(everyone, measure(own)))


@dataclass(frozen=True)
class Library:
    """The profiles that a profile is compared with, by scientific name."""

    profiles: Mapping[str, Profile]

    def relatives(self, profile: Profile) -> Relatives:
        """The other species of its family."""
        itself = self.profiles.get(profile.scientific_name)
        is_member = itself is not None and itself.family == profile.family
        return Relatives(self._families.get(profile.family, Family()), itself if is_member else None)

    @cached_property
    def _families(self) -> Mapping[str, Family]:
        members: dict[str, list[Profile]] = {}
        for profile in self.profiles.values():
            members.setdefault(profile.family, []).append(profile)
        return {name: Family(tuple(found)) for name, found in members.items()}
