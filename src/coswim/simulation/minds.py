"""How the kinds of a tank are known to mind each other, whatever the single fish is like."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property

import numpy as np

from coswim.arrays import REAL, Floats
from coswim.simulation import temper
from coswim.simulation.group import Group


@dataclass(frozen=True, eq=False)
class Minds:
    """What holds for every pair of groups in all futures; arrays are attacker × target, in the order of the groups."""

    groups: tuple[Group, ...]

    def place(self, fish: Group) -> int:
        """Where a group stands in the arrays."""
        return self.places[fish.key]

    @cached_property
    def places(self) -> Mapping[str, int]:
        """The same of each group, by its key."""
        return {group.key: place for place, group in enumerate(self.groups)}

    @cached_property
    def of_kind(self) -> tuple[int, ...]:
        """How many of each group's species the tank holds."""
        return tuple(temper.number_of_kind(group, self.groups) for group in self.groups)

    @cached_property
    def relations(self) -> tuple[tuple[str, ...], ...]:
        """Own kind, same genus, same family, same form, other."""
        return tuple(tuple(temper.relation(doer, target) for target in self.groups) for doer in self.groups)

    @cached_property
    def fish(self) -> Floats:
        """How many fish of the target may be attacked."""
        return np.array(
            [[target.count - (doer is target) for target in self.groups] for doer in self.groups], dtype=REAL
        )

    @cached_property
    def drives(self) -> Floats:
        """The drive that the attacker's kind is known for towards the target."""
        return np.array(
            [
                [_known_drive(doer, relation, number) for relation in relations]
                for doer, relations, number in zip(self.groups, self.relations, self.of_kind, strict=True)
            ],
            dtype=REAL,
        )

    @cached_property
    def sparing(self) -> Floats:
        """How far each leaves the target alone: 1 where it does or is of its kind, 0 where it attacks it."""
        peaceful, assertive = temper.known_drive("peaceful"), temper.known_drive("assertive")
        spared = np.minimum(1.0, np.maximum(0.0, (assertive - self.drives) / (assertive - peaceful)))
        return np.where(np.array(self.relations) == "own kind", 1.0, spared)


def _known_drive(doer: Group, relation: str, number: int) -> float:
    own = temper.known_drive(doer.temperament.own_kind)
    if relation == "own kind":
        return own * temper.company(doer, number)
    own = own * (temper.COMPANY if temper.shoals(doer) else 1.0)
    other = temper.known_drive(doer.temperament.other_fish)
    return 1 - (1 - other) * (1 - temper.RIVALRY[relation] * own)
