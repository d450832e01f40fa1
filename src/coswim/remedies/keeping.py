"""Ladders of what a keeper can do otherwise: feeding, lid, filter, cover, water.

Steps and ends of the ladders are judgement: what a keeper can keep up.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from math import floor
from operator import methodcaller
from types import MappingProxyType
from typing import Any

from coswim.plans.plan import FOODS, HOURS, MOVES_IN
from coswim.remedies.change import Change, Ladder
from coswim.remedies.changed_plan import ChangedPlan
from coswim.simulation.phrases import plural
from coswim.text import wording
from coswim.text.quantities import Range

DEGREES = 0.5
WATER_CHANGES = ((0.25, 7), (0.3, 7), (0.4, 7), (0.5, 7), (0.5, 5), (0.5, 4), (0.5, 3), (0.5, 2), (0.5, 1))
"""Share and days between changes, from little work to much."""
MORE_HIDING = (2, 4, 6, 10)
MOST_PLACES = 4
ORDER_WORDS: Mapping[str, str] = MappingProxyType(
    {
        "last": "let the newcomers move in last",
        "together": "move all of them into a rearranged tank at once",
        "first": "let the newcomers live in the tank first and move the residents in after them",
    }
)
MORE_MEALS = (3, 4)
FEW_TO_HAND_FEED = 2
SOFT = "soft plants"
AT_THE_FOOD = frozenset({"feeding-competition"})
CONTESTED = frozenset({"aggression"})
"""Hazards against which a keeper would think of it."""


def hours(plan: ChangedPlan) -> Iterator[Ladder]:
    """Feed at the hour of a fish that is not fed at its own."""
    wanted = {profile.feeding_style.active for profile in plan.profiles() if profile.feeding_style}
    for hour in HOURS:
        if hour in wanted and hour != plan.feeding.at:
            yield Ladder([_fed(f"feed {wording.at_hour(hour)}", at=hour)])


def foods(plan: ChangedPlan) -> Iterator[Ladder]:
    """Sink the food, float it, or feed another kind."""
    for food in FOODS:
        if plan.feeding.food != (food,):
            yield Ladder([_fed(f"feed {_in_words(food)}", food=(food,))])


def _in_words(food: str) -> str:
    """`floating pellets`, `frozen food`, `greens`."""
    if food.endswith("pellet"):
        return f"{food}s"
    return food if food.endswith("s") else f"{food} food"


def meals(plan: ChangedPlan) -> Iterator[Ladder]:
    """Feed as much in more and smaller meals."""
    more = [number for number in MORE_MEALS if number > plan.feeding.meals]
    yield Ladder([_fed(f"feed {number} smaller meals a day", meals=float(number)) for number in more], AT_THE_FOOD)


def by_hand(plan: ChangedPlan) -> Iterator[Ladder]:
    """Feed a single fish, or one of a few, with tongs or apart."""
    names = plan.feeding.by_hand
    for entry, profile in plan.everyone():
        if entry.count <= FEW_TO_HAND_FEED and entry.species not in names:
            name = profile.name if entry.count == 1 else plural(profile.name)
            words = f"feed the {name} by hand, with tongs or apart"
            yield Ladder([_fed(words, by_hand=(*names, entry.species))], AT_THE_FOOD)


def places(plan: ChangedPlan) -> Iterator[Ladder]:
    """Feed at more places at once."""
    more = range(plan.feeding.places + 1, MOST_PLACES + 1)
    yield Ladder([_fed(f"spread the food over {number} places", places=number) for number in more])


def lid(plan: ChangedPlan) -> Iterator[Ladder]:
    """Cover an open tank."""
    if not plan.tank.lid:
        yield Ladder([_kept("keep a lid on the tank", lid=True)])


def running_in(plan: ChangedPlan) -> Iterator[Ladder]:
    """Wait until the filter has grown up."""
    if plan.tank.filter != "mature":
        words = "let the filter run in until ammonia and nitrite read zero before they move in"
        yield Ladder([_kept(words, filter="mature")])


def hiding_places(plan: ChangedPlan) -> Iterator[Ladder]:
    """Give more places to hide."""
    numbers = [plan.tank.hiding_places + more for more in MORE_HIDING]
    yield Ladder([_kept(f"give {number} hiding places", hiding_places=number) for number in numbers])


def temperatures(plan: ChangedPlan) -> Iterator[Ladder]:
    """From the nearest temperature that suits all fish to the middle of what suits them all."""
    ranges = [profile.water_ranges.temperature for profile in plan.profiles() if profile.water_ranges]
    low, high = max((r.low for r in ranges), default=0.0), min((r.high for r in ranges), default=0.0)
    if low >= high:
        return
    here, middle = min(max(plan.tank.temperature.middle, low), high), (low + high) / 2
    toward = DEGREES if middle >= here else -DEGREES
    degrees = [here + toward * step for step in range(floor(abs(middle - here) / DEGREES) + 1)]
    yield Ladder(
        [
            _kept(f"keep the water at {value:g} C", temperature=Range(value, value))
            for value in degrees
            if plan.tank.temperature != Range(value, value)
        ]
    )


def water_changes(plan: ChangedPlan) -> Iterator[Ladder]:
    """Change more of the water, and more often."""
    now = plan.tank.water_change
    yield Ladder(
        [
            _kept(
                f"change {wording.share(share)} of the water every "
                f"{wording.counted(days, 'day') if days > 1 else 'day'}",
                water_change=now.model_copy(update={"share": share, "every": float(days)}),
            )
            for share, days in WATER_CHANGES
            if share >= now.share and days <= now.every and (share, days) != (now.share, now.every)
        ]
    )


def furnishing(plan: ChangedPlan) -> Iterator[Ladder]:
    """Take hard furnishing out, or put soft plants in."""
    if plan.tank.furnishing != SOFT:
        hard = plan.tank.furnishing != "bare"
        words = "plant softly instead of hard roots and rocks" if hard else "plant the tank softly"
        yield Ladder([_kept(words, furnishing=SOFT)])


def order(plan: ChangedPlan) -> Iterator[Ladder]:
    """Let them move in together, or let the newcomers have the tank first."""
    if plan.origin.plan.residents:
        for moves_in in MOVES_IN:
            if moves_in != plan.proposed.moves_in:
                moved = methodcaller("moving", moves_in)
                yield Ladder([Change(("moves_in",), ORDER_WORDS[moves_in], moved)], CONTESTED)


def _kept(words: str, **values: Any) -> Change:
    return Change(tuple(values), words, lambda plan: plan.with_tank(**values))


def _fed(words: str, **values: Any) -> Change:
    return Change(tuple(values), words, lambda plan: plan.with_feeding(**values))
