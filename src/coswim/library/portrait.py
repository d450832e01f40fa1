"""A grown fish of a species in figures that a keeper can hold a ruler against."""

from __future__ import annotations

import math
from dataclasses import dataclass

from coswim.biology.body import STANDARD_LENGTH_BY_FORM, WEIGHT_PRIORS, weight
from coswim.profiles.profile import Profile
from coswim.text.quantities import MM_PER_CM, MONTHS_PER_YEAR, Range

NEARLY_GROWN = 0.8


@dataclass(frozen=True)
class Portrait:
    """Measures of an adult of middling length; ranges are those of the profile's fractions."""

    length: float
    standard_length: float
    depth_mm: Range | None
    width_mm: Range | None
    gape_mm: Range | None
    weight_g: float
    months_to_grow: Range | None
    """From hatching to four fifths of the final length; von Bertalanffy from length zero."""


def portrait(profile: Profile) -> Portrait:
    """The measures of a grown fish."""
    body, length = profile.body, profile.adult_length.middle
    standard = length * standard_fraction(profile)
    return Portrait(
        length=length,
        standard_length=standard,
        depth_mm=_in_mm(body.depth, standard) if body.depth else None,
        width_mm=_in_mm(body.width, standard) if body.width else None,
        gape_mm=_in_mm(profile.mouth_gape, standard) if profile.mouth_gape else None,
        weight_g=weight_at(profile, length),
        months_to_grow=_months(profile.growth) if profile.growth else None,
    )


def standard_fraction(profile: Profile) -> float:
    """Standard over total length."""
    return profile.body.standard_length or STANDARD_LENGTH_BY_FORM[profile.body.form]


def weight_at(profile: Profile, length: float) -> float:
    """What one of that total length weighs, g; for a kind that was not measured within a factor of 1.5."""
    own = profile.body.weight
    log_a, exponent = WEIGHT_PRIORS[profile.body.form]
    a, b = (own.a, own.b) if own else (10**log_a, exponent)
    return float(weight(length, a=a, b=b))


def _in_mm(fraction: Range, standard_length: float) -> Range:
    return Range(fraction.low * standard_length * MM_PER_CM, fraction.high * standard_length * MM_PER_CM)


def _months(growth: Range) -> Range:
    needed = -math.log1p(-NEARLY_GROWN) * MONTHS_PER_YEAR
    return Range(needed / growth.high, needed / growth.low)
