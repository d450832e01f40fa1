"""Quantities as people write them, held against pint (oracle: an independent library of units)."""

from __future__ import annotations

import pint
import pytest
from hypothesis import given
from hypothesis import strategies as st

from coswim.text import quantities as q

UNITS: pint.UnitRegistry[float] = pint.UnitRegistry()
DGH_IN_PPM = 17.848  # published: definition of the German degree, 10 mg/L CaO as CaCO3


@pytest.mark.parametrize(
    ("quantity", "text", "magnitude", "unit", "house"),
    [
        (q.FISH_LENGTH, "28 cm", 28, "cm", "cm"),
        (q.FISH_LENGTH, "11 in", 11, "inch", "cm"),
        (q.FISH_LENGTH, '11"', 11, "inch", "cm"),
        (q.FISH_LENGTH, "8 in.", 8, "inch", "cm"),
        (q.FISH_LENGTH, "8”", 8, "inch", "cm"),
        (q.FISH_LENGTH, "8″", 8, "inch", "cm"),
        (q.FISH_LENGTH, "12,5 cm", 12.5, "cm", "cm"),
        (q.FISH_LENGTH, "0,125 m", 0.125, "m", "cm"),
        (q.FISH_LENGTH, "1.5 ft", 1.5, "foot", "cm"),
        (q.FISH_LENGTH, "35 mm", 35, "mm", "cm"),
        (q.FISH_LENGTH, "1 m", 1, "m", "cm"),
        (q.FISH_WEIGHT, "40 g", 40, "gram", "gram"),
        (q.FISH_WEIGHT, "1.4 kg", 1.4, "kilogram", "gram"),
        (q.FISH_WEIGHT, "3 oz", 3, "ounce", "gram"),
        (q.FISH_WEIGHT, "1 lb", 1, "pound", "gram"),
        (q.VOLUME, "75 gal", 75, "gallon", "L"),
        (q.VOLUME, "16.5 imp gal", 16.5, "imperial_gallon", "L"),
        (q.VOLUME, "560 L", 560, "liter", "L"),
    ],
    ids=lambda value: str(value) if isinstance(value, str) else "",
)
def test_units_agree_with_pint(quantity: q.Quantity, text: str, magnitude: float, unit: str, house: str) -> None:
    oracle = UNITS.Quantity(magnitude, unit).to(house).magnitude
    assert quantity.parse(text) == pytest.approx(oracle, rel=1e-9)


@given(st.floats(33, 110))
def test_fahrenheit_agrees_with_pint(degrees: float) -> None:
    oracle = UNITS.Quantity(degrees, "degF").to("degC").magnitude
    assert q.TEMPERATURE.parse(f"{degrees:.3f} F") == pytest.approx(oracle, abs=1e-3)


@pytest.mark.parametrize("degrees", range(33, 113))
def test_a_whole_degree_fahrenheit_is_read_to_the_half_degree_and_comes_back(degrees: int) -> None:
    oracle = UNITS.Quantity(degrees, "degF").to("degC").magnitude
    read = q.TEMPERATURE.parse(f"{degrees} F")
    assert (2 * read).is_integer()
    assert read == pytest.approx(oracle, abs=0.25)
    assert round(UNITS.Quantity(read, "degC").to("degF").magnitude) == degrees


@pytest.mark.parametrize("celsius", range(1, 45))
def test_a_whole_degree_celsius_said_in_fahrenheit_is_the_same_water(celsius: int) -> None:
    assert q.TEMPERATURE.parse(f"{UNITS.Quantity(celsius, 'degC').to('degF').magnitude:.0f} F") == celsius


@pytest.mark.parametrize(
    ("quantity", "text", "low", "high"),
    [
        (q.FISH_LENGTH, "25-35 cm", 25, 35),
        (q.FISH_LENGTH, "25 cm - 35 cm", 25, 35),
        (q.FISH_LENGTH, "25–35", 25, 35),
        (q.FISH_LENGTH, "10 to 14 in", 25.4, 35.56),
        (q.TEMPERATURE, "75-79 F", 24, 26),
        (q.TEMPERATURE, "75.0-79.0 F", 23.8889, 26.1111),
        (q.TEMPERATURE, "26", 26, 26),
        (q.TEMPERATURE, "26,5 °C", 26.5, 26.5),
        (q.HARDNESS, "140 ppm", 140 / DGH_IN_PPM, 140 / DGH_IN_PPM),
        (q.HARDNESS, "6 dGH", 6, 6),
        (q.PH, "6.0-7.5", 6, 7.5),
        (q.SHARE, "35 %", 0.35, 0.35),
    ],
    ids=lambda value: str(value) if isinstance(value, str) else "",
)
def test_ranges_and_single_values(quantity: q.Quantity, text: str, low: float, high: float) -> None:
    span = quantity.parse_range(text)
    assert (span.low, span.high) == pytest.approx((low, high), abs=1e-4)


@pytest.mark.parametrize(
    ("quantity", "text", "message"),
    [
        (q.TEMPERATURE, "260 C", "'260 C' is outside 0 to 45 C"),
        (q.TEMPERATURE, "nan", "'nan' is not a temperature; write e.g. '26 C'"),
        (q.TEMPERATURE, "inf", "'inf' is not a temperature; write e.g. '26 C'"),
        (q.TEMPERATURE, "1e999", "'1e999' has the unknown unit 'e999'"),
        (q.FISH_LENGTH, "-3 cm", "'-3 cm' is outside 0.5 to 500 cm"),
        (q.FISH_LENGTH, "0", "'0' is outside 0.5 to 500 cm"),
        (q.FISH_LENGTH, "5 kg", "'5 kg' has the unknown unit 'kg'; allowed: cm, mm, m, ft, in"),
        (q.TEMPERATURE, "298 K", "'298 K' has the unknown unit 'K'; allowed: C, F"),
        (q.FISH_LENGTH, "1/2 in", "'1/2 in' has a fraction; write 0.5 in"),
        (q.FISH_LENGTH, "1 1/2-2 in", "'1 1/2-2 in' has a fraction; write 1.5-2 in"),
        (q.FISH_LENGTH, "1/0 in", "'1/0 in' has the unknown unit '/0 in'"),
        (q.FISH_LENGTH, "1,200 mm", "'1,200 mm' may mean 1200 or 1.2; write 1200 or 1.2"),
        (q.VOLUME, "1,000,000 L", "'1,000,000 L' has several commas; write the number without them"),
        (q.BODY_FRACTION, "25-30", "'25-30' is outside 0.005 to 1.5; for percent write '25-30 %'"),
        (q.SHARE, "350", "'350' is outside 0 to 1"),
        (q.FISH_LENGTH, "35-25 cm", "'35-25 cm' runs backwards; write the lower value first"),
        (q.FISH_LENGTH, "", "'' is not a length; write e.g. '28 cm'"),
        (q.PH, "7 C", "'7 C' has the unknown unit 'C'"),
    ],
)
def test_what_is_refused_says_what_is_allowed(quantity: q.Quantity, text: str, message: str) -> None:
    with pytest.raises(q.QuantityError) as error:
        quantity.parse_range(text)
    assert str(error.value).startswith(message)


@pytest.mark.parametrize("text", ["5-8 cm", "5–8 cm", "5 to 8 cm"])
def test_a_range_where_one_value_is_wanted(text: str) -> None:
    with pytest.raises(q.QuantityError, match=r"is a range; one value is wanted here, e\.g\. '28 cm'"):
        q.FISH_LENGTH.parse(text)


def test_a_message_names_every_usual_unit_once() -> None:
    assert q.VOLUME_PER_DAY.usual_units == ("L/day", "ml/day", "gal/day", "imp gal/day")
    assert q.PH.usual_units == ("a plain number",)


@pytest.mark.parametrize("text", ["75 gal", "200 L", "200 litres"])
def test_a_volume_is_no_size(text: str) -> None:
    with pytest.raises(q.QuantityError, match="the three sides are needed; write length x width x height"):
        q.parse_box(text)


@pytest.mark.parametrize(
    ("text", "sides"),
    [
        ("180 x 60 x 50 cm", (180, 60, 50)),
        ("180x60x50", (180, 60, 50)),
        ("60 × 180 × 50 cm", (180, 60, 50)),
        ("48 by 18 by 20 in", (121.92, 45.72, 50.8)),
        ("48 x 18 x 20 in.", (121.92, 45.72, 50.8)),
        ('48" x 18" x 20"', (121.92, 45.72, 50.8)),
        ("1.8 m x 60 cm x 500 mm", (180, 60, 50)),
    ],
)
def test_a_tank_is_length_by_width_by_height(text: str, sides: tuple[float, float, float]) -> None:
    box = q.parse_box(text)
    assert (box.length, box.width, box.height) == pytest.approx(sides)


def test_litres_of_a_box() -> None:
    """derived: 180 x 60 x 60 cm is 648,000 cubic centimetres."""
    assert q.parse_box("180 x 60 x 60 cm").litres == 648


@pytest.mark.parametrize(
    "text", ["180 x 60", "180", "a x b x c", "180 x 60 x 60 x 60 cm", "0 x 60 x 60 cm", "60 x 60 x 1/2 m"]
)
def test_what_is_no_box(text: str) -> None:
    with pytest.raises(q.QuantityError):
        q.parse_box(text)
