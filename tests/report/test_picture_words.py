"""The words that stand for a picture say what it shows."""

from __future__ import annotations

import pytest

from coswim.findings.pictures import (
    Bar,
    BarsPicture,
    Curve,
    CurvesPicture,
    FishPicture,
    MonthsPicture,
    Picture,
    Window,
    WindowsPicture,
)
from coswim.report.picture_words import crossings, described


def line(name: str, *middle: float, months: tuple[float, ...] | None = None) -> Curve:
    """A curve whose band reaches one down and two up."""
    months = months or tuple(map(float, range(len(middle))))
    return Curve(name, months, tuple(v - 1 for v in middle), middle, tuple(v + 2 for v in middle))


@pytest.mark.parametrize(
    ("one", "other", "expected"),
    [
        # derived: gaps -4 and +4 over 0 to 1: half way
        ((0, 8), (4, 4), (0.5,)),
        # derived: gaps -1, 0: at the end; the next, from 0, is not counted twice
        ((0, 1, 2), (1, 1, 1), (1.0,)),
        # derived: gaps -1, +1, -3: at 1/2 and at 1 + 1/4
        ((0, 2, 0), (1, 1, 3), (0.5, 1.25)),
        ((0, 1), (2, 3), ()),
        ((1, 1), (1, 1), ()),
        # touching at the start is not crossing
        ((1, 2), (1, 1), ()),
    ],
)
def test_crossings(one: tuple[float, ...], other: tuple[float, ...], expected: tuple[float, ...]) -> None:
    assert crossings((line("a", *one), line("b", *other))) == pytest.approx(expected)


def test_only_two_curves_over_the_same_months_cross() -> None:
    a, b = line("a", 0, 8), line("b", 4, 4)
    assert crossings((a,)) == ()
    assert crossings((a, b, b)) == ()
    assert crossings((a, line("b", 4, 4, months=(0, 2)))) == ()


@pytest.mark.parametrize(
    ("picture", "expected"),
    [
        (
            CurvesPicture("size", "mm", curves=(line("body", 35, 80), line("mouth", 40, 50))),
            "Body: 35 mm at month 0 (34 to 37), 80 mm at month 1 (79 to 82); mouth: 40 mm at month 0 (39 to 42), "
            "50 mm at month 1 (49 to 52); in brackets, where 80 of 100 futures lie; the lines cross about month 0.",
        ),
        (
            CurvesPicture("nitrate", "mg/L", (line("nitrate", 12),), marker=Window("the aim", 20, 40)),
            "Nitrate: 12 mg/L at month 0 (11 to 14); in brackets, where 80 of 100 futures lie; the aim: 20–40 mg/L.",
        ),
        (
            BarsPicture("food", "of the food", bars=(Bar("barb", 0.996, "fair part 64 %"), Bar("bichir", 0.004))),
            "Barb: > 99 % (fair part 64 %); bichir: < 1 %.",
        ),
        (
            WindowsPicture("pH", "", windows=(Window("discus", 5.5, 7.5),), marker=Window("tank", 7.6, 7.6)),
            "Discus: 5.5–7.5; tank: 7.6.",
        ),
        (
            MonthsPicture("fits", "of draws", shares=(0.2, 0.76, 0.1)),
            "20 % of draws at month 0; the most, 76 % of draws at month 1; 10 % of draws at month 2.",
        ),
        (MonthsPicture("fits", "of draws", shares=(0.5,)), "The most, 50 % of draws at month 0."),
        (
            FishPicture("oscar", "short-deep", 28, 22, 11.2),
            "A grown oscar of 28 cm, 11 cm deep, to scale; the outline is that of its form (short-deep), not a "
            "portrait.",
        ),
        (CurvesPicture("size", "mm", ()), "There is nothing to show."),
        (BarsPicture("food", "of the food", ()), "There is nothing to show."),
        (WindowsPicture("pH", "", ()), "There is nothing to show."),
        (MonthsPicture("fits", "of draws", ()), "There is nothing to show."),
    ],
    ids=lambda value: "" if isinstance(value, str) else type(value).__name__,
)
def test_described(picture: Picture, expected: str) -> None:
    """derived: the picture's own numbers, worded."""
    assert described(picture) == expected
