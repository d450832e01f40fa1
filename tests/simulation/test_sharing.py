"""Scenes share what they have in common, and sharing changes no figure."""

from __future__ import annotations

from textwrap import dedent
from types import ModuleType

import numpy as np
import pytest

from coswim.hazards import HAZARDS
from coswim.plans.reading import ReadPlan, read_plan
from coswim.profiles.catalog import Catalog
from coswim.simulation.draws import Draws
from coswim.simulation.scene import Effort, Scene, build_scene
from coswim.simulation.watched import watched
from coswim.verdict.assessment import Answer, ask, assess
from coswim.verdict.case import Case
from coswim.verdict.changes import ladders

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


def same(one: Answer, other: Answer) -> bool:
    """Two answers say the same."""

    def said(answer: Answer) -> list[object]:
        return [
            (f.found.key, f.found.sentence, f.found.because, f.likelihood, f.risk, f.consequence)
            for f in answer.findings
        ]

    return said(one) == said(other)


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
    case = Case.of(read, read.plan.proposals[0]).with_group(0, length=6.0)
    changed = build_scene(case.read, case.proposal, catalog, EFFORT, like=scene)
    shared = {fish.key for fish in changed.groups if any(fish is other for other in scene.groups)}
    assert shared == {"resident|Pterophyllum scalare|1", "newcomer|Osteogaster aenea|1"}
    assert changed.meals is not scene.meals
    with_lid = Case.of(read, read.plan.proposals[0]).with_tank(lid=True)
    assert build_scene(with_lid.read, with_lid.proposal, catalog, EFFORT, like=scene).meals is scene.meals


def test_sharing_changes_no_figure(read: ReadPlan, scene: Scene, catalog: Catalog) -> None:
    """Every kind of change: assessed beside the original and afresh, with the answers reused and without."""
    known = assess(scene, catalog).answers
    case = Case.of(read, read.plan.proposals[0])
    for steps in ladders(case):
        changed = steps.steps[0].apply(case)
        fresh = build_scene(changed.read, changed.proposal, catalog, EFFORT)
        shared = build_scene(changed.read, changed.proposal, catalog, EFFORT, like=scene)
        for hazard in HAZARDS:
            anew = ask(hazard, fresh, catalog)
            reused = ask(hazard, shared, catalog, known=known[hazard.ID])
            assert same(anew, reused), f"{hazard.ID}: {steps.steps[0].words}"


def test_what_is_read_of_the_tank_is_noted(scene: Scene) -> None:
    view, reads = watched(scene)
    assert view.tank.lid == scene.tank.lid
    assert view.temperature == scene.temperature
    assert (reads.of_tank, reads.feeding, reads.unknown) == ({"lid", "temperature"}, False, False)
    assert view.meals is scene.meals
    assert reads.feeding


def test_an_answer_holds_where_nothing_that_was_read_differs(read: ReadPlan, scene: Scene, catalog: Catalog) -> None:
    case = Case.of(read, read.plan.proposals[0])
    _, reads = watched(scene)
    reads.of_tank.add("lid")
    for values, holds in (({"hiding_places": 9}, True), ({"lid": True}, False)):
        changed = case.with_tank(**values)
        other = build_scene(changed.read, changed.proposal, catalog, EFFORT, like=scene)
        assert reads.cannot_tell(scene, other) is holds
    fed = case.with_feeding(places=3)
    other = build_scene(fed.read, fed.proposal, catalog, EFFORT, like=scene)
    assert reads.cannot_tell(scene, other)
    reads.feeding = True
    assert not reads.cannot_tell(scene, other)


@pytest.mark.parametrize("hazard", HAZARDS, ids=lambda hazard: hazard.ID)
def test_a_hazard_reads_nothing_of_a_scene_that_cannot_be_followed(
    hazard: ModuleType, scene: Scene, catalog: Catalog
) -> None:
    """Else its answers could never be reused, and every search would be slow."""
    answer = assess(scene, catalog).answers[hazard.ID]
    assert not answer.reads.unknown
