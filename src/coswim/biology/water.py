"""Whether water suits a fish: margins inside its ranges, and the oxygen that water can hold."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

import numpy as np
from numpy.typing import ArrayLike

from coswim.arrays import REAL, Floats

KELVIN = 273.15
OXYGEN_TERMS = (-139.34411, 1.575701e5, -6.642308e7, 1.2438e10, -8.621949e11)
"""Source: Benson & Krause 1984, Limnol. Oceanogr. 29:620-632, fresh water at 1 atm."""

SWING: Mapping[str, float] = MappingProxyType({"temperature": 0.4, "ph": 0.1, "hardness": 0.5, "salinity": 0.1})
"""Half of what water moves in an ordinary day: C, pH, dGH, and g/L of salt. Source: judgement."""


def margin(value: ArrayLike, low: ArrayLike, high: ArrayLike) -> Floats:
    """How far inside its range a fish is; negative outside.

    Equation: min(value - low, high - value).
    Parameters: value, low, high in one unit; broadcast together.
    Returns: margin in the same unit.
    Valid range: low <= high; ValueError otherwise.
    Source: definition.
    Check value: derived.

    >>> margin([23.0, 26.0, 30.0], 24, 28).tolist()
    [-1.0, 2.0, -2.0]
    """
    bottom, top = np.asarray(low, dtype=REAL), np.asarray(high, dtype=REAL)
    if (bottom > top).any():
        raise ValueError("low must not be above high")
    here = np.asarray(value, dtype=REAL)
    return np.asarray(np.minimum(here - bottom, top - here))


def shared_window(lows: ArrayLike, highs: ArrayLike) -> tuple[float, float]:
    """The part of a scale that lies in every range; the low end is above the high end when there is none.

    Equation: (max of lows, min of highs).
    Parameters: lows, highs, shape (fish,), one unit.
    Returns: (low, high) in that unit.
    Valid range: at least one range; ValueError otherwise.
    Source: definition.
    Check value: derived.

    >>> shared_window([22, 24], [28, 30])
    (24.0, 28.0)
    """
    bottoms, tops = np.asarray(lows, dtype=REAL), np.asarray(highs, dtype=REAL)
    if bottoms.size == 0:
        raise ValueError("at least one range is needed")
    return float(bottoms.max()), float(tops.min())


def oxygen_saturation(temperature: ArrayLike) -> Floats:
    """The oxygen that fresh water holds in balance with air; the warmer the less.

    Equation: ln C = -139.34411 + 1.575701e5/T - 6.642308e7/T^2 + 1.2438e10/T^3 - 8.621949e11/T^4, T in K.
    Parameters: temperature [C].
    Returns: dissolved oxygen [mg/L] at 1 atm.
    Valid range: 0 to 40 C; ValueError outside 0 to 45.
    Source: Benson & Krause 1984, Limnol. Oceanogr. 29:620-632; EN 25814 prints the same values.
    Check value: EN 25814 at 20, 25, 28 and 30 C.

    >>> print(oxygen_saturation([20, 25, 28, 30]).round(2))
    [9.09 8.26 7.83 7.56]
    """
    degrees = np.asarray(temperature, dtype=REAL)
    if ((degrees < 0) | (degrees > 45)).any():
        raise ValueError("temperature must be 0 to 45 C")
    kelvin = degrees + KELVIN
    return np.asarray(np.exp(sum(term / kelvin**power for power, term in enumerate(OXYGEN_TERMS))))
