"""The feeding race in a whole tank: what moves a fish's share, and which way."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
import pytest

from coswim.simulation.meals import Meals
from coswim.simulation.scene import Scene

Simulated = Callable[..., Scene]


def meals(
    simulated: Simulated, *, feeding: str = "", add: str = "{species: tinfoil barb, count: 6, length: 12 cm}"
) -> Meals:
    plan = f"""
    tank: {{size: 180 x 60 x 60 cm, temperature: 26 C, ph: 7, hardness: 6 dGH}}
    feeding: {{{feeding}}}
    residents: [{{species: saddled bichir, length: 38 cm}}]
    proposals: [{{name: p, add: [{add}]}}]
    """
    return simulated(plan, draws=200).meals


def share_of(found: Meals, name: str) -> float:
    index = next(i for i, fish in enumerate(found.groups) if fish.name == name)
    return float(found.shares[..., index].mean())


def coverage_of(found: Meals, name: str) -> float:
    index = next(i for i, fish in enumerate(found.groups) if fish.name == name)
    return float(found.coverage[..., index].mean())


@pytest.mark.parametrize("food", ["mixed", "floating pellet", "sinking pellet", "frozen", "live", "soft"])
def test_nothing_is_eaten_that_was_not_offered(simulated: Simulated, food: str) -> None:
    """derived: conservation of food, for every food."""
    found = meals(simulated, feeding=f"food: {food}")
    assert (found.intake >= 0).all()
    assert (found.intake.sum(axis=-1) <= found.planned * (1 + 1e-9)).all()
    assert found.fair_shares.sum(axis=-1) == pytest.approx(1.0)


@pytest.mark.parametrize(
    ("worse", "better"),
    [
        ("food: floating pellet", "food: sinking pellet"),
        ("food: sinking pellet, at: day", "food: sinking pellet, at: night"),
    ],
)
def test_food_at_its_level_and_hour_helps_a_bottom_feeder_of_the_night(
    simulated: Simulated, worse: str, better: str
) -> None:
    """common practice, no source."""
    assert share_of(meals(simulated, feeding=better), "saddled bichir") > share_of(
        meals(simulated, feeding=worse), "saddled bichir"
    )


SEVERUMS = "severum, count: 2, length: 15 cm"


def test_more_feeding_places_leave_more_to_a_fish_that_is_driven_off(simulated: Simulated) -> None:
    """published, sign only: a fixed place favours the dominant fish (Grand & Grant 1994, Anim. Behav.)."""
    rivals = ", ".join(
        f"{{species: {kind}}}"
        for kind in ("jaguar cichlid, count: 2, length: 25 cm", "tinfoil barb, count: 12, length: 16 cm", SEVERUMS)
    )
    one = meals(simulated, feeding="places: 1", add=rivals)
    three = meals(simulated, feeding="places: 3", add=rivals)
    assert coverage_of(three, "severum") > coverage_of(one, "severum")


def test_the_food_required_is_enough(simulated: Simulated) -> None:
    """derived: with that much of the food that it reaches, the slowest eater has its ration."""
    found = meals(simulated, feeding="food: sinking pellet")
    index = next(i for i, fish in enumerate(found.groups) if fish.name == "saddled bichir")
    required = found.required[..., index]
    assert np.isfinite(required).any()
    short = found.coverage[..., index] < 1.0
    assert (required[short] > found.planned[short]).all()
