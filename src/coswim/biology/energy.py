"""What a fish must eat to keep its weight, and what it loses when it does not."""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from coswim.arrays import Floats

MAINTENANCE = 43.2
MAINTENANCE_EXPONENT = 0.8
MAINTENANCE_TEMPERATURE = 27.0
"""kJ per kg^0.8 and day at 27 C. Source: Lupatsch et al. 2013 (clownfish); within 40 % for other species."""
FASTING = 0.04643
FASTING_WEIGHT_EXPONENT = 0.7882
FASTING_TEMPERATURE_EXPONENT = 1.837
FASTING_WEIGHTS = (17.0, 1050.0)
"""Fasting metabolism, kJ/day = 0.04643 W[kg]^0.7882 T[C]^1.837. Source: Aguilar 2017 (pacu, 17-1,050 g,
19-33 C)."""
Q10_METABOLISM = 1.834
"""Source: Clarke & Johnston 1999, J. Anim. Ecol. 68:893-905 (69 teleosts, about 0 to 30 C)."""
TISSUE_ENERGY = 5.79
"""kJ per g of wet fish at 25 % dry mass. Source: Hartman & Brandt 1995."""
FOOD_ENERGY = 14.0
"""Usable kJ per g of dry food. Source: judgement, 18-20 kJ/g gross of which about three quarters is digested."""
GRAMS_PER_KG = 1000.0


def maintenance(weight: ArrayLike, temperature: ArrayLike) -> Floats:
    """The energy that keeps a fish at its weight for a day.

    Equation: 43.2 (W/1000)^0.8 * 1.834^((T - 27)/10).
    Parameters: weight [g, > 0]; temperature [C]; broadcast together.
    Returns: need [kJ/day].
    Valid range: weight > 0, ValueError otherwise; measured on small tropical fish near 27 C, elsewhere
    computed, within about 40 %.
    Source: Lupatsch et al. 2013; temperature by Clarke & Johnston 1999.
    Check value: Lupatsch et al. 2013, a fish of 10 g at 27 C.

    >>> round(float(maintenance(10, 27)), 3)
    1.085
    """
    mass = np.asarray(weight, dtype=float)
    if np.any(mass <= 0):
        raise ValueError("weight must be above 0 g")
    warmth = Q10_METABOLISM ** ((np.asarray(temperature, dtype=float) - MAINTENANCE_TEMPERATURE) / 10)
    return np.asarray(MAINTENANCE * (mass / GRAMS_PER_KG) ** MAINTENANCE_EXPONENT * warmth)


def fasting(weight: ArrayLike, temperature: ArrayLike) -> Floats:
    """The energy that an unfed fish takes from its own body in a day.

    Equation: 0.04643 (W/1000)^0.7882 T^1.837.
    Parameters: weight [g, > 0]; temperature [C, >= 0]; broadcast together.
    Returns: loss [kJ/day].
    Valid range: 17-1,050 g and 19-33 C. Beyond it: computed, an extrapolation.
    Source: Aguilar 2017 (pacu).
    Check value: same source, 100 g at 26 C.

    >>> round(float(fasting(100, 26)), 3)
    3.005
    """
    mass, warmth = np.asarray(weight, dtype=float), np.asarray(temperature, dtype=float)
    if np.any(mass <= 0) or np.any(warmth < 0):
        raise ValueError("weight must be above 0 g and temperature at least 0 C")
    return np.asarray(FASTING * (mass / GRAMS_PER_KG) ** FASTING_WEIGHT_EXPONENT * warmth**FASTING_TEMPERATURE_EXPONENT)


def weekly_loss(weight: ArrayLike, temperature: ArrayLike, *, coverage: ArrayLike) -> Floats:
    """The share of its weight that a fish loses in a week when it gets less than it needs.

    Equation: (1 - coverage) * fasting loss / 5.79 kJ/g * 7 / W, 0 when the need is covered.
    Parameters: weight [g]; temperature [C]; coverage (intake over maintenance) [-, >= 0]; broadcast.
    Returns: share of weight per week [-].
    Valid range: as `fasting`; straight line between nothing and enough (judgement).
    Source: Aguilar 2017; Hartman & Brandt 1995 for the energy of fish tissue.
    Check value: derived from the two sources, 50 g unfed at 26 C.

    >>> round(float(weekly_loss(50, 26, coverage=0)), 3)
    0.042
    """
    deficit = np.clip(1 - np.asarray(coverage, dtype=float), 0, 1)
    return np.asarray(deficit * fasting(weight, temperature) / TISSUE_ENERGY * 7 / np.asarray(weight, dtype=float))
