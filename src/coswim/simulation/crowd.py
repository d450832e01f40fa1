"""All quarrels of a tank together: what each target endures from everybody that attacks it.

Attackers add up over groups and species, less than in proportion, so that one more never makes a target safer.
Fish that share the attacks take some off a target, but not fish that attack it themselves.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property

import numpy as np

from coswim.arrays import Floats, Indexes, forget
from coswim.biology import contest
from coswim.simulation import shelter
from coswim.simulation.group import Group
from coswim.simulation.quarrel import Quarrel

NEGLIGIBLE = 0.05
"""Attacks, in what the target endures, below which an attacker is left out of the sum. Source: judgement."""


@dataclass(frozen=True, eq=False)
class Crowd:
    """Quarrels by attacker and target; the same group twice for quarrels within."""

    quarrels: tuple[Quarrel, ...]

    @cached_property
    def _by_doer(self) -> Mapping[str, list[Quarrel]]:
        return _by_key((quarrel.doer.key, quarrel) for quarrel in self.quarrels)

    @cached_property
    def _by_target(self) -> Mapping[str, list[Quarrel]]:
        return _by_key((quarrel.target.key, quarrel) for quarrel in self.quarrels)

    def of(self, doer: Group) -> Sequence[Quarrel]:
        """All quarrels of one attacker."""
        return self._by_doer.get(doer.key, ())

    def on(self, target: Group) -> tuple[Quarrel, ...]:
        """The quarrels that a target might notice."""
        return tuple(quarrel for quarrel in self._by_target.get(target.key, ()) if quarrel.at_most >= NEGLIGIBLE)

    def forget(self, target: Group) -> None:
        """Let go of the arrays of the quarrels with a target that is done with: one for each pair is too much."""
        for quarrel in self._by_target.get(target.key, ()):
            forget(quarrel, np.ndarray)

    def sharing(self, quarrel: Quarrel) -> float:
        """Targets among which an attacker's attacks are shared; those that it minds less count for less.

        A fish that leaves this target alone, or is of its kind, counts wholly, and not at all one that attacks it too.
        """
        minds, doer = quarrel.scene.minds, quarrel.scene.minds.place(quarrel.doer)
        target, among = minds.place(quarrel.target), self._targets_of[quarrel.doer.key]
        counted = minds.fish[doer, among] * np.minimum(1.0, minds.drives[doer, among] / quarrel.known_drive)
        return float(sum((counted * self._sparing[among, target]).tolist()))

    def places(self, quarrel: Quarrel) -> float:
        """Hiding places for each target of this attacker, 1 at most."""
        minds = quarrel.scene.minds
        targets = float(minds.fish[minds.place(quarrel.doer), self._targets_of[quarrel.doer.key]].sum())
        return min(1.0, shelter.places(quarrel.scene, quarrel.target) / targets)

    @cached_property
    def _targets_of(self) -> Mapping[str, Indexes]:
        """The places of each attacker's targets in the arrays of the tank's minds."""
        return {
            doer: np.array([quarrel.scene.minds.place(quarrel.target) for quarrel in quarrels])
            for doer, quarrels in self._by_doer.items()
        }

    @cached_property
    def _sparing(self) -> Floats:
        """How far each fish leaves each other alone; wholly where no quarrel of theirs is known."""
        minds = self.quarrels[0].scene.minds
        spared = np.ones_like(minds.sparing)
        for doer, targets in self._targets_of.items():
            spared[minds.places[doer], targets] = minds.sparing[minds.places[doer], targets]
        return spared

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


def _by_key(quarrels: Iterable[tuple[str, Quarrel]]) -> Mapping[str, list[Quarrel]]:
    found: dict[str, list[Quarrel]] = {}
    for key, quarrel in quarrels:
        found.setdefault(key, []).append(quarrel)
    return found


def together(load: Floats, quarrel: Quarrel) -> Floats:
    """The attacks of all fish of the attacking group."""
    return contest.added_up([load], [quarrel.attackers])
