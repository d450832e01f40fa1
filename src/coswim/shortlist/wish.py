"""What a keeper looks for: a name, a family, a level, a size, a diet, liveliness, or the job of another fish."""

from __future__ import annotations

from dataclasses import dataclass

from coswim.library.listing import Listed, Wanted
from coswim.profiles import scales
from coswim.profiles.names import Entry
from coswim.profiles.profile import Profile
from coswim.text.quantities import Range

QUICK = frozenset({"fast", "frantic"})
ROAMS = frozenset({"cruiser", "open-water"})
SHOAL = 3
SIZES = (0.4, 1.6)
"""Grown length over that of the other fish within which one can stand in for it. Source: judgement."""
A_STEP = 1
"""Steps of a scale by which two fish may differ in the same job. Source: judgement."""


@dataclass(frozen=True)
class Wish:
    """What a keeper looks for; what is left out is open. `like` is a species whose job is to be done."""

    text: str = ""
    family: str = ""
    level: str = ""
    size: Range | None = None
    diet: str = ""
    is_lively: bool = False
    like: Profile | None = None

    def names_fit(self, entry: Entry) -> bool:
        """The species may be looked for, as far as its names tell."""
        glance = Listed(entry, None, None, None, None, None)
        return Wanted(text=self.text, family=self.family).fits(glance)

    def fits(self, profile: Profile) -> bool:
        """The species is looked for; what its profile does not state never is."""
        style = profile.feeding_style
        return (
            (not self.level or (style is not None and self.level in style.level))
            and (not self.diet or (style is not None and style.diet == self.diet))
            and (self.size is None or _grows_to(profile, self.size))
            and (not self.is_lively or is_lively(profile))
            and (self.like is None or does_the_job(profile, self.like))
        )


def _grows_to(profile: Profile, size: Range) -> bool:
    """A grown fish is within the range; one length alone is the most."""
    least = 0.0 if size.low == size.high else size.low
    return least <= profile.adult_length.high <= size.high


def is_lively(profile: Profile) -> bool:
    """It roams the tank, comes quickly to the food and is not timid."""
    style, temperament = profile.feeding_style, profile.temperament
    is_timid = temperament is not None and temperament.boldness == "timid"
    return style is not None and style.pace in QUICK and profile.swimming in ROAMS and not is_timid


def does_the_job(profile: Profile, like: Profile) -> bool:
    """It can stand in for another species: a level in common, about its size, as lively, and a shoal where that is one.

    As lively is within a step of the scales for pace and for swimming. All bounds are judgement.
    """
    style, other = profile.feeding_style, like.feeding_style
    if profile.scientific_name == like.scientific_name or style is None or other is None:
        return False
    low, high = SIZES
    return (
        bool({*style.level} & {*other.level})
        and low <= profile.adult_length.middle / like.adult_length.middle <= high
        and _is_near(scales.PACE, style.pace, other.pace)
        and _is_near(scales.SWIMMING, profile.swimming, like.swimming)
        and _shoals(profile) == _shoals(like)
    )


def _is_near(scale: scales.Scale, one: str | None, other: str | None) -> bool:
    """Two words of a scale are at most a step apart; what is not stated is no hindrance."""
    return not one or not other or abs(scale.words.index(one) - scale.words.index(other)) <= A_STEP


def _shoals(profile: Profile) -> bool:
    return profile.schooling is not None and profile.schooling.smallest_group >= SHOAL
