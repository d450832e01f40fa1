"""What company costs its keeper: the food that it adds, and the water to be changed for it."""

from __future__ import annotations

from typing import NamedTuple

from coswim.simulation.quantiles import median, middle
from coswim.simulation.scene import Scene
from coswim.simulation.waste import Waste

NITRATE = 50.0
"""Nitrate (NO3) that the water changes are to hold, mg/L. Source: common practice."""
DAYS_PER_WEEK = 7.0


class Burden(NamedTuple):
    """What it takes in the middle of the draws; food is dry food once the first weeks are over.

    `added` is g a day beyond what the tank takes without them and `before` is that; `price` is the food over what all
    of them need at which the slowest eater keeps its weight, infinite where no amount does. `share` of the water every
    `every` days holds nitrate below 50 mg/L when the fish have grown, None where not even half of it every day does.
    """

    added: float
    before: float
    price: float
    share: float | None
    every: float

    @property
    def water(self) -> float:
        """Tankfuls to be changed a week; infinite where no ordinary change holds."""
        return float("inf") if self.share is None else self.share * DAYS_PER_WEEK / self.every


def burden(scene: Scene, alone: Scene) -> Burden:
    """What a tank takes with newcomers, beside the same without them."""
    before = _food(alone) if alone.groups else 0.0
    routine = Waste(scene).routine_that_holds(NITRATE)
    share, every = (routine.share, routine.every) if routine else (None, 1.0)
    price = middle(scene.course.lasting_price.max(axis=1))
    return Burden(_food(scene) - before, before, price, share, every)


def _food(scene: Scene) -> float:
    """Dry food a day in the middle of draws and times, g."""
    return middle(median(scene.course.given[:, scene.course.steady].T))
