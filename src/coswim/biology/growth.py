"""How long a fish is after some time: von Bertalanffy growth, slower in cool water."""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from coswim.arrays import Floats

Q10_BELOW_MIDDLE = 1.8
"""Growth slows by this factor for 10 C below the middle of the species' range. Source: the metabolic Q10
of 1.83 in Clarke & Johnston 1999, J. Anim. Ecol. 68:893-905, lowered since growth follows metabolism
only in part (judgement); no gain above the middle."""


def length_at_age(age: ArrayLike, *, asymptote: ArrayLike, rate: ArrayLike, age_at_zero: ArrayLike) -> Floats:
    """A fish grows fast at first and ever more slowly towards its final length.

    Equation: L(t) = L_inf (1 - exp(-K (t - t0))).
    Parameters: age, age_at_zero [years]; asymptote [any length]; rate [per year]; broadcast together.
    Returns: length in the unit of the asymptote, never below 0.
    Valid range: age >= age_at_zero. Beyond it: 0, no fish yet.
    Source: von Bertalanffy 1938, in the form used by Nagarajan 2013, which prints 98 and 112 mm.
    Check value: Nagarajan 2013.

    >>> [round(float(length_at_age(t, asymptote=123.8, rate=3.1613, age_at_zero=-0.0007))) for t in (0.5, 0.75)]
    [98, 112]
    """
    elapsed = np.asarray(age, dtype=float) - np.asarray(age_at_zero, dtype=float)
    gained = -np.expm1(-np.asarray(rate, dtype=float) * elapsed)
    return np.asarray(np.maximum(0.0, np.asarray(asymptote, dtype=float) * gained))


def length_after(length: ArrayLike, years: ArrayLike, *, asymptote: ArrayLike, rate: ArrayLike) -> Floats:
    """A fish of a known length closes part of the gap to its final length, and never shrinks.

    Equation: L + (L_inf - L)(1 - exp(-K dt)).
    Parameters: length, asymptote [same unit, > 0]; years [>= 0]; rate [per year, >= 0]; broadcast together.
    Returns: length in the same unit.
    Valid range: all non-negative; ValueError otherwise. A fish beyond its asymptote keeps its length.
    Source: Fabens 1965, Growth 29:265-289.
    Check value: derived from Fabens' form, an increment of 2.5918 from 10 towards 20 at K 0.3.

    >>> round(float(length_after(10, 1, asymptote=20, rate=0.3)) - 10, 4)
    2.5918
    """
    start, span, speed = (np.asarray(value, dtype=float) for value in (length, years, rate))
    if np.any(start <= 0) or np.any(span < 0) or np.any(speed < 0):
        raise ValueError("length must be above 0, years and rate at least 0")
    gap = np.maximum(0.0, np.asarray(asymptote, dtype=float) - start)
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
    below = np.minimum(0.0, np.asarray(temperature, dtype=float) - np.asarray(middle, dtype=float))
    return np.asarray(Q10_BELOW_MIDDLE ** (below / 10))
