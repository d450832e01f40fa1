"""The groups of several tanks side by side, place by place, so that one computation serves all tanks.

Arrays are groups × tanks × draws. Tanks of one sitting have as many groups each; what a place holds in one tank has
nothing to do with what it holds in the next.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from coswim.arrays import REAL, Floats
from coswim.simulation.group import Group


@dataclass(frozen=True, eq=False)
class Tanks:
    """The groups of each tank."""

    groups: tuple[tuple[Group, ...], ...]

    @property
    def places(self) -> range:
        """The places for a group in each tank."""
        return range(len(self.groups[0]))

    def number(self, of: Callable[[Group], float]) -> Floats:
        """A number of each group, shape (groups, tanks, 1)."""
        return np.array([[[of(tank[place])] for tank in self.groups] for place in self.places], dtype=REAL)

    def drawn(self, of: Callable[[Group], Floats]) -> Floats:
        """What each group drew, groups × tanks × draws."""
        return np.array([[of(tank[place]) for tank in self.groups] for place in self.places], dtype=REAL)

    def between(self, of: Callable[[Group, Group], float]) -> Floats:
        """A number of each two groups of a tank, shape (doer, target, tanks, 1)."""
        return np.array(
            [[[[of(tank[doer], tank[target])] for tank in self.groups] for target in self.places]
             for doer in self.places],
            dtype=REAL,
        )  # fmt: skip
