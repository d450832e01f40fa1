"""Meals in the tank: who gets which share of the food, and what must go in for the slowest eater.

The keeper is taken to feed what all fish together need (1.5 times maintenance each, in all draws give
or take a quarter). Whether each gets its part is decided by the race.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property
from types import MappingProxyType

import numpy as np

from coswim.biology import energy, feeding
from coswim.plans.plan import Feeding
from coswim.profiles import scales
from coswim.simulation.fish import Fish
from coswim.simulation.luck import Floats, Luck

RATION = 1.5
"""Food planned for each fish, in maintenance needs: keeping plus modest growth. Source: judgement."""
FILL = 2.5
"""Food a fish takes in a day when it is there, in maintenance needs. Source: judgement; fish fed to
satiation take well over their ration."""
GRAZING = MappingProxyType({"algae": 0.5, "herbivore": 0.2})
"""Part of the need that a planted, lived-in tank grows by itself, by diet. Source: judgement."""
MEASURING = 0.25
"""Spread of the keeper's hand at feeding, log standard deviation. Source: judgement."""
INDIVIDUAL_PACE = 0.5
"""Spread of feeding speed between individuals, log standard deviation. Source: judgement; within groups
shares differ by far more (Carter et al., J. Mar. Biol. Assoc. UK)."""
HESITATION = MappingProxyType({"still": 3.0, "slow": 1.5, "steady": 0.5, "fast": 0.1, "frantic": 0.0})
"""Minutes before it starts, by pace. Source: judgement."""
OFF_HOURS = MappingProxyType({0: 1.0, 1: 0.7, 2: 0.35})
"""Feeding speed by distance between the meal and its own hours (day, dusk, night). Source: judgement."""
CHASED = 0.35
"""Part of a meal lost at a single feeding place beside a larger fish that attacks whenever it can.
Source: judgement; aggression peaks with few competitors at one patch (Noel et al. 2005, Anim. Behav.
69:1157-1163)."""
EXTRA_STEPS = 3  # a meal is run every third month: growth changes slowly


@dataclass(frozen=True)
class Food:
    """Where a food can be taken (by feeding level) and how long it stays in reach, minutes."""

    surface: float
    mid: float
    bottom: float
    in_reach: float

    def access(self, level: str) -> float:
        """Share of full feeding speed at a level."""
        return {"surface": self.surface, "mid": self.mid, "bottom": self.bottom}[level]


FOODS: Mapping[str, Food] = MappingProxyType(
    {
        "floating pellet": Food(1.0, 0.7, 0.15, 15.0),
        "sinking pellet": Food(0.3, 0.7, 1.0, 90.0),
        "frozen": Food(0.8, 1.0, 0.7, 20.0),
        "live": Food(0.8, 1.0, 0.6, 40.0),
        "soft": Food(0.3, 0.7, 1.0, 60.0),
    }
)
"""Source: judgement: floating food is taken above and drifts off, sinking food lies below until it softens."""


@dataclass(frozen=True)
class Meals:
    """The meals of a tank; arrays are draws × fed months × groups, amounts per meal for the whole group."""

    fish: tuple[Fish, ...]
    feeding: Feeding
    luck: Luck
    month_indexes: tuple[int, ...]

    @property
    def months(self) -> Floats:
        """The months at which meals are run."""
        return np.asarray(self.fish[0].months[list(self.month_indexes)])

    def _stack(self, values: list[Floats]) -> Floats:
        return np.stack(np.broadcast_arrays(*values), axis=-1)

    @cached_property
    def counts(self) -> Floats:
        """Fish in each group, shape (groups,)."""
        return np.array([float(group.count) for group in self.fish])

    @cached_property
    def need(self) -> Floats:
        """Maintenance need of the whole group, g of dry food per meal."""
        picked = list(self.month_indexes)
        per_day = [energy.maintenance(g.weight_g[:, picked], g.temperature) / energy.FOOD_ENERGY for g in self.fish]
        return self._stack(per_day) * self.counts / self.feeding.meals

    @cached_property
    def grazed(self) -> Floats:
        """Part of the need that each group finds in the tank, shape (groups,)."""
        styles = (group.profile.feeding_style for group in self.fish)
        return np.array([GRAZING.get(style.diet, 0.0) if style else 0.0 for style in styles])

    @cached_property
    def planned(self) -> Floats:
        """Food that goes in per meal, g: what all fish together need, as the keeper measures it."""
        generous = np.exp(MEASURING * self.luck.normal("keeper", "measuring"))[:, None]
        return np.asarray((RATION * self.need * (1 - self.grazed)).sum(axis=-1) * generous)

    @cached_property
    def _race(self) -> tuple[Floats, Floats, Floats]:
        capacity = FILL * self.need
        minutes = self._stack([_minutes_to_fill(group)[:, None] for group in self.fish])
        access = np.array([_access(group, self.feeding) for group in self.fish])
        rate = capacity / minutes * access * (1 - self._time_lost)
        latency = self._stack([np.full((1, 1), _hesitation(group)) for group in self.fish])
        return rate, capacity, np.broadcast_to(latency, rate.shape)

    @cached_property
    def _time_lost(self) -> Floats:
        """Share of the meal that a group spends keeping away from a pushier, larger one."""
        lengths = self._stack([group.total_length[:, list(self.month_indexes)] for group in self.fish])
        drives = np.array([_drive(group) for group in self.fish])
        lost = np.zeros_like(lengths)
        for index, drive in enumerate(drives):
            larger = lengths[..., index : index + 1] > lengths
            others = np.arange(len(self.fish)) != index
            lost = np.maximum(lost, CHASED * drive * (larger & others))
        return np.asarray(lost / self.feeding.places)

    @property
    def in_reach(self) -> float:
        """Minutes that the food stays in reach."""
        return FOODS[self.feeding.food].in_reach

    @cached_property
    def intake(self) -> Floats:
        """Food that each group eats per meal, g."""
        rate, capacity, latency = self._race
        return feeding.race(rate, capacity, food=self.planned, latencies=latency, in_reach=self.in_reach)

    @cached_property
    def coverage(self) -> Floats:
        """What each fish gets over its maintenance need; below 1 it lives off its own body."""
        return self.intake / self.need + self.grazed

    @cached_property
    def shares(self) -> Floats:
        """Each group's part of the food that is eaten."""
        return np.asarray(self.intake / np.maximum(self.intake.sum(axis=-1, keepdims=True), np.finfo(float).tiny))

    @cached_property
    def fair_shares(self) -> Floats:
        """Each group's part of what all need."""
        wanted = self.need * (1 - self.grazed)
        return np.asarray(wanted / wanted.sum(axis=-1, keepdims=True))

    def required_for(self, index: int) -> Floats:
        """Food that must go in per meal before group `index` has had its ration, g; inf where none is enough.

        Everyone else eats on meanwhile, so this is what all have taken by the time the group has enough.
        """
        rate, capacity, latency = self._race
        ration = RATION * self.need[..., index] * (1 - self.grazed[index])
        with np.errstate(divide="ignore"):
            time = latency[..., index] + ration / rate[..., index]
        eaten = feeding.intake_by(np.minimum(time, self.in_reach), rate, capacity, latencies=latency).sum(axis=-1)
        return np.asarray(np.where(time <= self.in_reach, eaten, np.inf))

    def weekly_loss(self, index: int) -> Floats:
        """Share of its weight that a fish of the group loses in a week."""
        group = self.fish[index]
        weight = group.weight_g[:, list(self.month_indexes)]
        return energy.weekly_loss(weight, group.temperature, coverage=self.coverage[..., index])


def _minutes_to_fill(group: Fish) -> Floats:
    style = group.profile.feeding_style
    minutes = scales.PACE.number(style.pace if style else "steady")
    return np.asarray(minutes * np.exp(-INDIVIDUAL_PACE * group.normal("pace")))


def _hesitation(group: Fish) -> float:
    style = group.profile.feeding_style
    return HESITATION[style.pace if style else "steady"]


def _access(group: Fish, feed: Feeding) -> float:
    style = group.profile.feeding_style
    if style is None:
        return 1.0
    hours = scales.ACTIVE.words
    apart = abs(hours.index(style.active) - hours.index(feed.at))
    return max(FOODS[feed.food].access(level) for level in style.level) * OFF_HOURS[apart]


def _drive(group: Fish) -> float:
    temper = group.profile.temperament
    return scales.TEMPERAMENT.number(temper.other_fish) if temper else 0.0
