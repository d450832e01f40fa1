"""The random numbers of a screening, each tied to what it is for and to nothing else.

A number depends on the seed and on its key (which fish, which trait), never on the order in which
things are asked for. So the order of entries in a plan changes nothing, and two plans that differ in
one place meet the same futures everywhere else, which makes their difference the effect of the change.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from zlib import crc32

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]
Flags = NDArray[np.bool_]


@dataclass(frozen=True)
class Luck:
    """A source of numbers for `draws` futures; what was drawn once is kept and must not be written to."""

    seed: int
    draws: int
    _whole: Luck | None = field(default=None, compare=False, repr=False)
    _drawn: dict[tuple[str, ...], Floats] = field(default_factory=dict, compare=False, repr=False)

    def uniform(self, *key: str) -> Floats:
        """Evenly spread numbers between 0 and 1 (one in each of `draws` equal strata), shape (draws,)."""
        return self._once("uniform", key)

    def normal(self, *key: str) -> Floats:
        """Standard normal numbers, shape (draws,)."""
        return self._once("normal", key)

    def first(self, draws: int) -> Luck:
        """The first of these futures, as they are here."""
        return Luck(self.seed, min(draws, self.draws), _whole=self)

    def drawn_for(self, name: str) -> dict[str, Floats]:
        """All numbers of one fish (or of the tank, the keeper) that were asked for so far, by trait."""
        return {key[-1]: self._drawn[key] for key in sorted(self._drawn) if key[1:-1] == (name,)}

    def _once(self, kind: str, key: tuple[str, ...]) -> Floats:
        known = self._drawn.get((kind, *key))
        if known is None:
            known = self._drawn[kind, *key] = self._draw(kind, key)
            known.setflags(write=False)
        return known

    def _draw(self, kind: str, key: tuple[str, ...]) -> Floats:
        if self._whole:
            return self._whole._once(kind, key)[: self.draws]
        generator = np.random.Generator(np.random.PCG64([self.seed, crc32("|".join(key).encode())]))
        if kind == "normal":
            return generator.standard_normal(self.draws)
        return np.asarray((generator.permutation(self.draws) + generator.random(self.draws)) / self.draws)
