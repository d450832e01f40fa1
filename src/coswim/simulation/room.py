"""Room in a tank for one fish to swim and to grow."""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import cached_property, lru_cache
from typing import NamedTuple

import numpy as np

from coswim.arrays import REAL, Flags, Floats
from coswim.biology import space
from coswim.profiles import scales
from coswim.simulation import temper
from coswim.simulation.group import Group
from coswim.simulation.quantiles import middle
from coswim.simulation.scene import Scene
from coswim.text.quantities import Box

LEAST_PART = 0.875
"""Part of the wanted tank length, or of the smallest sensible tank, below which a fish is cramped. Source:
judgement."""
LEAST_WIDTH = 0.8
"""The same for the wanted width, which is its own length (common practice). Source: judgement."""
COMPANY = 0.15
"""Power by which the length of tank grows with their number: a group twice as large wants a tenth more. Source:
judgement; their water is counted by itself."""
ROAMS = frozenset({"cruiser", "open-water"})
HARMED = 0.7
"""Part of the room it needs below which it is lastingly harmed: bent, stunted, sore. Source: judgement."""
SPREAD = 0.05
"""How far the rules may be off for one fish, log standard deviation. Source: judgement."""
NOTABLE = 0.05
"""Share of draws from which it is worth telling when a fish outgrows the tank."""
LIFETIME = np.arange(0.0, 241.0, 12.0)


def adult_length(fish: Group) -> Floats:
    """Full-grown total length, cm, shape (draws,)."""
    return np.maximum(fish.asymptote, fish.start_length)


def foreseen_length(fish: Group) -> Floats:
    """Total length at the end of the months looked ahead, cm, shape (draws,); today's where growth is unknown."""
    if fish.profile.growth is None:
        return np.full(fish.draws.number, fish.start_length, dtype=REAL)
    return np.asarray(fish.total_length[:, -1])


@lru_cache(maxsize=16)
def legal_length(size: Box) -> float:
    """The longest fish, snout to tail base, for which the sides of a tank are legal in Switzerland, cm."""
    return float(
        space.longest_fish(
            size.length,
            size.width,
            size.height,
            lengths=space.LEGAL_LENGTHS,
            widths=space.LEGAL_WIDTHS,
            heights=space.LEGAL_HEIGHTS,
        )
    )


class Wants(NamedTuple):
    """What a fish wants of a tank, in its own total lengths; `heights` has shape (draws,).

    `run` is the tank length over the root of its length: what small fish want. `sensible` is the length of the
    smallest sensible tank of its profile in lengths of its largest; 0 where none is stated.
    """

    lengths: float
    widths: float
    heights: Floats
    run: float
    sensible: float

    def longest_in(self, size: Box) -> Floats:
        """The longest such fish that a tank has the sides for, cm, shape (draws,)."""
        return space.longest_fish(
            size.length, size.width, size.height, lengths=self.lengths, widths=self.widths, heights=self.heights
        )

    def longest(self, size: Box) -> Floats:
        """The longest that has the sides and the run, cm, shape (draws,)."""
        runner = np.minimum(self.longest_in(size), space.longest_runner(size.length, run=self.run))
        return np.minimum(runner, size.length / self.sensible) if self.sensible else runner

    def box(self, length: float) -> tuple[float, float, float]:
        """The tank for a fish of that length, cm."""
        side = max(self.lengths * length, self.sensible * length, self.run * length**0.5)
        return side, self.widths * length, middle(self.heights) * length


def wants(fish: Group, swimming: str, *, number: int, least: bool) -> Wants:
    """What keepers plan for so many fish that swim so, or the least before they are cramped.

    What is planned is never below the sides that Swiss law asks for.
    """
    form, body = fish.profile.body.form, fish.standard_fraction
    part = LEAST_PART if least else 1.0
    together = _together(fish, number) if swimming in ROAMS else 1.0
    more = part * max(1.0, together)
    lengths = max(space.LEGAL_LENGTHS, more * scales.SWIMMING.number(swimming)) * space.BEND[form]
    sensible = part * together * (fish.profile.smallest_tank or 0.0) / fish.profile.adult_length.high
    fins = space.LONG_FINS if "long-fins" in fish.profile.features else 1.0
    heights = space.DEPTHS_TO_RISE * fins * body * fish.depth_fraction
    run = more * space.RUN[swimming]
    if least:
        return Wants(lengths, LEAST_WIDTH * space.TURN[form], heights, run, sensible)
    widths = max(space.TURN[form], space.LEGAL_WIDTHS * body)
    lengths = max(lengths, space.LEGAL_LENGTHS * body)
    return Wants(lengths, widths, np.maximum(heights, space.LEGAL_HEIGHTS * body), run, sensible)


def _together(fish: Group, number: int) -> float:
    """Length of tank for so many of a kind over that for the smallest group it wants."""
    company = fish.profile.schooling
    return float((number / max(1, company.smallest_group if company else 1)) ** COMPANY)


@dataclass(frozen=True, eq=False)
class SwimmingRoom:
    """One fish in a tank of a size, where so many of its kind swim; arrays have shape (draws,)."""

    group: Group
    swimming: str
    size: Box
    number: int

    @cached_property
    def least(self) -> Wants:
        """Below this it is cramped."""
        return wants(self.group, self.swimming, number=self.number, least=True)

    @cached_property
    def wanted(self) -> Wants:
        """What keepers plan."""
        return wants(self.group, self.swimming, number=self.number, least=False)

    @cached_property
    def adult(self) -> Floats:
        """Full-grown total length, cm."""
        return adult_length(self.group)

    @cached_property
    def _slack(self) -> Floats:
        return np.asarray(np.exp(SPREAD * self.group.normal("room")))

    @cached_property
    def held(self) -> Floats:
        """The longest of its kind that is not cramped here, cm."""
        return self.least.longest(self.size) * self._slack

    @cached_property
    def harmed(self) -> Flags:
        """It is far too long for the sides of the tank within the months looked ahead."""
        return np.asarray(foreseen_length(self.group) * HARMED > self.least.longest_in(self.size) * self._slack)

    @cached_property
    def below_law(self) -> Flags:
        """Within the months looked ahead it is too long for the sides that Swiss law asks for."""
        return np.asarray(foreseen_length(self.group) * self.group.standard_fraction > legal_length(self.size))

    @cached_property
    def cramped(self) -> Flags:
        """Full-grown, it is too long for the tank; or it is before that below a legal minimum."""
        return np.asarray((self.adult > self.held) | self.below_law | self.harmed)

    @cached_property
    def limited(self) -> Flags:
        """Full-grown, it has less room than keepers plan; that is never below what Swiss law asks for."""
        under_plan = self.adult > self.wanted.longest(self.size) * self._slack
        return np.asarray(under_plan | self.cramped)

    @cached_property
    def outgrown_month(self) -> int | None:
        """The month by which half of those draws that outgrow the tank have done so.

        None where hardly any does, or its growth is unknown.
        """
        share = float((self.adult > self.held).mean())
        if self.group.profile.growth is None or share < NOTABLE:
            return None
        for fish in (self.group, replace(self.group, months=LIFETIME)):
            past = (fish.total_length > self.held[:, None]).mean(axis=0) >= share / 2
            if past.any():
                return int(fish.months[int(np.argmax(past))])
        return None


def swimming_room(scene: Scene, fish: Group, swimming: str) -> SwimmingRoom:
    """The room of one fish; that of a resident is worked out once for all scenes that share it."""
    size, number = scene.tank.size, temper.number_of_kind(fish, scene.groups)
    room = SwimmingRoom(fish, swimming, size, number)
    return fish.rooms.setdefault((size, number), room) if fish.is_resident else room
