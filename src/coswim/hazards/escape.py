"""A fish leaves an open tank and dies on the floor.

How it is judged: only an open tank (`lid: no`) counts; under a closed lid even a habitual leaper hardly gets out. How
often a fish leaves is said by the profile's word (`jumps`): habitually, when startled, or rarely. New fish that leap
are startled most in the first weeks; fish chased by a territorial or aggressive tankmate of at least 0.8 of their
length leap more, and even one that rarely does may. In each simulated future the odds are added up over the fish and
the months. Not every fish that leaves dies: some are found in time, or fall back.

What it cannot see: gaps in a lid, the height of the edge over the water, floating plants, a cat.

Triggers: coswim screen --tank "80x35x40 cm" --no-lid --temperature 25 --ph 6.5 --hardness 5 --resident "8
neon tetra, 3 cm" --add "8 marbled hatchetfish, 3.5 cm"

Does not: coswim screen --tank "80x35x40 cm" --temperature 25 --ph 6.5 --hardness 5 --resident "8 neon
tetra, 3 cm" --add "8 marbled hatchetfish, 3.5 cm"

Sources: which fish jump stands in the profiles (`jumps`). All odds: judgement.
"""

from __future__ import annotations

from collections.abc import Iterator
from types import MappingProxyType
from typing import NamedTuple

import numpy as np

from coswim.arrays import REAL, Flags, Floats
from coswim.findings.finding import Found, Later, Used, cannot_rate, outcomes
from coswim.findings.hazard import no_pictures
from coswim.profiles import scales
from coswim.simulation import temper
from coswim.simulation.group import Group
from coswim.simulation.phrases import label, subject, verb
from coswim.simulation.scene import Scene
from coswim.text import wording

ID = "escape"
LABEL = "lid"
WATCH = "close every gap; look on the floor in the first mornings"
TRAITS = ("jumps", "temperament.other_fish")
DIES = 0.7
"""Part of the fish that leave the tank and die of it. Source: judgement; the others are found in time or fall back."""
FIRST_WEEKS = MappingProxyType({"rarely": 0.0, "when startled": 0.0015, "habitually": 0.0015})
"""Chance that one new fish leaps out in a fright in its first weeks. Source: judgement, on keepers of open tanks, who
lose one of a shoal of ten in a few of 100 tanks within two years."""
CHASED_OUT = MappingProxyType({"rarely": 0.0006, "when startled": 0.003, "habitually": 0.04})
"""Chance in a month that a chased fish leaps out, for a chaser that attacks whenever it can. Source: judgement."""
SINGLED_OUT = 3
"""The most fish of a group that are chased at a time. Source: judgement; two or three are singled out."""
DARES = 0.8
"""Length of a chaser over that of the chased, from which the chased flees. Source: judgement."""


def find(scene: Scene) -> Iterator[Found]:
    """A finding for every fish that leaps and every chased fish in an open tank."""
    if scene.tank.lid:
        return
    for fish in scene.groups:
        if fish.profile.jumps is None:
            question = f"whether {label(fish)} {verb(fish, 'leaves', 'leave')} an open tank"
            yield cannot_rate(ID, question, target=fish, uses=(Used(fish.profile, TRAITS[:1]),))
            continue
        chasers = [_Chaser(other, flees) for other in scene.groups if (flees := _flees(scene, fish, other)).any()]
        if _leaps(fish) or chasers:
            yield _found(scene, fish, chasers)


pictures = no_pictures


def _leaps(fish: Group) -> bool:
    return fish.jumps != "rarely"


def _is_new(fish: Group) -> bool:
    """A newcomer, or a resident that was moved for the newcomers' sake."""
    return not (fish.is_resident and fish.lives_there)


def _flees(scene: Scene, fish: Group, other: Group) -> Flags:
    """The draws in which one group is chased by another, shape (draws,)."""
    if other is fish or other.temperament.other_fish not in temper.DRIVES_OFF:
        return np.zeros(scene.draws.number, dtype=bool)
    return np.asarray((other.total_length >= DARES * fish.total_length).any(axis=1))


class _Chaser(NamedTuple):
    """A fish that drives others off, and the draws in which the other is small enough to flee."""

    group: Group
    flees: Flags

    @property
    def drive(self) -> float:
        """How hard it chases, 0 to 1."""
        return temper.pushes(self.group)


def _found(scene: Scene, fish: Group, chasers: list[_Chaser]) -> Found:
    nobody = np.zeros(scene.draws.number, dtype=REAL)
    chased = np.max([nobody, *(chaser.drive * chaser.flees for chaser in chasers)], axis=0)
    worst = max(chasers, key=lambda chaser: chaser.drive).group if chasers else None
    uses = (Used(fish.profile, TRAITS[:1]), *(Used(chaser.group.profile, TRAITS[1:]) for chaser in chasers))
    return Found(
        ID,
        None if _leaps(fish) else worst,
        fish,
        sentence=_sentence(fish, worst),
        outcomes=outcomes(
            catastrophic=_one_leaves(scene, fish, chased, part=DIES),
            marginal=_one_leaves(scene, fish, chased, part=1.0),
        ),
        because=Later(_reasons, scene, fish, [label(chaser.group) for chaser in chasers]),
        from_month=0,
        to_month=scene.horizon,
        uses=uses,
    )


def _one_leaves(scene: Scene, fish: Group, chased: Floats, *, part: float) -> Flags:
    """The draws in which at least one of the group leaves, by how hard it is chased (0 to 1); or that part of them."""
    stays = 1 - part * scales.JUMPS.number(fish.jumps)
    stays_when_new = 1 - part * FIRST_WEEKS[fish.jumps] if _is_new(fish) else 1.0
    stays_when_chased = 1 - part * CHASED_OUT[fish.jumps] * chased
    singled_out = min(fish.count, SINGLED_OUT)
    spared = (stays**scene.horizon * stays_when_new) ** fish.count * stays_when_chased ** (singled_out * scene.horizon)
    return np.asarray(fish.uniform(ID) >= spared)


def _sentence(fish: Group, worst: Group | None) -> str:
    if fish.jumps == "habitually":
        return f"{subject(fish)} {verb(fish, 'leaps or climbs', 'leap or climb')} out, and the tank has no lid."
    if _leaps(fish):
        return f"{subject(fish)} may leap out of the open tank in a fright."
    return f"{subject(fish)} may leap out of the open tank when chased{f' by {label(worst)}' if worst else ''}."


def _reasons(scene: Scene, fish: Group, chasers: list[str]) -> Iterator[str]:
    if _leaps(fish):
        one = scales.JUMPS.number(fish.jumps)
        again = f", and {wording.chance(FIRST_WEEKS[fish.jumps])} in its first weeks" if _is_new(fish) else ""
        yield (
            f"One such fish is taken to leave an open tank with a chance of {wording.chance(one)} a month{again}; here "
            f"{wording.counted(fish.count, 'fish', 'fish')} over {wording.counted(scene.horizon, 'month')}."
        )
    if chasers:
        yield f"{wording.opening(wording.listed(chasers))} may drive {verb(fish, 'it', 'them')} upwards."
    yield f"About {wording.share(1 - DIES)} of those that leave are found in time or fall back."
    yield "A lid without gaps, or a net over the tank, ends this."
