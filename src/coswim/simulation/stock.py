"""The fish of a tank taken together: by species, as holders of places, and as a stock to be given water."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property
from math import ceil

import numpy as np

from coswim.arrays import Flags, Floats
from coswim.biology import space
from coswim.simulation import temper
from coswim.simulation.group import Group
from coswim.simulation.quantiles import middle
from coswim.simulation.room import adult_length, foreseen_length
from coswim.simulation.scene import Scene

CROWDED, FULL = 1.2, 1.6
"""Litres over the legal floor (by bulk) for all fish when grown, below which a tank is crowded, and full.
Source: judgement; ordinary community tanks have about twice the floor."""
CRAMMED = 0.7
"""The same within the months looked ahead, below which fish are lastingly harmed. Source: judgement."""
GROUND_SPREAD, WATER_SPREAD = 0.3, 0.1
"""How far the rules may be off for one tank, log standard deviation. Source: judgement."""


@dataclass(frozen=True, eq=False)
class Kind:
    """All groups of one species in the tank; the first newcomer stands for them, else the first resident."""

    groups: tuple[Group, ...]

    @property
    def group(self) -> Group:
        """The group that stands for the kind."""
        return next((group for group in self.groups if not group.is_resident), self.groups[0])

    @property
    def count(self) -> int:
        """How many there are in all."""
        return sum(group.count for group in self.groups)

    @property
    def holders(self) -> int:
        """Places that the kind would hold; the smallest advised group, or a couple that guards, holds one together."""
        company, temperament = self.group.profile.schooling, self.group.profile.temperament
        couple = 2 if temperament is not None and temperament.guards == "pair" else 1
        return ceil(self.count / max(couple, company.smallest_group if company else 1))

    def holds_ground(self, towards: str) -> bool:
        """It drives others from its place; `towards` is own_kind or other_fish. An unknown temper may."""
        temperament = self.group.profile.temperament
        drives_off = temperament is None or getattr(temperament, towards) in temper.DRIVES_OFF
        return drives_off and temper.holds_a_place(self.group)


def kinds(scene: Scene) -> tuple[Kind, ...]:
    """The fish of a scene by species."""
    by_species: dict[str, list[Group]] = {}
    for fish in scene.groups:
        by_species.setdefault(fish.profile.scientific_name, []).append(fish)
    return tuple(Kind(tuple(groups)) for groups in by_species.values())


@dataclass(frozen=True, eq=False)
class Ground:
    """Kinds that hold places and drive each other from them, against the floor of the tank."""

    scene: Scene
    kinds: tuple[Kind, ...]

    @property
    def holders(self) -> int:
        """Places that would be held."""
        return sum(kind.holders for kind in self.kinds)

    @property
    def floor(self) -> float:
        """Length by width of the tank, cm2."""
        return self.scene.tank.size.floor

    @cached_property
    def needed(self) -> Floats:
        """Floor that all the places take, cm2, shape (draws,)."""
        names = "+".join(sorted(kind.group.profile.scientific_name for kind in self.kinds))
        slack = np.exp(GROUND_SPREAD * self.scene.draws.normal("tank", "ground", names))
        floors = [
            kind.holders * space.territory(adult_length(kind.group), share=temper.place_held(kind.group))
            for kind in self.kinds
        ]
        return np.asarray(np.sum(floors, axis=0) * slack)


def grounds(scene: Scene) -> Iterator[Ground]:
    """Every kind with several places of its own, and all kinds together that drive off any other fish."""
    present = kinds(scene)
    yield from (Ground(scene, (kind,)) for kind in present if kind.holders > 1 and kind.holds_ground("own_kind"))
    rivals = tuple(kind for kind in present if kind.holds_ground("other_fish"))
    if len(rivals) > 1:
        yield Ground(scene, rivals)


@dataclass(frozen=True, eq=False)
class Stock:
    """All fish together against the water; arrays have shape (draws,)."""

    scene: Scene

    def legal_litres(self, fish: Group, lengths: Floats) -> Floats:
        """The legal floor for one group at some total lengths, L."""
        return space.legal_litres(lengths * fish.standard_fraction, count=fish.count)

    def litres_for(self, fish: Group, lengths: Floats) -> Floats:
        """The same by the bulk of its body: a deep fish of the same length counts more, a slim one less, L."""
        return np.asarray(space.BULK[fish.profile.body.form] * self.legal_litres(fish, lengths))

    @cached_property
    def legal(self) -> Floats:
        """The legal floor for all fish when grown, L."""
        return np.asarray(np.sum([self.legal_litres(fish, adult_length(fish)) for fish in self.scene.groups], axis=0))

    @cached_property
    def grown(self) -> Floats:
        """The litres for all fish when grown, by bulk."""
        return np.asarray(np.sum([self.litres_for(fish, adult_length(fish)) for fish in self.scene.groups], axis=0))

    @cached_property
    def by_then(self) -> Floats:
        """The litres for all fish at the end of the months looked ahead, by bulk."""
        return np.asarray(np.sum([self.litres_for(fish, foreseen_length(fish)) for fish in self.scene.groups], axis=0))

    @cached_property
    def by_month(self) -> Floats:
        """The litres for all fish of average length, by bulk, shape (months,)."""
        middles = [np.asarray(fish.total_length.mean(axis=0)) for fish in self.scene.groups]
        needs = [self.litres_for(fish, middle) for fish, middle in zip(self.scene.groups, middles, strict=True)]
        return np.asarray(np.sum(needs, axis=0))

    @property
    def full(self) -> Flags:
        """Less water than an ordinary community has."""
        return np.asarray((self.water < FULL * self.grown) | self.crammed)

    @cached_property
    def below_law(self) -> Flags:
        """Within the months looked ahead less water than Swiss law asks for."""
        floors = [self.legal_litres(fish, foreseen_length(fish)) for fish in self.scene.groups]
        return np.asarray(self.scene.tank.litres < np.sum(floors, axis=0))

    @property
    def crowded(self) -> Flags:
        """Hardly more water than that floor, once all are grown; or before that less than is legal."""
        return np.asarray((self.water < CROWDED * self.grown) | self.below_law | self.crammed)

    @property
    def wanted(self) -> float:
        """Litres below which the fish are crowded once grown; never below the legal floor."""
        return max(CROWDED * middle(self.grown), middle(self.legal))

    @property
    def crammed(self) -> Flags:
        """Far less water than that floor within the months looked ahead."""
        return np.asarray(self.water < CRAMMED * self.by_then)

    @cached_property
    def crowded_month(self) -> int | None:
        """The month from which fish of average length are crowded; None when not ahead or growth is unknown."""
        if any(fish.profile.growth is None for fish in self.scene.groups):
            return None
        months = np.flatnonzero(self.scene.tank.litres < CROWDED * self.by_month)
        return int(months[0]) if months.size else None

    @cached_property
    def water(self) -> Floats:
        """The tank's water, L, as far off as the rule may be."""
        return np.asarray(self.scene.tank.litres * np.exp(WATER_SPREAD * self.scene.draws.normal("tank", "stock")))

    def share_of(self, fish: Group) -> float:
        """The part of the litres that one group is the cause of."""
        return middle(self.litres_for(fish, adult_length(fish)) / self.grown)
