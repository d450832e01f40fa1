"""A slow eater starves beside fast ones while the tank is overfed.

How it is judged: a meal is a race for a fixed amount of food. Every fish eats at its own pace from its
own start (`pace`), where the food is (`level`, the kind of food), better at its own hours (`active`),
until it is full, the food is gone or out of reach; larger fish eat more, a fish that keeps away from a
pushier one loses part of the meal, and one that grazes, or is small enough for crumbs, finds part of its
need in the tank. The keeper is taken to feed 1.5 times what all fish together need. From the race follow
each group's share, whether it keeps its weight, how much would have to go in before the slowest has had its
ration, and the weeks until a tenth of its weight is gone. Below 0.6 of its maintenance need a fish counts
as hungry for long, below 0.4 as starving.

What it cannot see: a fish that learns to come to the tongs, food left by others overnight, illness.
The pace words are judgement, so shares rank and explain; they do not measure.

Triggers: coswim screen --tank "150x60x60 cm" --temperature 25 --ph 7 --hardness 6 --resident
"elephantnose fish, 18 cm" --add "12 giant danio, 9 cm"

Does not: coswim screen --tank "80x35x40 cm" --temperature 25 --ph 6.5 --hardness 5 --resident "8
harlequin rasbora, 4 cm" --add "8 ember tetra, 2 cm"

Sources: Lupatsch et al. 2013 (maintenance); Aguilar 2017 (fasting); Hartman & Brandt 1995 (energy of
tissue); Carter et al., J. Mar. Biol. Assoc. UK (unequal shares are real). Paces, access,
rations and the limits of hunger: judgement.
"""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from coswim.arrays import Flags
from coswim.findings.finding import Consequence, Figure, Found, Outcome, Used, gaps
from coswim.simulation.course import Course
from coswim.simulation.group import Group
from coswim.simulation.phrases import label, subject, verb
from coswim.simulation.quantiles import middle
from coswim.simulation.scene import Scene

ID = "feeding-competition"
TRAITS = ("feeding_style.pace", "feeding_style.level", "feeding_style.active", "growth", "adult_length")
THIN, WASTED = 0.85, 0.75
"""Weight over a well-fed fish's below which a fish is thin, and below which it starves. Source: relative weight below
85 is thin, below 80 at risk (textbook bands, memory); WASTED lies below that, since the need is known within 40 %."""
DEAR = 1.5
"""Food over normal from which the price of a company is an outcome of its own: half as much again, for years. Source:
judgement, on the pairings of the development panel."""


def find(scene: Scene) -> Iterator[Found]:
    """A finding for every group that grows thin, or that can only be fed at a price, in at least one draw."""
    course = scene.course
    for index, loser in enumerate(course.groups):
        rival = _strongest_rival(course, index)
        uses = tuple(Used(fish.profile, TRAITS) for fish in (loser, rival) if fish)
        if gaps(uses):
            yield _unrated(loser, rival, uses)
            continue
        thin = (course.condition[..., index] < THIN).any(axis=1)
        wasted = (course.condition[..., index] < WASTED).any(axis=1)
        dear = course.lasting_price[:, index] >= DEAR
        if (thin | dear).any():
            yield _found(scene, index, uses, thin=thin, wasted=wasted, dear=dear)


def _strongest_rival(course: Course, index: int) -> Group | None:
    """The group that takes most beyond its fair part; None where no other is there."""
    if len(course.groups) < 2:
        return None
    surplus = (course.shares - course.fair_shares).mean(axis=(0, 1))
    surplus[index] = -np.inf
    return course.groups[int(np.argmax(surplus))]


def _unrated(loser: Group, rival: Group | None, uses: tuple[Used, ...]) -> Found:
    beside = f" beside {label(rival)}" if rival else ""
    sentence = f"Whether {label(loser)} {verb(loser, 'gets', 'get')} enough{beside} is not known."
    return Found(ID, rival, loser, sentence, uses=uses, cannot_rate=gaps(uses), whoever_does_it=True)


def _found(scene: Scene, index: int, uses: tuple[Used, ...], *, thin: Flags, wasted: Flags, dear: Flags) -> Found:
    course = scene.course
    loser, rival = course.groups[index], _strongest_rival(course, index)
    return Found(
        ID,
        rival,
        loser,
        sentence=f"{subject(loser)} may go short.",
        outcomes=(
            Outcome(Consequence.CRITICAL, wasted),
            Outcome(Consequence.MARGINAL, thin | dear),
        ),
        figures=(Figure("price", "price", middle(course.lasting_price[:, index]), ""),
          Figure("thin", "thin", float(thin.mean()), ""), Figure("wasted", "", float(wasted.mean()), ""), Figure("dear", "", float(dear.mean()), ""),
          Figure("coverage", "", middle(course.coverage[:, course.steady, index].mean(axis=1)), ""),
          Figure("condition", "", middle(course.condition[:, -1, index]), "")),
        from_month=0,
        to_month=scene.horizon,
        uses=uses,
        whoever_does_it=True,
    )
