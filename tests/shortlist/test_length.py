"""The smallest length that is safe to buy: it passes, and a step less does not."""

from __future__ import annotations

import gc
from collections.abc import Callable
from weakref import ref

import pytest

from coswim.plans.reading import ReadPlan
from coswim.profiles.catalog import Catalog
from coswim.shortlist.bench import Bench
from coswim.shortlist.judged import Candidate
from coswim.shortlist.offer import offer
from coswim.simulation.scene import Effort

BICHIR = """
    tank: {size: 180 x 60 x 60 cm, temperature: 26 C, ph: 7.0, hardness: 6 dGH}
    residents: [{species: saddled bichir, length: 38 cm}]
    horizon: 6 months
    """


@pytest.fixture(scope="module")
def bench(plan_of: Callable[[str], ReadPlan], catalog: Catalog) -> Bench:
    return Bench.of(plan_of(BICHIR), catalog, Effort(draws=100))


@pytest.mark.parametrize("name", ["silver dollar", "severum", "oscar", "royal pleco", "Senegal bichir"])
def test_a_step_less_is_not_safe(bench: Bench, catalog: Catalog, name: str) -> None:
    """All of them are sold smaller than what a bichir of 38 cm swallows or chokes on (common practice, no source)."""
    profile = catalog.profile(name)
    bought = offer(profile)
    proposal, attempt = Candidate(bench, profile).found
    assert attempt.passes
    length = proposal.add[0].length
    assert length is not None
    place = bought.lengths.index(length)
    assert place > 0
    assert not bench.attempt(bought.at(bought.lengths[place - 1]), profile).passes


def test_the_usual_size_is_taken_where_it_is_safe(bench: Bench, catalog: Catalog) -> None:
    """In an empty tank nobody is to be feared, so nothing longer is asked for."""
    tank = bench.read.plan.tank
    empty = bench.read._replace(plan=bench.read.plan.model_copy(update={"tank": tank, "residents": ()}))
    profile = catalog.profile("Congo tetra")
    proposal, attempt = Candidate(Bench.of(empty, catalog, Effort(draws=100)), profile).found
    assert attempt.passes
    assert proposal.add[0].length == profile.usual_size


def test_where_no_length_helps_it_is_told_at_the_usual_size(bench: Bench, catalog: Catalog) -> None:
    profile = catalog.profile("neon tetra")
    proposal, attempt = Candidate(bench, profile).found
    assert not attempt.passes
    assert proposal.add[0].length == profile.usual_size


def test_a_species_that_was_judged_leaves_no_scene_behind(bench: Bench, catalog: Catalog) -> None:
    """Hundreds are judged between two collections of garbage, so none may be garbage that refers to itself."""
    gc.collect()
    gc.disable()
    try:
        candidate = Candidate(bench, catalog.profile("severum"))
        scene = ref(candidate.found[1].assessed.scene)
        assert scene() is not None
        del candidate
        assert scene() is None
    finally:
        gc.enable()
