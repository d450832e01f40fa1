"""Two waters: how far the one that the fish come from is from the tank's, and how long to take over it.

Source: common practice for what is large; the pace of change is judgement.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import NamedTuple

from coswim.plans.plan import Tank

LARGE = {"temperature": 2.0, "pH": 0.5, "hardness": 5.0}
A_DAY = {"temperature": 2.0, "pH": 0.3, "hardness": 2.0}
"""C, pH and dGH: a difference that is large, and what a fish is led over in a day."""
UNITS = {"temperature": " C", "pH": "", "hardness": " dGH"}


class Water(NamedTuple):
    """What is known of the water that the fish come from."""

    temperature: float | None = None
    ph: float | None = None
    hardness: float | None = None


class WaterDifference(NamedTuple):
    """One value of two waters; `days` to lead the fish from one to the other."""

    name: str
    theirs: float
    ours: float
    is_large: bool
    days: int

    @property
    def words(self) -> str:
        """As a reader is told."""
        unit = UNITS[self.name]
        size = f"large: take {self.days} days over it" if self.is_large else "small: an hour of dripping is enough"
        return f"{self.name}: theirs {self.theirs:g}{unit}, yours {self.ours:g}{unit}; {size}"


def differences(theirs: Water, tank: Tank) -> Iterator[WaterDifference]:
    """Those that can be told, from the middle of the tank's values."""
    pairs = (
        ("temperature", theirs.temperature, tank.temperature),
        ("pH", theirs.ph, tank.ph),
        ("hardness", theirs.hardness, tank.hardness),
    )
    for name, their_value, span in pairs:
        if their_value is not None and span is not None:
            gap = round(abs(their_value - span.middle), 3)
            yield WaterDifference(
                name, their_value, span.middle, gap > LARGE[name], max(1, math.ceil(gap / A_DAY[name]))
            )
