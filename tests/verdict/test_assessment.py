"""What counts against newcomers, and what stands without them."""

from __future__ import annotations

import numpy as np
import pytest

from coswim.findings.finding import Consequence, Found, Outcome
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


def found(scene: Scene, catalog: Catalog, share: float, consequence: Consequence, *, resident: bool) -> Finding:
    """One finding that happens to a resident, or a newcomer, in a share of the draws."""
    fish = next(group for group in scene.groups if group.is_resident is resident)
    happens = np.arange(DRAWS) < round(share * DRAWS)
    rated = rate(Found(HAZARD, None, fish, "", outcomes=(Outcome(consequence, happens),), topic="test"), catalog)
    assert isinstance(rated, Finding)
    return rated


@pytest.mark.parametrize(
    ("before", "after", "counts"),
    [  # derived: judgement has it that five draws in a hundred more are noticed; the risk is that of `frequent` throughout
        (0.60, 0.58, False),
        (0.60, 0.60, False),
        (0.60, 0.64, False),
        (0.60, 0.67, True),
        (0.60, 0.75, True),
        (0.17, 0.21, True),  # a higher risk counts where it is no more often than that,
        (0.19, 0.21, False),  # unless the draws cannot tell on which side of the edge it was before
    ],
)
def test_a_trouble_of_residents_counts_where_newcomers_make_it_worse(
    scene: Scene, catalog: Catalog, before: float, after: float, *, counts: bool
) -> None:
    alone, together = (found(scene, catalog, share, Consequence.MARGINAL, resident=True) for share in (before, after))
    standing = Assessment(scene, catalog, _answers={HAZARD: Answer((alone,), ())})
    assessed = Assessment(scene, catalog, standing, {HAZARD: Answer((together,), ())})
    assert bool(assessed.counted(HAZARD)) is counts


def test_a_trouble_of_newcomers_always_counts(scene: Scene, catalog: Catalog) -> None:
    finding = found(scene, catalog, 0.6, Consequence.MARGINAL, resident=False)
    standing = Assessment(scene, catalog, _answers={HAZARD: Answer((finding,), ())})
    assessed = Assessment(scene, catalog, standing, {HAZARD: Answer((finding,), ())})
    assert assessed.counted(HAZARD) == (finding,)


def test_a_worse_consequence_in_a_few_more_draws_counts(scene: Scene, catalog: Catalog) -> None:
    """Of the same risk, but a fish dies that only suffered before: frequent stress is as risky as an improbable death."""
    suffers = found(scene, catalog, 0.6, Consequence.MARGINAL, resident=True)
    happens = np.arange(DRAWS) < 0.07 * DRAWS
    dies = suffers._replace(
        found=suffers.found._replace(outcomes=(Outcome(Consequence.CRITICAL, happens), *suffers.found.outcomes))
    )
    standing = Assessment(scene, catalog, _answers={HAZARD: Answer((suffers,), ())})
    assert Assessment(scene, catalog, standing, {HAZARD: Answer((dies,), ())}).counted(HAZARD)
