"""All quarrels of a tank together: what each target endures from everybody that attacks it.

Attackers add up over groups and species, less than in proportion, so that one more never makes a target safer.
Fish that share the attacks take some off a target, but not fish that attack it themselves.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property

import numpy as np

from coswim.arrays import Floats, forget
from coswim.biology import contest
from coswim.simulation import shelter, temper
from coswim.simulation.group import Group
from coswim.simulation.quarrel import Quarrel

NEGLIGIBLE = 0.05
"""Attacks, in what the target endures, below which an attacker is left out of the sum. Source: judgement."""


@dataclass(frozen=True, eq=False)
class Crowd:
    """Quarrels by attacker and target; the same group twice for quarrels within."""

    quarrels: tuple[Quarrel, ...]

    @cached_property
    def _by_pair(self) -> Mapping[tuple[str, str], Quarrel]:
        return {(quarrel.doer.key, quarrel.target.key): quarrel for quarrel in self.quarrels}

    @cached_property
    def _by_doer(self) -> Mapping[str, list[Quarrel]]:
        found: dict[str, list[Quarrel]] = {}
        for quarrel in self.quarrels:
            found.setdefault(quarrel.doer.key, []).append(quarrel)
        return found

    def of(self, doer: Group) -> Sequence[Quarrel]:
        """All quarrels of one attacker."""
        return self._by_doer.get(doer.key, ())

    def on(self, target: Group) -> tuple[Quarrel, ...]:
        """The quarrels that a target might notice."""
        mine = (quarrel for quarrel in self.quarrels if quarrel.target is target)
        return tuple(quarrel for quarrel in mine if quarrel.at_most >= NEGLIGIBLE)

    def forget(self, target: Group) -> None:
        """Let go of the arrays of the quarrels with a target that is done with: one for each pair is too much."""
        for quarrel in self.quarrels:
            if quarrel.target is target:
                forget(quarrel, np.ndarray)

    def sharing(self, quarrel: Quarrel) -> float:
        """Targets among which an attacker's attacks are shared; those that it minds less count for less."""
        return sum(
            other.targets * min(1.0, other.known_drive / quarrel.known_drive) * self._spares(other.target, quarrel)
            for other in self.of(quarrel.doer)
        )

    def _spares(self, other: Group, quarrel: Quarrel) -> float:
        """1 for a fish that leaves this target alone or is of its kind, 0 for one that attacks it too."""
        attack = self._by_pair.get((other.key, quarrel.target.key))
        if attack is None or attack.relation == "own kind":
            return 1.0
        peaceful, assertive = temper.known_drive("peaceful"), temper.known_drive("assertive")
        return min(1.0, max(0.0, (assertive - attack.known_drive) / (assertive - peaceful)))

    def places(self, quarrel: Quarrel) -> float:
        """Hiding places for each target of this attacker, 1 at most."""
        targets = sum(other.targets for other in self.of(quarrel.doer))
        return min(1.0, shelter.places(quarrel.scene, quarrel.target) / targets)

    def single(self, quarrel: Quarrel) -> Floats:
        """Attacks of one attacker on the worst-off target, over what it endures."""
        free = np.maximum(0.0, quarrel.floor - contest.CHASED_ON * quarrel.roams)
        shared = contest.share_of_worst_off(
            max(1.0, self.sharing(quarrel)), free_floor=free, target_length=quarrel.target_length
        )
        hidden = shelter.SHELTER * self.places(quarrel) * quarrel.target.uniform("shelter")[:, None]
        return np.asarray(quarrel.attention * shared * (1 - hidden) / quarrel.endures)

    def parts(self, target: Group) -> tuple[tuple[Quarrel, Floats], ...]:
        """Who attacks a target and how hard, all of that group together; of its own kind only the strongest."""
        found = [(quarrel, self.single(quarrel)) for quarrel in self.on(target)]
        own = [(quarrel, load) for quarrel, load in found if quarrel.relation == "own kind"]
        parts = [(quarrel, together(load, quarrel)) for quarrel, load in found if quarrel.relation != "own kind"]
        if own:
            hardest = np.max(np.broadcast_arrays(*(load for _, load in own)), axis=0)
            parts.append((max(own, key=lambda one: float(one[1].mean()))[0], hardest))
        return tuple(parts)


def together(load: Floats, quarrel: Quarrel) -> Floats:
    """The attacks of all fish of the attacking group."""
    return contest.added_up([load], [quarrel.attackers])
