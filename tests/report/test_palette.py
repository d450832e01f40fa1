"""The colours of the page can be told apart by their brightness alone."""

from __future__ import annotations

import pytest
from tests.report.brightness import SCHEMES, blend, contrast, luminance

AA_TEXT, AA_GRAPHICS = 4.5, 3.0
"""published: W3C, WCAG 2.1 (2018), success criteria 1.4.3 and 1.4.11."""
SERIES = ("series-0", "series-1", "series-2", "series-3")
each_scheme = pytest.mark.parametrize("scheme", SCHEMES)


@pytest.mark.parametrize(
    ("colour", "expected"),
    [
        # published: WCAG 2.1, definition of relative luminance: black, white, and the weights of the primaries
        ("#000000", 0.0),
        ("#ffffff", 1.0),
        ("#ff0000", 0.2126),
        ("#00ff00", 0.7152),
        ("#0000ff", 0.0722),
        # derived: 118 / 255 = 0.46275; ((0.46275 + 0.055) / 1.055) ** 2.4 = 0.18116
        ("#767676", 0.18116),
        # derived: below the bend of the curve, 10 / 255 / 12.92 = 0.0030353
        ("#0a0a0a", 0.0030353),
    ],
)
def test_luminance(colour: str, expected: float) -> None:
    assert luminance(colour) == pytest.approx(expected, rel=1e-4)


@pytest.mark.parametrize(
    ("one", "other", "expected"),
    [
        # published: WCAG 2.1, definition of contrast ratio: from 1 to 21
        ("#000000", "#ffffff", 21.0),
        ("#7f3b08", "#7f3b08", 1.0),
        # derived: (1 + 0.05) / (0.18116 + 0.05) = 4.542
        ("#767676", "#ffffff", 4.542),
    ],
)
def test_contrast(one: str, other: str, expected: float) -> None:
    assert contrast(one, other) == pytest.approx(expected, rel=1e-3)
    assert contrast(other, one) == contrast(one, other)


@pytest.mark.parametrize("colour", ["", "red", "#fff", "0b5c86f", "#12345g"])
def test_what_is_no_colour_is_refused(colour: str) -> None:
    with pytest.raises(ValueError, match=r"#rrggbb|invalid literal"):
        luminance(colour)


@each_scheme
@pytest.mark.parametrize("ground", ["paper", "panel"])
@pytest.mark.parametrize("words", ["ink", "quiet", "accent"])
def test_text_can_be_read(scheme: str, ground: str, words: str) -> None:
    assert contrast(SCHEMES[scheme][words], SCHEMES[scheme][ground]) >= AA_TEXT


@each_scheme
def test_lines_stand_out_from_paper_and_from_every_band(scheme: str) -> None:
    colours, part = SCHEMES[scheme], float(SCHEMES[scheme]["band"])
    series = [colours[name] for name in SERIES]
    bands = [blend(colour, colours["paper"], part) for colour in series]
    double = [blend(colour, band, part) for colour in series for band in bands]
    for line in (*series, colours["ink"]):
        for ground in (colours["paper"], colours["panel"], *bands, *double):
            assert contrast(line, ground) >= AA_GRAPHICS


@each_scheme
def test_no_two_series_are_the_same(scheme: str) -> None:
    assert {name for name in SCHEMES[scheme] if name.startswith("series")} == {*SERIES}
    assert len({SCHEMES[scheme][name] for name in SERIES}) == 4
