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

from coswim.arrays import Flags, Floats
from coswim.biology import energy
from coswim.findings.finding import Consequence, Figure, Found, Outcome, Used, cannot_rate, gaps
from coswim.findings.pictures import Bar, BarsPicture, CurvesPicture, curve
from coswim.simulation.group import Group
from coswim.simulation.meals import RATION, Meals
from coswim.simulation.phrases import label, subject, verb
from coswim.simulation.quantiles import middle
from coswim.simulation.scene import Scene
from coswim.text import wording

ID = "feeding-competition"
TRAITS = ("feeding_style.pace", "feeding_style.level", "feeding_style.active", "growth", "adult_length")
WASTED = 0.1
"""Part of its weight whose loss counts as starving. Source: judgement; relative weight below 80-85 % of
standard is the textbook band for a thin fish."""
SOON = 16.0
"""Weeks within which the loss counts as starvation rather than chronic hunger. Source: judgement."""
ENOUGH = 1.0
SHORT = 0.6
STARVING = 0.4
"""Parts of the maintenance need: below SHORT it goes hungry for long, below STARVING it starves. Source:
judgement; the need itself is known within 40 % for a species that was not measured (Lupatsch et al. 2013),
so only what lies below that band is called hunger."""
MOSTLY = 0.5


def find(scene: Scene) -> Iterator[Found]:
    """A finding for every group that goes hungry in at least one draw, beside others or by itself."""
    meals = scene.meals
    for index, loser in enumerate(meals.groups):
        rival = _strongest_rival(scene, index)
        uses = tuple(Used(fish.profile, TRAITS) for fish in (loser, rival) if fish)
        if gaps(uses):
            beside = f" beside {label(rival)}" if rival else ""
            question = f"whether {label(loser)} {verb(loser, 'gets', 'get')} enough{beside}"
            yield cannot_rate(ID, question, target=loser, uses=uses)._replace(likeliest=rival)
            continue
        hungry = meals.coverage[..., index] < SHORT
        if hungry.any():
            yield _found(scene, index, hungry, uses)


def pictures(scene: Scene, found: Found) -> tuple[BarsPicture, CurvesPicture]:
    """Who eats how much at the month at which the loser fares worst, and what it gets over the months."""
    meals = scene.meals
    index = meals.groups.index(found.target)
    worst = _worst_month(meals, index)
    bars = tuple(
        Bar(
            fish.name,
            middle(meals.shares[:, worst, i]),
            f"fair part {wording.share(middle(meals.fair_shares[:, worst, i]))}",
        )
        for i, fish in enumerate(meals.groups)
    )
    name = found.target.name
    gets = curve(name, meals.months, meals.coverage[..., index])
    return (
        BarsPicture(f"who eats the food at month {meals.month_indexes[worst]}", "of the food", bars),
        CurvesPicture(f"what the {name} gets over what keeps its weight", "times the need", (gets,)),
    )


def _worst_month(meals: Meals, index: int) -> int:
    """The fed month at which a group goes hungry in most draws."""
    return int(np.argmax((meals.coverage[..., index] < SHORT).mean(axis=0)))


def _strongest_rival(scene: Scene, index: int) -> Group | None:
    """The group that takes most beyond its fair part; None where no other is there."""
    if len(scene.groups) < 2:
        return None
    surplus = (scene.meals.shares - scene.meals.fair_shares).mean(axis=(0, 1))
    surplus[index] = -np.inf
    return scene.meals.groups[int(np.argmax(surplus))]


def _found(scene: Scene, index: int, hungry: Flags, uses: tuple[Used, ...]) -> Found:
    meals = scene.meals
    loser, rival = meals.groups[index], _strongest_rival(scene, index)
    loss = meals.weekly_loss(index)
    weeks = np.where(loss > 0, WASTED / np.maximum(loss, np.finfo(float).tiny), np.inf)
    starves = np.asarray(((weeks <= SOON) & (meals.coverage[..., index] < STARVING)).any(axis=1))
    worst = _worst_month(meals, index)
    first = int(meals.month_indexes[int(np.argmax(hungry.any(axis=0)))])
    food = _WorstMonth(scene, index, worst)
    return Found(
        ID,
        None,
        loser,
        sentence=_sentence(loser, rival, starves),
        outcomes=(
            Outcome(Consequence.CRITICAL, starves),
            Outcome(Consequence.MARGINAL, np.asarray(hungry.any(axis=1))),
        ),
        because=tuple(_reasons(scene, index, worst, weeks, food)),
        figures=food.figures(weeks[:, worst]),
        from_month=first,
        to_month=scene.horizon,
        uses=uses,
        likeliest=rival,
    )


class _WorstMonth:
    """The food figures of one group at the month at which it fares worst, g of dry food per day."""

    def __init__(self, scene: Scene, index: int, worst: int) -> None:
        meals = scene.meals
        self.month = int(meals.month_indexes[worst])
        self.share = middle(meals.shares[:, worst, index])
        self.fair = middle(meals.fair_shares[:, worst, index])
        self.coverage = middle(meals.coverage[:, worst, index])
        self.planned = middle(meals.planned[:, worst]) * meals.feeding.meals
        self.required = middle(meals.required[:, worst, index]) * meals.feeding.meals

    def figures(self, weeks: Floats) -> tuple[Figure, ...]:
        """Those that are finite, with the weeks until it is thin, shape (draws,)."""
        shown = [
            Figure("share_of_food", "its share of the food", self.share, ""),
            Figure("fair_share", "the share it needs", self.fair, ""),
            Figure("coverage_of_need", "what it gets over what it needs to keep its weight", self.coverage, ""),
            Figure("planned_food_g_per_day", "food planned, dry", self.planned, "g/day"),
        ]
        if np.isfinite(self.required):
            shown.append(Figure("required_food_g_per_day", "food that must go in, dry", self.required, "g/day"))
        if np.isfinite(gone := middle(weeks)):
            shown.append(Figure("weeks_to_tenth_lost", "weeks until a tenth of its weight is gone", gone, "weeks"))
        return tuple(shown)


def _sentence(loser: Group, rival: Group | None, starves: Flags) -> str:
    if rival is None:
        return f"{subject(loser)} may not get enough of this food."
    if starves.mean() >= MOSTLY:
        loses, starve = verb(loser, "loses", "lose"), verb(loser, "starves", "starve")
        return f"{subject(loser)} {loses} the feeding race to {label(rival)} and slowly {starve}."
    return f"{subject(loser)} may go short at feeding beside {label(rival)}."


def _reasons(scene: Scene, index: int, worst: int, weeks: Floats, food: _WorstMonth) -> Iterator[str]:
    meals = scene.meals
    loser = meals.groups[index]
    short, hungry = (float((meals.coverage[:, worst, index] < part).mean()) for part in (ENOUGH, SHORT))
    yield (
        f"At month {food.month} {label(loser)} {verb(loser, 'gets', 'get')} {wording.share(food.share)} of the food "
        f"where {wording.share(food.fair)} would be the fair part: {wording.share(food.coverage)} of what keeps "
        f"weight. In {wording.share(short)} of the draws it is less than that, in {wording.share(hungry)} less than "
        f"{wording.share(SHORT)} of it, which is counted as hunger."
    )
    if np.isfinite(food.required):
        times = food.required / food.planned
        yield (
            f"{wording.number(food.required)} g of food a day (dry weight) would have to go in before {label(loser)} "
            f"had enough, {wording.number(times)} times the {wording.number(food.planned)} g planned for all."
        )
    else:
        yield (
            f"No amount of {meals.feeding.food} food by {meals.feeding.at} is enough: it is out of reach before "
            f"{label(loser)} had {verb(loser, 'its', 'their')} ration, {RATION:g} times what keeps weight."
        )
    if np.isfinite(gone := middle(weeks[:, worst])):
        yield (
            f"If nothing changes, a tenth of the weight is gone after about {wording.number(gone)} weeks by this need, "
            "which is known within 40 % for a species that was not measured."
        )
    if loser.profile.feeding_style and loser.profile.feeding_style.active != meals.feeding.at:
        yield f"It feeds best by {loser.profile.feeding_style.active}; the tank is fed by {meals.feeding.at}."
    low, high = energy.FASTING_WEIGHTS
    if not low <= middle(meals.weights[:, 0, index]) <= high:
        yield f"The loss is reckoned outside the {low:g} to {high:,.0f} g of the fish it was measured on."
