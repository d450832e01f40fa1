"""Whether the surface lets in as much oxygen as the fish and the filter use."""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from coswim.arrays import REAL, Floats
from coswim.biology.water import oxygen_saturation

ENERGY_PER_OXYGEN = 13.56
"""kJ set free by 1 g of oxygen. Source: Elliott & Davison 1975, Oecologia 19:195-201 (memory)."""


def oxygen_breathed(energy: ArrayLike) -> Floats:
    """The oxygen that a fish breathes for the energy it burns.

    Equation: energy / 13.56.
    Parameters: energy [kJ, >= 0].
    Returns: oxygen [g].
    Valid range: energy >= 0; ValueError otherwise.
    Source: Elliott & Davison 1975, Oecologia 19:195-201 (memory).
    Check value: derived, 13.56 kJ take 1 g.

    >>> round(float(oxygen_breathed(13.56)), 4)
    1.0
    """
    burnt = np.asarray(energy, dtype=REAL)
    if not (burnt >= 0).all():
        raise ValueError("energy must be at least 0 kJ")
    return np.asarray(burnt / ENERGY_PER_OXYGEN)


def oxygen_level(temperature: ArrayLike, *, demand: ArrayLike, surface: ArrayLike, exchange: ArrayLike) -> Floats:
    """Oxygen settles below saturation by as much as it takes to draw in what is used.

    Equation: C_sat(T) - demand / (k_L A), at least 0.
    Parameters: temperature [C]; demand [g/day, >= 0]; surface A [m2, > 0]; exchange k_L [m/day, > 0];
    broadcast together.
    Returns: dissolved oxygen [mg/L] at 1 atm.
    Valid range: as given and 0 to 45 C; ValueError otherwise. Well-mixed water, no plants, steady over a day.
    Source: two-film gas transfer in steady state, derived; saturation by Benson & Krause 1984.
    Check value: derived, 3 g a day through 1 m2 at 3 m a day takes 1 mg/L off the 8.26 of 25 C (EN 25814).

    >>> round(float(oxygen_level(25, demand=3.0, surface=1.0, exchange=3.0)), 2)
    7.26
    """
    used, area, speed = (np.asarray(value, dtype=REAL) for value in (demand, surface, exchange))
    if not ((used >= 0).all() and (area > 0).all() and (speed > 0).all()):
        raise ValueError("demand must be at least 0, surface and exchange above 0")
    return np.asarray(np.maximum(0.0, oxygen_saturation(temperature) - used / (area * speed)))
