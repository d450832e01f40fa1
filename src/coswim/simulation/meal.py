"""One meal at one time: who eats what of each food, what falls to the bottom, and what the slowest would need.

Arrays are groups × tanks × draws; food is in g dry per meal, for the whole group.

Constants whose source is judgement were tuned on the pairings of tests/panel/ on which keepers agree, all at once.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property
from types import MappingProxyType
from typing import NamedTuple

import numpy as np

from coswim.arrays import REAL, Floats, Indexes
from coswim.biology import feeding
from coswim.profiles import scales
from coswim.simulation.foods import CRUMBS, Dish, preferences, scavenges
from coswim.simulation.group import Group
from coswim.simulation.tanks import Tanks

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
ROUNDING = 1e-6


@dataclass(frozen=True, eq=False)
class LaidTable:
    """What is the same at every meal; shape (groups, tanks, 1), or (draws,) for `spilled` and `nearby`.

    `hesitation` is in minutes; `awake` is feeding speed at this hour, `greed` how far a fish leaves its level.
    """

    tanks: Tanks
    dishes: tuple[Dish, ...]
    hesitation: Floats
    awake: Floats
    greed: Floats
    spilled: Floats
    nearby: Floats

    @cached_property
    def finds_crumbs(self) -> Floats:
        """Speed at what lies at the bottom through the night, over full speed; nobody eats there what it refuses."""
        finds = self.tanks.number(lambda group: CRUMBS.access(group) * AT_NIGHT[_active(group)] * scavenges(group))
        return np.asarray(finds * np.max([dish.accepted for dish in self.dishes], axis=0))

    @cached_property
    def preferences(self) -> Floats:
        """The part of what each group needs that is given as each dish, dishes × groups × tanks."""
        return preferences(self.dishes)

    @cached_property
    def stays(self) -> tuple[Floats, ...]:
        """Part of its appetite beyond the ration for which each group does not leave its level, for each dish."""
        return tuple(np.where(dish.access < AT_ITS_LEVEL, 1 - self.greed, 0.0) for dish in self.dishes)

    @cached_property
    def minutes(self) -> tuple[Floats, ...]:
        """For how long each group eats each dish at most."""
        return tuple(np.maximum(0.0, dish.food.minutes - self.hesitation) for dish in self.dishes)


class Racer(NamedTuple):
    """How fast each group eats one dish, and how much of it at most."""

    rate: Floats
    capacity: Floats


class Served(NamedTuple):
    """What each group has eaten of each dish, as which racer, and of the crumbs; what is left, tanks × draws.

    `eaten` is all of it, but for what was given by hand.
    """

    of_dish: tuple[Floats, ...]
    racers: tuple[Racer, ...]
    crumbs: Floats
    eaten: Floats
    left: Floats


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
    def _spills(self) -> tuple[Floats, ...]:
        """Part of each dish that is spilled: large fish chew theirs and lose much of it."""
        reach = self.capacities.sum(axis=0)
        messy = (self.capacities * self.weights / (self.weights + MESSY_WEIGHT)).sum(axis=0) / np.maximum(reach, LEAST)
        return tuple(dish.food.spilled * self.table.spilled * (1 + MESSY * messy) for dish in self.table.dishes)

    @cached_property
    def _hungry(self) -> Floats:
        """What each can still eat after it was fed by hand; what others leave of its appetite is the root of its time.

        Source: judgement; fish that others dominate eat less even where there is plenty (memory).
        """
        return np.asarray((self.capacities - self.by_hand) * np.sqrt(self.time_left))

    @cached_property
    def _of_dish(self) -> tuple[Racer, ...]:
        """How fast each group eats each dish, and how much it can eat in the time that it is there."""
        rates = [self.rates * (self.time_left * dish.access) for dish in self.table.dishes]
        return tuple(Racer(rate, rate * minutes) for rate, minutes in zip(rates, self.table.minutes, strict=True))

    @cached_property
    def _beyond(self) -> tuple[Floats | None, ...]:
        """What each would eat beyond its ration but for the level of a dish; None where none stays away from it."""
        greedy = self.capacities - self.rations
        return tuple(stays * greedy if stays.any() else None for stays in self.table.stays)

    def _racer(self, place: int, room: Floats) -> Racer:
        """Beyond its ration a group leaves its level for a food only as far as it is greedy."""
        (rate, in_time), beyond = self._of_dish[place], self._beyond[place]
        if beyond is not None:
            room = np.minimum(room, np.maximum(0.0, room - beyond))
        return Racer(rate, np.minimum(room, in_time))

    @cached_property
    def _alone(self) -> tuple[Racer, ...]:
        """How each group eats each dish where it is the only one."""
        return tuple(self._racer(place, self._hungry) for place in range(len(self.table.dishes)))

    def served(self, amounts: Floats) -> Served:
        """What each group eats of each dish in turn, and of the crumbs last.

        Parameters: amounts, food that goes in as each dish, dishes × tanks × draws.
        """
        of_dish, racers = [], []
        room, fallen = self._hungry, np.zeros(self.capacities.shape[1:], dtype=REAL)
        for place, amount in enumerate(amounts):
            spilled = self._spills[place] * amount
            offered = amount - spilled
            racer = self._racer(place, room) if place else self._alone[place]
            close = np.minimum(racer.capacity, offered * self._close[place])
            taken = close + feeding.intakes(
                racer.rate,
                np.maximum(0.0, racer.capacity - close),
                self.table.hesitation,
                np.maximum(0.0, offered - close.sum(axis=0)),
            )
            fallen = fallen + spilled + SINKS * np.maximum(0.0, offered - taken.sum(axis=0))
            room = np.maximum(0.0, room - taken)
            of_dish.append(taken)
            racers.append(racer)
        rate, most = self._crumbs
        crumbs = feeding.intakes(rate, np.minimum(room, most), np.zeros_like(self.table.hesitation), fallen)
        eaten, left = sum(of_dish, crumbs), fallen - crumbs.sum(axis=0)
        return Served(tuple(of_dish), tuple(racers), crumbs, eaten, left)

    @cached_property
    def _crumbs(self) -> Racer:
        """How fast each group eats crumbs, and how much in the time that they lie there."""
        rate = self.rates * self.table.finds_crumbs
        return Racer(rate, rate * CRUMBS.minutes)

    @cached_property
    def _close(self) -> tuple[Floats, ...]:
        """Part of each dish that comes down in front of each group and is got by it without a race."""
        there = self.table.awake * self.time_left
        reach = [self.capacities * dish.access for dish in self.table.dishes]
        return tuple(near * (self.table.nearby / np.maximum(near.sum(axis=0), LEAST)) * there for near in reach)

    def short_of(
        self, amounts: Floats, served: Served, wanted: Floats, *, or_full: bool = False
    ) -> tuple[Floats, Indexes]:
        """Food that would have to go in beside `amounts` before each group has had what it wants, and as which dish.

        Only the food that serves the group best is raised, and everyone else eats on meanwhile; so this is what all
        have taken of it by the time the group has enough, over what there was. Where no amount is enough it is
        infinite, or with `or_full` what goes in until the group takes no more.
        Returns: food [g], groups × tanks × draws; the index of the dish, shape (groups, tanks, 1).
        """
        best = self._best_dishes(wanted)
        found = np.zeros_like(wanted)
        had = self.by_hand + served.eaten
        for index, place in enumerate(best):
            eaten = _chosen(place, served.of_dish)
            short = np.maximum(0.0, wanted[index] - (had[index] - eaten[index]))
            if not short.any():
                continue
            rate, capacity = (_chosen(place, parts) for parts in zip(*served.racers, strict=True))
            if or_full:
                short = np.minimum(short, capacity[index])
            in_reach = short <= capacity[index] * (1 + ROUNDING)
            with np.errstate(divide="ignore", invalid="ignore"):
                eating = short / rate[index]
                until = np.where(in_reach & (short > 0), self.table.hesitation[index] + eating, 0.0)
            taken = feeding.intake_by(until, rate, capacity, latencies=self.table.hesitation).sum(axis=0)
            more = np.maximum(0.0, taken / (1 - _chosen(place, self._spills)) - _chosen(place, [*amounts]))
            found[index] = np.where(in_reach, more, np.inf)
        return found, best

    def _best_dishes(self, wanted: Floats) -> Indexes:
        """The dish of which each group gets most of what it wants, and among equals the one that it reaches best."""
        if len(self._alone) == 1:
            return np.zeros((*wanted.shape[:-1], 1), dtype=np.intp)
        least = np.maximum(wanted, LEAST)
        reach = np.stack(
            [(np.minimum(alone.capacity, wanted) / least).mean(axis=-1, keepdims=True) for alone in self._alone]
        )
        access = np.stack([dish.access for dish in self.table.dishes])
        return np.asarray(np.argmax(np.round(reach, 2) + NUDGE * access, axis=0))


def _chosen(place: Indexes, parts: Sequence[Floats]) -> Floats:
    """The part at its place in each tank, shape (tanks, 1): one of them, or put together where tanks differ."""
    first = int(place.flat[0])
    chosen = parts[first]
    if (place != first).any():
        for number, part in enumerate(parts):
            if number != first:
                chosen = np.where(place == number, part, chosen)
    return chosen


def _active(group: Group) -> str:
    style = group.profile.feeding_style
    return style.active if style else scales.ACTIVE.words[0]
