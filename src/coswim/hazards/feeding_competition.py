"""A slow eater starves beside quick ones, or is fed only at the price of an overfed tank.

How it is judged: each future is followed from the day they meet. A fish needs what keeps its weight and what its growth
takes, and can eat two to five times that. A meal is a race for the food: every group eats at its own pace (`pace`) from
its own start, of what it reaches (`level`, the kind of food) and accepts (`diet`), better at its own hours (`active`),
until it is full or the food is gone. Time is lost by a fish that keeps away from a pushier one, by one that chases many
quick rivals instead of eating, and in the bustle of the others: bold, eager, rough and roaming fish make most, the more
the longer they are; timid (`boldness`), slow, fussy and large fish stand least of it, also where nobody means them
harm. Grazers of the bottom lie on the food and shoulder off those that graze there too or feed in the dark. Part of its
appetite goes with the time: what is pushed about eats less, whatever is left. New fish eat little at first
(`settling`). Crumbs and leftovers lie at the bottom through the night; large fish spill most. In a group the weakest
gets less than the mean, the more so the hungrier and the rougher the group. The keeper feeds more until the slowest has
had its ration or takes no more, up to twice the normal food and as far as the plan's water changes carry it, or the
amount that the plan states. What is missing then is hunger: it lowers the weight, and a thin fish gives way sooner at
the next meal.

Two things count: that a fish grows thin (below 0.85 of a well-fed fish's weight; below 0.75 it starves), and the price:
the food over normal at which it keeps its weight, an outcome of its own from 1.5 times, if for a third of the time.
A resident that takes none of the food that is fed counts against every proposal, though newcomers change nothing.

What it cannot see: a fish that learns to come to the tongs, food left by others overnight, illness. The words for
pace and boldness are judgement, so shares rank and explain; they do not measure. One individual, the weakest, stands
for each group.

Triggers: coswim screen --tank "150x60x60 cm" --temperature 25 --ph 7 --hardness 6 --resident
"elephantnose fish, 18 cm" --add "12 giant danio, 9 cm"

Does not: coswim screen --tank "80x35x40 cm" --temperature 25 --ph 6.5 --hardness 5 --resident "8
harlequin rasbora, 4 cm" --add "8 ember tetra, 2 cm"

Sources: Lupatsch et al. 2013 (maintenance); Deslauriers et al. 2017, Fisheries 42:586-596 (the most eaten in a day, by
the models collected there); Aguilar 2017 (fasting); Hartman & Brandt 1995 (energy of tissue); Carter et al., J. Mar.
Biol. Assoc. UK (unequal shares); Grant 1993, Mar. Behav. Physiol. 23:137-153 (defence at a loss). Paces, access,
bustle and the limits of hunger: judgement.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from coswim.arrays import Flags, Floats
from coswim.biology import contest
from coswim.findings.finding import MOSTLY, Figure, Found, Later, Used, cannot_rate, gaps, outcomes
from coswim.findings.pictures import Bar, BarsPicture, CurvesPicture, Picture, Window, curve
from coswim.simulation.course import Course
from coswim.simulation.foods import accepts
from coswim.simulation.group import Group
from coswim.simulation.keeper import CARRIED, WILLING
from coswim.simulation.phrases import label, subject, verb
from coswim.simulation.quantiles import median, middle
from coswim.simulation.scene import Scene
from coswim.simulation.times import when
from coswim.simulation.waste import Waste
from coswim.text import wording

ID = "feeding-competition"
LABEL = "feeding"
WATCH = "see who eats at every meal, and look for thin backs and hollow bellies"
TRAITS = (
    "feeding_style.pace",
    "feeding_style.level",
    "feeding_style.active",
    "feeding_style.diet",
    "temperament.boldness",
    "temperament.other_fish",
    "swimming",
    "growth",
    "adult_length",
)
THIN, WASTED = 0.85, 0.75
"""Weight over a well-fed fish's below which a fish is thin, and below which it starves. Source: relative weight below
85 is thin, below 80 at risk (textbook bands, memory); WASTED lies below that, since the need is known within 40 %."""
DEAR = 1.5
"""Food over normal from which the price of a company is an outcome of its own, where it lasts. Source: judgement,
tuned on pairings that keepers know as feeding trouble, ordinary communities and random peaceful pairs."""
OFTEN = 0.05
"""Part of the futures in which it starves from which that is told before what it costs. Source: judgement."""
HELD = 50.0
"""Nitrate (NO3) that the changes of water are to hold, mg/L. Source: common practice."""


def find(scene: Scene) -> Iterator[Found]:
    """A finding for every group that grows thin, or that can only be fed at a price, in at least one draw."""
    course = scene.course
    for index, loser in enumerate(course.groups):
        rival = _strongest_rival(course, index)
        uses = tuple(Used(fish.profile, TRAITS) for fish in (loser, rival) if fish)
        if gaps(uses):
            beside = f" beside {label(rival)}" if rival else ""
            question = f"whether {label(loser)} {verb(loser, 'gets', 'get')} enough{beside}"
            yield cannot_rate(ID, question, target=loser, uses=uses)._replace(likeliest=rival)
            continue
        race = _Race(scene, index, rival)
        if (race.thin | race.dear).any():
            yield _found(race, uses)


def pictures(scene: Scene, found: Found) -> tuple[Picture, ...]:
    """Weight over the weeks, food that would have to go in, and nitrate as fed and if the price is paid."""
    course = scene.course
    index = course.groups.index(found.target)
    name = found.target.name
    weight = curve(name, course.times, course.condition[..., index])
    more = curve("until the slowest takes no more", course.times, course.wanted / course.normal)
    drawn: list[Picture] = [
        CurvesPicture(
            f"weight of the {name} over a well-fed one's", "of full weight", (weight,), Window("thin below", THIN, THIN)
        ),
        BarsPicture("who eats the food", "of the food", _bars(course)),
        CurvesPicture("food that must go in over normal", "times normal", (more,)),
    ]
    waste = Waste(scene)
    if np.isfinite(waste.nitrate).all():
        levels = (
            curve("as this keeper feeds", course.times, waste.nitrate),
            curve("if the slowest is fed", course.times, waste.if_paid.nitrate),
        )
        drawn.append(CurvesPicture("nitrate just before a change", "mg/L", levels, Window("held below", HELD, HELD)))
    return tuple(drawn)


def _bars(course: Course) -> tuple[Bar, ...]:
    return tuple(
        Bar(
            fish.name,
            middle(course.shares[:, course.steady, i].mean(axis=1)),
            f"fair part {wording.share(middle(course.fair_shares[:, course.steady, i].mean(axis=1)))}",
        )
        for i, fish in enumerate(course.groups)
    )


def _strongest_rival(course: Course, index: int) -> Group | None:
    """The group that takes most beyond its fair part; None where no other is there."""
    if len(course.groups) < 2:
        return None
    surplus = (course.shares - course.fair_shares).mean(axis=(0, 1))
    surplus[index] = -np.inf
    return course.groups[int(np.argmax(surplus))]


@dataclass(frozen=True, eq=False)
class _Race:
    """One group and its strongest rival at the food; flags have shape (draws,)."""

    scene: Scene
    index: int
    rival: Group | None

    @property
    def course(self) -> Course:
        """The course of the scene."""
        return self.scene.course

    @property
    def loser(self) -> Group:
        """The group that is judged."""
        return self.course.groups[self.index]

    @property
    def condition(self) -> Floats:
        """Its weight over a well-fed fish's, draws × times."""
        return self.course.condition[..., self.index]

    @property
    def thin(self) -> Flags:
        """It is thin at some time."""
        return np.asarray((self.condition < THIN).any(axis=1))

    @property
    def wasted(self) -> Flags:
        """It starves."""
        return np.asarray((self.condition < WASTED).any(axis=1))

    @property
    def price(self) -> Floats:
        """Food over normal at which it keeps its weight, as it lasts, shape (draws,)."""
        return self.course.lasting_price[:, self.index]

    @property
    def until_full(self) -> float:
        """Food over normal that goes in before the slowest has its ration or takes no more, after settling."""
        course, steady = self.course, self.course.steady
        return middle((course.wanted[:, steady] / course.normal[:, steady]).mean(axis=1))

    @property
    def dear(self) -> Flags:
        """That price is more than a keeper would pay for years."""
        return np.asarray(self.price >= DEAR)

    @property
    def thin_at(self) -> float | None:
        """The month at which it is thin in the middle of those futures in which it becomes thin; None for never."""
        if not self.thin.any():
            return None
        below = self.condition[self.thin] < THIN
        return middle(self.course.times[np.argmax(below, axis=1)])

    @property
    def of_steady(self) -> tuple[float, float, float]:
        """Its share of the food, its fair share, and what it gets over what keeps its weight, after settling."""
        course, steady = self.course, self.course.steady
        parts = (course.shares, course.fair_shares, course.coverage)
        share, fair, coverage = (middle(part[:, steady, self.index].mean(axis=1)) for part in parts)
        return share, fair, coverage


def _found(race: _Race, uses: tuple[Used, ...]) -> Found:
    thin_at = race.thin_at
    return Found(
        ID,
        None,
        race.loser,
        sentence=_sentence(race),
        outcomes=outcomes(critical=race.wasted, marginal=race.thin | race.dear),
        because=Later(_reasons, race),
        figures=Later(_figures, race),
        from_month=round(thin_at) if thin_at is not None else 0,
        to_month=race.scene.horizon,
        uses=uses,
        likeliest=race.rival,
        counts_anyway=_takes_nothing(race),
    )


def _takes_nothing(race: _Race) -> bool:
    """It takes none of the foods that are fed."""
    foods = race.scene.feeding.food
    return foods != ("mixed",) and not any(accepts(race.loser, food) for food in foods)


def _sentence(race: _Race) -> str:
    loser, rival = race.loser, race.rival
    if _takes_nothing(race):
        return f"{subject(loser)} {verb(loser, 'takes', 'take')} none of the food that is fed."
    if rival is None:
        return f"{subject(loser)} may not get enough of this food."
    thin_at = race.thin_at
    if race.wasted.mean() >= OFTEN and thin_at is not None:
        starves = verb(loser, "slowly starves", "slowly starve") if race.wasted.mean() >= MOSTLY else "may starve"
        return f"{subject(loser)} {starves} beside {label(rival)}: thin {when(thin_at)}."
    if race.dear.mean() >= race.thin.mean():
        price = middle(race.price)
        if not np.isfinite(price):
            gets = verb(loser, "does not get", "do not get")
            return f"However much is fed, {label(loser)} {gets} enough beside {label(rival)}."
        more = f"about {wording.number(price)} times the food"
        return f"Beside {label(rival)} it takes {more} until {label(loser)} {verb(loser, 'has', 'have')} enough."
    return f"{subject(loser)} may go short at feeding beside {label(rival)}."


def _reasons(race: _Race) -> Iterator[str]:
    """The chain, in its order: who wins, what the loser gets, what it would cost, the water, when it is thin."""
    yield _what_it_gets(race)
    yield _what_it_costs(race)
    water = _what_the_water_needs(race)
    if water:
        yield water
    yield from _when_thin(race)
    yield from _hour(race)


def _what_it_gets(race: _Race) -> str:
    share, fair, coverage = race.of_steady
    loser = race.loser
    gets = verb(loser, "gets", "get")
    who = f"{subject(race.rival)} {verb(race.rival, 'wins', 'win')} the race: " if race.rival else ""
    weakest = "the weakest of them " if loser.count > 1 else ""
    opening = f"{who}{label(loser)} {gets}" if who else f"{subject(loser)} {gets}"
    return (
        f"{opening} {wording.share(share)} of the food where {wording.share(fair)} would be fair, "
        f"{weakest}{wording.number(coverage)} times what keeps its weight, with a keeper who feeds as far as "
        f"{wording.number(WILLING)} times the normal food and the plan's water changes allow."
    )


def _what_it_costs(race: _Race) -> str:
    price, loser = race.price, race.loser
    grams = middle(race.course.normal[:, race.course.steady].mean(axis=1))
    if not np.isfinite(middle(price)):
        foods = wording.listed(race.scene.feeding.food)
        return (
            f"No amount of {foods} food {wording.at_hour(race.scene.feeding.at)} is enough for {label(loser)}: the "
            f"others crowd {verb(loser, 'it', 'them')} out, or it is gone or out of reach too soon. "
            f"{wording.number(race.until_full)} times the normal food must go in before "
            f"{verb(loser, 'it takes', 'they take')} no more ({wording.number(race.until_full * grams)} instead of "
            f"{wording.number(grams)} g dry a day)."
        )
    times = middle(price)
    return (
        f"To keep the weight of {label(loser)}, {wording.number(times)} times the normal food must go in "
        f"({wording.number(times * grams)} instead of {wording.number(grams)} g dry a day); from {DEAR:g} times on "
        f"that counts by itself, {wording.futures(float(race.dear.mean()))}."
    )


def _what_the_water_needs(race: _Race) -> str:
    """The water changes that hold the food of the price; nothing where the plan's own do."""
    waste = Waste(race.scene)
    paid = waste.if_paid
    if not np.isfinite(paid.settled_nitrate).all():
        return ""
    routine = paid.routine_that_holds(HELD)
    level = float(median(paid.settled_nitrate)[-1])
    if level <= HELD:
        return ""
    needs = f"takes {routine}" if routine else "is more than half of the water every day"
    return (
        f"With that food nitrate would settle near {wording.number(level)} mg/L under the plan's water changes; "
        f"holding {HELD:g} mg/L {needs}. A keeper is taken to stop feeding more at about {CARRIED:g} mg/L."
    )


def _when_thin(race: _Race) -> Iterator[str]:
    loser, at = race.loser, race.thin_at
    if at is None:
        return
    share = wording.futures(float(race.thin.mean()))
    starves = wording.futures(float(race.wasted.mean()))
    yield (
        f"{subject(loser)} {verb(loser, 'is', 'are')} thin {share}, {when(at)} in the middle of them, and "
        f"{verb(loser, 'starves', 'starve')} {starves}."
    )
    turned = _tables_turn(race)
    if turned is not None and race.rival:
        yield (
            f"Thin, {verb(loser, 'it gives', 'they give')} way: from {when(turned)} on {label(race.rival)} "
            f"{verb(race.rival, 'wins', 'win')} most of the contests that {label(loser)} won before."
        )


def _tables_turn(race: _Race) -> float | None:
    """The month from which the rival wins most contests that the loser won on the first day; None for never."""
    if race.rival is None:
        return None
    course = race.course
    wins = median(course.wins(race.index, course.groups.index(race.rival)))
    if wins[0] <= contest.EVEN or not (wins < contest.EVEN).any():
        return None
    return float(course.times[int(np.argmax(wins < contest.EVEN))])


def _hour(race: _Race) -> Iterator[str]:
    style = race.loser.profile.feeding_style
    if style and style.active != race.scene.feeding.at:
        yield (
            f"{verb(race.loser, 'It feeds', 'They feed')} best {wording.at_hour(style.active)}; the tank is "
            f"fed {wording.at_hour(race.scene.feeding.at)}."
        )


def _figures(race: _Race) -> Iterator[Figure]:
    share, fair, coverage = race.of_steady
    yield Figure("share_of_food", "its share of the food", share, "")
    yield Figure("fair_share", "the share it needs", fair, "")
    yield Figure("coverage_of_need", "what it gets over what keeps its weight", coverage, "")
    normal = middle(race.course.normal[:, race.course.steady].mean(axis=1))
    yield Figure("normal_food_g_per_day", "normal food for all, dry", normal, "g/day")
    yield Figure("until_full", "food over normal until the slowest takes no more", race.until_full, "")
    if np.isfinite(price := middle(race.price)):
        yield Figure("price", "food over normal at which it keeps its weight", price, "")
    if (at := race.thin_at) is not None:
        yield Figure("thin_from_month", "thin from this month on", at, "months")
