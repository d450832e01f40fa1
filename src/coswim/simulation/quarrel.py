"""One attacker and one target through all draws: how hard it attacks, against what the target endures.

Arrays are draws × the times of the course.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cached_property

import numpy as np

from coswim.arrays import Flags, Floats
from coswim.biology import contest, space
from coswim.profiles import scales
from coswim.simulation import meeting, temper
from coswim.simulation.group import Group
from coswim.simulation.scene import Scene
from coswim.text.quantities import DAYS_PER_MONTH

HARM, DRIVE_POWER = 4.3, 1.5
"""Attacks in what an average fish endures, for an attacker that never lets up on one target of its size
whose contests it wins; and the power of drive by which they grow, since pushing at the food seldom hurts.
Source: judgement; it sets the scale, the rest only orders."""
STAMINA_SPREAD = 0.25
"""Spread of stamina between individuals, log standard deviation. Source: judgement."""
BULK_SPAN = (0.7, 1.4)
"""A blow of a much smaller and of a much larger fish, over one of its own size. Source: judgement."""
RIVAL_SIZE = 0.7
"""Length over the attacker's below which a fish that is not simply aggressive minds another less. Judgement."""
RELENTLESS = 0.5
"""Drive above which size alone does not stop an attacker of a peaceful fish. Source: judgement."""
MATCHED = 0.35
"""Harm of the fight between strangers of even odds that take each other for rivals, over that of winning.
Source: judgement; that matched rivals fight longest is textbook (memory)."""
STANDS = 0.5
"""How far a larger group that fights back keeps attackers off, where it is wholly aggressive. Judgement."""
ARMOUR = 1.25
"""What bony plates add to what a fish endures, whatever its stamina. Source: judgement."""
RANK_SPREAD = 0.25
"""How much longer the strongest of a group may be than the weakest. Source: judgement."""


@dataclass(frozen=True, eq=False)
class Attacker:
    """What a group brings into all its quarrels."""

    scene: Scene
    fish: Group

    @cached_property
    def of_kind(self) -> int:
        """How many of its species the tank holds."""
        return self.scene.minds.of_kind[self.scene.minds.place(self.fish)]

    @cached_property
    def length(self) -> Floats:
        """Its total length, cm."""
        return self.scene.course.lengths[..., self.scene.groups.index(self.fish)]

    @cached_property
    def males(self) -> Floats:
        """Males of its species in the tank, shape (draws,)."""
        return temper.males_among(self.fish, self.scene.groups)

    @cached_property
    def guarding(self) -> Flags:
        """A couple of its kind guards eggs or young."""
        return temper.guarding(self.fish, males=self.males, kind=self.of_kind, length=self.length)

    @cached_property
    def to_own_kind(self) -> Floats:
        """Its drive towards its own kind without company."""
        return temper.drive_to_own_kind(self.fish, self.males, self.length)

    @cached_property
    def calm(self) -> Floats:
        """Its drive towards fish that it takes for no rivals."""
        return temper.drive_at(self.fish, self.fish.temperament.other_fish, self.length)

    @cached_property
    def roused(self) -> Floats:
        """The same while it guards eggs or young."""
        return temper.drive_at(self.fish, temper.one_step_up(self.fish.temperament.other_fish), self.length)


@dataclass(frozen=True, eq=False)
class Quarrel:
    """An attacker and the group that it might bother; the same group for quarrels within.

    `known`: the attacker, where its other quarrels share what it brings.
    """

    scene: Scene
    doer: Group
    target: Group
    known: Attacker | None = None

    @cached_property
    def attacker(self) -> Attacker:
        """What the attacker brings."""
        return self.known or Attacker(self.scene, self.doer)

    @property
    def is_within(self) -> bool:
        """Both are of one group."""
        return self.doer is self.target

    @property
    def targets(self) -> int:
        """How many fish may be attacked."""
        return self.target.count - self.is_within

    @cached_property
    def relation(self) -> str:
        """Own kind, same genus, same family, same form, other."""
        minds = self.scene.minds
        return minds.relations[minds.place(self.doer)][minds.place(self.target)]

    @property
    def of_kind(self) -> int:
        """How many of the attacker's species the tank holds."""
        return self.attacker.of_kind

    @property
    def floor(self) -> float:
        """cm^2."""
        return self.scene.tank.size.floor

    @property
    def length(self) -> Floats:
        """The attacker's total length, cm."""
        return self.attacker.length

    @cached_property
    def target_length(self) -> Floats:
        """The target's, cm; within a group the weakest one's."""
        if self.is_within:
            return np.asarray(self.length / (1 + RANK_SPREAD * self.doer.uniform("rank")[:, None]))
        return self.scene.course.lengths[..., self.scene.groups.index(self.target)]

    @cached_property
    def condition(self) -> Floats:
        """The target's weight by the feeding race, over a well-fed one's."""
        return self.scene.course.condition[..., self.scene.groups.index(self.target)]

    @cached_property
    def odds(self) -> Floats:
        """Share of contests that the attacker wins; a thin target counts as a shorter one of its weight."""
        stay = contest.residence(DAYS_PER_MONTH * self.scene.course.times)
        beaten = 0.0 if self.is_within else contest.beaten_share(self.target.beaten)
        thinner = np.cbrt(self.condition) if (self.condition < 1).any() else 1.0
        return contest.win_odds(
            self.length / (self.target_length * thinner),
            own_residence=1.0 if self.doer.lives_there else stay,
            rival_residence=1.0 if self.target.lives_there else stay,
            beaten=-beaten,
        )

    @cached_property
    def prevails(self) -> Floats:
        """How often the target gives way.

        It loses contests, fights with a matched rival, or, being peaceful, yields to a smaller fish that never
        lets up.
        """
        won = self.odds
        if self.relation != "other" and not self.is_within:
            full = np.minimum(1.0, self.drive / temper.known_drive("territorial"))
            won = np.minimum(1.0, won + MATCHED * full * 4 * won * (1 - won))
        undeterred = np.maximum(0.0, self.drive - RELENTLESS) * (1 - self._answers)
        return np.asarray(1 - (1 - won) * (1 - undeterred))

    @property
    def _answers(self) -> float:
        """How far the target fights back, 0 to 1."""
        return temper.known_drive(self.target.temperament.other_fish)

    @property
    def _stands(self) -> float:
        """Attacks left where the targets outnumber the attackers and fight back."""
        return 1 - STANDS * self._answers * (1 - min(1.0, self.doer.count / max(1, self.targets)))

    @property
    def males(self) -> Floats:
        """Males of the attacker's species in the tank, shape (draws,)."""
        return self.attacker.males

    @property
    def guarding(self) -> Flags:
        """A couple of the attacker's kind guards eggs or young."""
        return self.attacker.guarding

    @cached_property
    def calm_drive(self) -> Floats:
        """The attacker's drive towards this target while no brood is guarded, 0 to 1, draws × times (or × 1)."""
        return self._drive_with(self.attacker.calm)

    @cached_property
    def drive(self) -> Floats:
        """The same, one step up while it guards eggs or young."""
        if self.relation == "own kind" or not self.guarding.any():
            return self.calm_drive
        return np.where(self.guarding, self._drive_with(self.attacker.roused), self.calm_drive)

    def _drive_with(self, to_others: Floats) -> Floats:
        own = self.attacker.to_own_kind
        if self.relation == "own kind":
            mates = temper.may_be_mates(self.doer, self.of_kind) & (self.males == 1)[:, None]
            return np.where(mates, temper.COMPANY * own, temper.company(self.doer, self.of_kind) * own)
        spared = 1 - to_others
        if self.relation != "other":
            rivalry = temper.RIVALRY[self.relation] * (temper.COMPANY if temper.shoals(self.doer) else 1.0)
            spared = spared * (1 - rivalry * own * self.is_similar)
        if temper.hunts_in_the_open(self.doer):
            small = self.target_length < scales.EATS_FISH.number("any that fit") * self.length
            spared = np.where(small, spared * (1 - temper.PURSUIT), spared)
        return np.asarray(1 - spared)

    @property
    def is_similar(self) -> Flags:
        """The target is of a size at which it passes for a rival."""
        if self.relation == "same genus":
            return np.ones((1, 1), dtype=bool)
        low, high = temper.SIMILAR_SIZE
        ratio = self.target_length / self.length
        return np.asarray((ratio >= low) & (ratio <= high))

    @property
    def at_most(self) -> float:
        """No draw has more attacks over what the target endures, even if every contest is won; cheap to tell."""
        drive = self.drive.max(axis=1)
        meets = drive + (1 - drive) * meeting.overlap(self.doer, self.target)
        most = _pressed(drive) * meets * BULK_SPAN[1] * contest.ROOM_SPAN[1] * self._chance
        return float((HARM * self._most_attackers ** (1 / contest.CROWD) * most / self.endures.min(axis=1)).max())

    @property
    def _most_attackers(self) -> int:
        """Of its own kind the strongest decides."""
        return 1 if self.relation == "own kind" else self.doer.count

    @property
    def attackers(self) -> Floats:
        """Attackers as fierce as the drawn one; the others are as their kind is known, if that is less."""
        usual = self.known_drive / np.maximum(self.drive, self.known_drive)
        return np.asarray(1 + (self._most_attackers - 1) * usual ** (DRIVE_POWER * contest.CROWD))

    @property
    def _chance(self) -> float:
        return meeting.landing(self.doer, self.target) * meeting.waking(self.doer, self.target) * self._stands

    @cached_property
    def held(self) -> Floats:
        """Floor that the attacker holds, cm^2: its whole territory from `territorial` upwards."""
        return self._ground(temper.place_held(self.doer))

    @cached_property
    def roams(self) -> Floats:
        """Floor over which it attacks, cm^2; one that holds no place does so wherever it meets others."""
        return self._ground(temper.place_held(self.doer) or 1.0)

    def _ground(self, share: float) -> Floats:
        full = temper.known_drive("territorial")
        return np.asarray(space.territory(self.length, share=share) * np.minimum(1.0, self.drive / full))

    @cached_property
    def attention(self) -> Floats:
        """Attacks of one on a target without company or shelter, in what an average fish endures."""
        drive, size = self.drive, self.target_length / self.length
        meets = drive + (1 - drive) * meeting.overlap(self.doer, self.target)
        minds = drive + (1 - drive) * np.minimum(1.0, size / RIVAL_SIZE)
        bulk = np.clip(np.sqrt(1 / size), *BULK_SPAN)
        room = contest.crowding(self.roams, floor=self.floor)
        harm = HARM * _pressed(drive) * meets * self._chance
        return np.asarray(harm * minds * self.prevails * bulk * room)

    @cached_property
    def endures(self) -> Floats:
        """Attacks that the target stands, over an average fish; its own kind is as tough or frail as itself."""
        stamina = self.target.stamina
        stamina = math.sqrt(stamina) if self.relation in {"own kind", "same genus"} else stamina
        armour = ARMOUR if "armoured" in self.target.profile.features else 1.0
        spread = np.exp(STAMINA_SPREAD * self.target.normal("stamina"))[:, None]
        return np.asarray(stamina * armour * spread * self.condition)

    @cached_property
    def known_drive(self) -> float:
        """The drive that the attacker's kind is known for towards this target, whatever its own record."""
        minds = self.scene.minds
        return float(minds.drives[minds.place(self.doer), minds.place(self.target)])


def _pressed(drive: Floats) -> Floats:
    """A drive to the DRIVE_POWER, which is 1.5; written out, since a power takes three times as long."""
    return drive * np.sqrt(drive)
