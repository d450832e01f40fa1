"""Every food that a plan may name is one that the simulation knows, and so are those that diets refuse."""

from __future__ import annotations

from coswim.plans.plan import FOODS, MIXED
from coswim.profiles import scales
from coswim.simulation import foods


def test_the_foods_of_a_plan_are_known() -> None:
    assert set(foods.FOODS) == {*FOODS} - {MIXED}


def test_diets_refuse_foods_that_there_are() -> None:
    assert set(foods.ACCEPTS) <= {*scales.DIET.words}
    assert {food for refused in foods.ACCEPTS.values() for food in refused} <= {*foods.FOODS}
