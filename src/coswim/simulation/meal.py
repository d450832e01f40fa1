"""One meal at one time: who eats what of each food, what falls to the bottom, and what the slowest would need.

Arrays are draws × groups; food is in g dry per meal, for the whole group.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from types import MappingProxyType

import numpy as np
from numpy.typing import NDArray

from coswim.arrays import Floats
from coswim.biology import feeding
from coswim.profiles import scales
from coswim.simulation.foods import CRUMBS, Dish, scavenges
from coswim.simulation.group import Group

SPILLED = (0.1, 0.2)
"""Part of the food that its eaters spill into the gravel and behind the decor. Source: judgement, on the good pairings
of night feeders in the development panel."""
NEARBY = (0.1, 0.3)
"""Part of the food that comes down where a fish stands, so that it is eaten there before others come; shared by need,
and got by those that are awake and not kept away. Source: judgement, on the good pairings of the development panel."""
AT_ITS_LEVEL = 0.5
"""Access to a food from which it lies at a fish's own level."""
SINKS = 0.6
"""Part of what is left of the other foods that comes to lie at the bottom. Source: judgement; the rest is skimmed off
or clogs the filter."""
AT_NIGHT = MappingProxyType({"day": 0.1, "dusk": 0.6, "night": 1.0})
"""How far a fish finds what lies at the bottom through the night, by its own hours. Source: judgement."""


@dataclass(frozen=True, eq=False)
class Meal:
    """What each group could eat, and at what speed; then the race."""

    groups: tuple[Group, ...]
    dishes: tuple[Dish, ...]
    rates: Floats
    capacities: Floats
    hesitation: Floats
    time_left: Floats
    spilled: Floats
    nearby: Floats
    awake: Floats
    by_hand: Floats
    rations: Floats
    greed: Floats

    @cached_property
    def _hungry(self) -> Floats:
        """What each can still eat after it was fed by hand."""
        return self.capacities - self.by_hand

    def _runners(self, dish: Dish, room: Floats) -> tuple[Floats, Floats]:
        """Speed and capacity of each group at one food; beyond its ration it leaves its level only if it is greedy."""
        rate = self.rates * self.time_left * dish.access
        greed = np.where(dish.access < AT_ITS_LEVEL, self.greed, 1.0)
        room = np.minimum(room, np.maximum(0.0, room - (1 - greed) * (self.capacities - self.rations)))
        return rate, np.minimum(room, rate * np.maximum(0.0, dish.food.minutes - self.hesitation))

    def served(self, amounts: Floats) -> tuple[Floats, Floats]:
        """What each group eats of each dish, and of the crumbs last; shape (dishes + 1, draws, groups); what is left.

        Parameters: amounts, food that goes in as each dish, shape (draws, dishes).
        """
        eaten = [self.by_hand]
        room, fallen = self._hungry, np.zeros(len(self.capacities))
        for index, dish in enumerate(self.dishes):
            offered = amounts[:, index]
            spilled = self.spilled * offered
            rate, capacity = self._runners(dish, room)
            close = np.minimum(capacity, (offered - spilled)[:, None] * self._close_to(dish))
            contested = offered - spilled - close.sum(axis=-1)
            taken = close + feeding.race(
                rate, np.maximum(0.0, capacity - close), food=np.maximum(0.0, contested), latencies=self.hesitation
            )
            left = offered - spilled - taken.sum(axis=-1)
            fallen = fallen + spilled + SINKS * np.maximum(0.0, left)
            room = np.maximum(0.0, room - taken)
            eaten.append(taken)
        rate = self.rates * self._finds_crumbs
        crumbs = feeding.race(rate, np.minimum(room, rate * CRUMBS.minutes), food=fallen)
        return np.stack([*eaten[1:], crumbs]), np.asarray(fallen - crumbs.sum(axis=-1))

    def _close_to(self, dish: Dish) -> Floats:
        """Part of a dish that comes down in front of each group and is got by it without a race."""
        reach = self.capacities * dish.access
        share = reach / np.maximum(reach.sum(axis=-1, keepdims=True), np.finfo(float).tiny)
        return np.asarray(self.nearby[:, None] * share * self.awake * self.time_left)

    @cached_property
    def _finds_crumbs(self) -> Floats:
        found = [CRUMBS.access(group) * AT_NIGHT[_active(group)] * scavenges(group) for group in self.groups]
        return np.array(found)

    def short_of(self, amounts: Floats, eaten: Floats, wanted: Floats) -> tuple[Floats, NDArray[np.intp]]:
        """Food that would have to go in beside `amounts` before each group has had what it wants, and as which dish.

        Only the food that serves the group best is raised, and everyone else eats on meanwhile; so this is what all
        have taken of it by the time the group has enough, over what there was. Infinite where no amount is enough.
        Returns: extra [g], draws × groups; the index of the dish, shape (groups,).
        """
        best = self._best_dishes(wanted)
        found = np.zeros_like(wanted)
        for index in range(len(self.groups)):
            dish, place = self.dishes[best[index]], int(best[index])
            before = self._hungry - eaten[:place].sum(axis=0)
            rate, capacity = self._runners(dish, before)
            elsewhere = self.by_hand[:, index] + eaten[:, :, index].sum(axis=0) - eaten[place, :, index]
            short = np.maximum(0.0, wanted[:, index] - elsewhere)
            with np.errstate(divide="ignore", invalid="ignore"):
                time = np.where(short > 0, self.hesitation[index] + short / rate[:, index], 0.0)
            in_reach = short <= capacity[:, index] * (1 + ROUNDING)
            until = np.where(in_reach, time, 0.0)
            taken = feeding.intake_by(until, rate, capacity, latencies=self.hesitation).sum(axis=-1)
            spilled = self.spilled
            found[:, index] = np.where(in_reach, np.maximum(0.0, taken / (1 - spilled) - amounts[:, place]), np.inf)
        return found, best

    def _best_dishes(self, wanted: Floats) -> NDArray[np.intp]:
        """The dish of which each group gets most of what it wants, and among equals the one that it reaches best."""
        reach = np.stack(
            [
                np.minimum(1.0, self._runners(dish, self._hungry)[1] / np.maximum(wanted, LEAST)).mean(axis=0)
                for dish in self.dishes
            ]
        )
        access = np.stack([dish.access for dish in self.dishes])
        return np.asarray(np.argmax(np.round(reach, 2) + NUDGE * access, axis=0))


NUDGE = 1e-3
LEAST = float(np.finfo(float).tiny)
ROUNDING = 1e-9


def _active(group: Group) -> str:
    style = group.profile.feeding_style
    return style.active if style else scales.ACTIVE.words[0]
