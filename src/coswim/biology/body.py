"""What a fish of a given length weighs and how deep it is."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

import numpy as np
from numpy.typing import ArrayLike

from coswim.arrays import REAL, Floats

WEIGHT_PRIORS: Mapping[str, tuple[float, float]] = MappingProxyType(
    {
        "eel-like": (-2.99, 3.06),
        "elongated": (-2.41, 3.12),
        "fusiform": (-1.95, 3.04),
        "short-deep": (-1.70, 3.01),
    }
)
"""log10 a and b of W[g] = a TL[cm]^b by body form. Source: Froese, Thorson & Reyes 2014, J. Appl.
Ichthyol. 30:78-85; within a form, weights of real fish scatter by a factor of about 1.5."""

STANDARD_LENGTH_BY_FORM: Mapping[str, float] = MappingProxyType(
    {"eel-like": 0.93, "elongated": 0.86, "fusiform": 0.82, "short-deep": 0.78}
)
"""Standard over total length where a profile gives none. Source: judgement around Brofeldt 1917
(pike 0.871, perch 0.867, roach 0.826, bream 0.789)."""

WIDTH_BY_FORM: Mapping[str, float] = MappingProxyType(
    {"eel-like": 0.9, "elongated": 0.7, "fusiform": 0.55, "short-deep": 0.36}
)
"""Width over depth where a profile gives none. Source: Brofeldt 1917 (bream 0.36, roach 0.55; pike
0.66, rounded up for slimmer kinds), the eel-like value judgement."""


def weight(total_length: ArrayLike, *, a: ArrayLike, b: ArrayLike) -> Floats:
    """A fish's weight rises with about the cube of its length.

    Equation: W = a TL^b.
    Parameters: total_length [cm]; a [g of a fish of 1 cm]; b [-]; broadcast together.
    Returns: weight [g].
    Valid range: total_length > 0; ValueError otherwise.
    Source: Froese, Thorson & Reyes 2014, J. Appl. Ichthyol. 30:78-85.
    Check value: 12.303 g for a fusiform fish of 10 cm, same source.

    >>> round(float(weight(10, a=10**-1.95, b=3.04)), 3)
    12.303
    """
    length = np.asarray(total_length, dtype=REAL)
    if (length <= 0).any():
        raise ValueError("total_length must be above 0 cm")
    return np.asarray(np.asarray(a, dtype=REAL) * length ** np.asarray(b, dtype=REAL))
