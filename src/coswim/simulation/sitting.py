"""Courses run through their times side by side: one computation feeds the fish of all their tanks.

A tank's draws never meet those of another, so each course comes out as if it were run by itself (to the last digit, or
to rounding where numpy works out the end of an array otherwise than its middle).
Arrays are groups × tanks × draws, food in g dry a day for the whole group unless said otherwise; food for a tank is
tanks × draws. What does not differ between draws has 1 in their place.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING, NamedTuple

import numpy as np

from coswim.arrays import REAL, Floats
from coswim.biology import contest, energy
from coswim.simulation.appetite import Appetites, at_its_hour, pace
from coswim.simulation.foods import dishes, portions
from coswim.simulation.group import Group
from coswim.simulation.keeper import Keeper
from coswim.simulation.meal import NEARBY, SPILLED, LaidTable, Meal
from coswim.simulation.table_manners import QUICKNESS, TableManners
from coswim.simulation.tanks import Tanks
from coswim.text.quantities import DAYS_PER_MONTH, DAYS_PER_WEEK

if TYPE_CHECKING:
    from coswim.simulation.course import Course

THINNEST = 0.5
"""Weight over a well-fed fish's below which nothing is reckoned any more. Source: judgement; such a fish is dying."""
FULL_AGAIN = -math.log(THINNEST)
"""From the thinnest to a full weight, as a logarithm: what more it gains is of no account."""
FROM_TONGS = (0.7, 1.0)
"""Part of its ration that a fish takes which is fed by hand or apart. Source: judgement; some never learn it fully."""
LEAST = 1e-9


class State(NamedTuple):
    """A moment of the courses.

    `ration` and `maintained` are those of one fish; `eaten` is what the worst-off fish of the group gets. `normal`,
    `wanted` and `given` are the food for a tank; `price` is what must go in before a group keeps its weight, over
    normal.
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
class Sitting:
    """Some courses of one keeper, with as many groups and the same times each."""

    courses: tuple[Course, ...]

    @property
    def _keeper(self) -> Keeper:
        return self.courses[0].keeper

    @cached_property
    def _tanks(self) -> Tanks:
        return Tanks(tuple(course.groups for course in self.courses))

    @cached_property
    def _appetites(self) -> Appetites:
        return Appetites(self._tanks, self._keeper.feeding.at, self._keeper.tank.size.floor)

    @cached_property
    def _manners(self) -> TableManners:
        return TableManners(self._tanks, self._keeper.feeding.places, self._keeper.feeding.at)

    @cached_property
    def _table(self) -> LaidTable:
        feeding = self._keeper.feeding
        return LaidTable(
            self._tanks,
            dishes(self._tanks, feeding.food),
            hesitation=self._appetites.hesitation,
            awake=self._tanks.number(lambda group: at_its_hour(group, feeding.at)),
            greed=self._tanks.number(lambda group: QUICKNESS[pace(group)]),
            spilled=self._keeper.drawn(SPILLED, "food", "spilled"),
            nearby=self._keeper.drawn(NEARBY, "food", "nearby"),
        )

    @cached_property
    def _by_hand(self) -> Floats:
        """Part of its ration that each group is given by hand."""
        return self._tanks.drawn(self._from_tongs)

    def _from_tongs(self, group: Group) -> Floats:
        if group.profile.scientific_name not in self._keeper.by_hand:
            return np.zeros(group.draws.number, dtype=REAL)
        return FROM_TONGS[0] + (FROM_TONGS[1] - FROM_TONGS[0]) * group.uniform("tongs")

    @cached_property
    def _days(self) -> Floats:
        """Days at each time, and at the end of the week that follows the last."""
        days = DAYS_PER_MONTH * self.courses[0].times
        return np.append(days, days[-1] + DAYS_PER_WEEK)

    @cached_property
    def _lengths(self) -> Floats:
        """Total length of one fish, cm, groups × times × tanks × draws."""
        return _side_by_side([course.lengths.T for course in self.courses])

    @cached_property
    def _well_fed(self) -> Floats:
        """Weight of a well-fed fish, g, groups × times × tanks × draws."""
        return _side_by_side([course.well_fed.T for course in self.courses])

    @cached_property
    def _gains(self) -> Floats:
        """What a well-fed fish gains from a time to the next, g a day; the last as the one before."""
        gains = np.diff(self._well_fed, axis=1) / np.diff(self._days[:-1])[:, None, None]
        return np.asarray(np.maximum(0.0, np.concatenate([gains, gains[:, -1:]], axis=1)))

    def stay(self, index: int) -> Floats:
        """How long each group has lived there by a time, 0 to 1."""
        since = float(contest.residence(float(self._days[index])))
        return self._tanks.number(lambda group: 1.0 if group.lives_there else since)

    def states(self) -> tuple[State, ...]:
        """All moments of each course, groups × times × draws; those of a course lie together in memory."""
        kept: State | None = None
        for index, state in enumerate(self.moments()):
            kept = kept or self._room_for(state)
            for whole, part in zip(kept, state, strict=True):
                whole[..., index, :] = np.moveaxis(part, -2, 0)
        return tuple(State(*parts) for parts in zip(*kept, strict=True)) if kept else ()

    def _room_for(self, state: State) -> State:
        """Arrays for such states at all times, tanks × groups × times × draws."""
        tanks, times = len(self.courses), len(self.courses[0].times)
        return State(*(np.empty((tanks, *part.shape[:-2], times, part.shape[-1]), dtype=REAL) for part in state))

    def moments(self) -> Iterator[State]:
        """The courses from time to time, each state from the one before."""
        condition = np.ones((len(self._tanks.places), len(self.courses), self._keeper.draws.number), dtype=REAL)
        for index, lasts in enumerate(np.diff(self._days)):
            state = self._moment(index, condition)
            yield state
            weight = self._well_fed[:, index] * condition
            covered = state.eaten / state.maintained
            change = energy.daily_change(weight, self._appetites.temperatures, coverage=covered)
            grown = np.exp(np.minimum(change * lasts, FULL_AGAIN))
            condition = np.clip(condition * grown, THINNEST, 1.0)

    def _moment(self, index: int, condition: Floats) -> State:
        eats, meals = self._appetites, self._keeper.feeding.meals
        weight = self._well_fed[:, index] * condition
        settled = eats.settled(*self._days[index : index + 2])
        maintained = eats.maintenance(weight)
        ration = eats.ration(maintained, self._gains[:, index])
        found = maintained * (eats.grazed(maintained) + eats.picked(weight))
        most = np.maximum(0.0, settled * eats.most(maintained, ration, meals) - found)
        needs = np.maximum(0.0, ration - found) * eats.counts
        meal = self._meal(index, condition, weights=weight, maintained=maintained, most=most, needs=needs * settled)
        by_hand = meals * meal.by_hand
        common = needs - by_hand
        normal = common.sum(axis=0) * self._keeper.measures
        amounts = (normal / meals) * portions(self._table.preferences, common)
        served = meal.served(amounts)
        before = eats.of_weakest((meals * served.eaten + by_hand) / eats.counts, most) + found
        per_meal = eats.counts / meals
        rations = eats.wanted_of_weakest(ration - found, most) * per_meal
        raised, dish = meal.short_of(amounts, served, rations, or_full=True)
        wanted = normal + raised.max(axis=0) * meals
        given = self._keeper.given(normal=normal, wanted=wanted, weight=(weight * eats.counts).sum(axis=0))
        eaten = served.eaten
        if (changed := (given != normal).any(axis=-1, keepdims=True)).any():
            slowest = np.take_along_axis(dish, np.argmax(raised, axis=0)[None], axis=0)[0]
            eaten = np.where(changed, meal.served(_raised(amounts, given / meals, slowest)).eaten, eaten)
        intake = meals * eaten + by_hand
        eaten = eats.of_weakest(intake / eats.counts, most) + found
        keeping: Floats = np.zeros_like(eaten)
        if (starves := ~((before >= maintained) | (eaten >= maintained)).all(axis=(1, 2), keepdims=True)).any():
            keeps = eats.wanted_of_weakest(maintained - found, most) * per_meal
            keeping, _ = meal.short_of(amounts, served, np.where(starves, keeps, 0.0))  # asked for no other group
        normal, wanted, given = (food + by_hand.sum(axis=0) for food in (normal, wanted, given))
        over_normal = 1 / np.maximum(normal, LEAST)
        price = _price(before, eaten, maintained, raised=given * over_normal, dearest=1 + meals * keeping * over_normal)
        return State(condition, maintained, ration, intake, eaten, price, normal, wanted, given)

    def _meal(
        self, index: int, condition: Floats, *, weights: Floats, maintained: Floats, most: Floats, needs: Floats
    ) -> Meal:
        counts, meals = self._appetites.counts, self._keeper.feeding.meals
        capacities = most * counts / meals
        return Meal(
            self._table,
            rates=self._appetites.rate(maintained, weights) * counts,
            capacities=capacities,
            time_left=self._manners.time_left(self._lengths[:, index], condition, self.stay(index)),
            rations=np.minimum(capacities, needs / meals),
            by_hand=np.minimum(capacities, self._by_hand * needs / meals),
            weights=weights,
        )


def _side_by_side(parts: list[Floats]) -> Floats:
    """Arrays of one tank each, groups × times × draws, as groups × times × tanks × draws; one by itself as it is."""
    return np.stack(parts, axis=2) if len(parts) > 1 else parts[0][:, :, None]


def _raised(planned: Floats, given: Floats, dish: Floats) -> Floats:
    """The food as it goes in, dishes × tanks × draws; what is beyond the plan as the dish that is named."""
    total = planned.sum(axis=0)
    less = np.minimum(1.0, given / np.maximum(total, LEAST))
    more = np.maximum(0.0, given - total)
    return np.stack([amount * less + np.where(dish == place, more, 0.0) for place, amount in enumerate(planned)])


def _price(before: Floats, after: Floats, enough: Floats, *, raised: Floats, dearest: Floats) -> Floats:
    """The food over normal at which each group keeps its weight.

    Parameters: before, after, what the worst-off gets of normal and of raised food; enough, what keeps its weight;
    raised, that food over normal; dearest, the answer where even the raised food is not enough.
    """
    step = np.where(after > before, (enough - before) / np.where(after > before, after - before, 1.0), 1.0)
    between = 1 + (raised - 1) * np.clip(step, 0.0, 1.0)
    return np.where(before >= enough, 1.0, np.where(after >= enough, between, np.maximum(raised, dearest)))
