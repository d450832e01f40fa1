"""How long a fish is after some time: von Bertalanffy growth, slower in cool water."""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from coswim.arrays import REAL, Floats

Q10_BELOW_MIDDLE = 1.8
"""Growth slows by this factor for 10 C below the middle of the species' range. Source: the metabolic Q10
of 1.83 in Clarke & Johnston 1999, J. Anim. Ecol. 68:893-905, lowered since growth follows metabolism
only in part (judgement); no gain above the middle."""


def length_after(length: ArrayLike, years: ArrayLike, *, asymptote: ArrayLike, rate: ArrayLike) -> Floats:
    """A fish of a known length closes part of the gap to its final length, and never shrinks.

    Equation: L + (L_inf - L)(1 - exp(-K dt)).
    Parameters: length, asymptote [same unit, > 0]; years [>= 0]; rate [per year, >= 0]; broadcast together.
    Returns: length in the same unit.
    Valid range: all non-negative; ValueError otherwise. A fish beyond its asymptote keeps its length.
    Source: Fabens 1965, Growth 29:265-289.
    Check value: Nagarajan 2013 prints 98 and 112 mm at half and three quarters of a year (L_inf 123.8, K 3.1613).

    >>> round(float(length_after(98.37, 0.25, asymptote=123.8, rate=3.1613)))
    112
    """
    start, span, speed = (np.asarray(value, dtype=REAL) for value in (length, years, rate))
    if (start <= 0).any() or (span < 0).any() or (speed < 0).any():
        raise ValueError("length must be above 0, years and rate at least 0")
    gap = np.maximum(0.0, np.asarray(asymptote, dtype=REAL) - start)
    return np.asarray(start - gap * np.expm1(-speed * span))


def temperature_factor(temperature: ArrayLike, *, middle: ArrayLike) -> Floats:
    """Growth is slower in water below the middle of the species' range and no faster above it.

    Equation: min(1, 1.8 ^ ((T - T_mid) / 10)).
    Parameters: temperature, middle [C]; broadcast together.
    Returns: factor on the growth rate, above 0, at most 1.
    Valid range: 0 to 45 C. Beyond it: computed, without meaning.
    Source: judgement on Clarke & Johnston 1999, see Q10_BELOW_MIDDLE.
    Check value: derived, 10 C below gives 1 / 1.8.

    >>> round(float(temperature_factor(16, middle=26)), 4)
    0.5556
    """
    below = np.minimum(0.0, np.asarray(temperature, dtype=REAL) - np.asarray(middle, dtype=REAL))
    return np.asarray(Q10_BELOW_MIDDLE ** (below / 10))
