"""What counts against newcomers, and what stands without them."""

from __future__ import annotations

import numpy as np
import pytest

from coswim.findings.finding import Consequence, Found, Outcome
from coswim.hazards import BY_ID
from coswim.plans.reading import read_plan
from coswim.profiles.catalog import Catalog
from coswim.simulation.scene import Effort, Scene, build_scene
from coswim.verdict.assessment import Answer, Assessment
from coswim.verdict.rating import Finding, rate

DRAWS = 1000
HAZARD = "space"
PLAN = """
tank: {size: 60 x 30 x 30 cm, temperature: 25 C, ph: 7, hardness: 8 dGH}
residents: [{species: neon tetra, count: 6, length: 3 cm}]
proposals: [{add: [{species: guppy, count: 3, length: 3 cm}]}]
"""


@pytest.fixture(scope="module")
def scene(catalog: Catalog) -> Scene:
    read = read_plan(PLAN, "plan.yaml", catalog)
    return build_scene(read, read.plan.proposals[0], catalog, Effort(draws=DRAWS))


def found(
    scene: Scene, catalog: Catalog, futures: range, consequence: Consequence, *, resident: bool = True
) -> Finding:
    """One finding that happens to a resident, or a newcomer, in some of the draws."""
    fish = next(group for group in scene.groups if group.is_resident is resident)
    outcomes = (Outcome(consequence, np.isin(np.arange(DRAWS), futures)),)
    rated = rate(Found(HAZARD, None, fish, "", outcomes=outcomes, topic="test"), catalog)
    assert isinstance(rated, Finding)
    return rated


def counted(scene: Scene, catalog: Catalog, before: tuple[Finding, ...], after: Finding) -> Assessment:
    """The tank without newcomers has one answer, and with them another."""
    alone = Assessment(scene, catalog, _answers={HAZARD: Answer(before, ())})
    return Assessment(scene, catalog, alone, {HAZARD: Answer((after,), ())})


@pytest.mark.parametrize(
    ("before", "after", "share"),
    [  # derived: the futures of the second range that are not in the first
        (range(600), range(600), 0.0),
        (range(600), range(580), 0.0),
        (range(600), range(640), 0.04),
        (range(600), range(300, 640), 0.04),
        (range(5), range(6), 0.001),
        (range(0), range(6), 0.006),
    ],
)
def test_a_trouble_of_residents_counts_in_the_futures_that_newcomers_bring_it_about(
    scene: Scene, catalog: Catalog, before: range, after: range, share: float
) -> None:
    alone = (found(scene, catalog, before, Consequence.CRITICAL),) if before else ()
    assessed = counted(scene, catalog, alone, found(scene, catalog, after, Consequence.CRITICAL))
    assert sum(finding.likelihood for finding in assessed.counted(HAZARD)) == pytest.approx(share)
    assert bool(assessed._beyond(assessed.answer(HAZARD).rated[0])) is (share > 0)
    for finding in assessed.counted(HAZARD):
        assert finding.without == len(before) / DRAWS


def test_a_trouble_of_newcomers_always_counts(scene: Scene, catalog: Catalog) -> None:
    before = found(scene, catalog, range(600), Consequence.MARGINAL)
    after = found(scene, catalog, range(600), Consequence.MARGINAL, resident=False)
    assert counted(scene, catalog, (before,), after).counted(HAZARD) == (after,)


def test_a_worse_consequence_counts_in_the_same_futures(scene: Scene, catalog: Catalog) -> None:
    """A fish dies that only suffered before."""
    suffers, dies = (found(scene, catalog, range(600), each) for each in (Consequence.MARGINAL, Consequence.CRITICAL))
    assert counted(scene, catalog, (suffers,), dies).counted(HAZARD) == (dies,)


@pytest.mark.parametrize(
    ("shares", "told"),
    [  # derived: 5 in 1,000 is the edge of what is told; of 4 deaths no more than 10.6 are meant, a serious risk
        ((600, 4), [600, 4]),
        ((600, 3), [600]),
        ((4, 3), [3]),
    ],
)
def test_what_is_rare_is_told_where_it_may_decide(
    scene: Scene, catalog: Catalog, shares: tuple[int, int], told: list[int]
) -> None:
    often = found(scene, catalog, range(shares[0]), Consequence.NEGLIGIBLE, resident=False)
    rare = found(scene, catalog, range(shares[1]), Consequence.CATASTROPHIC, resident=False)
    rare = rare._replace(found=rare.found._replace(topic="another"))
    nothing = dict.fromkeys(BY_ID, Answer((), ()))
    assessed = Assessment(scene, catalog, _answers=nothing | {HAZARD: Answer((often, rare), ())})
    assert len(assessed.findings) == 2
    assert sorted((round(DRAWS * one.likelihood) for one in assessed.told), reverse=True) == told
