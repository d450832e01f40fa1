"""Scales and the numbers along them land where a reader expects them."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from coswim.report import axes

FINITE = st.floats(-1e6, 1e6, allow_nan=False)


def test_scale_is_a_straight_line() -> None:
    """derived: 5 of 0 to 20 is a quarter of the way from 100 down to 20, that is 80."""
    scale = axes.Axis(0, 20, 100, 20)
    assert [scale.at(value) for value in (0, 5, 20)] == [100, 80, 20]


def test_scale_of_one_value_has_it_in_the_middle() -> None:
    assert axes.Axis(7, 7, 0, 10).at(7) == 5


@pytest.mark.parametrize(
    ("low", "high", "expected"),
    [
        pytest.param(0, 97, (0, 20, 40, 60, 80, 100), id="hundred"),
        pytest.param(5.5, 8, (5.5, 6, 6.5, 7, 7.5, 8), id="pH"),
        pytest.param(23, 30, (22, 24, 26, 28, 30), id="temperature"),
        pytest.param(-3, 4, (-4, -2, 0, 2, 4), id="below nought"),
        pytest.param(0, 0.3, (0, 0.1, 0.2, 0.3), id="tenths"),
        pytest.param(7, 7, (7, 8), id="one value"),
        pytest.param(0, 0, (0, 1), id="nought alone"),
    ],
)
def test_ticks(low: float, high: float, expected: tuple[float, ...]) -> None:
    """derived: steps of 1, 2 or 5 times a power of ten, at most five to the span before it is rounded outwards."""
    assert axes.ticks(low, high) == expected


@given(FINITE, FINITE)
@settings(max_examples=60, deadline=None)
def test_ticks_enclose_what_is_shown(one: float, other: float) -> None:
    low, high = sorted((one, other))
    marks = axes.ticks(low, high)
    slack = 1e-6 * max(1.0, abs(low), abs(high))
    assert marks[0] <= low + slack
    assert marks[-1] >= high - slack
    assert 2 <= len(marks) <= axes.MOST_STEPS + 2
    assert list(marks) == sorted(marks)


@pytest.mark.parametrize(
    ("first", "last", "expected"),
    [
        (0, 1, (0, 1)),
        (0, 12, (0, 2, 4, 6, 8, 10, 12)),
        (-0.5, 24.5, (0, 6, 12, 18, 24)),
        (0, 36, (0, 6, 12, 18, 24, 30, 36)),
        (0, 120, (0, 24, 48, 72, 96, 120)),
        (5, 5, (5,)),
    ],
)
def test_months_on_the_axis(first: float, last: float, expected: tuple[int, ...]) -> None:
    """derived: multiples of the smallest step of 1, 2, 3, 6, 12, 24, ... that needs six steps at most."""
    assert axes.month_ticks(first, last) == expected


def test_numbers_stand_as_close_as_they_fit() -> None:
    """derived: of 0.1, 0.2, 0.5, 1 ... the first step that leaves four marks at most over 0 to 2.5."""
    assert axes.ticks(0, 2.5, lambda marks: len(marks) <= 4) == (0, 1, 2, 3)
    assert axes.month_ticks(0, 24, lambda months: len(months) <= 3) == (0, 12, 24)
    assert axes.month_ticks(0, 240, lambda _: False) == (0, 120, 240), "the widest step where none fits"
