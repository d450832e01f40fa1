"""Pictures in lines of text: the ink is as long as the number says, and the number stands beside it."""

from __future__ import annotations

import hypothesis.strategies as st
import pytest
from hypothesis import example, given, settings

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
from coswim.report.document import plain
from coswim.report.drawing import draw
from coswim.report.wrapping import cells

MONTHS = MonthsPicture("it fits", "of draws", shares=(1.0, 0.9, 0.5, 0.1, 0.004, 0.0))
BARS = BarsPicture(
    "who eats",
    "of the food",
    bars=(Bar("tinfoil barb", 0.75, "fair part 67 %"), Bar("bichir", 0.001, "fair part 33 %"), Bar("pleco", 0.0)),
)
WINDOWS = WindowsPicture(
    "temperature",
    "C",
    windows=(Window("discus", 27.0, 30.0), Window("goldfish", 16.0, 24.0)),
    marker=Window("the tank", 26.0, 28.0),
)
CURVES = CurvesPicture(
    "body against mouth",
    "mm",
    curves=(
        Curve("body", (0.0, 12.0, 24.0), (30.0, 50.0, 60.0), (35.0, 60.0, 70.0), (40.0, 70.0, 80.0)),
        Curve("mouth", (0.0, 24.0), (20.0, 20.0), (35.0, 35.0), (50.0, 50.0)),
    ),
)
NITRATE = CurvesPicture(
    "nitrate",
    "mg/L",
    curves=(Curve("nitrate", (0.0, 11.0), (5.0, 5.0), (10.0, 10.0), (20.0, 20.0)),),
    marker=Window("aim", 20.0, 50.0),
)

FISH = FishPicture("oscar", "short-deep", 28.0, 22.0, 11.0)


def drawn(picture: Picture, width: int = 60, *, ascii_only: bool = False) -> str:
    return "\n".join(plain(line).rstrip() for line in draw(picture, width, ascii_only=ascii_only))


def test_months() -> None:
    """derived: a share of 0.5 is 3.5 of 7 heights (to even: 4), 0.1 is 0.7 of them, and zero is a dot."""
    assert drawn(MONTHS) == (
        "it fits\n"
        "100 % ▇▇▆▆▄▄▁▁▁▁·· 0 %\n"
        "month 0   2   4"
    )  # fmt: skip


def test_months_in_ascii() -> None:
    """derived: two rows of three heights."""
    assert drawn(MONTHS, ascii_only=True) == (
        "it fits\n"
        "      ##==\n"
        "100 % ######----.. 0 %\n"
        "month 0   2   4"
    )  # fmt: skip


def test_many_months_share_a_column_that_shows_the_worst_of_them() -> None:
    shares = tuple(1.0 if month == 100 else 0.0 for month in range(241))
    assert drawn(MonthsPicture("it fits", "", shares=shares)).count("▇") == 1


def test_bars() -> None:
    """derived: 61 - 12 (name) - 2 - 1 - 5 (percent) - 2 - 14 (note) = 25 columns; three quarters are 18.75, so 19."""
    assert drawn(BARS, 61) == (
        "who eats\n"
        "tinfoil barb  ▇▇▇▇▇▇▇▇▇▇▇▇▇▇▇▇▇▇▇······  75 %  fair part 67 %\n"
        "bichir        ▇························ < 1 %  fair part 33 %\n"
        "pleco         ·························   0 %"
    )


def test_notes_move_below_where_there_is_no_room_beside() -> None:
    assert drawn(BARS, 40, ascii_only=True) == (
        "who eats\n"
        "tinfoil barb  ###############.....  75 %\n"
        "              fair part 67 %\n"
        "bichir        #................... < 1 %\n"
        "              fair part 33 %\n"
        "pleco         ....................   0 %"
    )


def test_windows() -> None:
    """derived: 16 to 30 C take 40 steps, so 26 C is step 28.6, 28 C step 34.3, 27 C step 31.4, 24 C step 22.9."""
    assert drawn(WINDOWS) == (
        "temperature (C)\n"
        "the tank                               ▼    ▼        26–28 C\n"
        "discus                                 ┊ ├──┼─────┤  27–30 C\n"
        "goldfish  ├──────────────────────┤     ┊    ┊        16–24 C\n"
        "          16    18   20    22    24    26   28   30"
    )


def test_windows_in_ascii() -> None:
    lines = drawn(WINDOWS, ascii_only=True).splitlines()
    assert lines[2:4] == [
        "discus                                 : (==+=====)  27-30 C",
        "goldfish  (======================)     :    :        16-24 C",
    ]


def test_curves() -> None:
    """derived: 35 of 70 is half of 7 heights (3.5, to even: 4); the months stand under the ink."""
    assert drawn(CURVES) == (
        "body against mouth (mm)\n"
        "body      35 ▄▄▄▄▄▅▅▅▅▅▆▆▆▆▆▆▆▆▆▇▇▇▇▇▇ 70 (60–80)\n"
        "mouth     35 ▄▄▄▄▄▄▄▄▄▄▄▄▄▄▄▄▄▄▄▄▄▄▄▄▄ 35 (20–50)\n"
        "       month 0     6     12    18    24 (80 of 100)"
    )


def test_a_limit_beside_curves_is_stated_and_fits_the_scale() -> None:
    """derived: 10 of 50 is a fifth of 7 heights, 1.4, so 1."""
    assert drawn(NITRATE) == (
        "nitrate (mg/L)\n"
        "nitrate     10 ▁▁▁▁▁▁▁▁▁▁▁▁▁▁▁▁▁▁▁▁▁▁▁▁ 10 (5–20)\n"
        "aim            20–50 mg/L\n"
        "         month 0   2   4   6   8   10    (80 of 100)"
    )


@pytest.mark.parametrize(
    "picture",
    [
        MonthsPicture("t", "", ()),
        BarsPicture("t", "", ()),
        WindowsPicture("t", "", ()),
        CurvesPicture("t", "", ()),
    ],
    ids=lambda picture: type(picture).__name__,
)
def test_what_cannot_be_drawn_is_nothing(picture: Picture) -> None:
    assert draw(picture, 60) == ()


@pytest.mark.parametrize("picture", [MONTHS, BARS, WINDOWS, CURVES, NITRATE, FISH], ids=repr)
@pytest.mark.parametrize("ascii_only", [False, True])
def test_every_width_is_kept(picture: Picture, *, ascii_only: bool) -> None:
    for width in range(1, 130):
        lines = drawn(picture, width, ascii_only=ascii_only).splitlines()
        assert all(cells(line) <= width for line in lines)
        assert not ascii_only or "".join(lines).isascii()
    assert lines


NAMES = st.sampled_from(["barb", "金魚", "a very long name that wraps " * 3, "x" * 90, "\x1b[2Jclear"])
VALUES = st.floats(-1e3, 1e4, allow_nan=False)


@settings(deadline=None, max_examples=100)
@given(
    width=st.integers(20, 120),
    names=st.lists(NAMES, min_size=1, max_size=4),
    ends=st.tuples(VALUES, VALUES).map(sorted),
    share=st.floats(0, 1.5),
    last=st.integers(0, 240),
    length=st.floats(0.5, 400),
)
@example(width=34, names=["barb"], ends=[0.0, 5e-324], share=0.0, last=0, length=1.0)
def test_any_values_are_drawn_within_the_width(
    width: int, names: list[str], ends: list[float], share: float, last: int, length: float
) -> None:
    low, high = ends
    pictures = (
        BarsPicture(names[0], "", bars=tuple(Bar(name, share, "note") for name in names)),
        WindowsPicture(
            "w", "C", windows=tuple(Window(name, low, high) for name in names), marker=Window("it", low, low)
        ),
        CurvesPicture(
            "c",
            "mm",
            curves=tuple(Curve(n, (0.0, last), (low, low), (high, low), (high, high)) for n in names),
        ),
        MonthsPicture("m", "", shares=(min(share, 1.0),) * (last + 1)),
        FishPicture(names[0], "fusiform", length, 0.8 * length, 0.8 * length * min(share, 1.0)),
    )
    for picture in pictures:
        for ascii_only in (False, True):
            lines = drawn(picture, width, ascii_only=ascii_only).splitlines()
            assert all(cells(line) <= width for line in lines)
