"""Whether a species looks like its relatives: far outside what its family does is a slip of the pen or a story.

Relatives are the other profiles of the same family. With fewer than three of them only the absolute
width of the ranges is judged. All bounds are judgement.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from statistics import median
from types import MappingProxyType
from typing import Any

from coswim.library.remark import Doubt
from coswim.profiles.profile import Profile
from coswim.text.quantities import Range

FEWEST = 3
FACTORS: Mapping[str, float] = MappingProxyType(
    {"body.depth": 1.5, "body.width": 1.5, "body.standard_length": 1.1, "mouth_gape": 1.5}
)
"""How far beyond the most extreme relative a trait may lie."""
WIDEST_RATIO: Mapping[str, float] = MappingProxyType(
    {"adult_length": 2.0, "body.depth": 1.4, "body.width": 1.4, "mouth_gape": 1.7, "growth": 2.2}
)
"""High over low end, beyond which a range says little."""
WIDEST_SPAN: Mapping[str, float] = MappingProxyType(
    {"water_ranges.temperature": 11.0, "water_ranges.ph": 3.0, "water_ranges.hardness": 28.0}
)
NEARLY = 0.9
"""A relative with a range this wide in comparison shows that the family is so."""
SLACK: Mapping[str, float] = MappingProxyType({"water_ranges.temperature": 1.0, "water_ranges.ph": 0.3})
SHOALING, ALONE = 5, 1


@dataclass(frozen=True)
class Library:
    """The profiles that a profile is compared with, by scientific name."""

    profiles: Mapping[str, Profile]

    def relatives(self, profile: Profile) -> tuple[Profile, ...]:
        """The other species of its family."""
        return tuple(
            other
            for name, other in self.profiles.items()
            if other.family == profile.family and name != profile.scientific_name
        )


def doubts(profile: Profile, relatives: Sequence[Profile]) -> Iterator[Doubt]:
    """Where the profile is unlike its relatives, or vaguer than they are."""
    yield from _vague(profile, relatives)
    if len(relatives) >= FEWEST:
        for check in CHECKS:
            yield from check(profile, relatives)


def _vague(profile: Profile, relatives: Sequence[Profile]) -> Iterator[Doubt]:
    widths: tuple[tuple[Mapping[str, float], Callable[[Range], float], str], ...] = (
        (WIDEST_RATIO, lambda found: found.high / found.low, "times its low end"),
        (WIDEST_SPAN, lambda found: found.high - found.low, "wide"),
    )
    for limits, width, words in widths:
        for trait, limit in limits.items():
            found = _value(profile, trait)
            if found is None or width(found) <= limit:
                continue
            others = [width(other) for kin in relatives if (other := _value(kin, trait)) is not None]
            if max(others, default=0.0) < NEARLY * width(found):
                message = f"{found} is {width(found):.2g} {words}, more than the species and its relatives explain"
                yield Doubt((trait,), message)


def _shape(profile: Profile, relatives: Sequence[Profile]) -> Iterator[Doubt]:
    for trait, factor in FACTORS.items():
        own, (low, high) = _middle(profile, trait), _hull(relatives, trait)
        if own is None or low is None or high is None:
            continue
        if not low / factor <= own <= high * factor:
            side = "below" if own < low else "above"
            yield Doubt((trait,), f"{own:.3g} is far {side} its {len(relatives)} relatives ({low:.3g} to {high:.3g})")


def _water(profile: Profile, relatives: Sequence[Profile]) -> Iterator[Doubt]:
    for trait, slack in SLACK.items():
        own = _middle(profile, trait)
        ranges = [found for kin in relatives if (found := _value(kin, trait)) is not None]
        if own is None or len(ranges) < FEWEST:
            continue
        low, high = min(found.low for found in ranges), max(found.high for found in ranges)
        if not low - slack <= own <= high + slack:
            shown = _value(profile, trait)
            yield Doubt((trait,), f"{shown} is unlike its {len(ranges)} relatives ({low:g} to {high:g})")


def _company(profile: Profile, relatives: Sequence[Profile]) -> Iterator[Doubt]:
    groups = [kin.schooling.smallest_group for kin in relatives if kin.schooling]
    if profile.schooling is None or profile.temperament is None or len(groups) < FEWEST:
        return
    group, kind = profile.schooling.smallest_group, profile.temperament.own_kind
    if group <= ALONE and kind in {"peaceful", "assertive"} and median(groups) >= SHOALING:
        message = f"is {group}, but most of its {len(groups)} relatives shoal in {SHOALING} and more"
        yield Doubt(("schooling.smallest_group",), message)


def _level(profile: Profile, relatives: Sequence[Profile]) -> Iterator[Doubt]:
    style = profile.feeding_style
    levels = [set(kin.feeding_style.level) for kin in relatives if kin.feeding_style]
    if style is None or len(levels) < FEWEST or any(level & set(style.level) for level in levels):
        return
    where = sorted(set().union(*levels))
    yield Doubt(("feeding_style.level",), f"is {', '.join(style.level)}, but its relatives feed at {', '.join(where)}")


CHECKS: tuple[Callable[[Profile, Sequence[Profile]], Iterator[Doubt]], ...] = (_shape, _water, _company, _level)


def _value(profile: Profile, trait: str) -> Any:
    value: Any = profile
    for step in trait.split("."):
        value = getattr(value, step, None)
    return value


def _middle(profile: Profile, trait: str) -> float | None:
    value = _value(profile, trait)
    return value.middle if isinstance(value, Range) else value


def _hull(relatives: Sequence[Profile], trait: str) -> tuple[float | None, float | None]:
    values = [found for kin in relatives if (found := _middle(kin, trait)) is not None]
    return (min(values), max(values)) if len(values) >= FEWEST else (None, None)
