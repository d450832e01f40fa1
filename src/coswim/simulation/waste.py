"""What the food turns into: ammonia, nitrite, nitrate, and the oxygen that it costs, carried on with the course.

The food is what this keeper gives; `Waste.if_paid` is the same tank fed until the slowest has had its ration.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from types import MappingProxyType
from typing import NamedTuple

import numpy as np

from coswim.arrays import REAL, Floats
from coswim.biology import energy, nitrogen, oxygen, water, water_change
from coswim.simulation.keeper import MG_PER_G, Keeper
from coswim.simulation.quantiles import quantile
from coswim.simulation.scene import Scene
from coswim.text import wording
from coswim.text.quantities import CM2_PER_M2, DAYS_PER_MONTH, TEMPERATURE

RUNNING_DAYS = MappingProxyType({"new": 0.0, "young": 60.0, "mature": 365.0})
"""Days that the tank has run under its present routine. Source: judgement."""
FILTER_READY = MappingProxyType({"new": (0.02, 0.15), "young": (0.6, 1.0), "mature": (1.2, 2.5)})
"""What the filter turns over today, in parts of what the residents give off. Source: judgement; a new
filter takes four to six weeks, common practice."""
WITHOUT_FISH = MappingProxyType({"new": (0.0, 0.0), "young": (0.0, 0.03), "mature": (0.03, 0.09)})
"""What a tank turns over however few fish it has, mg of nitrogen per L a day. Source: judgement; dirt and dying leaves
feed bacteria too, plants take ammonia up, and few keepers feed a large tank as little as some tiny fish need (common
practice). The equation of Zhu & Chen 1999 gives 30 to 150 mg a day on each m2 at standing ammonia, so that the panes
alone could turn more over."""
NITRIFIER_GROWTH = (0.1, 0.35)
"""Growth of nitrifying bacteria at 25 C, 1/day. Source: judgement; they double in about 2 to 7 days."""
STANDING_TAN = (0.1, 0.25)
"""Ammonia nitrogen in a tank that is settled, mg/L: what a home test shows as nothing. Source: judgement."""
STANDING_NITRITE = (0.08, 0.15)
"""Nitrite nitrogen likewise. Source: judgement."""
NITRITE_GROWTH = 0.7
"""Growth of the bacteria that turn nitrite over, in parts of that of those that turn ammonia over. Source:
judgement; in a new tank nitrite peaks a week or more after ammonia, common practice. Their film is taken
to work as the measured one for ammonia."""
CATCHING_UP = np.linspace(0.0, 1.0, 9, dtype=REAL)[1:]
"""Where between the step and the day of catching up the peak is looked for."""
SURFACE_EXCHANGE = (3.0, 12.0)
"""Gas exchange through a surface that a filter keeps moving, m/day. Source: judgement; still water has
about 0.5 to 1."""
OXYGEN_FOR_DIRT = 0.15
"""g of oxygen that bacteria other than nitrifiers take per g of dry food. Source: Timmons & Ebeling (memory)."""
INTERVALS = (7.0, 5.0, 4.0, 3.0, 2.0, 1.0)
MOST_AT_ONCE = 0.5
ROUND_UP_TO = 0.05
HELD_IN = 0.8
"""A routine is looked for among these days between changes, at most half the water at once (more upsets
the chemistry: common practice), in steps of 5 %, so that it holds in 80 % of draws."""


class Routine(NamedTuple):
    """A share of the water to change every so many days."""

    share: float
    every: float

    def __str__(self) -> str:
        days = "day" if self.every == 1 else f"{self.every:g} days"
        return f"changes of {wording.share(self.share)} every {days}"


@dataclass(frozen=True, eq=False)
class Waste:
    """The waste of a scene; arrays are draws × times (those of the course) unless said otherwise."""

    scene: Scene
    paid: bool = False

    @property
    def if_paid(self) -> Waste:
        """The same where the keeper feeds until the slowest has had its ration, whatever it does to the water."""
        return Waste(self.scene, paid=True)

    @property
    def _keeper(self) -> Keeper:
        return self.scene.course.keeper

    @property
    def litres(self) -> float:
        """The water in the tank, L."""
        return self._keeper.litres

    @cached_property
    def food(self) -> Floats:
        """Dry food that goes in, g/day."""
        course = self.scene.course
        return np.maximum(course.given, course.wanted) if self.paid else course.given

    @cached_property
    def tan(self) -> Floats:
        """Total ammonia nitrogen that the food turns into, g/day."""
        return nitrogen.tan_from_food(self.food, protein=self._keeper.protein[:, None])

    @cached_property
    def tan_before(self) -> Floats:
        """The same on the day before the newcomers, shape (draws,)."""
        return nitrogen.tan_from_food(self.scene.food_before, protein=self._keeper.protein)

    @cached_property
    def catching_up_days(self) -> Floats:
        """Days until the filter has grown to the new load, shape (draws,)."""
        return nitrogen.days_to_catch_up(self._filter, self.tan[:, 0], growth=self._growth)

    @cached_property
    def peak_tan(self) -> Floats:
        """The highest ammonia (as N) after the introduction, mg/L, shape (draws,).

        Two upper bounds, the lower of them: a film that grows but works no faster, and one that works
        faster the more there is but does not grow.
        """
        standing = self._keeper.drawn(STANDING_TAN, "tank", "standing ammonia")
        days = self.catching_up_days[:, None] * CATCHING_UP
        growing = standing + self._left_over(days, self._growth).max(axis=1)
        return np.asarray(np.minimum(growing, nitrogen.tan_for_turnover(self._times_as_much, standing=standing)))

    @cached_property
    def peak_nitrite(self) -> Floats:
        """The highest nitrite (as N) after the introduction, mg/L, shape (draws,).

        What is not yet nitrate by the growth of the slower bacteria is nitrite, save what is still ammonia;
        bounded like the ammonia.
        """
        slower = self._growth * NITRITE_GROWTH
        days = (self.catching_up_days / NITRITE_GROWTH)[:, None] * CATCHING_UP
        growing = (self._left_over(days, slower) - self._left_over(days, self._growth)).max(axis=1)
        standing = self._keeper.drawn(STANDING_NITRITE, "tank", "standing nitrite")
        copes = nitrogen.tan_for_turnover(self._times_as_much, standing=standing)
        return np.asarray(np.minimum(standing + growing, copes))

    def _left_over(self, days: Floats, growth: Floats) -> Floats:
        left = nitrogen.ammonia_left_over(
            days,
            before=self._filter[:, None],
            after=self.tan[:, :1],
            growth=growth[:, None],
            renewal=self._keeper.changes.renewal,
        )
        return left * MG_PER_G / self.litres

    @cached_property
    def _times_as_much(self) -> Floats:
        return np.asarray(np.maximum(1.0, self.tan[:, 0] / self._filter))

    @cached_property
    def _filter(self) -> Floats:
        age = self.scene.tank.filter
        anyway = self._keeper.drawn(WITHOUT_FISH[age], "tank", "without fish") * self.litres / MG_PER_G
        ready = self._keeper.drawn(FILTER_READY[age], "tank", "filter") * self.tan_before
        return np.asarray(np.maximum(anyway, ready))

    @cached_property
    def _growth(self) -> Floats:
        drawn = self._keeper.drawn(NITRIFIER_GROWTH, "tank", "nitrifiers")
        return nitrogen.nitrifier_growth(drawn, self.scene.temperature)

    def un_ionised_part(self, ph: tuple[float, float]) -> Floats:
        """Share of the ammonia that is un-ionised at a pH that lies within `ph`, shape (draws,)."""
        return nitrogen.un_ionised_fraction(self._swinging(ph, "ph"), self._warmth)

    @cached_property
    def _warmth(self) -> Floats:
        """The temperature with its swing, which ends where a plan's own limits do, C, shape (draws,)."""
        stated = self.scene.tank.temperature
        swinging = self._swinging((stated.low, stated.high), "temperature")
        return np.clip(swinging, TEMPERATURE.low, TEMPERATURE.high)

    @cached_property
    def _warmest(self) -> Floats:
        """The warmest that the tank gets over the year, with its swing, C, shape (draws,)."""
        warmest = self.scene.tank.temperature.high
        return np.clip(self._swinging((warmest, warmest), "temperature"), TEMPERATURE.low, TEMPERATURE.high)

    def _swinging(self, span: tuple[float, float], measure: str) -> Floats:
        return self._keeper.drawn((span[0] - water.SWING[measure], span[1] + water.SWING[measure]), "tank", measure)

    @cached_property
    def nitrate_per_day(self) -> Floats:
        """What nitrate (NO3) gains, mg/L/day."""
        return np.asarray(self.tan * self._keeper.nitrate_per_tan[:, None])

    @cached_property
    def settled_nitrate(self) -> Floats:
        """Nitrate just before a change where it would settle if the load stayed, mg/L; inf without changes."""
        return self._nitrate_after(water_change.FOREVER, self.scene.tank.water_change.nitrate_in, self.nitrate_per_day)

    @cached_property
    def nitrate(self) -> Floats:
        """Nitrate just before a change as it moves from the residents' level towards the new one, mg/L."""
        running = RUNNING_DAYS[self.scene.tank.filter]
        inflow = self.scene.tank.water_change.nitrate_in
        levels = [self._nitrate_after(running, inflow, self.tan_before * self._keeper.nitrate_per_tan)]
        gains, days = self.nitrate_per_day, self.scene.course.times * DAYS_PER_MONTH
        for time, passed in enumerate(np.diff(days)):
            earlier = self._keeper.changes.weight_of_start(float(passed))
            gain = earlier * gains[:, time] + (1 - earlier) * gains[:, time + 1]
            levels.append(self._nitrate_after(passed, levels[-1], gain))
        return np.stack(levels, axis=-1)

    def _nitrate_after(self, days: float, start: Floats | float, per_day: Floats) -> Floats:
        inflow = self.scene.tank.water_change.nitrate_in
        return water_change.before_change(
            days, start=start, per_day=per_day, inflow=inflow, changes=self._keeper.changes
        )

    def routine_that_holds(self, target: float) -> Routine | None:
        """Water changes that hold nitrate below `target` at the horizon's load, the rarest first; None if none do."""
        plan = self.scene.tank.water_change
        gain = float(quantile(self.nitrate_per_day[:, -1], HELD_IN))
        for every in (plan.every, *(days for days in INTERVALS if days < plan.every)):
            drip = plan.drip / self.litres
            share = water_change.share_that_holds(target, per_day=gain, inflow=plan.nitrate_in, every=every, drip=drip)
            steps = float(np.ceil(np.round(share / ROUND_UP_TO, 3)))
            if steps * ROUND_UP_TO <= MOST_AT_ONCE:
                return Routine(round(steps * ROUND_UP_TO, 2), every)
        return None

    @cached_property
    def oxygen(self) -> Floats:
        """Dissolved oxygen where demand and surface balance in the warmest time, mg/L."""
        course = self.scene.course
        breathes_water = np.array(["air-breather" not in group.profile.features for group in course.groups])
        grown = np.maximum(0.0, course.needs - course.maintained)
        burnt = (energy.burnt(course.maintained, grown) * breathes_water).sum(axis=-1)
        demand = oxygen.oxygen_breathed(burnt) + nitrogen.oxygen_used(self.tan) + OXYGEN_FOR_DIRT * self.food
        low, high = SURFACE_EXCHANGE
        exchange = low * (high / low) ** self.scene.draws.uniform("tank", "surface")
        return oxygen.oxygen_level(
            self._warmest[:, None],
            demand=demand,
            surface=self.scene.tank.size.floor / CM2_PER_M2,
            exchange=exchange[:, None],
        )
