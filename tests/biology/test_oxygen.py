"""What the surface lets in against what is used."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from coswim.biology import oxygen
from coswim.biology.water import oxygen_saturation


@pytest.mark.parametrize(
    ("celsius", "demand", "left"),
    # published: saturation of EN 25814 (9.09 at 20 C, 7.83 at 28 C); derived: less demand / (4 m/day * 0.5 m2)
    [(20, 0, 9.09), (28, 0, 7.83), (28, 4, 5.83), (28, 40, 0)],
)
def test_oxygen_in_balance(celsius: float, demand: float, left: float) -> None:
    level = oxygen.oxygen_level(celsius, demand=demand, surface=0.5, exchange=4.0)
    assert float(level) == pytest.approx(left, abs=0.01)


def test_a_surface_stepped_through_a_day_settles_there() -> None:
    """Oracle: dC/dt = k_L/h (C_sat - C) - demand/V stepped by minutes in 0.5 m2 x 0.4 m of water at 26 C."""
    level = saturation = float(oxygen_saturation(26))
    for _ in range(24 * 60):
        level += (4.0 / 0.4 * (saturation - level) - 3.0 / (0.5 * 0.4)) / (24 * 60)
    assert float(oxygen.oxygen_level(26, demand=3.0, surface=0.5, exchange=4.0)) == pytest.approx(level, abs=0.01)


def test_oxygen_for_the_energy_of_a_fish() -> None:
    """Published: 13.56 kJ per g of oxygen, Elliott & Davison 1975 (memory)."""
    assert float(oxygen.oxygen_breathed(27.12)) == pytest.approx(2.0)


@given(st.floats(0, 40), st.floats(0, 50), st.floats(0, 50), st.floats(0.05, 3), st.floats(0.3, 10))
@settings(deadline=None, max_examples=60)
def test_more_demand_never_leaves_more(celsius: float, one: float, other: float, area: float, speed: float) -> None:
    less, more = sorted((one, other))
    levels = oxygen.oxygen_level(celsius, demand=[less, more], surface=area, exchange=speed)
    assert levels[0] >= levels[1] >= 0


def test_impossible_input_is_refused() -> None:
    with pytest.raises(ValueError, match="above 0"):
        oxygen.oxygen_level(25, demand=1, surface=0, exchange=3)
    with pytest.raises(ValueError, match="at least 0 kJ"):
        oxygen.oxygen_breathed(-1)
