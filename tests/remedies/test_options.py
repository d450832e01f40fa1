"""Which of several changes is taken: tried on plans whose outcome is written down, not simulated."""

from __future__ import annotations

from collections.abc import Callable, Mapping

import numpy as np
import pytest

from coswim.findings.finding import Consequence, FindingKey, Found, Outcome
from coswim.hazards import HAZARDS
from coswim.plans.reading import read_plan
from coswim.profiles.catalog import Catalog
from coswim.remedies.change import Change, Ladder
from coswim.remedies.changed_plan import ChangedPlan
from coswim.remedies.options import Option, options_against
from coswim.remedies.search import search
from coswim.remedies.smallest import smallest_change
from coswim.remedies.trial import Trial
from coswim.simulation.scene import Effort, build_scene
from coswim.text.quantities import Box
from coswim.verdict.assessment import Answer, Assessment
from coswim.verdict.rating import Finding, rate
from coswim.verdict.risk import BEARABLE

DRAWS = 40
EFFORT = Effort(draws=DRAWS)
PLAN = """
tank: {size: 60 x 30 x 30 cm, temperature: 26 C, ph: 7, hardness: 8 dGH, lid: no}
residents: [{species: pearl gourami, count: 2, length: 10 cm}]
proposals: [{name: oscars, add: [{species: oscar, count: 2, length: 20 cm}]}]
"""


class Written(Trial):
    """A trial whose changes come to what is written: what each leaves of a finding, and which sets solve all."""

    left: Mapping[str, int]
    solving: Callable[[ChangedPlan], bool]

    def left_of(self, finding: Finding, change: Change) -> int:
        return self.left.get(change.words, finding.risk)

    def is_noticed(self, finding: Finding, change: Change) -> bool:  # noqa: ARG002, asked like the trial
        return True

    def solves(self, change: Change) -> bool:
        return self.solving(change.apply(self.plan))


@pytest.fixture(scope="module")
def trial(catalog: Catalog) -> Trial:
    read = read_plan(PLAN, "plan.yaml", catalog)
    alone = Assessment(build_scene(read, None, catalog, EFFORT), catalog)
    scene = build_scene(read, read.plan.proposals[0], catalog, EFFORT)
    return Trial(ChangedPlan.of(read, read.plan.proposals[0]), Assessment(scene, catalog, alone), alone, EFFORT)


def written(trial: Trial, left: Mapping[str, int], solving: Callable[[ChangedPlan], bool]) -> Written:
    made = Written(trial.plan, trial.assessed, trial.alone, trial.effort)
    object.__setattr__(made, "left", left)
    object.__setattr__(made, "solving", solving)
    return made


def one_step(words: str, touches: str, effort: int) -> Ladder:
    """A ladder of a single step that changes nothing but the tank's number of hiding places, so as to be told apart."""
    number = 10 + effort
    return Ladder([Change((touches,), words, lambda plan: plan.with_tank(hiding_places=number))], effort=effort)


def test_what_solves_comes_first_then_what_helps_more_then_what_asks_less(trial: Trial) -> None:
    finding = trial.assessed.findings[0]
    assert finding.risk > 12
    ladders = [
        one_step("helps a little", "a", 0),
        one_step("solves with effort", "b", 5),
        one_step("helps more", "c", 1),
        one_step("solves easily", "d", 2),
        one_step("solves as well, of the same thing", "d", 7),
    ]
    left = {"helps a little": 12, "solves with effort": 4, "helps more": 10, "solves easily": 7}
    left["solves as well, of the same thing"] = 7
    made = written(trial, left, lambda plan: plan.tank.hiding_places in {15, 12, 17})
    order = [option.change.words for option in options_against(finding, made, ladders, aim=BEARABLE)]
    assert order == ["solves easily", "solves with effort", "helps more", "helps a little"]


def tanks(*litres: int) -> Ladder:
    """Larger tanks of so many litres."""

    def sized(number: int) -> Change:
        size = Box(10.0 * number, 10.0, 10.0)
        return Change(("size",), f"{number} L", lambda plan: plan.with_tank(size=size))

    return Ladder([sized(number) for number in litres], effort=9)


def test_a_step_further_is_taken_where_only_all_findings_together_are_grave(trial: Trial) -> None:
    """Neither the smallest step that mends the finding nor the last one solves all; one between does."""
    finding = trial.assessed.findings[0]
    made = written(trial, {f"{number} L": 7 for number in (100, 200, 300)}, lambda plan: plan.tank.litres == 200)
    object.__setattr__(made, "fails_only_by_all_together", lambda change: change.words == "100 L")
    (option,) = options_against(finding, made, [tanks(100, 200, 300)], aim=BEARABLE)
    assert option.change.words == "200 L"


LID = Ladder([Change(("lid",), "a lid", lambda plan: plan.with_tank(lid=True))], effort=1)


@pytest.mark.parametrize(
    ("with_lid", "taken"),
    [  # derived: another change beside a large tank must spare half of its litres to be worth it
        (100, "a lid and 100 L"),
        (200, "a lid and 200 L"),
        (300, "400 L"),
        (380, "400 L"),
    ],
)
def test_a_second_change_must_spare_half_of_a_large_tank(trial: Trial, with_lid: int, taken: str) -> None:
    finding = trial.assessed.findings[0]
    ladder = tanks(100, 200, 300, 380, 400)
    made = written(trial, {}, lambda plan: plan.tank.litres >= (with_lid if plan.tank.lid else 400))
    options: dict[FindingKey, list[Option]] = {
        finding.found.key: [Option(ladder, 4, 0), Option(LID, 0, finding.risk - 1)]
    }
    best = smallest_change(made, [finding], options)
    assert best is not None
    assert best.words == taken


LID_WORDS = "keep a lid on the tank"


class WithLid(Trial):
    """A trial on which a lid comes to what is written, and every other change to nothing."""

    lidded: Assessment

    def after(self, change: Change) -> Trial:
        assessed = self.lidded if change.words == LID_WORDS else self.assessed
        return Trial(change.apply(self.plan), assessed, self.alone, self.effort)


def troubles(trial: Trial, **shares: float) -> Assessment:
    """The newcomers suffer stress by each of these hazards in a share of the draws, and nothing else."""
    fish = next(group for group in trial.assessed.scene.groups if not group.is_resident)
    answers = {hazard.ID: Answer((), ()) for hazard in HAZARDS}
    for hazard, share in shares.items():
        outcome = Outcome(Consequence.MARGINAL, np.arange(DRAWS) < round(share * DRAWS))
        rated = rate(Found(hazard, None, fish, "", outcomes=(outcome,)), trial.assessed.catalog)
        assert isinstance(rated, Finding)
        answers[hazard] = Answer((rated,), ())
    return Assessment(trial.assessed.scene, trial.assessed.catalog, trial.alone, answers)


@pytest.mark.parametrize(
    ("space_after", "is_shown"),
    # derived: stress in 0.6 of the draws is serious (14), in 0.1 medium (10); the whole stays serious where one is
    [(0.1, True), (0.6, False)],
    ids=["ends the trouble", "brings another in its place"],
)
def test_a_change_that_brings_another_grave_trouble_is_no_remedy(
    trial: Trial, space_after: float, *, is_shown: bool
) -> None:
    before = troubles(trial, escape=0.6, space=0.1)
    made = WithLid(trial.plan, before, trial.alone, EFFORT)
    object.__setattr__(made, "lidded", troubles(trial, escape=0.1, space=space_after))
    found = search(made, lambda _: None)
    assert found is not None
    escape = next(finding for finding in before.findings if finding.found.hazard == "escape")
    assert (LID_WORDS in [remedy.change for remedy in found.for_finding[escape.found.key]]) is is_shown
