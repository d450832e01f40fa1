"""Where draws lie: their middle and other quantiles, and the months in which they mostly do.

The same straight line between neighbours as `numpy.quantile`, which on its first use takes longer to load
than a hazard takes to run.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from coswim.arrays import REAL, Floats

HALF = 0.5


def quantiles(values: ArrayLike, shares: tuple[float, ...]) -> list[Floats]:
    """The values below which these shares of the draws lie; draws are the first axis, of any length but 0.

    One sort serves all shares.

    >>> [float(value) for value in quantiles([3.0, 1.0, 2.0, 10.0], (0.0, 0.5, 1.0))]
    [1.0, 2.5, 10.0]
    """
    ordered = np.sort(np.asarray(values, dtype=REAL), axis=0)
    last = len(ordered) - 1
    places = [last * share for share in shares]
    below = [ordered[int(place)] for place in places]
    above = [ordered[min(int(place) + 1, last)] for place in places]
    with np.errstate(invalid="ignore"):
        return [
            np.asarray(np.where(low == high, low, low + (high - low) * (place % 1)))
            for low, high, place in zip(below, above, places, strict=True)
        ]


def quantile(values: ArrayLike, share: float) -> Floats:
    """The value below which a share of the draws lies."""
    return quantiles(values, (share,))[0]


def median(values: ArrayLike) -> Floats:
    """The median of the draws."""
    return quantile(values, HALF)


def middle(values: ArrayLike) -> float:
    """The median of one number a draw, as a number.

    >>> middle([3.0, 1.0, 2.0]), middle([1.0, 2.0, np.inf, np.inf])
    (2.0, inf)
    """
    ordered = np.sort(np.asarray(values, dtype=REAL))
    low, high = float(ordered[(len(ordered) - 1) // 2]), float(ordered[len(ordered) // 2])
    return low if low == high else low + (high - low) * HALF


def fullest(shares: Floats) -> tuple[int, int]:
    """The first and the last month whose share is at least half of the highest, shape (months,).

    >>> fullest(np.array([0.1, 0.5, 0.8, 0.4, 0.0]))
    (1, 3)
    """
    full = np.flatnonzero(shares >= HALF * shares.max())
    return int(full[0]), int(full[-1])
