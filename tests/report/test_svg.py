"""Drawings put things where their numbers say, tell curves apart without colour, and let nothing in."""

from __future__ import annotations

import re
import xml.etree.ElementTree as ET
from itertools import pairwise

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
from coswim.report import svg
from coswim.report.sheet import WIDTH

HOSTILE = "</text></svg><script>alert('x')</script><a href=\"javascript:x\" onload='y'>&lt;b&gt;"
SHAPES = {"svg", "text", "path", "line", "circle", "rect"}


def drawn(picture: Picture) -> ET.Element:
    """The drawing as a tree."""
    return ET.fromstring(svg.draw(picture, "what it shows"))  # noqa: S314, our own output


def of_class(tree: ET.Element, name: str) -> list[ET.Element]:
    """All shapes of a class, in the order in which they are drawn."""
    return [shape for shape in tree.iter() if name in shape.get("class", "").split()]


def words(tree: ET.Element) -> list[str]:
    """All texts, as they are read."""
    return [shape.text or "" for shape in tree.iter("text")]


def number(shape: ET.Element, name: str) -> float:
    """An attribute that is a number."""
    return float(shape.get(name, "nan"))


def places(path: ET.Element) -> list[tuple[float, float]]:
    """The corners of a path."""
    numbers = [float(part) for part in re.findall(r"-?\d+(?:\.\d+)?", path.get("d", ""))]
    return list(zip(numbers[::2], numbers[1::2], strict=True))


def tick(tree: ET.Element, label: str, axis: str) -> float:
    """Where a number stands beside a plot: `y` of its level line, or `x` of its month."""
    anchor = "end" if axis == "y" else "middle"
    found = next(s for s in of_class(tree, "tick") if (s.text, s.get("text-anchor")) == (label, anchor))
    return number(found, axis) - (4 if axis == "y" else 0)


def curve(name: str, *middle: float) -> Curve:
    """A curve over months 0, 1, ... with a band of 1 to either side."""
    months = tuple(map(float, range(len(middle))))
    return Curve(name, months, tuple(v - 1 for v in middle), middle, tuple(v + 1 for v in middle))


CURVES = CurvesPicture("sizes", "mm", curves=(curve("body", 10, 50, 90), curve("mouth", 40, 50, 60)))
BARS = BarsPicture("food", "of the food", bars=(Bar("barb", 0.75, "fair part 50 %"), Bar("bichir", 0.25)))
WINDOWS = WindowsPicture(
    "heat", "C", windows=(Window("a", 22, 26), Window("b", 24, 30)), marker=Window("the tank", 23, 23)
)
MONTHS = MonthsPicture("fits", "of draws", shares=(1.0, 0.5, 0.0))
FISH = FishPicture("oscar", "short-deep", 28, 22, 11)
ALL = [pytest.param(each, id=type(each).__name__) for each in (CURVES, BARS, WINDOWS, MONTHS, FISH)]


@pytest.mark.parametrize("picture", ALL)
def test_a_drawing_is_an_image_with_words_for_it(picture: Picture) -> None:
    tree = drawn(picture)
    assert tree.tag == "svg"
    assert (tree.get("role"), tree.get("aria-label")) == ("img", "what it shows")
    left, top, width, height = map(float, tree.get("viewBox", "").split())
    assert (left, top, width) == (0, 0, WIDTH)
    assert 50 < height < 400


@pytest.mark.parametrize("picture", ALL)
def test_everything_lies_within_the_drawing(picture: Picture) -> None:
    tree = drawn(picture)
    height = float(tree.get("viewBox", "").split()[3])
    for shape in tree.iter():
        for name, value in shape.attrib.items():
            if name in ("x", "x1", "x2", "cx"):
                assert 0 <= float(value) <= WIDTH
            if name in ("y", "y1", "y2", "cy"):
                assert 0 <= float(value) <= height


def test_curves_run_through_their_values() -> None:
    """derived: a value of 40 lies at the level line of 40, month 1 above the number 1."""
    tree = drawn(CURVES)
    body, mouth = of_class(tree, "curve")[-2:]
    assert places(body)[1] == pytest.approx((tick(tree, "1", "x"), (tick(tree, "40", "y") + tick(tree, "60", "y")) / 2))
    assert places(mouth)[0] == pytest.approx((tick(tree, "0", "x"), tick(tree, "40", "y")))
    assert places(mouth)[2] == pytest.approx((tick(tree, "2", "x"), tick(tree, "60", "y")))


def test_bands_enclose_their_curves() -> None:
    tree = drawn(CURVES)
    for band, line in zip(of_class(tree, "band"), of_class(tree, "curve")[-2:], strict=True):
        upper, lower = places(band)[:3], places(band)[:2:-1]
        for high, middle, low in zip(upper, places(line), lower, strict=True):
            assert high[0] == middle[0] == low[0]
            assert high[1] < middle[1] < low[1]


def test_nought_is_on_the_axis() -> None:
    """A change from 90 to 91 must not look like one from nothing."""
    tree = drawn(CurvesPicture("size", "mm", curves=(curve("body", 90, 91),)))
    assert "0" in words(tree)


def test_curves_differ_without_colour() -> None:
    """Four curves have four dashes and four markers, in the key as in the plot."""
    tree = drawn(CurvesPicture("sizes", "mm", curves=tuple(curve(name, 1, 2) for name in "abcd")))
    keys, lines = of_class(tree, "curve")[:4], of_class(tree, "curve")[4:]
    dashes = [line.get("stroke-dasharray", "none") for line in lines]
    assert len(set(dashes)) == 4
    assert [key.get("stroke-dasharray", "none") for key in keys] == dashes
    markers = [shape.get("d") for shape in of_class(tree, "marker")]
    assert len(set(markers[:4])) == 4
    assert markers[4::2] == markers[:4], "two points a curve, one marker a point"
    assert [word for word in words(tree) if word in "abcd"] == list("abcd")


def test_the_month_in_which_curves_cross_is_marked() -> None:
    """derived: 10 -> 50 against 40 -> 50 meet at month 1, at the height of 50."""
    tree = drawn(CURVES)
    assert "the lines cross about month 1" in words(tree)
    ring = of_class(tree, "ring")[-1]
    assert number(ring, "cx") == pytest.approx(tick(tree, "1", "x"))
    assert number(ring, "cy") == pytest.approx((tick(tree, "40", "y") + tick(tree, "60", "y")) / 2)
    (drop,) = of_class(tree, "drop")
    assert number(drop, "x1") == number(drop, "x2") == number(ring, "cx")
    assert number(drop, "y2") == tick(tree, "0", "y")


def test_curves_that_stay_apart_have_no_mark() -> None:
    tree = drawn(CurvesPicture("sizes", "mm", curves=(curve("body", 10, 20), curve("mouth", 40, 50))))
    assert of_class(tree, "ring") == []
    assert not any("cross" in word for word in words(tree))


def test_a_marked_range_lies_at_its_values() -> None:
    picture = CurvesPicture("nitrate", "mg/L", (curve("nitrate", 10, 90),), marker=Window("the aim", 20, 40))
    tree = drawn(picture)
    assert "the aim: 20–40 mg/L" in words(tree)
    span = of_class(tree, "span")[-1]
    assert number(span, "y") == pytest.approx(tick(tree, "40", "y"))
    assert number(span, "y") + number(span, "height") == pytest.approx(tick(tree, "20", "y"))


def test_bars_are_as_long_as_their_shares() -> None:
    tree = drawn(BARS)
    assert [number(bar, "width") for bar in of_class(tree, "bar")] == [0.75 * WIDTH, 0.25 * WIDTH]
    assert words(tree) == ["barb", "75 %", "fair part 50 %", "bichir", "25 %", "full width: 100 % of the food"]


def test_ranges_share_one_scale() -> None:
    tree = drawn(WINDOWS)
    spans = [(number(bar, "x"), number(bar, "x") + number(bar, "width")) for bar in of_class(tree, "bar")]
    at = {label: tick(tree, label, "x") for label in ("22", "24", "26", "30")}
    assert spans == [pytest.approx((at["22"], at["26"]), abs=0.2), pytest.approx((at["24"], at["30"]), abs=0.2)]
    assert words(tree)[:5] == ["the tank: 23 C", "a", "22–26 C", "b", "24–30 C"]


def test_the_tank_is_marked_on_every_range() -> None:
    """derived: 23 C is half way from 22 to 24, within the first range and outside the second."""
    tree = drawn(WINDOWS)
    in_key, *on_ranges = [shape for shape in of_class(tree, "mark") if "halo" not in shape.get("class", "")]
    expected = (tick(tree, "22", "x") + tick(tree, "24", "x")) / 2
    assert [number(mark, "x1") for mark in on_ranges] == pytest.approx([expected] * 2, abs=0.2)
    assert number(in_key, "x1") < expected


def test_columns_are_as_high_as_their_shares() -> None:
    tree = drawn(MONTHS)
    full, nought = tick(tree, "100 %", "y"), tick(tree, "0 %", "y")
    heights = [number(column, "height") / (nought - full) for column in of_class(tree, "bar")]
    assert heights == pytest.approx([1.0, 0.5, 0.0], abs=1e-3)
    lefts = [number(column, "x") for column in of_class(tree, "bar")]
    assert all(b - a > number(of_class(tree, "bar")[0], "width") for a, b in pairwise(lefts))


def test_a_fish_and_its_bar_are_in_one_scale() -> None:
    """derived: 28 cm take as many times the bar of 10 cm, and its depth of 11 cm likewise."""
    tree = drawn(FISH)
    (bar,), (fish,) = of_class(tree, "axis"), of_class(tree, "bar")
    cm = (number(bar, "x2") - number(bar, "x1")) / 10
    across, down = zip(*places(fish), strict=True)
    assert max(across) - min(across) == pytest.approx(28 * cm, abs=0.2)
    assert max(down) - min(down) == pytest.approx(11 * cm, abs=0.3)


@pytest.mark.parametrize(
    "picture",
    [
        CurvesPicture(HOSTILE, HOSTILE, (curve(HOSTILE, 1, 2),), marker=Window(HOSTILE, 1, 1)),
        BarsPicture(HOSTILE, HOSTILE, bars=(Bar(HOSTILE, 0.5, HOSTILE),)),
        WindowsPicture(HOSTILE, HOSTILE, windows=(Window(HOSTILE, 1, 2),), marker=Window(HOSTILE, 1, 1)),
        MonthsPicture(HOSTILE, HOSTILE, shares=(0.5,)),
    ],
    ids=lambda picture: type(picture).__name__,
)
def test_names_stay_names(picture: Picture) -> None:
    tree = ET.fromstring(svg.draw(picture, HOSTILE))  # noqa: S314, our own output
    assert {shape.tag for shape in tree.iter()} <= SHAPES
    assert {name for shape in tree.iter() for name in shape.attrib if name.startswith(("on", "href"))} == set()
    assert tree.get("aria-label") == HOSTILE
    assert "".join(HOSTILE.split()) in "".join("".join(words(tree)).split())


def test_control_characters_are_shown_not_obeyed() -> None:
    written = svg.draw(BarsPicture("", "", bars=(Bar("a\x1b[2J\u202eb", 0.5),)), "c\x00\nd")
    assert all(sign.isprintable() for sign in written)


def test_a_picture_without_data_has_no_drawing() -> None:
    assert svg.draw(CurvesPicture("sizes", "mm", ()), "") == ""


def test_a_value_without_limit_is_refused() -> None:
    with pytest.raises(ValueError, match="'sizes': a value is not finite"):
        svg.draw(CurvesPicture("sizes", "mm", curves=(curve("a", 1, float("inf")),)), "")
