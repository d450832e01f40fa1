"""Sentences in house units are said in a keeper's; differences of temperature are no temperatures."""

from __future__ import annotations

import re

import pint
import pytest

from coswim.text.units import HOUSE, OTHERS, Units, in_units

AMERICAN = Units("in", "F", "gal", "ppm")


@pytest.mark.parametrize(
    ("house", "said"),
    [
        ("60 x 32 x 32 cm (61 L), 26 C, pH 6.8, 6 dGH", "24 x 13 x 13 in (16 gal), 79 F, pH 6.8, 107 ppm"),
        ("it measures 6.0 against 1.8 cm", "it measures 2.4 against 0.71 in"),
        ("opens 38 mm (26 to 57 mm)", "opens 1.5 in (1 to 2.2 in)"),
        ("want 20–26 C; the tank's 19-22 C", "want 68–79 F; the tank's 66-72 F"),
        ("26 C is 1 C below the most", "79 F is 1.8 F below the most"),
        ("The tank lies 2.0 C outside the range", "The tank lies 3.6 F outside the range"),
        ("The margin is 0.50 C; an ordinary swing is 1.0 C.", "The margin is 0.9 F; an ordinary swing is 1.8 F."),
        ("a floor of 1,920 cm2", "a floor of 298 sq in"),
        ("8 barbs, 5 mg/L, 20 % of 12 months, 3 Congo tetras", "8 barbs, 5 mg/L, 20 % of 12 months, 3 Congo tetras"),
    ],
)
def test_a_sentence(house: str, said: str) -> None:
    """derived: 60/2.54 = 23.6, 61/3.785 = 16.1, 26*1.8+32 = 78.8, 6*17.848 = 107, 38/25.4 = 1.50."""
    assert in_units(house, AMERICAN) == said
    assert in_units(house, HOUSE) == house


@pytest.mark.parametrize(("house", "other"), OTHERS)
def test_conversions_are_the_definitions(house: str, other: str) -> None:
    """oracle: pint (1 dGH = 17.848 mg/L CaCO3 is published: DIN 38409)."""
    if other == "ppm":
        assert OTHERS[house, other].factor == pytest.approx(17.848)
        return
    names = {"cm2": "cm**2", "C": "degC", "F": "degF", "L": "liter", "gal": "gallon", "imp gal": "imperial_gallon",
             "sq in": "inch**2", "in": "inch"}  # fmt: skip
    scale = OTHERS[house, other]
    registry: pint.UnitRegistry[float] = pint.UnitRegistry()
    wanted = registry.Quantity(25.0, names.get(house, house)).to(names[scale.unit]).magnitude
    assert 25.0 * scale.factor + scale.offset == pytest.approx(wanted, rel=1e-6)


def test_rounding_keeps_the_order_of_what_is_told_apart() -> None:
    """What a thermometer tells apart stays apart, and in order."""
    said = [in_units(f"{half / 2:g} C", AMERICAN) for half in range(30, 70, 2)]
    degrees = [float(re.findall(r"[\d.]+", words)[0]) for words in said]
    assert degrees == sorted(set(degrees))
