"""A fish that dashes in a tank too short to stop in: it chases, flees or takes fright, and hits glass or rock.

Arrays have shape (draws,).
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from types import MappingProxyType

import numpy as np

from coswim.arrays import Flags, Floats
from coswim.simulation import shelter, temper
from coswim.simulation.group import Group
from coswim.simulation.room import foreseen_length
from coswim.simulation.scene import Scene

TO_STOP = MappingProxyType({"still": 4.0, "local": 4.0, "cruiser": 5.0, "open-water": 7.0})
"""Tank length, in its own lengths, in which a dashing fish comes to a stop, by how it swims. Source: judgement."""
QUICK = MappingProxyType({"still": 0.1, "local": 0.3, "cruiser": 0.6, "open-water": 1.0})
"""How often and how hard it dashes, by how it swims. Source: judgement."""
HEAVY = 25.0
"""Length from which the full blow is felt, cm; smaller fish are light. Source: judgement."""
STARTLED = MappingProxyType({"timid": 0.6, "ordinary": 0.3, "bold": 0.1})
"""Part of that which fright alone brings about, by boldness: noise, light, a hand at the glass. Source:
judgement."""
HITS = 0.6
"""Chance that one fish is hurt within two years where all of this is at its worst. Source: judgement."""
AGAINST = MappingProxyType({shelter.BARE: 0.7, shelter.PLANTS: 0.6, shelter.HARD: 1.0})
"""Blows that hurt, by furnishing: glass alone, glass behind plants, roots and rocks. Source: judgement."""
LOSES_EYE, LOSES_STANDING_EYE = 0.1, 0.4
"""Part of the blows that cost an eye. Source: judgement."""

PEACEFUL = temper.known_drive("peaceful")


@dataclass(frozen=True, eq=False)
class Dash:
    """One group in the tank; `swimming` is its word."""

    scene: Scene
    fish: Group
    swimming: str

    @cached_property
    def lengths(self) -> Floats:
        """Its own lengths that the tank has, at the end of the time looked ahead."""
        return np.asarray(self.scene.tank.size.length / foreseen_length(self.fish))

    @property
    def to_stop(self) -> float:
        """The lengths in which it comes to a stop."""
        return TO_STOP[self.swimming]

    @cached_property
    def driver(self) -> Group | None:
        """The fish that drives it most: pushier than peaceful, and no shorter than itself in most futures."""
        mine = foreseen_length(self.fish)
        others = [one for one in self.scene.groups if one is not self.fish and temper.pushes(one) > PEACEFUL]
        longer = [one for one in others if (foreseen_length(one) >= mine).mean() >= 1 / 2]
        return max(longer, key=temper.pushes, default=None)

    @property
    def stirred(self) -> float:
        """How often something makes it dash, 0 to 1: fright, a driver, its own chasing."""
        startled = STARTLED[self.fish.temperament.boldness or "ordinary"]
        driven = temper.pushes(self.driver) if self.driver else 0.0
        chases = temper.pushes(self.fish) if len(self.scene.groups) > 1 else 0.0
        return 1 - (1 - startled) * (1 - driven) * (1 - chases)

    @cached_property
    def _chance(self) -> Floats:
        short = np.maximum(0.0, 1 - self.lengths / self.to_stop)
        heavy = np.minimum(1.0, foreseen_length(self.fish) / HEAVY)
        return np.asarray(
            HITS * short * heavy * QUICK[self.swimming] * self.stirred * AGAINST[self.scene.tank.furnishing]
        )

    def _happens(self, part: float) -> Flags:
        return np.asarray(self.fish.uniform("dashing") < 1 - (1 - part * self._chance) ** self.fish.count)

    @property
    def hurt(self) -> Flags:
        """One of them loses scales, a barbel or worse."""
        return self._happens(1.0)

    @property
    def blinded(self) -> Flags:
        """One of them loses an eye."""
        stands = "protruding-eyes" in self.fish.profile.features
        return self._happens(LOSES_STANDING_EYE if stands else LOSES_EYE)
