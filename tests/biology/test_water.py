"""Oxygen in water against the printed table, and the laws of shared windows."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from coswim.biology import water
from coswim.text.quantities import PPM_PER_DGH

Span = tuple[float, float]
spans = st.tuples(st.floats(0, 45), st.floats(0, 45)).map(lambda ends: (min(ends), max(ends)))


@pytest.mark.parametrize(
    ("celsius", "mg_per_l"),
    # published: EN 25814 and Benson & Krause 1984, fresh water at 1 atm, to 0.01 mg/L
    [(20, 9.09), (25, 8.26), (28, 7.83), (30, 7.56)],
)
def test_oxygen_saturation(celsius: float, mg_per_l: float) -> None:
    assert float(water.oxygen_saturation(celsius)) == pytest.approx(mg_per_l, abs=0.01)


def test_hardness_by_definition() -> None:
    """Derived: 10 mg/L CaO in molar masses, 100.087 / 56.077 (Ca 40.078, C 12.011, O 15.999)."""
    assert pytest.approx(10 * 100.086 / 56.077, rel=1e-4) == PPM_PER_DGH


@given(st.floats(0, 44), st.floats(0.01, 1))
@settings(deadline=None, max_examples=40)
def test_warmer_water_holds_less_oxygen(celsius: float, more: float) -> None:
    assert water.oxygen_saturation(celsius) > water.oxygen_saturation(celsius + more)


@pytest.mark.parametrize("celsius", [-1, 46])
def test_water_that_is_no_water_is_refused(celsius: float) -> None:
    with pytest.raises(ValueError, match="0 to 45 C"):
        water.oxygen_saturation(celsius)


@given(st.lists(spans, min_size=1, max_size=6), st.integers(0, 5), st.floats(0, 1), st.floats(0, 1))
@settings(deadline=None, max_examples=100)
def test_narrowing_a_range_never_widens_the_shared_window(
    ranges: list[Span], which: int, from_below: float, from_above: float
) -> None:
    low, high = ranges[which % len(ranges)]
    ends = sorted((low + (high - low) * from_below, low + (high - low) * from_above))
    narrowed = [*ranges]
    narrowed[which % len(ranges)] = (max(low, ends[0]), min(high, ends[1]))
    before, after = (water.shared_window(*zip(*those, strict=True)) for those in (ranges, narrowed))
    assert after[0] >= before[0]
    assert after[1] <= before[1]


@given(spans, st.floats(0, 45))
@settings(deadline=None, max_examples=60)
def test_a_margin_is_positive_inside_and_negative_outside(ends: Span, value: float) -> None:
    low, high = ends
    margin, exact = float(water.margin(value, low, high)), min(value - low, high - value)
    assert margin == pytest.approx(exact, abs=1e-4)
    assert (margin >= 0) == (low <= value <= high) or abs(exact) < 1e-4


def test_ranges_that_are_none_are_refused() -> None:
    with pytest.raises(ValueError, match="not be above"):
        water.margin(25, 28, 24)
    with pytest.raises(ValueError, match="at least one range"):
        water.shared_window([], [])
