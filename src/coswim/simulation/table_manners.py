"""Time that a group loses at the meal: to pushier and to longer fish, to its own chasing, to the bustle of bold ones.

Constants whose source is judgement were tuned on the pairings of tests/panel/ on which keepers agree, all at once.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from types import MappingProxyType

import numpy as np

from coswim.arrays import Floats
from coswim.biology import contest
from coswim.profiles import scales
from coswim.simulation import temper
from coswim.simulation.appetite import at_its_hour, pace
from coswim.simulation.group import Group
from coswim.simulation.meeting import overlap
from coswim.simulation.tanks import Tanks

KEPT_AWAY = 0.28
"""Part of a meal lost at a single feeding place beside a fish that attacks whenever it can and wins. Source:
judgement; aggression peaks with few competitors at one patch (Noel et al. 2005, Anim. Behav. 69:1157-1163)."""
DEFENDS = 0.45
"""Part of a meal that a fish loses which attacks whenever it can, chasing many quick rivals instead of eating. Source:
judgement; with more and quicker rivals a despot defends at a loss (Grant 1993, Mar. Behav. Physiol. 23:137-153)."""
RIVALS_CHASED = 4.0
"""Quick rivals with which two thirds of that is reached. Source: judgement."""
QUICKNESS = MappingProxyType({"still": 0.0, "slow": 0.1, "steady": 0.4, "fast": 0.64, "frantic": 1.0})
"""How far a fish of each pace gets at the food under a defender's nose, and how much bustle it makes. Source:
judgement."""
BUSTLE = MappingProxyType({"still": 0.2, "local": 0.5, "cruiser": 1.0, "open-water": 1.7})
"""Bustle of a fish by how it swims. Source: judgement."""
MAKES = MappingProxyType({"timid": 0.06, "ordinary": 0.25, "bold": 1.0})
"""Bustle and pushing of a fish by its boldness. Source: judgement."""
HALF_BUSTLE = 5.8
"""Bold, quick fish of its own length in its way with which half of what it can lose is lost. Source: judgement."""
SHOAL = 0.04
"""How much more bustle each further fish of its own group lets it stand. Source: judgement; a shoal is bolder than one
of its fish (common practice)."""
BY_LENGTH = 2.0
"""The power of its length over one's own with which a longer fish is felt; a shorter one by its length. Source:
judgement."""
LARGEST = 3.9
"""Length over its own beyond which a fish makes no more bustle. Source: judgement."""
ELSEWHERE = 0.58
"""Bustle that is felt at another level. Source: judgement."""
JOSTLED = 0.15
"""Part of a meal that a fish loses at most to longer ones at its own food, who need not be rough for that. Source:
judgement."""
HALF_JOSTLE = 2.6
"""Bold, frantic fish of twice its length at its food with which half of that is lost. Source: judgement."""
STANDS = 0.2
"""How far a longer fish is in the way that eats slowly, over a frantic one. Source: judgement."""
IN_THE_DARK = MappingProxyType({"day": 1.0, "dusk": 0.8, "night": 0.4})
"""Chasing left by the hour of the meal: who sees no rival chases none. Source: judgement."""


@dataclass(frozen=True, eq=False)
class TableManners:
    """Who gets in whose way at the meal; arrays are groups × tanks × draws, lengths in cm.

    Of two groups they are doer × target × tanks × draws. What does not differ between draws has 1 in their place.
    """

    tanks: Tanks
    places: int
    at: str

    @cached_property
    def _kept_by(self) -> Floats:
        """What each takes of the meal of one that it meets and always beats, groups × tanks × draws."""
        return np.asarray(KEPT_AWAY * self._drives)

    @cached_property
    def _drives(self) -> Floats:
        known = self.tanks.number(lambda group: group.profile.temperament is not None)
        return np.asarray(self.tanks.drawn(lambda group: temper.drive(group, group.temperament.other_fish)) * known)

    @cached_property
    def _meets(self) -> Floats:
        """How far the levels of two groups overlap; nothing with itself."""
        return self.tanks.between(lambda doer, target: 0.0 if doer is target else overlap(doer, target))

    @cached_property
    def _quick(self) -> Floats:
        return self.tanks.number(lambda group: QUICKNESS[pace(group)])

    @cached_property
    def _shy(self) -> Floats:
        """How far bustle keeps each group from the food, 0 to 1."""
        return self.tanks.number(lambda group: scales.BOLDNESS.number(boldness(group)))

    @cached_property
    def _makes(self) -> Floats:
        """Bustle of each group's fish by its boldness."""
        return self.tanks.number(lambda group: MAKES[boldness(group)])

    @cached_property
    def _counts(self) -> Floats:
        return self.tanks.number(lambda group: float(group.count))

    @cached_property
    def _awake(self) -> Floats:
        return self.tanks.number(lambda group: at_its_hour(group, self.at))

    def time_left(self, lengths: Floats, stay: Floats) -> Floats:
        """Part of the meal that each group has for eating, 0 to 1."""
        ratios = lengths[:, None] / lengths[None, :]
        wins = _wins(ratios, stay)
        return np.asarray(
            (1 - self._kept_away(wins) / self.places)
            * (1 - self._defending(wins) / self.places)
            * (1 - self._held_back(ratios) / np.sqrt(self.places))
            * (1 - self._jostled(ratios) / np.sqrt(self.places))
        )

    @cached_property
    def _among(self) -> Floats:
        """How thinly the attacks of each spread over the fish of each."""
        return np.asarray(np.sqrt(np.minimum(1.0, self._counts[:, None] / self._counts[None, :])))

    def _kept_away(self, wins: Floats) -> Floats:
        """Adds up over all pushy groups, so that one more never leaves more time."""
        lost = self._kept_by[:, None] * wins * self._meets * self._among
        return np.asarray(1 - np.prod(1 - lost, axis=0))

    def _defending(self, wins: Floats) -> Floats:
        rivals = (wins * self._meets * (self._counts * self._quick * self._awake)).sum(axis=1)
        busy = -np.expm1(-rivals / RIVALS_CHASED)
        return np.asarray(DEFENDS * self._drives * busy * IN_THE_DARK[self.at])

    @cached_property
    def _pushing(self) -> Floats:
        """How much each pushes each aside that it meets, for each length by which it is longer."""
        pushing = self._counts * self._makes * (STANDS + (1 - STANDS) * self._quick) * self._awake
        return np.asarray(pushing[:, None] * self._meets)

    def _jostled(self, ratios: Floats) -> Floats:
        """By bold ones that are longer and feed at the same level, however peaceful they are and however bold it is."""
        longer = np.clip(ratios, 1.0, LARGEST) - 1
        crowd = (self._pushing * longer).sum(axis=0)
        return np.asarray(JOSTLED * crowd / (crowd + HALF_JOSTLE))

    @cached_property
    def _bustling(self) -> Floats:
        """The bustle that each makes for each, were both of one length."""
        felt = ELSEWHERE + (1 - ELSEWHERE) * self._meets
        felt = felt * (1 - np.eye(len(self.tanks.places)))[..., None, None]
        swim = self.tanks.number(lambda group: BUSTLE[group.profile.swimming or "cruiser"])
        makes = self._counts * self._makes * self._quick * self._awake * swim
        return np.asarray(makes[:, None] * felt)

    def _held_back(self, ratios: Floats) -> Floats:
        if not self._shy.any():
            return self._shy
        longer = np.minimum(LARGEST, ratios)
        bustle = (self._bustling * np.maximum(longer, longer**BY_LENGTH)).sum(axis=0)
        stands = HALF_BUSTLE * (1 + SHOAL * (self._counts - 1))
        return np.asarray(self._shy * bustle / (bustle + stands))


def _wins(ratios: Floats, stay: Floats) -> Floats:
    """Share of contests won by the ratio of lengths and how long each has lived there, shape (groups, tanks, 1)."""
    return contest.win_odds(ratios, own_residence=stay[:, None], rival_residence=stay[None, :])


def boldness(group: Group) -> str:
    """Its word for whether bustle keeps it from the food; ordinary where that is not known."""
    return group.temperament.boldness or "ordinary"
