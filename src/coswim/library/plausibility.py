"""Whether the traits of one species agree with each other and with physics.

Each check yields doubts: a depth that does not go with the weight of the body form, a mouth that does
not go with the diet, a shoaling fish content alone. A doubt is not an error: real fish are odd, and a
note in the profile can say why (see `coswim.library.remark`). Bounds without a named source are
judgement, set so that they hold for ordinary aquarium fish and fail for slips of the pen.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Mapping
from types import MappingProxyType

from coswim.biology.body import STANDARD_LENGTH_BY_FORM, WEIGHT_PRIORS, WIDTH_BY_FORM
from coswim.library import habits
from coswim.library.portrait import NEARLY_GROWN, standard_fraction, weight_at
from coswim.library.remark import Doubt
from coswim.profiles.profile import Profile
from coswim.text import wording
from coswim.text.quantities import MONTHS_PER_YEAR

FILL = 0.52
"""Volume of a body over that of the elliptical cylinder around it. Source: derived from the proportions of
perch, roach, bream and pike (Brofeldt 1917) and the weights of their forms (Froese et al. 2014): 0.45 to
0.59, mean 0.52."""
WEIGHT_FACTOR = 2.0
"""Weight by shape over weight by form, either way. Source: weights within a form scatter by about 1.5
(Froese et al. 2014), widened by the spread of FILL (judgement)."""
OWN_WEIGHT_FACTOR = 2.5
DEPTH_BY_FORM: Mapping[str, tuple[float, float]] = MappingProxyType(
    {"eel-like": (0.03, 0.14), "elongated": (0.08, 0.3), "fusiform": (0.11, 0.5), "short-deep": (0.3, 1.1)}
)
STANDARD_LENGTH_SLACK = 0.12
FLATTEST = 1.8
GAPE_MEDIANS: Mapping[str, float] = MappingProxyType(
    {
        "algae": 0.084,
        "herbivore": 0.084,
        "plankton": 0.099,
        "omnivore": 0.16,
        "insectivore": 0.16,
        "molluscivore": 0.16,
        "carnivore": 0.238,
        "piscivore": 0.238,
    }
)
"""Gape over standard length by feeding guild (grazer, planktivore, invertivore, piscivore). Source: Dunic &
Baum 2017, J. Anim. Ecol. 86:577-589; omnivores as invertivores (judgement)."""
GAPE_CV = 0.2
"""Spread within a species, same source."""
LEAST_PISCIVORE_GAPE = 0.113 * (1 - 2 * GAPE_CV)
"""Source: pike 0.113 (Nilsson & Broenmark 2000), the narrowest of the measured fish eaters, less two CV."""
LEAST_HUNTER_GAPE = 0.06
WIDEST_HARMLESS_GAPE = 0.15
LEAST_OF_RECORD = 0.4
MOST_GAIN = 6.0
"""The most that a fish of half its final length gains in a month, cm. Source: judgement; keepers see up to 5 cm a month
in the largest catfish."""
SOONEST, LATEST = 0.25, 10.0
"""Years from the egg to four fifths of the final length. Source: judgement; killifish take four months, and some large
loaches and stingrays many years. Closer bounds come from the relatives (`coswim.library.relatives`)."""
PLANT_DIETS = ("algae", "herbivore", "plankton")


def doubts(profile: Profile) -> Iterator[Doubt]:
    """Everything about the profile that does not agree with the rest of it."""
    for check in (*(SHAPE_CHECKS if profile.has("body.depth") else ()), *CHECKS, *habits.CHECKS):
        yield from check(profile)


def _weight(profile: Profile) -> Iterator[Doubt]:
    body, length = profile.body, profile.adult_length.middle
    intercept, slope = WEIGHT_PRIORS[body.form]
    by_form = float(10**intercept * length**slope)
    expected = weight_at(profile, length)
    source = "its own length-weight relation" if body.weight else f"the form {body.form!r}"
    if not 1 / WEIGHT_FACTOR < _shape_weight(profile) / expected < WEIGHT_FACTOR:
        yield Doubt(
            ("body.form", "body.depth", "body.width", "body.weight", "body.standard_length"),
            f"at {length:g} cm depth and width make {wording.number(_shape_weight(profile))} g, {source} makes "
            f"{wording.number(expected)} g; form, depth, width or standard_length is off",
        )
    if body.weight and not 1 / OWN_WEIGHT_FACTOR < expected / by_form < OWN_WEIGHT_FACTOR:
        yield Doubt(
            ("body.weight",),
            f"makes a fish of {length:g} cm weigh {wording.number(expected)} g, others of the form {body.form!r} "
            f"weigh {wording.number(by_form)} g; a and b are for grams and cm of total length",
        )


def _shape_weight(profile: Profile) -> float:
    body = profile.body
    standard = profile.adult_length.middle * standard_fraction(profile)
    depth = body.depth.middle
    width = body.width.middle if body.width else depth * WIDTH_BY_FORM[body.form]
    return math.pi / 4 * FILL * standard**3 * depth * width


def _proportions(profile: Profile) -> Iterator[Doubt]:
    body = profile.body
    low, high = DEPTH_BY_FORM[body.form]
    if not low <= body.depth.middle <= high:
        message = f"{body.depth} of standard length is not {body.form!r} (usually {low:g} to {high:g})"
        yield Doubt(("body.depth", "body.form"), message)
    usual = STANDARD_LENGTH_BY_FORM[body.form]
    if body.standard_length is not None and abs(body.standard_length - usual) > STANDARD_LENGTH_SLACK:
        message = f"{body.standard_length:g} of total length is unusual for {body.form!r} (about {usual:g})"
        yield Doubt(("body.standard_length",), message)
    if body.width is not None:
        flat = body.width.middle / body.depth.middle
        if flat > FLATTEST:
            yield Doubt(("body.width", "body.depth"), f"is {wording.number(flat)} times the depth: flat as a plate")
        elif flat > 1 and body.form == "short-deep":
            yield Doubt(("body.width", "body.form"), "is more than the depth, yet the form is 'short-deep'")


def _gape(profile: Profile) -> Iterator[Doubt]:
    gape, body, style = profile.mouth_gape, profile.body, profile.feeding_style
    if gape is None:
        return
    girth = max(body.depth.middle, body.width.middle if body.width else 0.0)
    if gape.middle > girth:
        yield Doubt(("mouth_gape",), f"{gape} is wider than the body ({girth:.3g} of standard length)")
    if style is None:
        return
    widest = GAPE_MEDIANS[style.diet] * (1 + 2 * GAPE_CV)
    if gape.middle > widest:
        message = f"{gape} is a wide mouth for the diet {style.diet!r} (usually up to {widest:.2g})"
        yield Doubt(("mouth_gape", "feeding_style.diet"), message)
    if style.diet == "piscivore" and gape.middle < LEAST_PISCIVORE_GAPE:
        message = f"{gape} is a narrow mouth for a fish eater (usually from {LEAST_PISCIVORE_GAPE:.2g})"
        yield Doubt(("mouth_gape", "feeding_style.diet"), message)
    elif style.eats_fish == "any that fit" and gape.middle < LEAST_HUNTER_GAPE:
        message = f"eats any fish that fits, but with a gape of {gape} next to none does"
        yield Doubt(("feeding_style.eats_fish", "mouth_gape"), message)
    elif style.eats_fish == "no" and gape.middle > WIDEST_HARMLESS_GAPE:
        message = f"is 'no', but the mouth opens {gape} of standard length, wide enough for small fish"
        yield Doubt(("feeding_style.eats_fish", "mouth_gape"), message)


def _appetite(profile: Profile) -> Iterator[Doubt]:
    style = profile.feeding_style
    if style is None:
        return
    if style.diet == "piscivore" and style.eats_fish != "any that fit":
        yield Doubt(("feeding_style.eats_fish", "feeding_style.diet"), f"is {style.eats_fish!r} for a piscivore")
    if style.diet in PLANT_DIETS and style.eats_fish == "any that fit":
        message = f"is 'any that fit', but the diet is {style.diet!r}"
        yield Doubt(("feeding_style.eats_fish", "feeding_style.diet"), message)


def _length(profile: Profile) -> Iterator[Doubt]:
    adult, record = profile.adult_length, profile.record_length
    if adult.low == adult.high:
        yield Doubt(("adult_length",), f"{adult} cm is one value; give the range of grown fish, e.g. '45-60 cm'")
    if record is None:
        return
    if adult.high > record:
        yield Doubt(("adult_length", "record_length"), f"{adult} cm is above the record of {record:g} cm", certain=True)
    elif adult.high < LEAST_OF_RECORD * record:
        message = f"{adult} cm is far below the record of {record:g} cm; are both total lengths in cm?"
        yield Doubt(("adult_length", "record_length"), message)


def _growth(profile: Profile) -> Iterator[Doubt]:
    if profile.growth is None:
        return
    rate = profile.growth.middle
    years, gain = -math.log1p(-NEARLY_GROWN) / rate, rate * profile.adult_length.middle / 2 / MONTHS_PER_YEAR
    if years < SOONEST:
        message = f"is very fast: four fifths of its length in {wording.number(years * MONTHS_PER_YEAR)} months"
        yield Doubt(("growth",), message)
    elif gain > MOST_GAIN:
        yield Doubt(("growth",), f"is very fast: {wording.number(gain)} cm a month when half grown")
    elif years > LATEST:
        yield Doubt(("growth",), f"is very slow: four fifths of its length only in {wording.number(years)} years")


SHAPE_CHECKS: tuple[Callable[[Profile], Iterator[Doubt]], ...] = (_weight, _proportions, _gape)
"""Those that need the depth of the body."""
CHECKS: tuple[Callable[[Profile], Iterator[Doubt]], ...] = (_appetite, _length, _growth)
