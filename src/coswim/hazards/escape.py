"""A fish leaves an open tank and dies on the floor.

How it is judged: only an open tank (`lid: no`) counts; under a closed lid even a jumper hardly gets out. A
fish known to jump does so sooner or later, the more surely the more of them there are and the longer it is
looked ahead; a fish that is chased by a territorial or aggressive tankmate of at least 0.8 of its length
jumps sooner, and even one that is no jumper may. In each simulated future the odds of every month are
added up over the fish and the months.

What it cannot see: gaps in a lid, the height of the edge over the water, floating plants, a cat.

Triggers: coswim screen --tank "80x35x40 cm" --no-lid --temperature 25 --ph 6.5 --hardness 5 --resident "8
neon tetra, 3 cm" --add "8 marbled hatchetfish, 3.5 cm"

Does not: coswim screen --tank "80x35x40 cm" --temperature 25 --ph 6.5 --hardness 5 --resident "8 neon
tetra, 3 cm" --add "8 marbled hatchetfish, 3.5 cm"

Sources: which fish jump stands in the profiles (`features: jumper`). All odds: judgement.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

import numpy as np

from coswim.arrays import Flags, Floats
from coswim.findings.finding import Consequence, Found, Outcome, Used
from coswim.findings.hazard import no_pictures
from coswim.simulation import temper
from coswim.simulation.group import Group
from coswim.simulation.phrases import label, subject, verb
from coswim.simulation.scene import Scene
from coswim.text import wording

ID = "escape"
TRAITS = ("features", "temperament.other_fish")
JUMPS = 0.02
"""Chance in a month that one jumper leaves an open tank. Source: judgement: about two in five over two years."""
CHASED_OUT = 0.0006
"""The same for a fish that is no jumper, for a chaser that attacks whenever it can. Source: judgement."""
DRIVEN = 2.0
"""How many more times a jumper jumps when such a fish chases it. Source: judgement."""
SINGLED_OUT = 3
"""The most fish of a group that are chased at a time. Source: judgement; two or three are singled out."""
DARES = 0.8
"""Length of a chaser over that of the chased, from which the chased flees. Source: judgement."""


def find(scene: Scene) -> Iterator[Found]:
    """A finding for every jumper and every chased fish in an open tank."""
    if scene.tank.lid:
        return
    for fish in scene.groups:
        chasers = [_Chaser(other, flees) for other in scene.groups if (flees := _flees(scene, fish, other)).any()]
        if "jumper" in fish.profile.features or chasers:
            yield _found(scene, fish, chasers)


pictures = no_pictures


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
    jumps = "jumper" in fish.profile.features
    chased = np.max([np.zeros(scene.draws.number), *(chaser.drive * chaser.flees for chaser in chasers)], axis=0)
    worst = max(chasers, key=lambda chaser: chaser.drive).group if chasers else None
    uses = (Used(fish.profile, ("features",)), *(Used(chaser.group.profile, TRAITS[1:]) for chaser in chasers))
    return Found(
        ID,
        None if jumps else worst,
        fish,
        sentence=_sentence(fish, worst, jumps=jumps),
        outcomes=(Outcome(Consequence.CATASTROPHIC, _leaves(scene, fish, chased, jumps=jumps)),),
        because=tuple(_reasons(scene, fish, [label(chaser.group) for chaser in chasers], jumps=jumps)),
        from_month=0,
        to_month=scene.horizon,
        uses=uses,
    )


def _leaves(scene: Scene, fish: Group, chased: Floats, *, jumps: bool) -> Flags:
    """The draws in which at least one of the group leaves the tank, by how hard it is chased (0 to 1)."""
    monthly = JUMPS * (1 + DRIVEN * chased) if jumps else CHASED_OUT * chased
    tries = scene.horizon * (fish.count if jumps else min(fish.count, SINGLED_OUT))
    return np.asarray(fish.uniform(ID) >= (1 - monthly) ** tries)


def _sentence(fish: Group, worst: Group | None, *, jumps: bool) -> str:
    if jumps:
        return f"{subject(fish)} {verb(fish, 'jumps', 'jump')}, and the tank has no lid."
    return f"{subject(fish)} may leap out of the open tank when chased{f' by {label(worst)}' if worst else ''}."


def _reasons(scene: Scene, fish: Group, chasers: list[str], *, jumps: bool) -> Iterator[str]:
    if jumps:
        yield (
            f"A jumper is taken to leave an open tank with odds of {wording.share(JUMPS)} a month for each fish; here "
            f"{wording.counted(fish.count, 'fish', 'fish')} over {wording.counted(scene.horizon, 'month')}."
        )
    if chasers:
        yield f"{wording.opening(wording.listed(chasers))} may drive it upwards."
    yield "A lid without gaps, or a net over the tank, ends this."
