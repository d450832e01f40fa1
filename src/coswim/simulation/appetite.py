"""How much and how fast each group eats: its need, its appetite, its pace, its hours.

Constants whose source is judgement were tuned on the pairings of tests/panel/ on which keepers agree, all at once.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cached_property
from types import MappingProxyType

import numpy as np

from coswim.arrays import Floats
from coswim.biology import energy
from coswim.profiles import scales
from coswim.simulation.group import Group
from coswim.simulation.tanks import Tanks
from coswim.text.quantities import CM2_PER_M2

NEED_SPREAD = 0.2
"""Log standard deviation of the need of a species that was not measured: within 40 % (two of these). Source:
Lupatsch et al. 2013 against other species."""
LIVELY = 1.45
"""Food of a fish that swims, spawns and is fed as keepers feed, over maintenance, beside growth. Source: judgement;
maintenance is measured in small bare tanks."""
PLACE_BY_PACE = MappingProxyType({"still": 0.2, "slow": 0.35, "steady": 0.5, "fast": 0.62, "frantic": 0.75})
"""Where a kind stands among the published models of the most eaten in a day, by pace. Source: judgement; that kinds
differ so much is published (see `energy.APPETITES`)."""
PLACE_SPREAD = 0.1
"""Half the width within which the kinds of one pace lie. Source: judgement."""
ONE_MEAL = 0.35
"""Part of the most eaten in a day that goes into a fish at one meal. Source: judgement; the published most is eaten
over a whole day with food always there."""
ABOVE_RATION = 1.2
"""What a fast-growing young fish can take over its ration, at least. Source: judgement."""
INDIVIDUAL_PACE = 0.3
"""Spread of feeding speed between individuals, log standard deviation; the mean of a group spreads by its square
root less. Source: judgement; within groups shares differ by far more (Carter et al., J. Mar. Biol. Assoc. UK)."""
PACE_WEIGHT = 10.0
FILLING_EXPONENT = 0.15
"""The pace words hold for a fish of 10 g; a larger one takes longer. Source: judgement; a bite grows with about the
0.65th power of weight, the daily need with the 0.8th."""
HESITATION = MappingProxyType({"still": 1.5, "slow": 0.6, "steady": 0.2, "fast": 0.1, "frantic": 0.0})
"""Minutes before it starts, by pace. Source: judgement."""
OFF_HOURS = (1.0, 0.85, 0.8)
"""Feeding speed by distance between the meal and its own hours (day, dusk, night). Source: judgement; settled
fish of the night come out for food by day."""
GRAZING = MappingProxyType({"algae": 0.45, "herbivore": 0.18})
"""Part of the need that a planted, lived-in tank grows by itself, by diet, where there is enough. Source: judgement."""
ALGAE = 0.15
"""What grows for grazers on each square metre of floor and what stands on it, g dry a day. Source: judgement, so that
a group of small algae eaters lives off an ordinary tank and one of large ones does not."""
LEAST = 1e-9
"""g a day: less is nothing."""
PICKED, PICKED_WEIGHT = 0.22, 2.0
"""Part of the need that the smallest fish pick up in small animals, and the weight in g at which half of that is
left: such fare is too fine to feed a large fish. Source: judgement."""
UNEQUAL = 0.55
"""How far the weakest of a large group that is aggressive towards its own kind falls behind the mean while all are
hungry; milder kinds and small groups less, a full group not at all. Source: judgement; individual shares of 0 to 22 %
where 5 % were even (Carter et al., J. Mar. Biol. Assoc. UK)."""
FEW = 3.0
"""Group at which half of that is reached, beyond one. Source: judgement."""


@dataclass(frozen=True, eq=False)
class Appetites:
    """The groups of some tanks at their food; arrays are groups × tanks × draws, food in g dry a day.

    What does not differ between draws has shape (groups, tanks, 1).
    """

    tanks: Tanks
    at: str
    floor: float

    @cached_property
    def counts(self) -> Floats:
        """Fish in each group, shape (groups, tanks, 1)."""
        return self.tanks.number(lambda group: float(group.count))

    @cached_property
    def _need_factor(self) -> Floats:
        return self.tanks.drawn(lambda group: np.exp(NEED_SPREAD * group.normal("need")))

    @cached_property
    def temperatures(self) -> Floats:
        """C, shape (groups, tanks, 1)."""
        return self.tanks.number(lambda group: group.temperature)

    def maintenance(self, weights: Floats) -> Floats:
        """Food that keeps one fish of each group at its weight."""
        return np.asarray(energy.maintenance_food(weights, self.temperatures) * self._need_factor)

    def ration(self, maintained: Floats, gain: Floats) -> Floats:
        """Food for one fish of each group: keeping its weight and growing by `gain` g a day."""
        return np.asarray(LIVELY * maintained + energy.growth_food(gain))

    def most(self, maintained: Floats, ration: Floats, meals: float) -> Floats:
        """The most that one fish of each group takes in a day of so many meals."""
        filled = min(1.0, meals * ONE_MEAL)
        return np.asarray(np.maximum(filled * (maintained * self._over_maintenance), ABOVE_RATION * ration))

    @cached_property
    def _over_maintenance(self) -> Floats:
        """The most that one fish of each group takes in a day with food always there, over its maintenance."""
        spread = self.tanks.drawn(lambda group: PLACE_SPREAD * (2 * group.uniform("appetite") - 1))
        middles = self.tanks.number(lambda group: PLACE_BY_PACE[pace(group)])
        return energy.most_eaten(1.0, place=spread + middles)

    @cached_property
    def speed(self) -> Floats:
        """Days' maintenance that a fish of 10 g of each group eats in a minute with food in front of it."""
        return np.asarray(self.tanks.drawn(_speed) * self.tanks.number(lambda group: at_its_hour(group, self.at)))

    def rate(self, maintained: Floats, weights: Floats) -> Floats:
        """g a minute of one fish with food in front of it and nobody in its way."""
        return np.asarray(maintained * self.speed * (weights / PACE_WEIGHT) ** -FILLING_EXPONENT)

    @cached_property
    def hesitation(self) -> Floats:
        """Minutes before each group starts, shape (groups, tanks, 1)."""
        return self.tanks.number(lambda group: HESITATION[pace(group)])

    @cached_property
    def _grazing(self) -> Floats:
        """Part of the need that grows for each group where there is enough, shape (groups, tanks, 1)."""
        return self.tanks.number(lambda group: GRAZING.get(_diet(group), 0.0))

    def grazed(self, maintained: Floats) -> Floats:
        """Part of the maintenance need that each group finds in the tank; what grows is shared by need."""
        if not self._grazing.any():
            return self._grazing
        demand = (maintained * (self.counts * self._grazing)).sum(axis=0)
        grows = ALGAE * self.floor / CM2_PER_M2
        return np.asarray(self._grazing * np.minimum(1.0, grows / np.maximum(demand, LEAST)))

    def picked(self, weights: Floats) -> Floats:
        """Part of the maintenance need that each group picks up between meals."""
        return np.asarray(PICKED / (1 + weights / PICKED_WEIGHT))

    @cached_property
    def unequal(self) -> Floats:
        """How far the weakest falls behind the mean while all are hungry, 0 to 1."""
        return self.tanks.drawn(
            lambda group: UNEQUAL * math.sqrt(scales.TEMPERAMENT.number(group.temperament.own_kind)) * _crowded(group)
            * group.uniform("weakest")
        )  # fmt: skip

    def of_weakest(self, mean: Floats, most: Floats) -> Floats:
        """What the worst-off of a group gets where the mean is this: as much when all are full."""
        full = np.minimum(1.0, mean / np.maximum(most, LEAST))
        return np.asarray(mean * (1 - self.unequal * (1 - full)))

    def wanted_of_weakest(self, wanted: Floats, most: Floats) -> Floats:
        """The mean at which the worst-off of a group gets what is wanted: `of_weakest` solved for the mean."""
        linear = 1 - self.unequal
        bent = 4 * self.unequal * wanted / np.maximum(most, LEAST)
        mean = 2 * wanted / (linear + np.sqrt(linear * linear + bent))
        return np.minimum(most, np.maximum(0.0, mean))

    def settled(self, since: float, until: float) -> Floats:
        """How far each group eats as it does at home, 0 to 1, on average between two days after it moved in.

        It eats more day by day until it is at home; this is the mean of that ramp.
        """
        takes = self._settling
        eaten, before = (np.where(days < takes, days**2 / (2 * takes), days - takes / 2) for days in (until, since))
        return np.where(self._at_home, 1.0, (eaten - before) / (until - since))

    @cached_property
    def _at_home(self) -> Floats:
        """1 for a group that lives there already, shape (groups, tanks, 1)."""
        return self.tanks.number(lambda group: group.lives_there)

    @cached_property
    def _settling(self) -> Floats:
        """Days that each group takes to settle; of no account for one that lives there."""
        return self.tanks.drawn(lambda group: np.ones(group.draws.number) if group.lives_there else _settling(group))


def _crowded(group: Group) -> float:
    return (group.count - 1) / (group.count - 1 + FEW)


def pace(group: Group) -> str:
    """Its word for how fast it eats; steady where that is not known."""
    style = group.profile.feeding_style
    return style.pace if style else "steady"


def _diet(group: Group) -> str:
    style = group.profile.feeding_style
    return style.diet if style else "omnivore"


def _speed(group: Group) -> Floats:
    spread = INDIVIDUAL_PACE / math.sqrt(group.count)
    return np.asarray(np.exp(spread * group.normal("pace")) / scales.PACE.number(pace(group)))


def at_its_hour(group: Group, at: str) -> float:
    """Feeding speed at an hour of the day over that at its own."""
    style = group.profile.feeding_style
    hours = scales.ACTIVE.words
    return OFF_HOURS[abs(hours.index(style.active) - hours.index(at))] if style else 1.0


def _settling(group: Group) -> Floats:
    """Days until a newcomer eats as it does at home, shape (draws,)."""
    style = group.profile.feeding_style
    word = style.settling if style and style.settling else "ordinary"
    return np.asarray(scales.SETTLING.number(word) * (0.5 + group.uniform("settling")))
