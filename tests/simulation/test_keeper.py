"""What goes in: all that is needed, more for the slowest as far as the water carries it, or what the plan states."""

from __future__ import annotations

import numpy as np
import pytest
from tests.simulation.conftest import Stocked

from coswim.biology import water_change
from coswim.simulation.keeper import CARRIED, WILLING, Keeper
from coswim.simulation.scene import Scene

PAIR = (["1 saddled bichir, 38 cm"], ["8 tinfoil barb, 10 cm"])
LARGE_CHANGES = "{share: 50 %, every: 2 days}"


def tank(stocked: Stocked, *, feeding: str = "", water_change: str = LARGE_CHANGES) -> Scene:
    return stocked(*PAIR, feeding=feeding, water_change=water_change)


def test_as_needed_all_are_fed_and_more_for_the_slowest(stocked: Stocked) -> None:
    course = tank(stocked).course
    assert np.all(course.given >= course.normal * (1 - 1e-6))
    assert np.median(course.given[:, -1] / course.normal[:, -1]) > 1.5
    assert np.all(course.given <= np.maximum(course.normal, np.minimum(course.wanted, WILLING * course.normal)) + 1e-6)


def test_the_keeper_measures_nearly_right(stocked: Stocked) -> None:
    """Derived: a log standard deviation of 5 %."""
    keeper = stocked(*PAIR, draws=2000).course.keeper
    assert np.std(np.log(keeper.measures)) == pytest.approx(0.05, rel=0.05)


def test_it_goes_as_far_as_the_water_changes_carry(stocked: Stocked) -> None:
    few, many = (tank(stocked, water_change=f"{{share: {share} %, every: 7 days}}").course for share in (10, 50))
    assert np.all(few.keeper.carried < many.keeper.carried)
    assert np.median(few.given[:, -1] / few.normal[:, -1]) < np.median(many.given[:, -1] / many.normal[:, -1])
    assert few.condition[:, -1].min(axis=1).mean() < many.condition[:, -1].min(axis=1).mean()


@pytest.mark.parametrize(
    "changes",
    [
        "{share: 25 %, every: 7 days, nitrate_in: 20 mg/L}",
        "{share: 0 %, drip: 30 L/day}",
        "{share: 30 %, drip: 9 L/day}",
    ],
    ids=["batches", "drip", "both"],
)
def test_what_is_carried_settles_at_the_limit(stocked: Stocked, changes: str) -> None:
    """Derived: fed for ever, C + p d / f just before a change is the limit of 60 mg/L."""
    keeper: Keeper = tank(stocked, water_change=changes).course.keeper
    tan = keeper.carried * keeper.protein * 0.092  # Timmons & Ebeling (memory)
    settled = water_change.before_change(
        water_change.FOREVER,
        start=0.0,
        per_day=tan * keeper.nitrate_per_tan,
        inflow=keeper.tank.water_change.nitrate_in,
        changes=keeper.changes,
    )
    assert settled == pytest.approx(CARRIED)


def test_without_water_changes_no_more_is_fed(stocked: Stocked) -> None:
    course = tank(stocked, water_change="{share: 0 %}").course
    assert np.all(course.keeper.carried == 0)
    assert course.given == pytest.approx(course.normal)


def test_new_water_as_bad_as_the_limit_carries_nothing(stocked: Stocked) -> None:
    assert np.all(tank(stocked, water_change="{share: 50 %, nitrate_in: 80 mg/L}").course.keeper.carried == 0)


def test_a_stated_amount_is_fed_as_stated(stocked: Stocked) -> None:
    assert np.all(tank(stocked, feeding="amount: 3 g a day").course.given == 3.0)


def test_a_part_of_their_weight_is_fed_as_they_grow(stocked: Stocked) -> None:
    """Derived: 2 % of one bichir and eight barbs."""
    course = tank(stocked, feeding="amount: 2 % of their weight a day").course
    counts = [group.count for group in course.groups]
    weight = (course.well_fed * course.condition * counts).sum(axis=-1)
    assert course.given == pytest.approx(0.02 * weight)


def test_what_is_fed_by_hand_goes_in_beside(stocked: Stocked) -> None:
    """Derived: from its whole ration to what some learn to take from tongs."""
    course = tank(stocked, feeding="amount: 3 g a day, by_hand: saddled bichir").course
    ration = course.needs[..., next(i for i, group in enumerate(course.groups) if group.is_resident)]
    assert np.all(course.given - 3.0 <= ration)
    assert np.all(course.given - 3.0 >= 0.6 * ration)
