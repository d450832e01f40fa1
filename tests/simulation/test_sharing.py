"""Scenes share what they have in common, and sharing changes no figure."""

from __future__ import annotations

from dataclasses import replace
from textwrap import dedent
from typing import Any

import numpy as np
import pytest

from coswim.plans.reading import ReadPlan, read_plan
from coswim.profiles.catalog import Catalog
from coswim.remedies.changed_plan import ChangedPlan
from coswim.simulation.draws import Draws
from coswim.simulation.room import swimming_room
from coswim.simulation.scene import Effort, Scene, build_scene

PLAN = """
    tank: {size: 100 x 40 x 50 cm, temperature: 26 C, ph: 7, hardness: 8 dGH, lid: no, filter: young}
    residents: [{species: freshwater angelfish, count: 2, length: 10 cm}]
    proposals:
      - name: company
        add: [{species: tiger barb, count: 6, length: 5 cm}, {species: bronze corydoras, count: 4, length: 5 cm}]
"""
EFFORT = Effort(draws=120)


@pytest.fixture(scope="module")
def read(catalog: Catalog) -> ReadPlan:
    return read_plan(dedent(PLAN), "plan.yaml", catalog)


@pytest.fixture(scope="module")
def scene(read: ReadPlan, catalog: Catalog) -> Scene:
    return build_scene(read, read.plan.proposals[0], catalog, EFFORT)


def test_numbers_are_drawn_once_and_cannot_be_written_to() -> None:
    draws = Draws(1, 50)
    assert draws.uniform("a", "b") is draws.uniform("a", "b")
    assert draws.normal("a", "b") is not draws.uniform("a", "b")
    with pytest.raises(ValueError, match="read-only"):
        draws.normal("a", "b")[0] = 0.0


def test_a_uniform_number_falls_in_each_stratum_once() -> None:
    """derived: n numbers between 0 and 1, one in each of n equal parts, whatever the seed."""
    for seed in range(5):
        numbers = Draws(seed, 40).uniform("a", "b")
        assert sorted(np.floor(numbers * 40)) == list(range(40))


def test_a_scene_like_another_shares_what_is_equal(read: ReadPlan, scene: Scene, catalog: Catalog) -> None:
    changed = ChangedPlan.of(read, read.plan.proposals[0]).with_group(0, length=6.0)
    longer = build_scene(changed.read, changed.proposal, catalog, EFFORT, like=scene)
    shared = {fish.key for fish in longer.groups if any(fish is other for other in scene.groups)}
    assert shared == {"resident|Pterophyllum scalare|1", "newcomer|Osteogaster aenea|1"}
    assert longer.course is not scene.course
    with_lid = ChangedPlan.of(read, read.plan.proposals[0]).with_tank(lid=True)
    assert build_scene(with_lid.read, with_lid.proposal, catalog, EFFORT, like=scene).course is scene.course


def test_the_room_of_a_resident_is_shared_while_tank_and_company_are_the_same(
    read: ReadPlan, scene: Scene, catalog: Catalog
) -> None:
    def room(plan: ChangedPlan, place: int) -> object:
        fish = build_scene(plan.read, plan.proposal, catalog, EFFORT, like=scene)
        group = next(one for one in fish.groups if one.key == scene.groups[place].key)
        return swimming_room(fish, group, "cruiser")

    plan = ChangedPlan.of(read, read.plan.proposals[0])
    newcomer, resident = (
        next(i for i, one in enumerate(scene.groups) if one.is_resident is lives) for lives in (False, True)
    )
    assert room(plan, resident) is room(plan, resident)
    assert room(plan, newcomer) is not room(plan, newcomer)
    larger = plan.with_tank(size=replace(plan.tank.size, length=200.0))
    assert room(larger, resident) is not room(plan, resident)


@pytest.mark.parametrize("feeding", [{"places": 2}, {"at": "night"}, {"by_hand": ("tiger barb",)}, {"food": ("live",)}])
def test_another_way_of_feeding_is_another_course(
    read: ReadPlan, scene: Scene, catalog: Catalog, feeding: dict[str, Any]
) -> None:
    changed = ChangedPlan.of(read, read.plan.proposals[0]).with_feeding(**feeding)
    assert build_scene(changed.read, changed.proposal, catalog, EFFORT, like=scene).course is not scene.course


def test_what_is_shared_changes_no_figure(read: ReadPlan, scene: Scene, catalog: Catalog) -> None:
    changed = ChangedPlan.of(read, read.plan.proposals[0]).with_feeding(places=2)
    with_, without = (build_scene(changed.read, changed.proposal, catalog, EFFORT, like=like) for like in (scene, None))
    assert np.array_equal(with_.course.condition, without.course.condition)
    assert np.array_equal(with_.course.given, without.course.given)
