"""Growth by von Bertalanffy and Fabens, held against printed figures and its own laws."""

from __future__ import annotations

from math import expm1

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from coswim.biology import growth
from coswim.biology.energy import Q10_METABOLISM

lengths = st.floats(0.5, 200)
rates = st.floats(0, 5)
spans = st.floats(0, 20)
degrees = st.floats(0, 45)


def at_age(years: float, asymptote: float, rate: float, age_at_zero: float) -> float:
    """Published: von Bertalanffy 1938, L_inf (1 - exp(-K (t - t0)))."""
    return -asymptote * expm1(-rate * (years - age_at_zero))


def test_growth_as_printed() -> None:
    """Published: Nagarajan 2013, L_inf 123.8 mm, K 3.1613, t0 -0.0007 (its figure for 0.25 years contradicts its own
    equation): 98 mm after half a year, 112 after three quarters.
    """
    half = at_age(0.5, 123.8, 3.1613, -0.0007)
    assert round(half) == 98
    assert round(float(growth.length_after(half, 0.25, asymptote=123.8, rate=3.1613))) == 112


def test_fabens_increment() -> None:
    """Published form: Fabens 1965, Growth 29:265-289; derived: (20 - 10)(1 - e^-0.3)."""
    assert float(growth.length_after(10, 1, asymptote=20, rate=0.3)) - 10 == pytest.approx(2.5918, abs=5e-5)


@given(rates.filter(lambda rate: rate > 1e-6), st.floats(0.01, 5), spans)
@settings(deadline=None, max_examples=60)
def test_fabens_continues_the_curve_of_von_bertalanffy(rate: float, age: float, more: float) -> None:
    """Derived: the same fish at age a, followed for some time, has the length of age a + time."""
    young = at_age(age, 30, rate, -0.5)
    old = at_age(age + more, 30, rate, -0.5)
    assert float(growth.length_after(young, more, asymptote=30, rate=rate)) == pytest.approx(old, rel=1e-6)


@given(lengths, lengths, rates, spans, spans)
@settings(deadline=None, max_examples=60)
def test_a_fish_never_shrinks_and_time_may_be_cut_anywhere(
    length: float, asymptote: float, rate: float, first: float, second: float
) -> None:
    at_once = float(growth.length_after(length, first + second, asymptote=asymptote, rate=rate))
    between = growth.length_after(length, first, asymptote=asymptote, rate=rate)
    assert float(growth.length_after(between, second, asymptote=asymptote, rate=rate)) == pytest.approx(at_once)
    assert length * (1 - 1e-6) <= float(between) <= max(length, asymptote) * (1 + 1e-6)


@given(degrees, degrees)
@settings(deadline=None, max_examples=60)
def test_cool_water_slows_growth_and_warm_water_does_not_hasten_it(temperature: float, middle: float) -> None:
    factor = float(growth.temperature_factor(temperature, middle=middle))
    assert 0 < factor <= 1
    assert (factor == 1) == (temperature >= middle) or abs(temperature - middle) < 1e-6


def test_growth_speeds_up_less_than_metabolism() -> None:
    """Published: metabolic Q10 1.834, Clarke & Johnston 1999, J. Anim. Ecol. 68:893-905."""
    assert 1 < growth.Q10_BELOW_MIDDLE < Q10_METABOLISM
    assert 1 / float(growth.temperature_factor(16, middle=26)) == pytest.approx(growth.Q10_BELOW_MIDDLE)


@pytest.mark.parametrize(("length", "years", "rate"), [(0, 1, 0.3), (-1, 1, 0.3), (10, -1, 0.3), (10, 1, -0.1)])
def test_impossible_input_is_refused(length: float, years: float, rate: float) -> None:
    with pytest.raises(ValueError, match="must be above 0"):
        growth.length_after(length, years, asymptote=20, rate=rate)
