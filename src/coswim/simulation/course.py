"""How each future goes on from the day of introduction: what each fish eats, what it weighs, what goes into the water.

One state is carried from time to time: the condition of the worst-off of each group (its weight over a well-fed
fish's), how far newcomers have settled, how long each has lived there. Hunger lowers condition, condition decides who
gives way at the food, and that decides the next meal; so the tables may turn. Water follows from the food and is
carried on in `waste.py`.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property
from operator import is_
from typing import NamedTuple

import numpy as np

from coswim.arrays import Floats, Indexes, columns
from coswim.biology import contest, energy
from coswim.simulation.appetite import Appetites, at_its_hour, pace, to_days
from coswim.simulation.foods import dishes, portions
from coswim.simulation.group import Group
from coswim.simulation.keeper import Keeper
from coswim.simulation.meal import NEARBY, SPILLED, LaidTable, Meal
from coswim.simulation.quantiles import quantile
from coswim.simulation.table_manners import QUICKNESS, TableManners
from coswim.simulation.times import times
from coswim.text.quantities import DAYS_PER_WEEK

THINNEST = 0.5
"""Weight over a well-fed fish's below which nothing is reckoned any more. Source: judgement; such a fish is dying."""
FROM_TONGS = (0.7, 1.0)
"""Part of its ration that a fish takes which is fed by hand or apart. Source: judgement; some never learn it fully."""
LEAST = 1e-9
STEADY_FROM = 1.5
"""Months after which the price of a company is reckoned: the first weeks are settling. Source: judgement."""
LASTS = 0.3
"""Part of the times through which a price must hold to count as lasting. Source: judgement."""


class State(NamedTuple):
    """A moment of the course; arrays are draws × groups, food in g dry a day for the whole group unless said otherwise.

    `ration` and `maintained` are those of one fish; `eaten` is what the worst-off fish of the group gets. `normal`,
    `wanted` and `given` are the food for all, shape (draws,); `price` is what must go in before a group keeps its
    weight, over normal.
    """

    condition: Floats
    maintained: Floats
    ration: Floats
    intake: Floats
    eaten: Floats
    price: Floats
    normal: Floats
    wanted: Floats
    given: Floats


@dataclass(frozen=True, eq=False)
class Course:
    """The groups of a tank through all draws and times; arrays are draws × times × groups unless said otherwise."""

    groups: tuple[Group, ...]
    keeper: Keeper
    horizon: float

    def or_same(self, other: Course | None) -> Course:
        """The other course where the same groups live through the same, so that it is run once."""
        if other is None or self.horizon != other.horizon or self.keeper.feeding != other.keeper.feeding:
            return self
        tank, known = self.keeper.tank, other.keeper.tank
        same_water = tank.size == known.size and tank.water_change == known.water_change
        same_fish = len(self.groups) == len(other.groups) and all(map(is_, self.groups, other.groups))
        return other if same_water and same_fish and self.keeper.draws is other.keeper.draws else self

    @cached_property
    def times(self) -> Floats:
        """Months from the day they meet, shape (times,)."""
        return times(self.horizon)

    @cached_property
    def lengths(self) -> Floats:
        """Total length of one fish of each group, cm."""
        return columns([group.length_at(self.times) for group in self.groups])

    @cached_property
    def well_fed(self) -> Floats:
        """Weight of a well-fed fish of each group, g."""
        weights = [group.weight_at(self.lengths[..., index]) for index, group in enumerate(self.groups)]
        return columns(weights)

    @cached_property
    def _gains(self) -> Floats:
        """What a well-fed fish of each group gains from this time to the next, g a day; the last as the one before."""
        days = np.diff(to_days(1.0) * self.times)[:, None]
        gains = np.diff(self.well_fed.T, axis=1) / days
        return np.asarray(np.maximum(0.0, np.concatenate([gains, gains[:, -1:]], axis=1)).T)

    @cached_property
    def appetites(self) -> Appetites:
        """How each group eats."""
        return Appetites(self.groups, self.keeper.feeding.at, self.keeper.tank.size.floor)

    @cached_property
    def _manners(self) -> TableManners:
        return TableManners(self.groups, self.keeper.feeding.places, self.keeper.feeding.at)

    @cached_property
    def _table(self) -> LaidTable:
        feeding = self.keeper.feeding
        return LaidTable(
            self.groups,
            dishes(self.groups, feeding.food),
            hesitation=self.appetites.hesitation,
            awake=np.array([at_its_hour(group, feeding.at) for group in self.groups]),
            greed=np.array([QUICKNESS[pace(group)] for group in self.groups]),
            spilled=self.keeper.drawn(SPILLED, "food", "spilled"),
            nearby=self.keeper.drawn(NEARBY, "food", "nearby"),
        )

    @cached_property
    def _by_hand(self) -> Floats:
        parts = [
            FROM_TONGS[0] + (FROM_TONGS[1] - FROM_TONGS[0]) * group.uniform("tongs")
            if group.profile.scientific_name in self.keeper.by_hand
            else np.zeros(group.draws.number)
            for group in self.groups
        ]
        return columns(parts)

    @cached_property
    def _days(self) -> Floats:
        """Days at each time, and at the end of the week that follows the last."""
        days = to_days(1.0) * self.times
        return np.append(days, days[-1] + DAYS_PER_WEEK)

    def stay(self, index: int) -> Floats:
        """How long each group has lived there by a time, 0 to 1, shape (groups,)."""
        since = float(contest.residence(to_days(float(self.times[index]))))
        return np.array([1.0 if group.lives_there else since for group in self.groups])

    @cached_property
    def at_start(self) -> State:
        """The day they meet, without what follows."""
        return next(self._run())

    @cached_property
    def _states(self) -> State:
        """All moments, with times as the axis after that of the draws."""
        kept: list[Floats] = []
        for index, state in enumerate(self._run()):
            kept = kept or [np.empty((*part.shape[1:], len(self.times), len(part))) for part in state]
            for whole, part in zip(kept, state, strict=True):
                whole[..., index, :] = part.T
        return State(*(whole.T for whole in kept))

    def _run(self) -> Iterator[State]:
        condition = columns([np.ones(self.keeper.draws.number)] * len(self.groups))
        days = np.diff(self._days)
        for index in range(len(self.times)):
            state = self._moment(index, condition)
            yield state
            weight = self.well_fed[:, index] * condition
            covered = state.eaten / state.maintained
            change = energy.daily_change(weight, self.appetites.temperatures, coverage=covered)
            condition = np.clip(condition * np.exp(change * days[index]), THINNEST, 1.0)

    def _moment(self, index: int, condition: Floats) -> State:
        eats, meals = self.appetites, self.keeper.feeding.meals
        weight = self.well_fed[:, index] * condition
        settled = eats.settled(*self._days[index : index + 2])
        maintained = eats.maintenance(weight)
        ration = eats.ration(maintained, self._gains[:, index])
        found = maintained * (eats.grazed(maintained) + eats.picked(weight))
        most = np.maximum(0.0, settled * eats.most(maintained, ration, meals) - found)
        needs = np.maximum(0.0, ration - found) * eats.counts
        meal = self._meal(index, condition, weights=weight, maintained=maintained, most=most, needs=needs * settled)
        by_hand = meals * meal.by_hand
        common = needs - by_hand
        normal = common.sum(axis=1) * self.keeper.measures
        amounts = (normal / meals)[:, None] * portions(self._table.dishes, common)
        served = meal.served(amounts)
        before = self._of_weakest((meals * served.eaten + by_hand) / eats.counts, most) + found
        per_meal = eats.counts / meals
        keeping, _ = meal.short_of(amounts, served, self._wanted_of_weakest(maintained - found, most) * per_meal)
        more, dish = meal.short_of(amounts, served, self._wanted_of_weakest(ration - found, most) * per_meal)
        raised = np.where(np.isfinite(more), more, 0.0)
        wanted = normal + raised.max(axis=1) * meals
        given = self.keeper.given(normal=normal, wanted=wanted, weight=(weight * eats.counts).sum(axis=1))
        if not np.array_equal(given, normal):
            served = meal.served(self._amounts(amounts, given / meals, dish[np.argmax(raised, axis=1)]))
        intake = meals * served.eaten + by_hand
        eaten = self._of_weakest(intake / eats.counts, most) + found
        normal, wanted, given = (food + by_hand.sum(axis=1) for food in (normal, wanted, given))
        over_normal = 1 / np.maximum(normal, LEAST)[:, None]
        price = _price(
            before, eaten, maintained, raised=given[:, None] * over_normal, dearest=1 + meals * keeping * over_normal
        )
        return State(condition, maintained, ration, intake, eaten, price, normal, wanted, given)

    def _meal(
        self, index: int, condition: Floats, *, weights: Floats, maintained: Floats, most: Floats, needs: Floats
    ) -> Meal:
        counts, meals = self.appetites.counts, self.keeper.feeding.meals
        thinner = self.lengths[:, index] * np.cbrt(condition)
        capacities = most * counts / meals
        return Meal(
            self._table,
            rates=self.appetites.rate(maintained, weights) * counts,
            capacities=capacities,
            time_left=self._manners.time_left(thinner, self.stay(index)),
            rations=np.minimum(capacities, needs / meals),
            by_hand=np.minimum(capacities, self._by_hand * needs / meals),
            weights=weights,
        )

    @staticmethod
    def _amounts(planned: Floats, given: Floats, dish: Floats) -> Floats:
        """The food as it goes in: what is beyond the plan as the dish that the slowest reaches best."""
        total = planned.sum(axis=1)
        less = np.minimum(1.0, given / np.maximum(total, LEAST))
        amounts = planned * less[:, None]
        more = np.maximum(0.0, given - total)
        amounts[np.arange(len(amounts)), dish] += more
        return np.asarray(amounts)

    def _of_weakest(self, mean: Floats, most: Floats) -> Floats:
        """What the worst-off of a group gets where the mean is this: as much when all are full."""
        full = np.minimum(1.0, mean / np.maximum(most, LEAST))
        return np.asarray(mean * (1 - self.appetites.unequal * (1 - full)))

    def _wanted_of_weakest(self, wanted: Floats, most: Floats) -> Floats:
        """The mean at which the worst-off of a group gets what is wanted: `_of_weakest` solved for the mean."""
        behind = self.appetites.unequal
        room = np.maximum(most, LEAST)
        with np.errstate(divide="ignore", invalid="ignore"):
            linear = 1 - behind
            bent = (-linear + np.sqrt(linear**2 + 4 * behind * wanted / room)) / (2 * behind / room)
        mean = np.where(behind > 0, bent, wanted)
        return np.minimum(most, np.maximum(0.0, mean))

    @cached_property
    def condition(self) -> Floats:
        """Weight of the worst-off of each group over a well-fed fish's, 0.5 to 1."""
        return self._states.condition

    @cached_property
    def coverage(self) -> Floats:
        """What the worst-off of each group gets over what keeps its weight."""
        return self._states.eaten / self._states.maintained

    @cached_property
    def ration_share(self) -> Floats:
        """What the worst-off of each group gets over its ration, 0 to 1."""
        return np.asarray(np.minimum(1.0, self._states.eaten / self._states.ration))

    @cached_property
    def price(self) -> Floats:
        """Food that must go in before each group keeps its weight, over normal; infinite where none is enough."""
        return self._states.price

    @cached_property
    def intake(self) -> Floats:
        """Food that each whole group eats, g dry a day."""
        return self._states.intake

    @cached_property
    def needs(self) -> Floats:
        """Maintenance and growth of each whole group, g dry a day."""
        return self._states.ration * self.appetites.counts

    @cached_property
    def maintained(self) -> Floats:
        """Maintenance of each whole group, g dry a day."""
        return self._states.maintained * self.appetites.counts

    @cached_property
    def normal(self) -> Floats:
        """Food that all need together, g dry a day, draws × times."""
        return self._states.normal

    @cached_property
    def wanted(self) -> Floats:
        """Food that goes in before the slowest has had its ration, g dry a day, draws × times."""
        return self._states.wanted

    @cached_property
    def given(self) -> Floats:
        """Food that this keeper gives, g dry a day, draws × times."""
        return self._states.given

    def wins(self, one: int, other: int) -> Floats:
        """Share of contests that one group wins against another by their length and condition, draws × times."""
        mine, theirs = (self.lengths[..., index] * np.cbrt(self.condition[..., index]) for index in (one, other))
        since = contest.residence(to_days(1.0) * self.times)
        own, rival = (1.0 if self.groups[index].lives_there else since for index in (one, other))
        return contest.win_odds(mine / theirs, own_residence=own, rival_residence=rival)

    @cached_property
    def shares(self) -> Floats:
        """Each group's part of the food that is eaten."""
        return np.asarray(self.intake / np.maximum(self.intake.sum(axis=-1, keepdims=True), LEAST))

    @cached_property
    def fair_shares(self) -> Floats:
        """Each group's part of what all need."""
        return np.asarray(self.needs / self.needs.sum(axis=-1, keepdims=True))

    @cached_property
    def steady(self) -> Indexes:
        """The times after the first weeks of settling, as indexes; the last where there are none."""
        later = np.flatnonzero(self.times >= STEADY_FROM)
        return later if len(later) else np.array([len(self.times) - 1])

    @cached_property
    def lasting_price(self) -> Floats:
        """The price of each group as it lasts: what it is at least in the dearest part of the time, draws × groups."""
        return quantile(np.moveaxis(self.price[:, self.steady], 1, 0), 1 - LASTS)


def _price(before: Floats, after: Floats, enough: Floats, *, raised: Floats, dearest: Floats) -> Floats:
    """The food over normal at which each group keeps its weight.

    Parameters: before, after, what the worst-off gets of normal and of raised food; enough, what keeps its weight;
    raised, that food over normal; dearest, the answer where even the raised food is not enough.
    """
    step = np.where(after > before, (enough - before) / np.where(after > before, after - before, 1.0), 1.0)
    between = 1 + (raised - 1) * np.clip(step, 0.0, 1.0)
    return np.where(before >= enough, 1.0, np.where(after >= enough, between, np.maximum(raised, dearest)))
