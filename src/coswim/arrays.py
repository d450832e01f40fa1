"""The kinds of array that pass through the house: numbers and yes-or-no, one in each draw (and time); and places."""

from __future__ import annotations

from collections.abc import Sequence
from functools import cached_property
from typing import Any

import numpy as np
from numpy.typing import NDArray

REAL = np.float32
"""The precision of what is drawn and of all that is reckoned from it, seven digits: traits are known to three.

Half the memory of double precision, and nearly twice as fast. A single number that is to meet such an array is one of
Python's (`math.sqrt`, not `numpy.sqrt`): one of numpy's makes everything it meets as precise, and as slow, as itself.
"""
Floats = NDArray[np.floating[Any]]
Flags = NDArray[np.bool_]
Indexes = NDArray[np.intp]


def share_of(flags: Flags) -> float:
    """The part of them that is true.

    >>> share_of(np.array([True, False, True, True]))
    0.75
    """
    return float(np.count_nonzero(flags) / flags.size)


def columns(parts: Sequence[Floats]) -> Floats:
    """Arrays of one shape as the last axis of one; each lies together in memory, so that sums over few are quick.

    >>> columns([np.array([1.0, 2.0]), np.array([3.0, 4.0])]).tolist()
    [[1.0, 3.0], [2.0, 4.0]]
    """
    return np.ascontiguousarray(np.stack([part.T for part in parts])).T


def forget(holder: object, kind: type = object) -> None:
    """Let go of what an object made once and keeps (of some kind); it is made again when it is asked for."""
    for name, value in list(vars(holder).items()):
        if isinstance(value, kind) and isinstance(getattr(type(holder), name, None), cached_property):
            del vars(holder)[name]
