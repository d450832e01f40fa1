"""The times of a course are dense in the first weeks and end at the horizon."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from coswim.simulation.times import CLOSE, times, when


@given(st.integers(1, 240))
def test_times_rise_from_the_day_they_meet_to_the_horizon(months: int) -> None:
    grid = times(float(months))
    assert grid[0] == 0
    assert grid[-1] == months
    assert np.all(np.diff(grid) > 0)
    assert len(grid) < 2 or grid[-1] - grid[-2] >= CLOSE or grid[-1] < 1


@given(st.integers(1, 240))
def test_no_gap_is_longer_than_what_it_follows_or_a_year(months: int) -> None:
    assert np.diff(times(float(months))).max() <= 12 + CLOSE


def test_the_first_weeks_are_dense() -> None:
    """Derived: 0, 1, 2, 4, 6, 8 and 13 weeks, then every third month."""
    weeks = times(24.0) * 30.4375 / 7
    assert weeks[:7].round().tolist() == [0, 1, 2, 4, 6, 8, 13]
    assert times(24.0)[7:].tolist() == [6, 9, 12, 15, 18, 21, 24]


@pytest.mark.parametrize(
    ("month", "words"), [(0.0, "on the first day"), (0.23, "in week 1"), (2.99, "in week 13"), (15.0, "at month 15")]
)
def test_a_time_in_words(month: float, words: str) -> None:
    assert when(month) == words
