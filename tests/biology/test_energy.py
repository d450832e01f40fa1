"""What a fish needs and loses, held against measured fish."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from coswim.biology import energy

weights = st.floats(0.05, 5000)
degrees = st.floats(5, 35)


def test_maintenance_of_a_small_fish() -> None:
    """Published: 43.2 kJ/kg^0.8/day at 27 C, Lupatsch et al. 2013 (clownfish); derived: 43.2 * 0.01^0.8."""
    assert float(energy.maintenance(10, 27)) == pytest.approx(1.085, abs=5e-4)


def test_fasting_metabolism() -> None:
    """Published: 0.04643 W^0.7882 T^1.837 kJ/day, Aguilar 2017 (pacu); derived at 100 g and 26 C."""
    assert float(energy.fasting(100, 26)) == pytest.approx(3.005, abs=5e-4)


def test_energy_of_fish_tissue() -> None:
    """Published: 5.79 kJ/g wet at 25 % dry mass, Hartman & Brandt 1995."""
    assert energy.TISSUE_ENERGY == 5.79


@pytest.mark.parametrize(("grams", "percent"), [(10, 6.2), (50, 4.4), (200, 3.3)])
def test_weight_lost_in_the_first_week_without_food(grams: float, percent: float) -> None:
    """Derived from Aguilar 2017 and Hartman & Brandt 1995 at 26 C, good to a factor of 1.5."""
    lost = 100 * float(energy.weekly_loss(grams, 26, coverage=0))
    assert percent / 1.5 < lost < percent * 1.5
    assert lost == pytest.approx(percent, rel=0.1)


def test_metabolism_from_cold_to_warm() -> None:
    """Published: ln R = 15.7 - 5.02 (1000/T), Clarke & Johnston 1999, J. Anim. Ecol. 68:893-905; 6.16 and 1.834."""
    ratio = math.exp(5.02 * (1000 / 273.15 - 1000 / 303.15))
    assert ratio == pytest.approx(6.16, abs=0.01)
    assert ratio ** (1 / 3) == pytest.approx(energy.Q10_METABOLISM, abs=0.001)
    assert float(energy.maintenance(10, 30) / energy.maintenance(10, 0)) == pytest.approx(6.16, rel=0.005)


@given(weights, weights, degrees)
@settings(deadline=None, max_examples=60)
def test_a_larger_fish_needs_more_but_less_for_its_weight(one: float, other: float, warmth: float) -> None:
    small, large = sorted((one, other))
    needs = energy.maintenance([small, large], warmth)
    assert needs[0] <= needs[1]
    assert needs[0] / small >= needs[1] / large * (1 - 1e-9)


@given(weights, degrees, st.floats(0, 3), st.floats(0, 3))
@settings(deadline=None, max_examples=60)
def test_a_fish_that_gets_more_loses_less(grams: float, warmth: float, one: float, other: float) -> None:
    less, more = sorted((one, other))
    losses = energy.weekly_loss(grams, warmth, coverage=np.array([less, more]))
    assert losses[0] >= losses[1] >= 0
    assert float(energy.weekly_loss(grams, warmth, coverage=1)) == 0


@pytest.mark.parametrize("grams", [0, -1])
def test_a_fish_without_weight_is_refused(grams: float) -> None:
    with pytest.raises(ValueError, match="above 0"):
        energy.maintenance(grams, 26)
    with pytest.raises(ValueError, match="above 0"):
        energy.fasting(grams, 26)
