"""One meal at one time: who eats what of each food, what falls to the bottom, and what the slowest would need.

Arrays are draws × groups; food is in g dry per meal, for the whole group.

Constants whose source is judgement were tuned on the pairings of tests/panel/ on which keepers agree, all at once.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from types import MappingProxyType
from typing import NamedTuple

import numpy as np

from coswim.arrays import Floats, Indexes
from coswim.biology import feeding
from coswim.profiles import scales
from coswim.simulation.foods import CRUMBS, Dish, scavenges
from coswim.simulation.group import Group

SPILLED = (0.1, 0.2)
"""Part of the food that its eaters spill into the gravel and behind the decor. Source: judgement, on the good pairings
of night feeders in the development panel."""
MESSY, MESSY_WEIGHT = 0.9, 100.0
"""How much more the largest fish spill, and the weight in g with half of that. Source: common practice, that large
cichlids crush their food and lose much of it; the figures are judgement."""
NEARBY = (0.1, 0.3)
"""Part of the food that comes down where a fish stands, so that it is eaten there before others come; shared by need,
and got by those that are awake and not kept away. Source: judgement, on the good pairings of the development panel."""
AT_ITS_LEVEL = 0.5
"""Access to a food from which it lies at a fish's own level."""
SINKS = 0.6
"""Part of what is left of the other foods that comes to lie at the bottom. Source: judgement; the rest is skimmed off
or clogs the filter."""
AT_NIGHT = MappingProxyType({"day": 0.25, "dusk": 0.6, "night": 1.0})
"""How far a fish finds what lies at the bottom through the night, by its own hours. Source: judgement."""
NUDGE = 1e-3
LEAST = 1e-9
ROUNDING = 1e-9


@dataclass(frozen=True, eq=False)
class LaidTable:
    """What is the same at every meal of a tank; shape (groups,), or (draws,) for `spilled` and `nearby`.

    `hesitation` is in minutes; `awake` is feeding speed at this hour, `greed` how far a fish leaves its level.
    """

    groups: tuple[Group, ...]
    dishes: tuple[Dish, ...]
    hesitation: Floats
    awake: Floats
    greed: Floats
    spilled: Floats
    nearby: Floats

    @cached_property
    def finds_crumbs(self) -> Floats:
        """Speed at what lies at the bottom through the night, over full speed; nobody eats there what it refuses."""
        finds = [CRUMBS.access(group) * AT_NIGHT[_active(group)] * scavenges(group) for group in self.groups]
        return np.asarray(np.array(finds) * np.max([dish.accepted for dish in self.dishes], axis=0))


class Racer(NamedTuple):
    """How fast each group eats one dish, and how much of it at most."""

    rate: Floats
    capacity: Floats


class Served(NamedTuple):
    """What each group has eaten of each dish, as which racer, and of the crumbs; what is left, shape (draws,)."""

    of_dish: tuple[Floats, ...]
    racers: tuple[Racer, ...]
    crumbs: Floats
    left: Floats

    @property
    def eaten(self) -> Floats:
        """Of everything, but what it was given by hand."""
        return np.asarray(sum(self.of_dish, self.crumbs))


@dataclass(frozen=True, eq=False)
class Meal:
    """What each group could eat, and at what speed; then the race."""

    table: LaidTable
    rates: Floats
    capacities: Floats
    time_left: Floats
    by_hand: Floats
    rations: Floats
    weights: Floats

    @cached_property
    def _spills(self) -> Floats:
        """Part of the food that is spilled: large fish chew theirs and lose much of it."""
        reach = self.capacities.sum(axis=-1)
        messy = (self.capacities * self.weights / (self.weights + MESSY_WEIGHT)).sum(axis=-1) / np.maximum(reach, LEAST)
        return np.asarray(self.table.spilled * (1 + MESSY * messy))

    @cached_property
    def _hungry(self) -> Floats:
        """What each can still eat after it was fed by hand: the time that others cost it is appetite that they cost it.

        Source: judgement; fish that others dominate eat less even where there is plenty (memory).
        """
        return np.asarray((self.capacities - self.by_hand) * self.time_left)

    def _racer(self, dish: Dish, room: Floats) -> Racer:
        """Beyond its ration a group leaves its level for a food only as far as it is greedy."""
        rate = self.rates * (self.time_left * dish.access)
        stays = np.where(dish.access < AT_ITS_LEVEL, 1 - self.table.greed, 0.0)
        if stays.any():
            room = np.minimum(room, np.maximum(0.0, room - stays * (self.capacities - self.rations)))
        return Racer(rate, np.minimum(room, rate * np.maximum(0.0, dish.food.minutes - self.table.hesitation)))

    def served(self, amounts: Floats) -> Served:
        """What each group eats of each dish in turn, and of the crumbs last.

        Parameters: amounts, food that goes in as each dish, shape (draws, dishes).
        """
        of_dish, racers = [], []
        room, fallen = self._hungry, np.zeros(len(self.capacities))
        spills = self._spills
        for index, dish in enumerate(self.table.dishes):
            spilled = spills * amounts[:, index]
            offered = amounts[:, index] - spilled
            racer = self._racer(dish, room)
            close = np.minimum(racer.capacity, offered[:, None] * self._close_to(dish))
            taken = close + feeding.race(
                racer.rate,
                np.maximum(0.0, racer.capacity - close),
                food=np.maximum(0.0, offered - close.sum(axis=-1)),
                latencies=self.table.hesitation,
            )
            fallen = fallen + spilled + SINKS * np.maximum(0.0, offered - taken.sum(axis=-1))
            room = np.maximum(0.0, room - taken)
            of_dish.append(taken)
            racers.append(racer)
        rate = self.rates * self.table.finds_crumbs
        crumbs = feeding.race(rate, np.minimum(room, rate * CRUMBS.minutes), food=fallen)
        return Served(tuple(of_dish), tuple(racers), crumbs, np.asarray(fallen - crumbs.sum(axis=-1)))

    def _close_to(self, dish: Dish) -> Floats:
        """Part of a dish that comes down in front of each group and is got by it without a race."""
        reach = self.capacities * dish.access
        share = self.table.nearby / np.maximum(reach.sum(axis=-1), LEAST)
        return np.asarray(reach * share[:, None] * (self.table.awake * self.time_left))

    def short_of(self, amounts: Floats, served: Served, wanted: Floats) -> tuple[Floats, Indexes]:
        """Food that would have to go in beside `amounts` before each group has had what it wants, and as which dish.

        Only the food that serves the group best is raised, and everyone else eats on meanwhile; so this is what all
        have taken of it by the time the group has enough, over what there was. Infinite where no amount is enough.
        Returns: food [g], draws × groups; the index of the dish, shape (groups,).
        """
        best = self._best_dishes(wanted)
        found = np.empty_like(wanted)
        had = self.by_hand + served.eaten
        for index, place in enumerate(best):
            racer = served.racers[place]
            elsewhere = had[:, index] - served.of_dish[place][:, index]
            short = np.maximum(0.0, wanted[:, index] - elsewhere)
            in_reach = short <= racer.capacity[:, index] * (1 + ROUNDING)
            started = self.table.hesitation[index]
            with np.errstate(divide="ignore", invalid="ignore"):
                until = np.where(in_reach & (short > 0), started + short / racer.rate[:, index], 0.0)
            taken = feeding.intake_by(until, *racer, latencies=self.table.hesitation).sum(axis=-1)
            more = np.maximum(0.0, taken / (1 - self._spills) - amounts[:, place])
            found[:, index] = np.where(in_reach, more, np.inf)
        return found, best

    @cached_property
    def _reach(self) -> tuple[Floats, ...]:
        """What each group can eat of each dish at most, were it the only one."""
        return tuple(self._racer(dish, self._hungry).capacity for dish in self.table.dishes)

    def _best_dishes(self, wanted: Floats) -> Indexes:
        """The dish of which each group gets most of what it wants, and among equals the one that it reaches best."""
        least = np.maximum(wanted, LEAST)
        reach = np.stack([(np.minimum(most, wanted) / least).mean(axis=0) for most in self._reach])
        access = np.stack([dish.access for dish in self.table.dishes])
        return np.asarray(np.argmax(np.round(reach, 2) + NUDGE * access, axis=0))


def _active(group: Group) -> str:
    style = group.profile.feeding_style
    return style.active if style else scales.ACTIVE.words[0]
