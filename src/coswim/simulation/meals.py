"""Meals in the tank: who gets which share of the food, and what must go in for the slowest eater.

The keeper is taken to feed what all fish together need (1.5 times maintenance each, give or take a
twentieth). Whether each gets its part is decided by the race.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from functools import cached_property
from operator import is_
from types import MappingProxyType

import numpy as np

from coswim.arrays import Floats
from coswim.biology import energy, feeding
from coswim.plans.plan import Feeding
from coswim.profiles import scales
from coswim.simulation import temper
from coswim.simulation.draws import Draws
from coswim.simulation.foods import FLOATING, FOODS, SINKING, Food, levels
from coswim.simulation.group import Group

RATION = 1.5
"""Food planned for each fish, in maintenance needs: keeping plus modest growth. Source: judgement."""
FILL = MappingProxyType({"still": 1.6, "slow": 1.6, "steady": 1.6, "fast": 1.6, "frantic": 1.85})
"""Food a fish takes in a day when it is there, in maintenance needs, by pace. Source: judgement; most fish
stop soon after their ration, those that feed in a frenzy gorge beyond it."""
GRAZING = MappingProxyType({"algae": 0.65, "herbivore": 0.2})
"""Part of the need that a planted, lived-in tank grows by itself, by diet. Source: judgement."""
PICKED, PICKED_WEIGHT = 0.35, 2.0
"""Part of the need that the smallest fish pick up in crumbs and small animals, and the weight in g at which half
of that is left: such fare is too fine to feed a large fish. Source: judgement."""
MEASURING = 0.05
"""Spread between keepers of the food given over months, log standard deviation. Source: judgement; single meals
spread more and even out."""
INDIVIDUAL_PACE = 0.3
"""Spread of feeding speed between individuals, log standard deviation; the mean of a group spreads by its
square root less. Source: judgement; within groups shares differ by far more (Carter et al., J. Mar. Biol.
Assoc. UK)."""
PACE_WEIGHT = 10.0
FILLING_EXPONENT = 0.15
"""The pace words hold for a fish of 10 g; a larger one takes longer to fill. Source: judgement; a bite grows
with about the 0.65th power of weight, the daily need with the 0.8th."""
HESITATION = MappingProxyType({"still": 3.0, "slow": 1.5, "steady": 0.2, "fast": 0.1, "frantic": 0.0})
"""Minutes before it starts, by pace. Source: judgement."""
OFF_HOURS = MappingProxyType({0: 1.0, 1: 0.7, 2: 0.45})
"""Feeding speed by distance between the meal and its own hours (day, dusk, night). Source: judgement; settled
fish of the night come out for food by day."""
CHASED = 0.35
"""Part of a meal lost at a single feeding place beside a larger fish that attacks whenever it can.
Source: judgement; aggression peaks with few competitors at one patch (Noel et al. 2005, Anim. Behav.
69:1157-1163)."""
FED_EVERY = 6
"""Months between two for which meals are run; growth changes slowly."""


@dataclass(frozen=True, eq=False)
class Meals:
    """The meals of a tank; arrays are draws × fed months × groups, amounts per meal for the whole group."""

    groups: tuple[Group, ...]
    feeding: Feeding
    draws: Draws
    month_indexes: tuple[int, ...]
    _eaten: dict[tuple[Food, ...], Floats] = field(default_factory=dict, init=False, repr=False)

    def or_same(self, other: Meals | None) -> Meals:
        """The other meals where the same groups eat the same food, so that its races are run once."""
        if other is None or self.feeding != other.feeding or self.month_indexes != other.month_indexes:
            return self
        same_fish = len(self.groups) == len(other.groups) and all(map(is_, self.groups, other.groups))
        return other if same_fish and self.draws is other.draws else self

    @property
    def months(self) -> Floats:
        """The months at which meals are run."""
        return np.asarray(self.groups[0].months[list(self.month_indexes)])

    def _stack(self, values: list[Floats]) -> Floats:
        """One array over the groups; each group's part is contiguous in memory, which makes sums cheap."""
        return np.moveaxis(np.stack(np.broadcast_arrays(*values)), 0, -1)

    @cached_property
    def counts(self) -> Floats:
        """Group in each group, shape (groups,)."""
        return np.array([float(group.count) for group in self.groups])

    @cached_property
    def lengths(self) -> Floats:
        """Total length of one fish of each group, cm."""
        return self._stack([group.total_length[:, list(self.month_indexes)] for group in self.groups])

    @cached_property
    def weights(self) -> Floats:
        """Weight of one fish of each group, g."""
        return self._stack([group.weight_at(self.lengths[..., index]) for index, group in enumerate(self.groups)])

    @cached_property
    def need(self) -> Floats:
        """Maintenance need of the whole group, g of dry food per meal."""
        temperatures = np.array([group.temperature for group in self.groups])
        per_day = energy.maintenance(self.weights, temperatures) / energy.FOOD_ENERGY
        return np.asarray(per_day * self.counts / self.feeding.meals)

    @cached_property
    def grazed(self) -> Floats:
        """Part of the need that each group finds in the tank, shape (groups,)."""
        styles = (group.profile.feeding_style for group in self.groups)
        return np.array([GRAZING.get(style.diet, 0.0) if style else 0.0 for style in styles])

    @cached_property
    def _picked(self) -> Floats:
        """Part of the need that each group picks up between meals, beside what the keeper reckons with."""
        return np.asarray(PICKED / (1 + self.weights / PICKED_WEIGHT))

    @cached_property
    def planned(self) -> Floats:
        """Food that goes in per meal, g: what all fish together need, as the keeper measures it."""
        generous = np.exp(MEASURING * self.draws.normal("keeper", "measuring"))[:, None]
        return np.asarray((RATION * self.need * (1 - self.grazed)).sum(axis=-1) * generous)

    @cached_property
    def _full_rate(self) -> Floats:
        """Feeding speed of each group with food in front of it, g/min."""
        minutes = self._stack([_minutes_to_fill(group, self.weights[..., i]) for i, group in enumerate(self.groups)])
        hours = np.array([_at_its_hour(group, self.feeding) for group in self.groups])
        return np.asarray(self._fill / minutes * hours * (1 - self._time_lost))

    @cached_property
    def _fill(self) -> Floats:
        """What each group takes per meal when it is there, beside what it finds in the tank, g."""
        greed = np.array([FILL[_pace(group)] for group in self.groups])
        return self.need * (greed - self.grazed)

    @cached_property
    def _time_lost(self) -> Floats:
        """Share of the meal that a group spends keeping away from a pushier, larger one."""
        lengths = self.lengths
        drives = np.array([temper.pushes(group) for group in self.groups])
        lost = np.zeros_like(lengths)
        for index, drive in enumerate(drives):
            larger = lengths[..., index : index + 1] > lengths
            others = np.arange(len(self.groups)) != index
            lost = np.maximum(lost, CHASED * drive * (larger & others))
        return np.asarray(lost / self.feeding.places)

    @cached_property
    def _latency(self) -> Floats:
        return np.array([HESITATION[_pace(group)] for group in self.groups])

    @cached_property
    def _courses(self) -> tuple[tuple[Food, Floats], ...]:
        """What is fed in turn, each with the grams of it that are planned."""
        if self.feeding.food in FOODS:
            return ((FOODS[self.feeding.food], self.planned),)
        below = np.array([levels(group).count("bottom") / len(levels(group)) for group in self.groups])
        sinking = np.minimum(1.0, (self.fair_shares * below).sum(axis=-1))
        return ((FLOATING, (1 - sinking) * self.planned), (SINKING, sinking * self.planned))

    def _runners(self, food: Food, left: Floats) -> tuple[Floats, Floats]:
        """Speed and capacity of each group at one food, g/min and g."""
        rate = self._full_rate * np.array([food.access(group) for group in self.groups])
        return rate, np.minimum(left, rate * np.maximum(0.0, food.minutes - self._latency))

    def _after(self, courses: Sequence[tuple[Food, Floats]]) -> Floats:
        """What each group has eaten after some courses, g: from each in turn, until full. Each race is run once."""
        if not courses:
            return np.zeros_like(self.need)
        foods = tuple(food for food, _ in courses)
        if foods not in self._eaten:
            before, (food, offered) = self._after(courses[:-1]), courses[-1]
            rate, capacity = self._runners(food, self._fill - before)
            self._eaten[foods] = before + feeding.race(rate, capacity, food=offered, latencies=self._latency)
        return self._eaten[foods]

    @cached_property
    def intake(self) -> Floats:
        """Food that each group eats per meal, g."""
        return self._after(self._courses)

    @cached_property
    def coverage(self) -> Floats:
        """What each fish gets over its maintenance need; below 1 it lives off its own body."""
        return self.intake / self.need + self.grazed + self._picked

    @cached_property
    def shares(self) -> Floats:
        """Each group's part of the food that is eaten."""
        return np.asarray(self.intake / np.maximum(self.intake.sum(axis=-1, keepdims=True), np.finfo(float).tiny))

    @cached_property
    def fair_shares(self) -> Floats:
        """Each group's part of what all need."""
        wanted = self.need * (1 - self.grazed)
        return np.asarray(wanted / wanted.sum(axis=-1, keepdims=True))

    @cached_property
    def required(self) -> Floats:
        """Food that must go in per meal before each group has had its ration, g; see `_required_for`."""
        return self._stack([self._required_for(index) for index in range(len(self.groups))])

    def _required_for(self, index: int) -> Floats:
        """Food that must go in per meal before group `index` has had its ration, g; inf where none is enough.

        Only the food that the group reaches best is raised. Everyone else eats on meanwhile, so this is
        what all have taken by the time the group has enough.
        """
        *others, (best, _) = sorted(self._courses, key=lambda course: course[0].access(self.groups[index]))
        eaten = self._after(others)
        rate, capacity = self._runners(best, self._fill - eaten)
        wanted = RATION * self.need[..., index] * (1 - self.grazed[index]) - eaten[..., index]
        with np.errstate(divide="ignore"):
            time = self._latency[index] + np.maximum(0.0, wanted) / rate[..., index]
        in_reach = wanted <= capacity[..., index]
        taken = feeding.intake_by(np.where(in_reach, time, 0.0), rate, capacity, latencies=self._latency).sum(axis=-1)
        as_planned = sum(offered for _, offered in others)
        return np.asarray(np.where(in_reach, as_planned + taken, np.inf))

    def weekly_loss(self, index: int) -> Floats:
        """Share of its weight that a fish of the group loses in a week."""
        weight, coverage = self.weights[..., index], self.coverage[..., index]
        return energy.weekly_loss(weight, self.groups[index].temperature, coverage=coverage)


def _pace(group: Group) -> str:
    style = group.profile.feeding_style
    return style.pace if style else "steady"


def _minutes_to_fill(group: Group, weight: Floats) -> Floats:
    spread = INDIVIDUAL_PACE / np.sqrt(group.count)
    individual = np.exp(-spread * group.normal("pace"))[:, None]
    return np.asarray(scales.PACE.number(_pace(group)) * individual * (weight / PACE_WEIGHT) ** FILLING_EXPONENT)


def _at_its_hour(group: Group, feed: Feeding) -> float:
    style = group.profile.feeding_style
    hours = scales.ACTIVE.words
    apart = abs(hours.index(style.active) - hours.index(feed.at)) if style else 0
    return OFF_HOURS[apart]
