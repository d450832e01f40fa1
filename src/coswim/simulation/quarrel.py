"""One attacker and one target through all draws: how hard the worst-off target is attacked, and what it endures.

Arrays are draws × the months at which meals are run.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property

import numpy as np

from coswim.arrays import Flags, Floats
from coswim.biology import contest
from coswim.profiles import scales
from coswim.simulation import meeting, temper
from coswim.simulation.group import Group
from coswim.simulation.scene import Scene

HARM = 4.3
"""Attacks in what an average fish endures, for an attacker that never lets up on one target of its size
whose contests it wins; they grow with drive to the power 1.5, since pushing at the food seldom hurts.
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
"""What bony plates add to stamina. Source: judgement."""
SHELTER = 0.4
"""Most that a hiding place for every target takes off the attacks on a fish that uses it. Source:
judgement; half of the pairs of a cichlid were calmer with furnishing (Kadry & Barreto), two of four
species were not (Nijman & Heuts 2011)."""
SAVES = 0.8
"""Part of its need that a fish lives on by moving less. Source: judgement."""
THIN = 0.6
"""Condition below which a starving target is not taken any weaker. Source: judgement."""
RANK_SPREAD = 0.25
"""How much longer the strongest of a group may be than the weakest. Source: judgement."""
DAYS_PER_MONTH = 30.4


@dataclass(frozen=True, eq=False)
class Quarrel:
    """An attacker and the group that it might bother; the same group for quarrels within."""

    scene: Scene
    doer: Group
    target: Group

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
        return temper.relation(self.doer, self.target)

    @cached_property
    def of_kind(self) -> int:
        """How many of the attacker's species the tank holds."""
        return temper.number_of_kind(self.doer, self.scene.groups)

    @property
    def floor(self) -> float:
        """cm^2."""
        return self.scene.tank.size.floor

    @cached_property
    def length(self) -> Floats:
        """The attacker's total length, cm."""
        return self._lengths_of(self.doer)

    @cached_property
    def target_length(self) -> Floats:
        """The target's, cm; within a group the weakest one's."""
        if self.is_within:
            return np.asarray(self.length / (1 + RANK_SPREAD * self.doer.uniform("rank")[:, None]))
        return self._lengths_of(self.target)

    def _lengths_of(self, fish: Group) -> Floats:
        return self.scene.meals.lengths[..., self.scene.groups.index(fish)]

    @cached_property
    def condition(self) -> Floats:
        """The target's weight by the feeding race, over a well-fed one's."""
        coverage = self.scene.meals.coverage[..., self.scene.groups.index(self.target)]
        return np.asarray(np.clip(coverage / SAVES, THIN, 1.0))

    @cached_property
    def odds(self) -> Floats:
        """Share of contests that the attacker wins; a thin target counts as a shorter one of its weight."""
        stay = contest.residence(DAYS_PER_MONTH * self.scene.meals.months)
        beaten = 0.0 if self.is_within else contest.beaten_share(self.target.history.hurt_by_tankmates)
        thinner = np.cbrt(self.condition) if (self.condition < 1).any() else 1.0
        return contest.win_odds(
            self.length / (self.target_length * thinner),
            own_residence=1.0 if self.doer.is_resident else stay,
            rival_residence=1.0 if self.target.is_resident else stay,
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

    @cached_property
    def breeds(self) -> Flags:
        """A pair of the attacker's kind guards eggs or young."""
        return temper.breeding(self.doer, self.of_kind, self.length)

    @cached_property
    def drive(self) -> Floats:
        """The attacker's drive towards this target, 0 to 1; shape (draws, 1) where it does not change."""
        own = temper.drive(self.doer, self.doer.temperament.own_kind)[:, None]
        calm = temper.company(self.doer, self.of_kind)
        if self.relation == "own kind":
            mates = temper.may_be_mates(self.doer, self.of_kind) & temper.both_sexes(self.doer, self.of_kind)[:, None]
            return np.asarray(np.where(mates, temper.COMPANY, calm) * own)
        other = temper.drive(self.doer, self.doer.temperament.other_fish)[:, None]
        if temper.pairs_up(self.doer, self.of_kind):
            step = temper.drive(self.doer, temper.one_step_up(self.doer.temperament.other_fish))[:, None]
            other = np.where(self.breeds, step, other)
        spared = 1 - other
        if self.relation != "other":
            rivalry = temper.RIVALRY[self.relation] * (calm if temper.shoals(self.doer) else 1.0)
            spared = spared * (1 - rivalry * own * self.is_similar)
        if temper.hunts_in_the_open(self.doer):
            small = self.target_length < scales.EATS_FISH.number("any that fit") * self.length
            spared = spared * (1 - temper.PURSUIT * small)
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
    def may_matter(self) -> bool:
        """Some draw could reach what the target endures even if every contest is won; cheap to tell."""
        drive = self.drive.max(axis=1)
        meets = drive + (1 - drive) * meeting.overlap(self.doer, self.target)
        largest = max(self.doer.start_length, self.doer.profile.adult_length.high)
        held = contest.territory(largest) * np.minimum(1.0, drive / temper.known_drive("territorial"))
        most = drive * np.sqrt(drive) * meets * BULK_SPAN[1] * contest.crowding(held, floor=self.floor) * self._chance
        return bool((HARM * most >= self.endures.min(axis=1)).any())

    @property
    def _chance(self) -> float:
        met = meeting.landing(self.doer, self.target) * meeting.waking(self.doer, self.target)
        return met * self._stands

    @cached_property
    def held(self) -> Floats:
        """Floor that the attacker holds, cm^2: its whole territory from `territorial` upwards."""
        full = temper.known_drive("territorial")
        return np.asarray(contest.territory(self.length) * np.minimum(1.0, self.drive / full))

    @cached_property
    def attention(self) -> Floats:
        """Attacks that reach the target if it is the only one and has no shelter, in what an average fish endures."""
        drive, size = self.drive, self.target_length / self.length
        meets = drive + (1 - drive) * meeting.overlap(self.doer, self.target)
        minds = drive + (1 - drive) * np.minimum(1.0, size / RIVAL_SIZE)
        bulk = np.clip(np.sqrt(1 / size), *BULK_SPAN)
        room = contest.crowding(self.held, floor=self.floor)
        harm = HARM * drive * np.sqrt(drive) * meets * self._chance
        return np.asarray(harm * minds * self.prevails * bulk * room)

    @cached_property
    def endures(self) -> Floats:
        """Attacks that the target stands, over an average fish; its own kind is as tough or frail as itself."""
        stamina = self.target.stamina
        stamina = np.sqrt(stamina) if self.relation in {"own kind", "same genus"} else stamina
        armour = ARMOUR if "armoured" in self.target.profile.features else 1.0
        spread = np.exp(STAMINA_SPREAD * self.target.normal("stamina"))[:, None]
        return np.asarray(stamina * armour * spread * self.condition)

    @cached_property
    def known_drive(self) -> float:
        """The drive that the attacker's kind is known for towards this target, whatever its own record."""
        own = temper.known_drive(self.doer.temperament.own_kind) * (
            temper.company(self.doer, self.of_kind) if self.relation == "own kind" or temper.shoals(self.doer) else 1.0
        )
        if self.relation == "own kind":
            return own
        other = temper.known_drive(self.doer.temperament.other_fish)
        return 1 - (1 - other) * (1 - temper.RIVALRY[self.relation] * own)

    def sharing(self, quarrels: Sequence[Quarrel]) -> float:
        """Targets among which the attacker's attacks are shared; those that it minds less count for less."""
        return sum(other.targets * min(1.0, other.known_drive / self.known_drive) for other in quarrels)

    def places(self, quarrels: Sequence[Quarrel]) -> float:
        """Hiding places for each target, 1 at most."""
        return min(1.0, self.scene.tank.hiding_places / sum(other.targets for other in quarrels))

    def load(self, quarrels: Sequence[Quarrel]) -> Floats:
        """Attacks on the worst-off target over what it endures; `quarrels` are all of this attacker's."""
        free = np.maximum(0.0, self.floor - self.held)
        shared = contest.share_of_worst_off(self.sharing(quarrels), free_floor=free, target_length=self.target_length)
        hides = self.target.profile.swimming != "open-water"
        shelter = 1 - SHELTER * hides * self.places(quarrels) * self.target.uniform("shelter")[:, None]
        return np.asarray(self.attention * shared * shelter / self.endures)
