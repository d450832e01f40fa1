"""Time that a group loses at the meal: to pushier fish, to its own chasing, to the bustle of all others.

Constants whose source is judgement were tuned on the pairings of tests/panel/ on which keepers agree, all at once.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cached_property
from types import MappingProxyType

import numpy as np

from coswim.arrays import REAL, Floats
from coswim.biology import contest
from coswim.profiles import scales
from coswim.simulation import temper
from coswim.simulation.appetite import at_its_hour, pace
from coswim.simulation.group import Group
from coswim.simulation.meeting import AT_HOME, overlap
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
"""How far a fish of each pace gets at the food under a defender's nose. Source: judgement."""
BOLD = MappingProxyType({"timid": 0.01, "ordinary": 0.11, "bold": 1.0})
"""Bustle that a fish makes, by its boldness. Source: judgement."""
EAGER = MappingProxyType({"still": 0.02, "slow": 0.05, "steady": 0.08, "fast": 0.15, "frantic": 1.0})
"""The same by its pace. Source: judgement."""
ROUGH = MappingProxyType({"peaceful": 0.22, "assertive": 0.63, "territorial": 1.6, "aggressive": 2.7})
"""The same by its temperament towards other fish. Source: judgement."""
ROAMS = MappingProxyType({"still": 0.3, "local": 0.5, "cruiser": 1.0, "open-water": 2.0})
"""The same by how it swims. Source: judgement."""
WHERE = MappingProxyType({"surface": 0.25, "mid": 1.0, "bottom": 0.35})
"""The same by the level where it feeds first: in mid-water it is in everyone's way. Source: judgement."""
HUNTER = 0.35
"""The same of a carnivore, which looks for larger pieces than most. Source: judgement."""
ELSEWHERE = 0.8
"""Bustle that is felt at another level. Source: judgement."""
BY_LENGTH, BY_SHORTER = 2.8, 0.6
"""The powers of its length over one's own with which a longer and a shorter fish are felt. Source: judgement."""
LARGEST = 5.0
"""Length over one's own beyond which a fish is felt no more. Source: judgement."""
GRAZERS, HOLDS = ("algae", "herbivore"), 0.05
"""Diets whose bottom feeders lie on food that lies, and the bustle that each of them makes besides for others there: it
shoulders off whoever else wants of it. Source: common practice, that large plecos sit on the food; the figure is
judgement."""
MOST = 0.92
"""Part of its time at the food that a fish loses at most to bustle. Source: judgement."""
AT_PACE = MappingProxyType({"still": 0.27, "slow": 0.5, "steady": 1.0, "fast": 1.8, "frantic": 4.0})
"""Bustle that a fish stands, over a steady one: the quick snatch their food in passing. Source: judgement."""
POOR_SWIMMER, STAYS = 0.42, 0.6
"""The same of a slow swimmer, and of a fish that keeps to one place instead of coming to the food. Source:
judgement."""
FUSSY, EATS_ALL = 0.4, ("omnivore", "herbivore", "piscivore")
"""The same of a fish that looks at its food first, and the diets that do not; nor does one that roams mid-water and
takes its food in passing. Source: judgement."""
SHOAL = 0.02
"""How much more bustle each further fish of its own group lets it stand. Source: judgement; a shoal is bolder than one
of its fish (common practice)."""
OF_LENGTH, USUAL_LENGTH = -1.3, 10.0
"""The power of its length over the usual one, in cm, with which a fish stands bustle: large ones are slow to turn.
Source: judgement."""
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
    def _counts(self) -> Floats:
        return self.tanks.number(lambda group: float(group.count))

    @cached_property
    def _awake(self) -> Floats:
        return self.tanks.number(lambda group: at_its_hour(group, self.at))

    def time_left(self, lengths: Floats, condition: Floats, stay: Floats) -> Floats:
        """Part of the meal that each group has for eating, 0 to 1; the thin win less, but are no smaller."""
        wins = _wins(lengths * np.cbrt(condition), stay)
        return np.asarray(
            (1 - self._kept_away(wins) / self.places)
            * (1 - self._defending(wins) / self.places)
            * (1 - self._held_back(lengths) / math.sqrt(self.places))
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
    def _bustling(self) -> Floats:
        """The bustle that each makes for each, were both of one length."""
        felt = ELSEWHERE + (1 - ELSEWHERE) * self._meets
        others = (1 - np.eye(len(self.tanks.places), dtype=REAL))[..., None, None]
        there = self._counts * self._awake
        lies_on_it = HOLDS * self.tanks.number(_lies_on_food)[:, None] * self.tanks.number(_wants_of_it)
        return np.asarray(there[:, None] * (self.tanks.number(_bustle)[:, None] * felt + lies_on_it) * others)

    @cached_property
    def _stands(self) -> Floats:
        """Bustle that each group stands at the usual length."""
        return np.asarray(self.tanks.number(_stands) * (1 + SHOAL * (self._counts - 1)))

    def _held_back(self, lengths: Floats) -> Floats:
        """By the bustle of all others: more the timid, the slow and the fussy, and those beside longer ones."""
        logs = np.log(lengths)
        longer = np.minimum(math.log(LARGEST), logs[:, None] - logs[None, :])
        felt = np.exp(np.where(longer > 0, BY_LENGTH * longer, BY_SHORTER * longer))
        bustle = (self._bustling * felt).sum(axis=0)
        stands = self._stands * np.exp(OF_LENGTH * (logs - math.log(USUAL_LENGTH)))
        return np.asarray(MOST * bustle / (bustle + stands))


def _bustle(group: Group) -> float:
    style = group.profile.feeding_style
    made = BOLD[boldness(group)] * EAGER[pace(group)] * ROUGH[group.temperament.other_fish]
    made *= ROAMS[group.profile.swimming or "cruiser"]
    if style:
        made *= WHERE[style.level[0]] * (HUNTER if style.diet == "carnivore" else 1.0)
    return made


def _lies_on_food(group: Group) -> float:
    """It grazes at the bottom; shoals of the open water do so in passing."""
    style = group.profile.feeding_style
    grazes = style is not None and style.level[0] == "bottom" and style.diet in GRAZERS
    return float(grazes and group.profile.swimming != "open-water")


def _wants_of_it(group: Group) -> float:
    """It grazes at the bottom as well, or feeds there in the dark."""
    style = group.profile.feeding_style
    return float(
        style is not None and style.level[0] == "bottom" and (style.diet in GRAZERS or style.active == "night")
    )


def _stands(group: Group) -> float:
    stays = group.profile.swimming in AT_HOME
    stands = scales.BOLDNESS.number(boldness(group)) * AT_PACE[pace(group)]
    stands *= POOR_SWIMMER if "slow-swimmer" in group.profile.features else 1.0
    stands *= STAYS if stays else 1.0
    return stands * (FUSSY if _looks_first(group, stays=stays) else 1.0)


def _looks_first(group: Group, *, stays: bool) -> bool:
    style = group.profile.feeding_style
    return style is not None and style.diet not in EATS_ALL and (stays or style.level[0] != "mid")


def _wins(lengths: Floats, stay: Floats) -> Floats:
    """Share of contests that each wins, by the ratio of lengths and how long each has lived there."""
    ratios = lengths[:, None] / lengths[None, :]
    return contest.win_odds(ratios, own_residence=stay[:, None], rival_residence=stay[None, :])


def boldness(group: Group) -> str:
    """Its word for whether bustle keeps it from the food; ordinary where that is not known."""
    return group.temperament.boldness or "ordinary"
