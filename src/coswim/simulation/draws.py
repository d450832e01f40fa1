"""The random numbers of a screening, each tied to what it is for and to nothing else.

A number depends on the seed and on its key (which fish, which trait), never on the order in which
things are asked for. So the order of entries in a plan changes nothing, and two plans that differ in
one place meet the same futures everywhere else, which makes their difference the effect of the change.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from zlib import crc32

import numpy as np

from coswim.arrays import REAL, Floats

BELOW_ONE = np.nextafter(REAL(1), REAL(0))
WORD = 32
"""Bits of a word of the seed of a generator."""


@dataclass(frozen=True)
class Draws:
    """A source of numbers for a `number` of futures; what was drawn once is kept and must not be written to."""

    seed: int
    number: int
    _drawn: dict[tuple[str, ...], Floats] = field(default_factory=dict, compare=False, repr=False)

    def uniform(self, *key: str) -> Floats:
        """Evenly spread numbers between 0 and 1 (one in each of `number` equal strata), shape (draws,)."""
        return self._once("uniform", key)

    def normal(self, *key: str) -> Floats:
        """Standard normal numbers, shape (draws,)."""
        return self._once("normal", key)

    def drawn_for(self, name: str) -> dict[str, Floats]:
        """All numbers of one group (or of the tank, the keeper) that were asked for so far, by trait."""
        return {key[-1]: self._drawn[key] for key in sorted(key for key in self._drawn if key[1:-1] == (name,))}

    @property
    def kept(self) -> int:
        """How many arrays of numbers were drawn and are kept."""
        return len(self._drawn)

    def forget_after(self, first: int) -> None:
        """Let go what was drawn after the first so many, for the memory; asked for again, it is drawn the same."""
        for key in [*self._drawn][first:]:
            del self._drawn[key]

    def forget(self, name: str) -> None:
        """Let go of all numbers of one group; they are drawn again, and the same, when they are asked for."""
        for key in [key for key in self._drawn if name in key[1:]]:
            del self._drawn[key]

    @property
    def _seed_bits(self) -> int:
        """Bits of the seed in whole words, of which a generator is made."""
        return WORD * max(1, -(-self.seed.bit_length() // WORD))

    def _once(self, shape: str, key: tuple[str, ...]) -> Floats:
        known = self._drawn.get((shape, *key))
        if known is None:
            known = self._drawn[shape, *key] = self._draw(shape, key)
            known.setflags(write=False)
        return known

    def _draw(self, shape: str, key: tuple[str, ...]) -> Floats:
        key_number = crc32("|".join(key).encode())
        # the same as of [seed, key_number], which takes longer to read
        start = self.seed + (key_number << self._seed_bits)
        generator = np.random.Generator(np.random.PCG64(start))
        if shape == "normal":
            return generator.standard_normal(self.number).astype(REAL)
        places = (generator.permutation(self.number) + generator.random(self.number)) / self.number
        return np.minimum(places.astype(REAL), BELOW_ONE)  # a number just below 1 may be rounded to it
