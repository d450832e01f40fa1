"""What a profile does not state is borrowed from its relatives: first from its genus, then from its family.

A borrowed value is marked `relatives` among the profile's sources, and never lent on. Hybrids borrow nothing and
lend nothing: no relative tells what breeders made of a cross.

Sizes and rates (depth, width, mouth, growth) span the ranges of all relatives, widened by a tenth at either end: what
is not known is drawn more widely. Shapes come from relatives of the same body form alone.

Water ranges are what a species stands, so a wider one would call risky water safe: theirs run from the relatives'
median low end to their median high end, and are not widened.

Words that warn (temperament, nips, eats_fish, jumps) are the strongest, and words for what it can take (stamina,
hardiness) the weakest among four fifths of the relatives: nobody shall be called harmless or tough by kinship, yet one
odd relative in five does not speak for all. All other words only describe (diet, pace, levels, territory), and a
cautious end is not to be had, so the most frequent holds.

Lengths (adult_length, usual_size, smallest_tank), what differs between the sexes, and whether it is for sale are not
borrowed: relatives differ in size many times over. All of this is judgement.
"""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Callable, Iterable, Mapping, Sequence
from statistics import median
from types import MappingProxyType
from typing import Any

from coswim.profiles import scales
from coswim.profiles.profile import Profile
from coswim.text.fields import model_in
from coswim.text.quantities import Range

RELATIVES = "relatives"
"""The source of what is borrowed."""
WIDENED = 0.1
"""Part by which the span of the relatives' ranges is widened at either end."""
MOST = 0.8
"""Part of the relatives whose most cautious word is taken."""
COMMON = 0.5
"""Part of the relatives from which a level or a feature is taken for all of them."""
DIGITS = 3

Combined = Callable[[list[Any]], Any]


def _span(ranges: list[Range]) -> Range:
    low, high = min(one.low for one in ranges), max(one.high for one in ranges)
    return Range(_rounded(low * (1 - WIDENED)), _rounded(high * (1 + WIDENED)))


def _median(values: Iterable[float]) -> float:
    return _rounded(median(values))


def _median_range(ranges: list[Range]) -> Range:
    return Range(_median(one.low for one in ranges), _median(one.high for one in ranges))


def _rounded(value: float) -> float:
    return float(f"{value:.{DIGITS}g}")


def _strongest(scale: scales.Scale, *, weakest: bool = False) -> Combined:
    """The word with the highest (or the lowest) number among four fifths of the relatives."""
    return lambda words: sorted(words, key=scale.number, reverse=weakest)[math.ceil(MOST * len(words)) - 1]


def most_frequent(found: list[Any]) -> Any:
    """The commonest; of several the greatest, or the last in the alphabet, so that order does not decide."""
    counted = Counter(found)
    return max(counted, key=lambda value: (counted[value], value))


def _common(lists: list[tuple[str, ...]]) -> tuple[str, ...]:
    """What at least half of the relatives list."""
    counted = Counter(word for words in lists for word in dict.fromkeys(words))
    return tuple(word for word, count in counted.items() if count >= COMMON * len(lists))


def _common_or_all(lists: list[tuple[str, ...]]) -> tuple[str, ...]:
    return _common(lists) or tuple(dict.fromkeys(word for words in lists for word in words))


SHAPE = ("body.standard_length", "body.depth", "body.width")
"""What is borrowed from relatives of the same form."""
BORROWED: Mapping[str, Combined] = MappingProxyType(
    {
        "body.standard_length": _median,
        **dict.fromkeys(("body.depth", "body.width", "mouth_gape", "growth"), _span),
        "temperament.own_kind": _strongest(scales.TEMPERAMENT),
        "temperament.other_fish": _strongest(scales.TEMPERAMENT),
        "temperament.nips": _strongest(scales.NIPS),
        "temperament.stamina": _strongest(scales.STAMINA, weakest=True),
        **dict.fromkeys(("temperament.boldness", "temperament.guards", "temperament.territory"), most_frequent),
        "feeding_style.diet": most_frequent,
        "feeding_style.eats_fish": _strongest(scales.EATS_FISH),
        "feeding_style.level": _common_or_all,
        **dict.fromkeys(("feeding_style.pace", "feeding_style.active", "feeding_style.settling"), most_frequent),
        **dict.fromkeys(("schooling.smallest_group", "swimming"), most_frequent),
        **dict.fromkeys(("water_ranges.temperature", "water_ranges.ph", "water_ranges.hardness"), _median_range),
        **dict.fromkeys(("water_ranges.salinity", "water_ranges.current"), most_frequent),
        "water_ranges.hardiness": _strongest(scales.HARDINESS, weakest=True),
        "jumps": _strongest(scales.JUMPS),
        "features": _common,
    }
)
"""The traits that may be borrowed, and what is made of the relatives' values."""


def completed(profile: Profile, circles: Iterable[Sequence[Profile]]) -> Profile:
    """The profile with what it does not state borrowed from its relatives, as far as they know it.

    `circles` are the relatives, the closest first; a wider circle is asked for what the closer ones do not tell.
    A block of which a needed part stays unknown counts as unknown as a whole.
    """
    found: dict[str, Any] = {}
    unknown = () if profile.is_hybrid else unstated(profile)
    if unknown:
        for circle in circles:
            found |= borrow([trait for trait in unknown if trait not in found], circle, form=profile.body.form)
            if len(found) == len(unknown):
                break
    return _with(profile, found).usable()


def unstated(profile: Profile) -> tuple[str, ...]:
    """The traits that might be borrowed: neither stated nor with a value that holds where nothing is stated."""
    return tuple(
        trait
        for trait in BORROWED
        if ("features" not in profile.model_fields_set if trait == "features" else not profile.has(trait))
    )


def borrow(traits: Iterable[str], relatives: Iterable[Profile], *, form: str) -> dict[str, Any]:
    """What the relatives make of each trait, as far as one of them states it and has not borrowed it itself."""
    found: dict[str, Any] = {}
    lenders = [relative for relative in relatives if not relative.is_hybrid]
    for trait in traits:
        values = [
            lender.value(trait)
            for lender in lenders
            if lender.has(trait)
            and RELATIVES not in lender.source_keys(trait)
            and (trait not in SHAPE or lender.body.form == form)
        ]
        if values:
            found[trait] = BORROWED[trait](values)
    return found


def _with(profile: Profile, found: Mapping[str, Any]) -> Profile:
    """The profile with the borrowed values in it and their source among its own."""
    if not found:
        return profile
    changed: dict[str, Any] = {}
    parts: dict[str, dict[str, Any]] = {}
    for trait, value in found.items():
        block, _, part = trait.rpartition(".")
        (parts.setdefault(block, {}) if block else changed)[part] = value
    for block, values in parts.items():
        stated, model = profile.value(block), model_in(type(profile).model_fields[block].annotation)
        if stated is not None:
            changed[block] = stated.model_copy(update=values)
        elif model is not None:
            changed[block] = model.model_construct(**values)
    changed["sources"] = {**profile.sources, **dict.fromkeys(found, (RELATIVES,))}
    return profile.model_copy(update=changed)
