"""One meal is a race for a fixed amount of food; it is solved exactly, not stepped."""

from __future__ import annotations

import numpy as np

from coswim.arrays import Floats

NEVER = np.inf


def intakes(rates: Floats, capacities: Floats, latencies: Floats, food: Floats) -> Floats:
    """Everyone eats at its own rate, from its own start, until it is full or the food is gone.

    Equation: I_i = min(c_i, a_i max(0, tau - t_i)), tau such that the intakes sum to the food offered or
    to all capacities.
    Parameters: rates [g/min, >= 0], capacities [g, >= 0], latencies [min, >= 0], shape (eaters, ...), with as many axes
    each; what does not differ along one may have 1 there. food [g, >= 0], shape (...).
    Returns: intakes [g], shape (eaters, ...).
    Valid range: as given; what is outside is not refused, since meals race many times.
    Source: equation of this project, derived; unequal shares in groups are real (Carter et al., J. Mar.
    Biol. Assoc. UK: 0-22 % where an even share is 5 %).
    Check value: derived by hand, rates 3, 1, 1 and capacities 2 share 5 g as 2, 1.5, 1.5.

    >>> intakes(np.array([3.0, 1.0, 1.0]), np.array([2.0, 2.0, 2.0]), np.zeros(3), np.array(5.0)).tolist()
    [2.0, 1.5, 1.5]
    """
    return intake_by(_end_of_meal(rates, capacities, latencies, food), rates, capacities, latencies=latencies)


def intake_by(time: Floats, rates: Floats, capacities: Floats, *, latencies: Floats) -> Floats:
    """What each eater has had by a time when food never runs short.

    Equation: min(c_i, a_i max(0, t - t_i)).
    Parameters: time [min], shape (...); the rest as `intakes`, shape (eaters, ...).
    Returns: intakes [g], shape (eaters, ...).
    Valid range: as `intakes`.
    Source: as `intakes`.
    Check value: derived, 2 g/min from minute 1 to minute 3 is 4 g.

    >>> intake_by(np.array(3.0), np.array([2.0]), np.array([9.0]), latencies=np.array([1.0])).tolist()
    [4.0]
    """
    eaten = np.subtract(time, latencies)
    np.maximum(0.0, eaten, out=eaten)
    with np.errstate(invalid="ignore"):  # a fish that cannot eat (rate 0) has had nothing, however long
        eaten = np.multiply(rates, eaten)
    np.fmax(0.0, eaten, out=eaten)
    return np.minimum(capacities, eaten, out=eaten)


def _end_of_meal(rates: Floats, capacities: Floats, starts: Floats, offered: Floats) -> Floats:
    """The time at which the food is gone; infinite when all are full before.

    Total intake is piecewise linear in time, with a bend where a fish starts or is full: find the last bend before
    which the food lasts and the first at which it does not, and interpolate between them. Until the first starts, the
    food lasts.
    """
    first, *others = np.sort(starts, axis=0)
    latecomers = [start for start in others if (start > first).any()]
    with np.errstate(divide="ignore", invalid="ignore", over="ignore"):  # next to nothing counts as nothing
        full = starts + np.where(rates > 0, capacities / rates, 0.0)
        times = np.concatenate([*(np.broadcast_to(start, (1, *full.shape[1:])) for start in latecomers), full])
        been = np.maximum(0.0, times - starts[:, None]) if starts.any() else times[None]
        each = rates[:, None] * been
        eaten = np.add.reduce(np.minimum(capacities[:, None], each, out=each), axis=0)
        lasts = eaten <= offered
        before, after = np.where(lasts, times, first).max(axis=0), np.where(lasts, NEVER, times).min(axis=0)
        had, more = np.where(lasts, eaten, 0.0).max(axis=0), np.where(lasts, NEVER, eaten).min(axis=0)
        end = before + (offered - had) * ((after - before) / (more - had))
    return np.where(np.logical_and.reduce(lasts, axis=0), NEVER, end)
