"""Every kind of change that a proposal in its tank allows, those that ask least of a keeper first.

Changes never add a species. Each kind comes as a ladder of steps from the smallest change to the largest, so
that the smallest one that helps can be looked for. A new kind is a function in one of the lists below.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator

from coswim.remedies import keeping, stocking
from coswim.remedies.change import Ladder
from coswim.remedies.changed_plan import ChangedPlan

Offers = Callable[[ChangedPlan], Iterator[Ladder]]

CARE: tuple[Offers, ...] = (
    keeping.hours,
    keeping.foods,
    keeping.meals,
    keeping.places,
    keeping.by_hand,
    keeping.lid,
    keeping.running_in,
    keeping.hiding_places,
    keeping.furnishing,
    keeping.order,
    keeping.temperatures,
    keeping.water_changes,
    stocking.more,
    stocking.longer,
    stocking.fewer,
)
"""What a keeper can do about the proposal in this tank, in order of effort. Source: judgement."""
ORDINARY: tuple[Offers, ...] = (*CARE, stocking.left_out, stocking.larger_tanks)
"""All that is thought of first, in order of effort. Source: judgement."""
LAST_RESORT: tuple[Offers, ...] = (stocking.vast_tanks,)
"""What is thought of only where nothing else makes a proposal possible."""


def ladders(plan: ChangedPlan, offers: tuple[Offers, ...] = ORDINARY) -> tuple[Ladder, ...]:
    """The ladders offered that have a step for this plan; what is offered later is of more effort."""
    effort = {each: number for number, each in enumerate((*ORDINARY, *LAST_RESORT))}
    return tuple(ladder._replace(effort=effort[each]) for each in offers for ladder in each(plan) if ladder.steps)
