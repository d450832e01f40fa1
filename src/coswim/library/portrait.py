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
    standard = length * (body.standard_length or STANDARD_LENGTH_BY_FORM[body.form])
    prior = WEIGHT_PRIORS[body.form]
    a, b = (body.weight.a, body.weight.b) if body.weight else (10 ** prior[0], prior[1])
    return Portrait(
        length=length,
        standard_length=standard,
        depth_mm=_in_mm(body.depth, standard) if body.depth else None,
        width_mm=_in_mm(body.width, standard) if body.width else None,
        gape_mm=_in_mm(profile.mouth_gape, standard) if profile.mouth_gape else None,
        weight_g=float(weight(length, a=a, b=b)),
        months_to_grow=_months(profile.growth) if profile.growth else None,
    )


def _in_mm(fraction: Range, standard_length: float) -> Range:
    return Range(fraction.low * standard_length * MM_PER_CM, fraction.high * standard_length * MM_PER_CM)


def _months(growth: Range) -> Range:
    needed = -math.log1p(-NEARLY_GROWN) * MONTHS_PER_YEAR
    return Range(needed / growth.high, needed / growth.low)
