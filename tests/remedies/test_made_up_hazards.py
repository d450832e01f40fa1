"""The search among hazards that are made up, so that what ought to be found follows by arithmetic.

A made-up hazard happens in a share of the draws that a rule reads off the tank. Risks are those of the table
(published: MIL-STD-882D): marginal in 20 to 50 % of the draws is 12, in 5 to 20 % 10, in 1 to 5 % 7, below 4;
catastrophic from 50 % is 20, from 20 % 19. Up to 11 is bearable, up to 3 low.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from textwrap import dedent
from types import MappingProxyType

import numpy as np
import pytest

from coswim.findings.finding import Consequence, Found, Outcome
from coswim.plans.plan import Proposal
from coswim.plans.reading import read_plan
from coswim.profiles.catalog import Catalog
from coswim.remedies.change import Remedy
from coswim.remedies.changed_plan import ChangedPlan
from coswim.remedies.search import search
from coswim.remedies.trial import Trial
from coswim.simulation.scene import Effort, Scene, build_scene
from coswim.verdict.assessment import Assessment

DRAWS = 200
MARGINAL, DEADLY = Consequence.MARGINAL, Consequence.CATASTROPHIC
LID = "keep a lid on the tank"
RUN_IN = "let the filter run in until ammonia and nitrite read zero before they move in"
PLACES = "spread the food over 2 places"
PLANTS = "plant the tank softly"


@dataclass(frozen=True)
class MadeUp:
    """A hazard to the first newcomers, or to the residents, with its rule; `start` is the first draw it happens in."""

    ID: str
    share: Callable[[Scene], float]
    consequence: Consequence = MARGINAL
    start: float = 0.0
    species: str = ""
    to_residents: bool = False

    def find(self, scene: Scene) -> Iterator[Found]:
        """The finding, in the share of the draws that the rule says."""
        draws = np.arange(DRAWS) / DRAWS
        happens = (draws >= self.start) & (draws < self.start + self.share(scene))
        for group in scene.groups:
            if group.is_resident is self.to_residents and self.species in group.profile.name:
                yield Found(self.ID, None, group, f"{self.ID}.", (Outcome(self.consequence, happens),))
                return


@dataclass(frozen=True)
class Answered:
    """What was found: the remedies of each hazard's finding, with the risks that they leave, and the best change."""

    shown: Mapping[str, list[Remedy]]
    best: str
    risk: int

    def changes(self, hazard: str) -> list[str]:
        """What is offered against a hazard."""
        return [remedy.change for remedy in self.shown.get(hazard, [])]


Ask = Callable[..., Answered]
PLAN = """
    tank: {{size: {size} cm, temperature: 26 C, ph: 7, hardness: 6 dGH, lid: no, filter: young, furnishing: bare}}
    residents: [{{species: freshwater angelfish, count: 1, length: 8 cm}}]
    proposals: [{{name: newcomers, add: [{add}]}}]
"""
TETRAS, CORYDORAS = (
    "{species: Congo tetra, count: 4, length: 6 cm}",
    "{species: bronze corydoras, count: 3, length: 5 cm}",
)


@pytest.fixture
def ask(catalog: Catalog, monkeypatch: pytest.MonkeyPatch) -> Ask:
    """Search for remedies against made-up hazards and no others, in an open tank of 200 L."""

    def run(*hazards: MadeUp, size: str = "100 x 40 x 50", add: str = TETRAS, newcomers: bool = True) -> Answered:
        by_id = MappingProxyType({hazard.ID: hazard for hazard in hazards})
        monkeypatch.setattr("coswim.verdict.assessment.BY_ID", by_id)
        monkeypatch.setattr("coswim.remedies.trial.BY_ID", by_id)
        read = read_plan(dedent(PLAN.format(size=size, add=add)), "plan.yaml", catalog)
        effort = Effort(draws=DRAWS)
        alone = Assessment(build_scene(read, None, catalog, effort), catalog)
        if newcomers:
            plan = ChangedPlan.of(read, read.plan.proposals[0])
            assessed = Assessment(build_scene(read, plan.proposal, catalog, effort), catalog, alone)
            trial = Trial(plan, assessed, alone, effort)
        else:
            nobody = Proposal.model_construct(name="as it stands", add=(), moves_in="last")
            trial = Trial(ChangedPlan.of(read, nobody), alone, None, effort)
        found = search(trial, lambda _: None)
        if found is None:
            return Answered({}, "", trial.assessed.risk_number)
        shown = {key[0]: list(remedies) for key, remedies in found.for_finding.items() if remedies}
        return Answered(shown, found.best.change if found.best else "", trial.assessed.risk_number)

    return run


def unless(done: Callable[[Scene], bool], share: float = 0.6, *, then: float = 0.0) -> Callable[[Scene], float]:
    """It happens in a share of the draws, and in another once something is done."""
    return lambda scene: then if done(scene) else share


def has_lid(scene: Scene) -> bool:
    return scene.tank.lid


def has_run_in(scene: Scene) -> bool:
    return scene.tank.filter == "mature"


def is_fed_apart(scene: Scene) -> bool:
    return scene.feeding.places > 1


def is_planted(scene: Scene) -> bool:
    return scene.tank.furnishing == "soft plants"


def holds(litres: float) -> Callable[[Scene], bool]:
    return lambda scene: scene.tank.size.litres >= litres


def number(scene: Scene, species: str = "Congo") -> int:
    return sum(group.count for group in scene.groups if species in group.profile.name)


def test_a_change_that_does_away_with_it_is_offered_and_best(ask: Ask) -> None:
    found = ask(MadeUp("escape", unless(has_lid)))
    assert found.risk == 14
    assert [(one.change, one.finding_risk, one.risk) for one in found.shown["escape"]] == [(LID, 0, 0)]
    assert found.best == LID


def test_a_change_must_lower_the_risk(ask: Ask) -> None:
    """A quarter of the draws spared, and 10 before and after."""
    assert ask(MadeUp("escape", unless(has_lid, 0.12, then=0.09))).changes("escape") == []
    assert ask(MadeUp("escape", unless(has_lid, 0.12, then=0.04))).changes("escape") == [LID]


@pytest.mark.parametrize(("before", "after", "offered"), [(0.205, 0.195, False), (0.3, 0.195, True)])
def test_a_change_must_spare_so_many_draws_that_a_keeper_notices(
    ask: Ask, before: float, after: float, *, offered: bool
) -> None:
    """Both take 12 to 10; one in 20 draws fewer is not noticed, one in three is."""
    found = ask(MadeUp("escape", unless(has_lid, before, then=after)))
    assert found.risk == 12
    assert (found.changes("escape"), found.best) == (([LID], LID) if offered else ([], ""))


def test_of_changes_that_work_the_one_of_least_effort_is_best(ask: Ask) -> None:
    """A lid leaves 10, a larger tank nothing."""
    found = ask(MadeUp("escape", lambda scene: 0.0 if holds(300)(scene) else 0.1 if has_lid(scene) else 0.6))
    assert [(one.change[:10], one.risk) for one in found.shown["escape"]] == [("use a tank", 0), (LID[:10], 10)]
    assert found.best == LID


@pytest.mark.parametrize(("crowded", "offered"), [(0.3, False), (0.1, True)])
def test_nothing_grave_may_come_in_its_place_where_the_whole_stays(ask: Ask, crowded: float, *, offered: bool) -> None:
    """Company helps against loneliness, but where it crowds the tank (12) it is no remedy; a little (10) may be."""
    found = ask(
        MadeUp("gape-fit", lambda _: 0.6, DEADLY),
        MadeUp("schooling", unless(lambda scene: number(scene) >= 5, 0.3)),
        MadeUp("space", unless(lambda scene: number(scene) < 5, crowded)),
    )
    assert found.risk == 20
    assert bool(found.changes("schooling")) == offered


def test_nobody_who_lives_there_is_harmed(ask: Ask) -> None:
    """A lid keeps the newcomers in and the residents short of air, with or without newcomers."""
    harm = MadeUp("water-load", unless(lambda scene: not scene.tank.lid), DEADLY, to_residents=True)
    found = ask(MadeUp("escape", unless(has_lid)), harm)
    assert (found.changes("escape"), found.best) == ([], "")


def test_something_is_left_to_buy(ask: Ask) -> None:
    """Each kind can be left out, and neither helps the other."""
    found = ask(
        MadeUp("gape-fit", lambda _: 0.6, DEADLY, species="Congo"),
        MadeUp("injury", lambda _: 0.6, DEADLY, species="corydoras"),
        add=f"{TETRAS}, {CORYDORAS}",
    )
    assert found.changes("gape-fit") == ["leave the Congo tetras out"]
    assert found.changes("injury") == ["leave the bronze corydoras out"]
    assert found.best == ""


def test_the_tank_as_it_stands_may_need_several_changes(ask: Ask) -> None:
    found = ask(
        MadeUp("escape", unless(has_lid), to_residents=True),
        MadeUp("water-load", unless(has_run_in), to_residents=True),
        newcomers=False,
    )
    assert found.best == f"{LID} and {RUN_IN}"


def test_up_to_three_changes_go_together(ask: Ask) -> None:
    """A plan that needs four is another plan."""
    fed, kept, run_in = (
        MadeUp("feeding-competition", unless(is_fed_apart)),
        MadeUp("escape", unless(has_lid)),
        MadeUp("water-load", unless(has_run_in)),
    )
    assert ask(fed, kept, run_in).best == f"{PLACES}, {LID} and {RUN_IN}"
    assert ask(fed, kept, run_in, MadeUp("aggression", unless(is_planted))).best == ""


def test_two_changes_may_do_together_what_neither_does(ask: Ask) -> None:
    """Deadly in 60 % of the draws is 20, in 30 % 19."""
    found = ask(MadeUp("escape", lambda scene: 0.3 * (2 - has_lid(scene) - has_run_in(scene)), DEADLY))
    assert found.best == f"{LID} and {RUN_IN}"


def test_a_step_that_is_enough_alone_may_have_to_be_larger_beside_another(ask: Ask) -> None:
    """Four tetras want 300 L, six want 500; from 200 L the steps of the ladder are 300, 504, 576 L ..."""
    found = ask(
        MadeUp("schooling", unless(lambda scene: number(scene) >= 6)),
        MadeUp("space", lambda scene: 0.6 * (scene.tank.size.litres < (500 if number(scene) >= 6 else 250))),
    )
    assert found.best == ("add 6 Congo tetras instead of 4 and use a tank of 140 x 60 x 60 cm (504 L) or larger")


def test_what_one_change_brings_another_may_mend(ask: Ask) -> None:
    """A lid over a filter that has not run in."""
    found = ask(
        MadeUp("escape", unless(has_lid)),
        MadeUp("water-load", unless(lambda scene: has_run_in(scene) or not scene.tank.lid)),
    )
    assert found.best == f"{LID} and {RUN_IN}"


def test_nobody_is_left_out_who_could_have_company(ask: Ask) -> None:
    found = ask(
        MadeUp("schooling", unless(lambda scene: number(scene) in {0, 6}), species="Congo"),
        MadeUp("nipping", unless(lambda scene: number(scene, "corydoras") in {0, 6}), species="corydoras"),
        add=f"{TETRAS}, {CORYDORAS}",
    )
    assert found.best == "add 6 Congo tetras instead of 4 and add 6 bronze corydoras instead of 3"


def test_sets_are_tried_until_one_works(ask: Ask) -> None:
    """Food at two places, a lid or a riper filter would do for the newcomers, but each brings something new."""
    brings = (has_lid, has_run_in, is_fed_apart)
    found = ask(
        MadeUp("nipping", unless(lambda scene: any(one(scene) for one in (*brings, is_planted)))),
        MadeUp("space", unless(holds(300))),
        MadeUp("water-load", unless(lambda scene: not any(one(scene) for one in brings))),
    )
    assert found.best == f"{PLANTS} and use a tank of 120 x 50 x 50 cm (300 L) or larger"


@pytest.mark.parametrize(
    ("beside", "best"),
    [
        # derived: the steps are 300, 504, 576 and 833 L; the tank alone must hold 800 L, half of 833 is 416
        (300, f"{LID} and use a tank of 120 x 50 x 50 cm (300 L) or larger"),
        (500, "use a tank of 170 x 70 x 70 cm (833 L) or larger"),
    ],
)
def test_another_change_is_worth_half_of_a_large_tank(ask: Ask, beside: float, best: str) -> None:
    """A third less water is not worth it: who buys a tank anyway buys the one that does by itself."""

    def share(scene: Scene) -> float:
        if scene.tank.size.litres >= (beside if has_lid(scene) else 800):
            return 0.0
        return 0.3 if has_lid(scene) else 0.6

    assert ask(MadeUp("aggression", share, DEADLY)).best == best


def test_a_tank_is_named_once_and_a_larger_one_again(ask: Ask) -> None:
    small, same, large = (
        MadeUp("space", unless(holds(300)), DEADLY),
        MadeUp("water-load", unless(holds(250), 0.3), DEADLY),
        MadeUp("aggression", unless(holds(500))),
    )
    found = ask(small, same, large, MadeUp("gape-fit", lambda _: 0.6, DEADLY))
    assert found.changes("space") == ["use a tank of 120 x 50 x 50 cm (300 L) or larger"]
    assert found.changes("water-load") == []
    assert found.changes("aggression") == ["use a tank of 140 x 60 x 60 cm (504 L) or larger"]


def test_a_tank_that_few_homes_hold_is_the_last_way_out(ask: Ask) -> None:
    """From 720 L the steps pass 2,000 L; such a tank stands in the best change alone."""
    vast = ask(MadeUp("space", unless(holds(2500))), size="200 x 60 x 60")
    assert vast.changes("space") == []
    assert vast.best.endswith("more than most homes can hold")
    either = ask(MadeUp("space", unless(lambda scene: has_lid(scene) or holds(2500)(scene))), size="200 x 60 x 60")
    assert either.best == LID
    both = ask(MadeUp("space", unless(holds(2500))), MadeUp("escape", unless(has_lid)), size="200 x 60 x 60")
    assert both.best.startswith(f"{LID} and use a tank")


def test_a_finding_is_offered_three_changes_at_most_and_one_of_each_thing(ask: Ask) -> None:
    """Any of four things would do, and any food but the present one."""
    done = [has_lid, has_run_in, is_fed_apart, is_planted]
    four = ask(MadeUp("aggression", unless(lambda scene: any(one(scene) for one in done))))
    assert len(four.changes("aggression")) == 3
    fed = ask(MadeUp("water-load", unless(lambda scene: scene.feeding.food != ("mixed",))))
    assert len(fed.changes("water-load")) == 1
    best_food = ask(
        MadeUp("water-load", lambda scene: 0.6 if scene.feeding.food == ("mixed",) else worst_but_live(scene))
    )
    assert best_food.changes("water-load") == ["feed live food"]


def worst_but_live(scene: Scene) -> float:
    return 0.0 if scene.feeding.food == ("live",) else 0.3


def test_the_first_step_is_offered_that_makes_all_possible(ask: Ask) -> None:
    """Space is bearable from 300 L, but only from 500 L is the whole."""
    found = ask(MadeUp("space", unless(holds(250), then=0.1)), MadeUp("aggression", unless(holds(500), 0.3)))
    assert found.changes("space") == ["use a tank of 140 x 60 x 60 cm (504 L) or larger"]


def test_part_of_the_way_is_offered_where_the_whole_goes_down_too(ask: Ask) -> None:
    """From 20 to 13 is from high to serious; from 20 to 19 is no way at all, nor is any where the whole stays."""
    part = MadeUp("escape", unless(has_lid, then=0.02), DEADLY)
    assert ask(part).changes("escape") == [LID]
    assert ask(MadeUp("escape", unless(has_lid, then=0.3), DEADLY)).changes("escape") == []
    assert ask(part, MadeUp("gape-fit", lambda _: 0.6, DEADLY)).changes("escape") == []


@pytest.mark.parametrize(("each", "offered"), [(0.07, False), (0.06, True)])
def test_where_many_small_findings_are_grave_together_the_whole_must_fall(
    ask: Ask, each: float, *, offered: bool
) -> None:
    """7 % of the draws are 10, and with three more of that size 12; without the first 21 % stay 12, 18 % are 10."""
    others = (MadeUp(f"other {n}", lambda _: each, start=0.25 * n) for n in (1, 2, 3))
    found = ask(MadeUp("escape", unless(has_lid, 0.07)), *others)
    assert found.risk == 12
    assert (found.changes("escape"), found.best) == (([LID], LID) if offered else ([], ""))


def test_care_lowers_the_three_leading_findings_in_this_tank(ask: Ask) -> None:
    """Four findings of 10, 10, 10 and 7: nothing is searched for the last; no larger tank, nobody left out."""
    found = ask(
        MadeUp("escape", unless(has_lid, 0.12)),
        MadeUp("water-load", unless(lambda scene: has_run_in(scene) or holds(300)(scene), 0.11)),
        MadeUp("feeding-competition", unless(is_fed_apart, 0.1)),
        MadeUp("aggression", unless(is_planted, 0.02)),
        add=f"{TETRAS}, {CORYDORAS}",
    )
    assert found.risk == 10
    changes = {name: found.changes(name) for name in found.shown}
    assert changes == {"escape": [LID], "water-load": [RUN_IN], "feeding-competition": [PLACES]}
    assert found.best == ""


def test_care_for_one_thing_is_not_paid_for_with_another(ask: Ask) -> None:
    lonely = MadeUp("schooling", unless(lambda scene: number(scene) >= 5, 0.1))
    assert ask(lonely).changes("schooling") == ["add 5 Congo tetras instead of 4"]
    crowded = MadeUp("space", unless(lambda scene: number(scene) < 5, 0.1))
    assert ask(lonely, crowded).changes("schooling") == []


def test_where_all_is_reasonable_nothing_is_searched(ask: Ask) -> None:
    """Negligible in 5 to 20 % of the draws is 3."""
    found = ask(MadeUp("escape", unless(has_lid, 0.1), Consequence.NEGLIGIBLE))
    assert (found.risk, found.shown, found.best) == (3, {}, "")
