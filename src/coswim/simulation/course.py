"""How each future goes on from the day of introduction: what each fish eats, what it weighs, what goes into the water.

One state is carried from time to time: the condition of the worst-off of each group (its weight over a well-fed
fish's), how far newcomers have settled, how long each has lived there. Hunger lowers condition, condition decides who
gives way at the food, and that decides the next meal; so the tables may turn. Water follows from the food and is
carried on in `waste.py`.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from functools import cached_property
from operator import is_

import numpy as np

from coswim.arrays import REAL, Floats, Indexes, columns
from coswim.biology import contest
from coswim.simulation.group import Group
from coswim.simulation.keeper import Keeper
from coswim.simulation.quantiles import quantile
from coswim.simulation.sitting import Sitting, State
from coswim.simulation.times import times
from coswim.text.quantities import DAYS_PER_MONTH

LEAST = 1e-9
STEADY_FROM = 1.5
"""Months after which the price of a company is reckoned: the first weeks are settling. Source: judgement."""
LASTS = 0.3
"""Part of the times through which a price must hold to count as lasting. Source: judgement."""
SIDE_BY_SIDE = 40_000
"""Pairs of groups in draws that are run side by side at most. Source: measured; more no longer saves time, and the
arrays of a moment outgrow the processor's memory."""


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
    def size(self) -> int:
        """Groups in draws at times."""
        return self.keeper.draws.number * len(times(self.horizon)) * len(self.groups)

    @cached_property
    def lengths(self) -> Floats:
        """Total length of one fish of each group, cm."""
        return columns([group.length_at(self.times) for group in self.groups])

    @cached_property
    def well_fed(self) -> Floats:
        """Weight of a well-fed fish of each group, g."""
        return columns([group.weight_at(self.lengths[..., index]) for index, group in enumerate(self.groups)])

    @cached_property
    def given_at_start(self) -> Floats:
        """Food that this keeper gives on the day they meet, g dry a day, shape (draws,); nothing else is kept."""
        return np.asarray(next(Sitting((replace(self),)).moments()).given[0])

    @cached_property
    def _states(self) -> State:
        """All moments, with times as the axis after that of the draws."""
        return _turned(Sitting((self,)).states()[0])

    @property
    def side_by_side(self) -> int:
        """How many such courses are run side by side at most."""
        return max(1, int(SIDE_BY_SIDE / (self.keeper.draws.number * max(1, len(self.groups)) ** 2)))

    def sits_with(self, other: Course) -> bool:
        """Both can be run side by side: one keeper, as many groups, the same times."""
        one, two = self.keeper, other.keeper
        same_size = len(self.groups) == len(other.groups) and self.horizon == other.horizon
        same_keeper = one.draws is two.draws and one.by_hand == two.by_hand and one.feeding == two.feeding
        return same_size and same_keeper and one.tank == two.tank

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
    def _counts(self) -> Floats:
        """Fish in each group, shape (groups,)."""
        return np.array([group.count for group in self.groups], dtype=REAL)

    @cached_property
    def needs(self) -> Floats:
        """Maintenance and growth of each whole group, g dry a day."""
        return self._states.ration * self._counts

    @cached_property
    def maintained(self) -> Floats:
        """Maintenance of each whole group, g dry a day."""
        return self._states.maintained * self._counts

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
        since = contest.residence(DAYS_PER_MONTH * self.times)
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


def run_together(courses: Iterable[Course]) -> None:
    """Run those of some courses that were not run yet and can be run side by side; it comes out the same.

    One that has no other beside it, or too many draws for that, is run when it is asked.
    """
    waiting = [course for course in dict.fromkeys(courses) if course.groups and "_states" not in vars(course)]
    while waiting:
        first = waiting[0]
        alike = tuple(course for course in waiting if course.sits_with(first))[: first.side_by_side]
        if len(alike) > 1:
            for course, states in zip(alike, Sitting(alike).states(), strict=True):
                vars(course)["_states"] = _turned(states)
        waiting = [course for course in waiting if course not in alike]


def _turned(state: State) -> State:
    """From groups × times × draws to draws × times × groups."""
    return State(*(part.T for part in state))
