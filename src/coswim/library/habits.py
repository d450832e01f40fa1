"""Whether the habits of one species agree with each other: company, levels, pace, stamina, water, handling.

All bounds are judgement.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator

from coswim.library.remark import Doubt
from coswim.profiles.profile import Profile

SMALL_SHOALER, LONE_AT_MOST, CROWD = 16.0, 1, 3
HOTTEST, COLDEST = 33.0, 4.0
ACID, ALKALINE, HARD, SOFT = 6.5, 7.5, 12.0, 5.0
SEA_WARD_HARDNESS = 8.0
LEAST_TOUGH, LARGEST_FRAGILE = 4.0, 40.0
DANGEROUS = ("venomous-spine", "electric", "strong-bite")


def _company(profile: Profile) -> Iterator[Doubt]:
    if profile.schooling is None or profile.temperament is None:
        return
    group, kind = profile.schooling.smallest_group, profile.temperament.own_kind
    mild = kind in {"peaceful", "assertive"}
    where = ("schooling.smallest_group", "temperament.own_kind")
    if group == 0 and mild:
        yield Doubt(where, f"is 0 (keep singly), but it is {kind} towards its own kind")
    elif group <= LONE_AT_MOST and mild and _shoals(profile):
        message = f"is {group} for a small {kind} fish that swims in the open; such fish shoal"
        yield Doubt((*where, "swimming"), message)
    elif group >= CROWD and kind == "aggressive":
        yield Doubt(where, f"is {group}, but it is aggressive towards its own kind")


def _shoals(profile: Profile) -> bool:
    style = profile.feeding_style
    hunts = style is not None and style.eats_fish == "any that fit"
    return profile.swimming in {"cruiser", "open-water"} and profile.adult_length.high <= SMALL_SHOALER and not hunts


def _mouth_side(profile: Profile) -> Iterator[Doubt]:
    style, features = profile.feeding_style, profile.features
    if style is None or "surface" not in style.level or "bottom" in style.level:
        return
    if {"barbels", "locking-spines"} <= set(features):
        reason = "barbels and locking spines belong to fish that feed from the bottom"
    elif "sand-sifter" in features:
        reason = "a sand-sifter takes its food from the bottom"
    elif style.diet == "algae":
        reason = "algae are grazed from stones, wood and leaves"
    else:
        return
    yield Doubt(("feeding_style.level", "features"), f"is {', '.join(style.level)}, but {reason}")


def _pace(profile: Profile) -> Iterator[Doubt]:
    style, swimming = profile.feeding_style, profile.swimming
    if style is None or swimming is None:
        return
    if style.pace in {"fast", "frantic"} and swimming == "still":
        yield Doubt(("feeding_style.pace", "swimming"), f"is {style.pace!r}, but it rests most of the time")
    if style.pace == "still" and swimming == "open-water":
        yield Doubt(("feeding_style.pace", "swimming"), "is 'still', but it swims without rest")
    if "slow-swimmer" in profile.features and (swimming == "open-water" or style.pace == "frantic"):
        message = f"lists slow-swimmer, but it is {swimming} and feeds at the pace {style.pace!r}"
        yield Doubt(("features", "swimming", "feeding_style.pace"), message)


def _stamina(profile: Profile) -> Iterator[Doubt]:
    temper, adult = profile.temperament, profile.adult_length
    if temper is None:
        return
    where = ("temperament.stamina",)
    if temper.stamina == "fragile":
        if "armoured" in profile.features:
            yield Doubt((*where, "features"), "is 'fragile', but the fish is armoured")
        if "aggressive" in (temper.own_kind, temper.other_fish):
            yield Doubt(where, "is 'fragile', but the fish is aggressive")
        if adult.high > LARGEST_FRAGILE:
            yield Doubt(where, f"is 'fragile' for a fish of {adult} cm")
    elif temper.stamina == "tough" and adult.high < LEAST_TOUGH:
        yield Doubt(where, f"is 'tough' for a fish of {adult} cm")
    if temper.nips == "often" and temper.other_fish == "peaceful":
        yield Doubt(("temperament.nips", "temperament.other_fish"), "is 'often', but it is peaceful to other fish")


def _water(profile: Profile) -> Iterator[Doubt]:
    water = profile.water_ranges
    if water is None:
        return
    warm, acid, hard = water.temperature, water.ph, water.hardness
    if warm.high > HOTTEST or warm.low < COLDEST:
        yield Doubt(("water_ranges.temperature",), f"{warm} C is beyond {COLDEST:g} to {HOTTEST:g} C")
    chemistry = ("water_ranges.ph", "water_ranges.hardness")
    if acid.high <= ACID and hard.low >= HARD:
        yield Doubt(chemistry, f"{acid} is acid, but {hard} dGH is hard water, which is not acid for long")
    if acid.low >= ALKALINE and hard.high < SOFT:
        yield Doubt(chemistry, f"{acid} is alkaline, but {hard} dGH is soft water")
    if water.salinity == "brackish" and (acid.high < 7 or hard.high < SEA_WARD_HARDNESS):
        where = ("water_ranges.salinity", *chemistry)
        yield Doubt(where, f"is 'brackish', but pH {acid} and {hard} dGH are not; salt water is hard and alkaline")


def _handling(profile: Profile) -> Iterator[Doubt]:
    dangers = [feature for feature in profile.features if feature in DANGEROUS]
    if dangers and not profile.cautions:
        yield Doubt(("features", "cautions"), f"lists {', '.join(dangers)}, but `cautions` does not warn the keeper")
    if {"scaleless", "armoured"} <= set(profile.features):
        yield Doubt(("features",), "lists both scaleless and armoured")


CHECKS: tuple[Callable[[Profile], Iterator[Doubt]], ...] = (
    _company,
    _mouth_side,
    _pace,
    _stamina,
    _water,
    _handling,
)
