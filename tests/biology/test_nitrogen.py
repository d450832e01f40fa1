"""From food to ammonia to nitrate, held against published tables and a stepped tank."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from coswim.biology import nitrogen

loads = st.floats(0.001, 10)
growths = st.floats(0.02, 1)
renewals = st.floats(0, 0.5)


@pytest.mark.parametrize(
    ("ph", "celsius", "fraction", "within"),
    # published: UF/IFAS FA-16 table after Emerson et al. 1975, J. Fish. Res. Board Can. 32:2379-2383
    [
        (7.0, 20, 0.0039, 0.015),
        (7.8, 26, 0.0370, 0.005),
        (8.0, 24, 0.0502, 0.005),
        (8.0, 28, 0.0654, 0.005),
        (8.4, 30, 0.1678, 0.005),
    ],
)
def test_un_ionised_fraction(ph: float, celsius: float, fraction: float, within: float) -> None:
    assert float(nitrogen.un_ionised_fraction(ph, celsius)) == pytest.approx(fraction, rel=within)


def test_harmful_ammonia_lies_between_the_chronic_and_the_acute_criterion() -> None:
    """Published: chronic 1.9 and acute 17 mg TAN/L at pH 7 and 20 C, US EPA 2013, EPA-822-R-13-001; harm from
    un-ionised ammonia above 0.05 mg/L, UF/IFAS FA-16.
    """
    total = 0.05 / float(nitrogen.un_ionised_fraction(7.0, 20))
    assert 1.9 < total < 17


@pytest.mark.parametrize(
    ("food", "protein", "grams"),
    # published: F x protein x 0.092, Timmons & Ebeling (memory); worked inputs of Losordo
    [(60_000, 0.40, 2208), (1, 0.45, 0.0414)],
)
def test_ammonia_from_food(food: float, protein: float, grams: float) -> None:
    assert float(nitrogen.tan_from_food(food, protein=protein)) == pytest.approx(grams, rel=1e-6)


@given(st.floats(0, 1000), st.floats(0, 1))
@settings(deadline=None, max_examples=60)
def test_no_nitrogen_of_the_food_is_lost_or_made(food: float, protein: float) -> None:
    """Derived: protein is 16 % nitrogen; in the fish + faeces + ammonia + urea, within 1 %."""
    assert sum(map(float, nitrogen.ledger(food, protein=protein))) == pytest.approx(0.16 * food * protein, rel=0.01)


def test_ammonia_leaves_out_faeces_and_what_the_fish_keeps() -> None:
    """Derived: of the nitrogen that is neither in the fish nor in its faeces nine tenths are ammonia, to the rounding
    of 0.092: nothing was subtracted twice.
    """
    parts = nitrogen.ledger(100, protein=0.40)
    outside = 6.4 - float(parts.in_fish) - float(parts.faeces)
    assert float(nitrogen.tan_from_food(100, protein=0.40)) == pytest.approx(0.9 * outside, rel=0.005)


def test_what_nitrification_takes() -> None:
    """Published: 4.57 g O2 and 7.14 g CaCO3 per g N; derived: 2 O2 and 1 CaCO3 (2 H+) per N in molar masses."""
    assert float(nitrogen.oxygen_used(1)) == pytest.approx(4.57)
    assert float(nitrogen.alkalinity_used(1)) == pytest.approx(7.14)
    assert pytest.approx(2 * 31.998 / 14.007, abs=0.005) == nitrogen.OXYGEN_PER_N
    assert pytest.approx(100.086 / 14.007, abs=0.01) == nitrogen.ALKALINITY_PER_N


@pytest.mark.parametrize(
    ("factor", "molar"),
    # published: unit factors as nitrogen; derived: molar masses, N 14.007, O 15.999
    [
        (nitrogen.NO2_PER_N, 14.007 + 2 * 15.999),
        (nitrogen.NO3_PER_N, 14.007 + 3 * 15.999),
    ],
    ids=["NO2", "NO3"],
)
def test_unit_factors(factor: float, molar: float) -> None:
    assert factor == pytest.approx(molar / 14.007, abs=2e-4)


@pytest.mark.parametrize(
    ("tan", "rate"),
    # published: Zhu & Chen 1999, Aquacult. Eng. 20, biofilm at 27.2 C, mg/m2/day
    [(1.0, 590), (0.25, 153.5)],
)
def test_biofilm_at_low_ammonia(tan: float, rate: float) -> None:
    assert float(nitrogen.film_turnover(tan)) == pytest.approx(rate, abs=0.5)


def test_biofilm_against_the_design_table() -> None:
    """Published design table: 0.9 and 1.0 g/m2/day at 20 and 25 C, within 50 %; a filter runs at 1 to 3 mg/L."""
    assert np.all(np.abs(nitrogen.film_turnover([1.5, 2.0, 3.0]) / 950 - 1) < 0.5)


def test_a_film_that_copes() -> None:
    """Published pair of Zhu & Chen 1999: 590 over 153.5 as much at 1.0 as at 0.25 mg/L."""
    assert float(nitrogen.tan_for_turnover(590 / 153.5, standing=0.25)) == pytest.approx(1.0, abs=0.01)
    assert float(nitrogen.tan_for_turnover(1, standing=0.2)) == pytest.approx(0.2)
    assert float(nitrogen.tan_for_turnover(100, standing=0.25)) == np.inf


def test_catching_up_after_a_step() -> None:
    """Derived: t = ln(0.3 / 0.2) / 0.2 and E = 0.3 t - 0.1 / 0.2, published as check figures 2.03 d and 0.108 g."""
    days = nitrogen.days_to_catch_up(0.2, 0.3, growth=0.2)
    assert float(days) == pytest.approx(2.03, abs=0.005)
    assert float(nitrogen.ammonia_left_over(days, before=0.2, after=0.3, growth=0.2)) == pytest.approx(0.108, abs=5e-4)


@pytest.mark.parametrize("renewal", [0.0, 0.05, 0.3])
def test_a_stepped_tank_comes_to_the_same(renewal: float) -> None:
    """Oracle: dE/dt = P1 - P0 e^(mu t) - k E stepped by a thousandth of a day (Heun)."""
    before, after, growth, step = 0.05, 0.4, 0.25, 0.001
    left = 0.0
    for index in range(8000):
        time = index * step
        slope = after - before * np.exp(growth * time) - renewal * left
        ahead = after - before * np.exp(growth * (time + step)) - renewal * (left + step * slope)
        left += step * (slope + ahead) / 2
    exact = nitrogen.ammonia_left_over(8.0, before=before, after=after, growth=growth, renewal=renewal)
    assert float(exact) == pytest.approx(left, rel=1e-4)


@given(loads, loads, growths, renewals)
@settings(deadline=None, max_examples=100)
def test_the_peak_lies_before_the_day_of_catching_up(
    before: float, after: float, growth: float, renewal: float
) -> None:
    day = float(nitrogen.days_to_catch_up(before, after, growth=growth))
    later = day + np.linspace(0, 10, 11)
    left = nitrogen.ammonia_left_over(later, before=before, after=after, growth=growth, renewal=renewal)
    assert np.all(np.diff(left) <= 1e-6 * max(1.0, after))


@given(loads, st.floats(1, 5), growths, renewals, st.floats(0, 30), st.floats(1, 3))
@settings(deadline=None, max_examples=100)
def test_a_larger_step_or_less_water_changed_never_leaves_less_ammonia(
    before: float, times: float, growth: float, renewal: float, days: float, more: float
) -> None:
    def left(step: float, changed: float) -> float:
        load = before * step
        return float(nitrogen.ammonia_left_over(days, before=before, after=load, growth=growth, renewal=changed))

    assert left(times * more, renewal) >= left(times, renewal) - 1e-6
    assert left(times, renewal) >= left(times, renewal * more) - 1e-6


@given(st.floats(5, 9.5), st.floats(0, 44), st.floats(0.001, 1))
@settings(deadline=None, max_examples=60)
def test_higher_ph_and_warmth_make_ammonia_more_poisonous(ph: float, celsius: float, more: float) -> None:
    here = nitrogen.un_ionised_fraction(ph, celsius)
    assert 0 < here < nitrogen.un_ionised_fraction(ph + more, celsius) < 1
    assert here < nitrogen.un_ionised_fraction(ph, celsius + more) < 1


def test_nitrifiers_grow_more_slowly_in_the_cold() -> None:
    """Published: 10^(0.0413 (T - 25)), Knowles, Downing & Barrett 1965 (memory)."""
    assert nitrogen.nitrifier_growth(0.2, [25, 15]).tolist() == pytest.approx([0.2, 0.2 * 10**-0.413])


def test_impossible_input_is_refused() -> None:
    with pytest.raises(ValueError, match="protein 0 to 1"):
        nitrogen.tan_from_food(1, protein=1.1)
    with pytest.raises(ValueError, match="above 0"):
        nitrogen.days_to_catch_up(0, 1, growth=0.2)
    with pytest.raises(ValueError, match="0 to 45 C"):
        nitrogen.un_ionised_fraction(7, 50)
    with pytest.raises(ValueError, match=r"above 0\.07"):
        nitrogen.tan_for_turnover(2, standing=0.05)
