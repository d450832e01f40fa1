"""What the keeper feeds: what all need together, more until the slowest has had its ration, or a stated amount."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

import numpy as np

from coswim.arrays import Floats
from coswim.biology import nitrogen
from coswim.biology.water_change import Changes
from coswim.plans.plan import Feeding, Tank
from coswim.simulation.draws import Draws

MEASURING = 0.05
"""Spread between keepers of the food given over months, log standard deviation. Source: judgement; single meals
spread more and even out."""
WILLING = 2.0
"""Food over normal up to which a keeper goes of its own accord for the slowest eater. Source: judgement; beyond that it
is a price to be told of, and no ordinary care."""
CARRIED = 60.0
"""Nitrate (NO3) just before a change up to which a keeper feeds more with the water changes of the plan, mg/L.
Source: judgement, somewhat above the 50 mg/L that keepers aim to stay below."""
WATER_SHARE = 0.85
"""Water in a tank over its gross volume: gravel, decor and the gap below the rim take the rest. Source:
judgement."""
PROTEIN = (0.38, 0.50)
"""Protein in dry food. Source: common practice (labels of food for ornamental fish)."""
NITRATE_LOST = (0.0, 0.3)
"""Part of the nitrate that plants and denitrification take. Source: judgement; the dirt that is siphoned off is no part
of the ammonia that becomes nitrate."""
MG_PER_G = 1000.0


@dataclass(frozen=True, eq=False)
class Keeper:
    """A keeper with a tank, its water changes and a way of feeding; arrays are (draws,) unless said otherwise."""

    tank: Tank
    feeding: Feeding
    draws: Draws
    by_hand: frozenset[str] = frozenset()

    @cached_property
    def litres(self) -> float:
        """The water in the tank, L."""
        return self.tank.litres * WATER_SHARE

    @cached_property
    def changes(self) -> Changes:
        """The plan's water changes."""
        plan = self.tank.water_change
        return Changes(plan.share, plan.every, plan.drip / self.litres)

    def drawn(self, span: tuple[float, float], *key: str) -> Floats:
        """An evenly spread value."""
        low, high = span
        return low + (high - low) * self.draws.uniform(*key)

    @cached_property
    def protein(self) -> Floats:
        """Protein of the dry food, a share."""
        return self.drawn(PROTEIN, "food", "protein")

    @cached_property
    def nitrate_per_tan(self) -> Floats:
        """mg/L of nitrate (NO3) that comes of each g of ammonia nitrogen."""
        kept = 1 - self.drawn(NITRATE_LOST, "tank", "nitrate lost")
        return np.asarray(kept * nitrogen.NO3_PER_N * MG_PER_G / self.litres)

    @cached_property
    def carried(self) -> Floats:
        """Dry food a day whose nitrate the plan's water changes hold, g."""
        changes = self.changes
        gain = max(0.0, CARRIED - self.tank.water_change.nitrate_in) * changes.taken / changes.gathering_days
        per_gram = nitrogen.tan_from_food(1.0, protein=self.protein) * self.nitrate_per_tan
        return np.asarray(gain / per_gram)

    @cached_property
    def measures(self) -> Floats:
        """What this keeper gives over what it means to give."""
        return np.asarray(np.exp(MEASURING * self.draws.normal("keeper", "measuring")))

    def given(self, *, normal: Floats, wanted: Floats, weight: Floats) -> Floats:
        """Dry food a day, g: a stated amount; else what is wanted for the slowest, as far as the keeper goes.

        Parameters: normal, what all need together, wanted, what it takes until the slowest has had its ration, g a day;
        weight, of all fish together, g.
        """
        amount = self.feeding.amount
        if amount.grams is not None:
            return np.full_like(normal, amount.grams)
        if amount.part_of_weight is not None:
            return np.asarray(amount.part_of_weight * weight)
        most = np.maximum(normal, np.minimum(self.carried, WILLING * normal))
        return np.asarray(np.clip(wanted, normal, most))
