"""A trial shares with the plan that it changes what both have in common, and sharing changes no figure."""

from __future__ import annotations

from textwrap import dedent

import pytest

from coswim.hazards import HAZARDS
from coswim.plans.amount import Amount
from coswim.plans.reading import read_plan
from coswim.profiles.catalog import Catalog
from coswim.remedies.change import Change
from coswim.remedies.changed_plan import ChangedPlan
from coswim.remedies.ladders import ladders
from coswim.remedies.trial import Trial
from coswim.simulation.scene import Effort, build_scene
from coswim.text.quantities import Range
from coswim.verdict.assessment import Assessment
from coswim.verdict.risk import BEARABLE

PLAN = """
    tank: {size: 100 x 40 x 50 cm, temperature: 26 C, ph: 7, hardness: 8 dGH, lid: no, filter: young}
    residents: [{species: freshwater angelfish, count: 2, length: 10 cm}]
    proposals:
      - name: company
        add: [{species: tiger barb, count: 6, length: 5 cm}, {species: bronze corydoras, count: 4, length: 5 cm}]
"""
EFFORT = Effort(draws=60)


@pytest.fixture(scope="module")
def trial(catalog: Catalog) -> Trial:
    read = read_plan(dedent(PLAN), "plan.yaml", catalog)
    return afresh(ChangedPlan.of(read, read.plan.proposals[0]), catalog)


def afresh(plan: ChangedPlan, catalog: Catalog) -> Trial:
    """A plan on trial that shares nothing with another."""
    alone = Assessment(build_scene(plan.read, None, catalog, EFFORT), catalog)
    scene = build_scene(plan.read, plan.proposal, catalog, EFFORT)
    return Trial(plan, Assessment(scene, catalog, alone), alone, EFFORT)


def said(assessed: Assessment, hazard: str) -> list[object]:
    """What a hazard says."""
    return [
        (f.found.key, f.found.sentence, f.found.because, f.likelihood, f.risk, f.consequence)
        for f in assessed.answer(hazard).rated
    ]


def test_sharing_changes_no_figure(trial: Trial, catalog: Catalog) -> None:
    """Every kind of change: tried beside the original and afresh, with newcomers and without."""
    first = {ladder.steps[0].touches: ladder.steps[0] for ladder in ladders(trial.plan)}
    for change in first.values():
        shared, anew = trial.after(change), afresh(change.apply(trial.plan), catalog)
        assert shared.alone is not None
        assert anew.alone is not None
        for hazard in HAZARDS:
            assert said(shared.assessed, hazard.ID) == said(anew.assessed, hazard.ID), f"{hazard.ID}: {change.words}"
            assert said(shared.alone, hazard.ID) == said(anew.alone, hazard.ID), f"{hazard.ID}: {change.words}"


def test_what_harms_the_residents_solves_nothing(catalog: Catalog) -> None:
    """Cooled to suit the danios the tank is too cold for the gouramis, with or without danios."""
    plan = """
        tank: {size: 180 x 60 x 60 cm, temperature: 26 C, ph: 7, hardness: 6 dGH}
        residents: [{species: pearl gourami, count: 4, length: 9 cm}]
        proposals: [{name: danios, add: [{species: zebrafish, count: 8, length: 4 cm}]}]
    """
    read = read_plan(dedent(plan), "plan.yaml", catalog)
    trial = afresh(ChangedPlan.of(read, read.plan.proposals[0]), catalog)
    cooler = Change(("temperature",), "keep the water at 19 C", lambda plan: plan.with_tank(temperature=Range(19, 19)))
    alone = trial.after(cooler).alone
    assert alone is not None
    assert trial.after(cooler).assessed.risk_number <= BEARABLE < alone.risk_number
    assert trial.harms_residents(cooler)
    assert not trial.solves(cooler)


def test_a_change_of_feeding_is_tried_on_the_residents_too(trial: Trial) -> None:
    """So little food starves them, with newcomers and without."""
    starved = Change(("amount",), "feed next to nothing", lambda plan: plan.with_feeding(amount=Amount(grams=0.001)))
    before, after = trial.alone, trial.after(starved).alone
    assert before is not None
    assert after is not None
    assert after.risk_number > BEARABLE >= before.risk_number
    assert trial.harms_residents(starved)
