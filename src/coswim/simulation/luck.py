"""The random numbers of a screening, each tied to what it is for and to nothing else.

A number depends on the seed and on its key (which fish, which trait), never on the order in which
things are asked for. So the order of entries in a plan changes nothing, and two plans that differ in
one place meet the same futures everywhere else, which makes their difference the effect of the change.
"""

from __future__ import annotations

from dataclasses import dataclass
from zlib import crc32

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]
Flags = NDArray[np.bool_]


@dataclass(frozen=True)
class Luck:
    """A source of numbers for `draws` futures."""

    seed: int
    draws: int

    def uniform(self, *key: str) -> Floats:
        """Evenly spread numbers between 0 and 1 (one in each of `draws` equal strata), shape (draws,)."""
        generator = self._generator(key)
        return np.asarray((generator.permutation(self.draws) + generator.random(self.draws)) / self.draws)

    def normal(self, *key: str) -> Floats:
        """Standard normal numbers, shape (draws,)."""
        return self._generator(key).standard_normal(self.draws)

    def _generator(self, key: tuple[str, ...]) -> np.random.Generator:
        return np.random.Generator(np.random.PCG64([self.seed, crc32("|".join(key).encode())]))
