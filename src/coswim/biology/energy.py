"""What a fish must eat to keep its weight and to grow, what it can eat, and what it loses when it goes short."""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from coswim.arrays import REAL, Floats

MAINTENANCE = 43.2
MAINTENANCE_EXPONENT = 0.8
MAINTENANCE_TEMPERATURE = 27.0
"""kJ of gross food energy per kg^0.8 and day at 27 C. Source: Lupatsch et al. 2013 (clownfish); within 40 % for
other species."""
FOOD_ENERGY = 20.0
"""Gross kJ per g of dry food. Source: common practice (18 to 22 in prepared food)."""
USABLE = 0.75
"""Part of the gross energy that is digested and not lost with ammonia. Source: common practice, no source."""
FASTING = 0.04643
FASTING_WEIGHT_EXPONENT = 0.7882
FASTING_TEMPERATURE_EXPONENT = 1.837
"""Fasting metabolism, kJ/day = 0.04643 W[kg]^0.7882 T[C]^1.837. Source: Aguilar 2017 (pacu, 17-1,050 g,
19-33 C)."""
Q10_METABOLISM = 1.834
"""Source: Clarke & Johnston 1999, J. Anim. Ecol. 68:893-905 (69 teleosts, about 0 to 30 C)."""
TISSUE_ENERGY = 5.79
"""kJ per g of wet fish at 25 % dry mass. Source: Hartman & Brandt 1995."""
GROWTH_EFFICIENCY = 0.6
"""Part of the usable energy beyond maintenance that ends as tissue. Source: common practice, no source (0.5 to 0.7
in fish farming)."""
APPETITES = ((0.0, 0.25, 0.5, 0.75, 1.0), (1.2, 2.1, 3.3, 4.8, 9.0))
"""Most eaten in a day over maintenance, at the least, the quartiles and nearly the most of 14 freshwater and brackish
species (two pike-perch-like hunters eat still more). Source: derived from the published parameters of each model as
collected with Fish Bioenergetics 4.0 (Deslauriers et al. 2017, Fisheries 42:586-596), food at 4.2 kJ/g wet."""
SPARING = 0.8
"""Part of its maintenance on which a fish still keeps its weight by moving less. Source: judgement; fasting metabolism
(Aguilar 2017) is about 0.6 of the usable energy of maintenance (Lupatsch et al. 2013)."""
GRAMS_PER_KG = 1000.0


def maintenance(weight: ArrayLike, temperature: ArrayLike) -> Floats:
    """The gross energy in the food that keeps a fish at its weight for a day.

    Equation: 43.2 (W/1000)^0.8 * 1.834^((T - 27)/10).
    Parameters: weight [g, > 0]; temperature [C]; broadcast together.
    Returns: need [kJ of gross food energy per day].
    Valid range: weight > 0, ValueError otherwise; measured on small tropical fish near 27 C, elsewhere
    computed, within about 40 %.
    Source: Lupatsch et al. 2013; temperature by Clarke & Johnston 1999.
    Check value: Lupatsch et al. 2013, a fish of 10 g at 27 C.

    >>> round(float(maintenance(10, 27)), 3)
    1.085
    """
    mass = np.asarray(weight, dtype=REAL)
    if (mass <= 0).any():
        raise ValueError("weight must be above 0 g")
    warmth = Q10_METABOLISM ** ((np.asarray(temperature, dtype=REAL) - MAINTENANCE_TEMPERATURE) / 10)
    return np.asarray(MAINTENANCE * (mass / GRAMS_PER_KG) ** MAINTENANCE_EXPONENT * warmth)


def maintenance_food(weight: ArrayLike, temperature: ArrayLike) -> Floats:
    """The dry food that keeps a fish at its weight for a day.

    Equation: maintenance / 20 kJ/g.
    Parameters: as `maintenance`.
    Returns: food [g dry/day].
    Valid range: as `maintenance`.
    Source: Lupatsch et al. 2013 (gross energy); energy of dry food by common practice.
    Check value: derived, 1.085 kJ over 20 kJ/g.

    >>> round(float(maintenance_food(10, 27)), 4)
    0.0543
    """
    return np.asarray(maintenance(weight, temperature) / FOOD_ENERGY)


def growth_food(gain: ArrayLike) -> Floats:
    """The dry food that a gain in weight costs beside maintenance.

    Equation: gain * 5.79 / (0.6 * 0.75 * 20).
    Parameters: gain [g wet, >= 0], any shape.
    Returns: food [g dry], the same shape.
    Valid range: gain >= 0; ValueError otherwise.
    Source: Hartman & Brandt 1995 (tissue); efficiency and usable part by common practice.
    Check value: derived, 9 kJ of usable food energy that ends as tissue in each g of food.

    >>> round(float(growth_food(9.0)), 2)
    5.79
    """
    gained = np.asarray(gain, dtype=REAL)
    if not (gained >= 0).all():
        raise ValueError("gain must be at least 0 g")
    return np.asarray(gained * TISSUE_ENERGY / (GROWTH_EFFICIENCY * USABLE * FOOD_ENERGY))


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
    mass, warmth = np.asarray(weight, dtype=REAL), np.asarray(temperature, dtype=REAL)
    if (mass <= 0).any() or (warmth < 0).any():
        raise ValueError("weight must be above 0 g and temperature at least 0 C")
    return np.asarray(FASTING * (mass / GRAMS_PER_KG) ** FASTING_WEIGHT_EXPONENT * warmth**FASTING_TEMPERATURE_EXPONENT)


def daily_change(weight: ArrayLike, temperature: ArrayLike, *, coverage: ArrayLike) -> Floats:
    """The share of its weight that a fish loses, or a thin one can regain, in a day.

    Equation: -(1 - coverage / 0.8) * fasting / 5.79 / W below 0.8; (coverage - 1) * maintenance
    * 0.75 * 0.6 / 5.79 / W above 1; nothing between.
    Parameters: weight [g]; temperature [C]; coverage (intake over maintenance) [-, >= 0]; broadcast.
    Returns: share of weight per day [-], below 0 for a loss.
    Valid range: as `fasting`; straight lines between nothing, enough and more (judgement).
    Source: Aguilar 2017; Hartman & Brandt 1995 for the energy of fish tissue; Lupatsch et al. 2013.
    Check value: derived from the sources, 50 g unfed at 26 C for a week.

    >>> round(7 * float(daily_change(50, 26, coverage=0)), 3)
    -0.042
    """
    covered, mass = np.asarray(coverage, dtype=REAL), np.asarray(weight, dtype=REAL)
    lost = np.clip(1 - covered / SPARING, 0, 1) * fasting(mass, temperature)
    gained = np.maximum(0.0, covered - 1) * maintenance(mass, temperature) * USABLE * GROWTH_EFFICIENCY
    return np.asarray((gained - lost) / TISSUE_ENERGY / mass)


def burnt(maintained: ArrayLike, grown: ArrayLike) -> Floats:
    """The energy that is really burnt, and for which oxygen is breathed: not the gross energy of the food.

    Equation: (maintenance food * 0.75 + growth food * 0.75 * 0.4) * 20.
    Parameters: maintained, grown (food for maintenance and for growth) [g dry/day, >= 0]; broadcast together.
    Returns: energy burnt [kJ/day].
    Valid range: as given.
    Source: energy balance, derived; the parts as USABLE and GROWTH_EFFICIENCY.
    Check value: derived, 1 g for maintenance burns 15 kJ.

    >>> float(burnt(1.0, 0.0))
    15.0
    """
    kept, gained = np.asarray(maintained, dtype=REAL), np.asarray(grown, dtype=REAL)
    return np.asarray(USABLE * FOOD_ENERGY * (kept + (1 - GROWTH_EFFICIENCY) * gained))


def most_eaten(maintained: ArrayLike, *, place: ArrayLike) -> Floats:
    """A fish can take far more in a day than keeps its weight; how much more depends on its kind.

    Equation: maintenance food * r, with r on straight lines between the quartiles of the published models.
    Parameters: maintained [g dry/day, >= 0]; place (of the kind among the published models) [0 to 1]; broadcast.
    Returns: food [g dry/day].
    Valid range: place 0 to 1; ValueError otherwise.
    Source: published parameters collected with Fish Bioenergetics 4.0 (Deslauriers et al. 2017).
    Check value: same source, the median of the models.

    >>> print(most_eaten(1.0, place=[0.25, 0.5, 0.75]).round(2))
    [2.1 3.3 4.8]
    """
    where = np.asarray(place, dtype=REAL)
    if not ((where >= 0) & (where <= 1)).all():
        raise ValueError("place must be 0 to 1")
    return np.asarray(np.asarray(maintained, dtype=REAL) * np.interp(where.T, *APPETITES).T.astype(REAL))
