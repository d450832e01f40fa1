"""Growth by von Bertalanffy and Fabens, held against printed figures and its own laws."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from coswim.biology import growth
from coswim.biology.energy import Q10_METABOLISM

lengths = st.floats(0.5, 200)
rates = st.floats(0, 5)
spans = st.floats(0, 20)
degrees = st.floats(0, 45)


@pytest.mark.parametrize(
    ("years", "exact", "printed"),
    [
        # published: Nagarajan 2013, L_inf 123.8 mm, K 3.1613, t0 -0.0007 (its figure for 0.25 years contradicts
        # its own equation); the second digits are derived from the equation
        pytest.param(0.5, 98.37, 98, id="half a year"),
        pytest.param(0.75, 112.26, 112, id="three quarters"),
    ],
)
def test_length_at_age_as_printed(years: float, exact: float, printed: int) -> None:
    length = float(growth.length_at_age(years, asymptote=123.8, rate=3.1613, age_at_zero=-0.0007))
    assert length == pytest.approx(exact, abs=0.005)
    assert round(length) == printed


@pytest.mark.parametrize(
    ("years", "length"),
    # derived: 20 (1 - e^(-0.3 (t + 0.2)))
    [(0, 1.1647), (2, 9.6630), (5, 15.7973), (10, 19.0622)],
)
def test_length_at_age_by_hand(years: float, length: float) -> None:
    assert float(growth.length_at_age(years, asymptote=20, rate=0.3, age_at_zero=-0.2)) == pytest.approx(
        length, abs=5e-5
    )


def test_fabens_increment() -> None:
    """Published form: Fabens 1965, Growth 29:265-289; derived: (20 - 10)(1 - e^-0.3)."""
    assert float(growth.length_after(10, 1, asymptote=20, rate=0.3)) - 10 == pytest.approx(2.5918, abs=5e-5)


def test_there_is_no_fish_before_its_time() -> None:
    assert float(growth.length_at_age(0, asymptote=20, rate=0.3, age_at_zero=1)) == 0


@given(rates.filter(lambda rate: rate > 0), st.floats(0.01, 5), spans)
@settings(deadline=None, max_examples=60)
def test_fabens_continues_the_curve_of_von_bertalanffy(rate: float, age: float, more: float) -> None:
    """Derived: the same fish at age a, followed for some time, has the length of age a + time."""
    young = float(growth.length_at_age(age, asymptote=30, rate=rate, age_at_zero=-0.5))
    old = float(growth.length_at_age(age + more, asymptote=30, rate=rate, age_at_zero=-0.5))
    assert float(growth.length_after(young, more, asymptote=30, rate=rate)) == pytest.approx(old, rel=1e-9)


@given(lengths, lengths, rates, spans, spans)
@settings(deadline=None, max_examples=60)
def test_a_fish_never_shrinks_and_time_may_be_cut_anywhere(
    length: float, asymptote: float, rate: float, first: float, second: float
) -> None:
    at_once = float(growth.length_after(length, first + second, asymptote=asymptote, rate=rate))
    between = growth.length_after(length, first, asymptote=asymptote, rate=rate)
    assert float(growth.length_after(between, second, asymptote=asymptote, rate=rate)) == pytest.approx(at_once)
    assert length <= float(between) <= max(length, asymptote) * (1 + 1e-12)


@given(degrees, degrees)
@settings(deadline=None, max_examples=60)
def test_cool_water_slows_growth_and_warm_water_does_not_hasten_it(temperature: float, middle: float) -> None:
    factor = float(growth.temperature_factor(temperature, middle=middle))
    assert 0 < factor <= 1
    assert (factor == 1) == (temperature >= middle) or abs(temperature - middle) < 1e-9


def test_growth_speeds_up_less_than_metabolism() -> None:
    """Published: metabolic Q10 1.834, Clarke & Johnston 1999, J. Anim. Ecol. 68:893-905."""
    assert 1 < growth.Q10_BELOW_MIDDLE < Q10_METABOLISM
    assert 1 / float(growth.temperature_factor(16, middle=26)) == pytest.approx(growth.Q10_BELOW_MIDDLE)


@pytest.mark.parametrize(("length", "years", "rate"), [(0, 1, 0.3), (-1, 1, 0.3), (10, -1, 0.3), (10, 1, -0.1)])
def test_impossible_input_is_refused(length: float, years: float, rate: float) -> None:
    with pytest.raises(ValueError, match="must be above 0"):
        growth.length_after(length, years, asymptote=20, rate=rate)
