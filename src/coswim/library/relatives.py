"""Whether a species looks like its relatives: far outside what its family does is a slip of the pen or a story.

Relatives are the other profiles of the same family. With fewer than three of them only the absolute
width of the ranges is judged. All bounds are judgement.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from operator import attrgetter
from types import MappingProxyType

from coswim.library.family import Measure, Relatives
from coswim.library.remark import Doubt
from coswim.profiles import scales
from coswim.profiles.profile import Profile
from coswim.text.quantities import Range

FEWEST = 3
FACTORS: Mapping[str, float] = MappingProxyType(
    {"body.depth": 1.5, "body.width": 1.5, "body.standard_length": 1.1, "mouth_gape": 1.5, "growth": 2.0}
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


def _middle(found: Range | float) -> float:
    return found.middle if isinstance(found, Range) else found


_low, _high = attrgetter("low"), attrgetter("high")


def _width(found: Range) -> float:
    return found.high - found.low


def _ratio(found: Range) -> float:
    return found.high / found.low


def _feeds_at(level: str) -> Measure:
    return lambda levels: float(level in levels)


FEEDS_AT: Mapping[str, Measure] = MappingProxyType({level: _feeds_at(level) for level in scales.LEVEL.words})
"""For each level whether a species feeds there, 1 or 0."""


def doubts(profile: Profile, relatives: Relatives) -> Iterator[Doubt]:
    """Where the profile is unlike its relatives, or vaguer than they are."""
    yield from _vague(profile, relatives)
    if relatives.count >= FEWEST:
        for check in CHECKS:
            yield from check(profile, relatives)


def _vague(profile: Profile, relatives: Relatives) -> Iterator[Doubt]:
    widths: tuple[tuple[Mapping[str, float], Measure, str], ...] = (
        (WIDEST_RATIO, _ratio, "times its low end"),
        (WIDEST_SPAN, _width, "wide"),
    )
    for limits, measure, words in widths:
        for trait, limit in limits.items():
            found = profile.value(trait)
            if found is None or measure(found) <= limit:
                continue
            others = relatives.figures(trait, measure)
            if not others.count or others.high < NEARLY * measure(found):
                message = f"{found} is {measure(found):.2g} {words}, more than the species and its relatives explain"
                yield Doubt((trait,), message)


def _shape(profile: Profile, relatives: Relatives) -> Iterator[Doubt]:
    for trait, factor in FACTORS.items():
        others = relatives.figures(trait, _middle)
        if not profile.has(trait) or others.count < FEWEST:
            continue
        own, low, high = _middle(profile.value(trait)), others.low, others.high
        if not low / factor <= own <= high * factor:
            side = "below" if own < low else "above"
            yield Doubt((trait,), f"{own:.3g} is far {side} its {relatives.count} relatives ({low:.3g} to {high:.3g})")


def _water(profile: Profile, relatives: Relatives) -> Iterator[Doubt]:
    for trait, slack in SLACK.items():
        lows, highs = relatives.figures(trait, _low), relatives.figures(trait, _high)
        if not profile.has(trait) or lows.count < FEWEST:
            continue
        own, low, high = profile.value(trait), lows.low, highs.high
        if not low - slack <= own.middle <= high + slack:
            yield Doubt((trait,), f"{own} is unlike its {lows.count} relatives ({low:g} to {high:g})")


def _company(profile: Profile, relatives: Relatives) -> Iterator[Doubt]:
    groups = relatives.figures("schooling.smallest_group", _middle)
    if profile.schooling is None or profile.temperament is None or groups.count < FEWEST:
        return
    group, kind = profile.schooling.smallest_group, profile.temperament.own_kind
    if group <= ALONE and kind in {"peaceful", "assertive"} and groups.median >= SHOALING:
        message = f"is {group}, but most of its {groups.count} relatives shoal in {SHOALING} and more"
        yield Doubt(("schooling.smallest_group",), message)


def _level(profile: Profile, relatives: Relatives) -> Iterator[Doubt]:
    style = profile.feeding_style
    feeding = {word: relatives.figures("feeding_style.level", feeds) for word, feeds in FEEDS_AT.items()}
    if style is None or min(others.count for others in feeding.values()) < FEWEST:
        return
    where = sorted(word for word, others in feeding.items() if others.high)
    if not set(style.level) & set(where):
        message = f"is {', '.join(style.level)}, but its relatives feed at {', '.join(where)}"
        yield Doubt(("feeding_style.level",), message)


CHECKS: tuple[Callable[[Profile, Relatives], Iterator[Doubt]], ...] = (_shape, _water, _company, _level)
