"""Remedies are tested on a changed plan, and what they state is what screening that plan gives."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace
from pathlib import Path
from textwrap import dedent

import pytest
from tests.remedies.conftest import EFFORT

from coswim.plans.reading import read_plan
from coswim.profiles.catalog import Catalog
from coswim.remedies.change import Change, Remedy
from coswim.remedies.changed_plan import ChangedPlan
from coswim.remedies.ladders import LAST_RESORT, ladders
from coswim.screening import Screened, Screening, screen
from coswim.verdict.record import believe
from coswim.verdict.risk import BEARABLE

BETWEEN = "\n  - name: "
EXAMPLES = {
    path.stem: BETWEEN.join(path.read_text(encoding="utf-8").split(BETWEEN)[:2])
    for path in sorted((Path(__file__).parents[2] / "examples").glob("*.yaml"))
}
"""Each with the first of its proposals: every other one searches its own tank in the same way."""
OPEN_TANK = """
    tank: {size: 100 x 40 x 50 cm, temperature: 26 C, ph: 7, hardness: 8 dGH, lid: no}
    residents: [{species: pearl gourami, count: 5, length: 10 cm}]
    proposals: [{name: ropefish, add: [{species: ropefish, count: 3, length: 30 cm}]}]
"""
PIKE_LIKE = """
    tank: {size: 180 x 60 x 60 cm, temperature: 26 C, ph: 7, hardness: 6 dGH}
    feeding: {food: sinking pellet, at: night}
    residents: [{species: saddled bichir, length: 38 cm}]
    proposals: [{name: pleco, add: [{species: sailfin pleco, count: 1, length: 12 cm}]}]
"""
MORSELS = """
    tank: {size: 150 x 60 x 60 cm, temperature: 25 C, ph: 7, hardness: 8 dGH}
    residents: [{species: oscar, count: 1, length: 22 cm}]
    proposals:
      - {name: morsels, add: [{species: neon tetra, count: 12, length: 3 cm}]}
      - name: morsels and company
        add: [{species: neon tetra, count: 12, length: 3 cm}, {species: silver dollar, count: 5, length: 13 cm}]
"""
HATCHETFISH = """
    tank: {size: 80 x 40 x 40 cm, temperature: 26 C, ph: 6.5, hardness: 4 dGH, lid: no}
    feeding: {places: 2}
    residents: [{species: cardinal tetra, count: 8, length: 3 cm}]
    proposals: [{name: a hatchetfish, add: [{species: marbled hatchetfish, count: 1, length: 3.5 cm}]}]
"""
NO_WATER_CHANGES = """
    tank: {size: 120 x 50 x 50 cm, temperature: 26 C, ph: 7, hardness: 8 dGH, water_change: {share: 0 %}}
    residents: [{species: oscar, count: 1, length: 20 cm}]
    proposals: [{name: silver dollars, add: [{species: silver dollar, count: 6, length: 8 cm}]}]
"""
SECOND_OSCAR = """
    tank: {size: 180 x 60 x 60 cm, temperature: 26 C, ph: 7, hardness: 8 dGH, water_change: {share: 50 %}}
    residents:
      - {species: oscar, count: 1, length: 25 cm, this_fish: {other_fish: aggressive}}
    proposals: [{name: second oscar, add: [{species: oscar, count: 1, length: 8 cm}]}]
"""
NEW_FILTER = """
    tank: {size: 60 x 30 x 30 cm, temperature: 25 C, ph: 8.0, hardness: 12 dGH, filter: new}
    residents: [{species: platy, count: 2, length: 4 cm}]
    proposals:
      - name: all at once
        add:
          - {species: guppy, count: 10, length: 4 cm}
          - {species: molly, count: 5, length: 6 cm}
          - {species: bronze corydoras, count: 6, length: 4 cm}
"""
TWO_PAIRS = """
    tank:
      size: 240 x 80 x 70 cm
      temperature: 26 C
      ph: 7.2
      hardness: 10 dGH
      hiding_places: 20
      water_change: {share: 50 %, every: 1 day}
    feeding: {places: 4}
    residents: [{species: Jack Dempsey, count: 2, length: 18 cm}]
    proposals: [{name: another pair, add: [{species: Jack Dempsey, count: 2, length: 18 cm}]}]
"""
HURT_ANOTHER = SECOND_OSCAR.replace(
    "this_fish: {other_fish: aggressive}",
    "lived_with: [{species: oscar, length: 20 cm, time: 3 months, outcome: it hurt them}]",
)
COMBINED = [NO_WATER_CHANGES, SECOND_OSCAR, NEW_FILTER, TWO_PAIRS]
COMBINED_NAMES = ["no-water-changes", "second-oscar", "new-filter", "two-pairs"]

Search = Callable[[str], Screening]
Again = Callable[..., Screened]


def remedies_of(proposal: Screened) -> list[Remedy]:
    """Every remedy of a proposal, those of its findings and the best change."""
    best = [proposal.best_change] if proposal.best_change else []
    return [remedy for some in proposal.remedies.values() for remedy in some] + best


@pytest.mark.parametrize(
    "text",
    [*EXAMPLES.values(), OPEN_TANK, PIKE_LIKE, MORSELS, HATCHETFISH, *COMBINED],
    ids=[*EXAMPLES, "open-tank", "pike-like", "morsels", "hatchetfish", *COMBINED_NAMES],
)
def test_what_a_remedy_states_is_what_screening_the_changed_plan_gives(
    searched: Search, screened_again: Again, catalog: Catalog, text: str
) -> None:
    """A record says what its fish did in the tank as it stands, so it is read once."""
    belief = believe(read_plan(dedent(text), "plan.yaml", catalog), catalog, EFFORT).belief
    tested: set[str] = set()
    for proposal in searched(text).proposals:
        for remedy in remedies_of(proposal):
            if f"{proposal.name} {remedy.change}" in tested:
                continue
            tested.add(f"{proposal.name} {remedy.change}")
            again = screened_again(remedy.changed, belief)
            assert remedy.risk == (again.risk.risk if again.risk else 0), remedy.change
            assert remedy.verdict == again.verdict
            assert remedy.level == (again.risk.level if again.risk else "low")


def test_a_remedy_takes_a_fish_for_what_its_record_made_of_it(
    searched: Search, screened_again: Again, catalog: Catalog
) -> None:
    """What it did, it did in the tank as it stands: a larger one that is to be bought says nothing new of it."""
    proposal = searched(HURT_ANOTHER).proposals[0]
    read = read_plan(dedent(HURT_ANOTHER), "plan.yaml", catalog)
    belief = believe(read, catalog, EFFORT).belief
    assert remedies_of(proposal)
    for remedy in remedies_of(proposal):
        again = screened_again(remedy.changed, belief)
        assert remedy.risk == (again.risk.risk if again.risk else 0), remedy.change


@pytest.mark.parametrize("text", [OPEN_TANK, PIKE_LIKE, MORSELS, HATCHETFISH])
def test_a_remedy_lowers_the_proposals_risk_or_that_of_its_finding(searched: Search, text: str) -> None:
    for proposal in searched(text).proposals:
        assert proposal.risk is not None
        for finding in proposal.findings:
            assert finding.risk > BEARABLE or not proposal.remedies_for(finding)
            for remedy in proposal.remedies_for(finding):
                assert remedy.risk <= proposal.risk.risk
                assert remedy.risk < proposal.risk.risk or remedy.finding_risk < finding.risk


@pytest.mark.parametrize("text", [OPEN_TANK, PIKE_LIKE, MORSELS, HATCHETFISH])
def test_the_best_remedy_comes_first(searched: Search, text: str) -> None:
    for proposal in searched(text).proposals:
        for finding in proposal.findings:
            ranks = [(remedy.risk, remedy.finding_risk) for remedy in proposal.remedies_for(finding)]
            assert ranks == sorted(ranks)


def test_a_jumper_in_an_open_tank_needs_a_lid(searched: Search) -> None:
    proposal = searched(OPEN_TANK).proposals[0]
    escape = next(finding for finding in proposal.findings if finding.found.hazard == "escape")
    assert proposal.remedies_for(escape)[0].change == "keep a lid on the tank"
    assert proposal.remedies_for(escape)[0].finding_risk == 0
    assert proposal.remedies_for(escape)[0].changed.tank.lid


def test_the_shortest_length_that_holds_is_found(searched: Search, screened_again: Again) -> None:
    """At the stated length the mouth is no longer a serious danger; one step shorter something still is."""
    proposal = searched(PIKE_LIKE).proposals[0]
    swallowed = next(finding for finding in proposal.findings if finding.found.hazard == "gape-fit")
    remedy = next(one for one in proposal.remedies_for(swallowed) if one.change.startswith("buy at"))
    assert remedy.finding_risk <= BEARABLE < swallowed.risk
    entry = remedy.changed.add[0]
    assert entry is not None
    assert entry.length is not None
    shorter = remedy.changed.with_group(0, length=entry.length - 1)
    again = screened_again(shorter)
    assert again.risk is not None
    assert again.risk.risk > BEARABLE


def test_where_nothing_helps_it_says_so(searched: Search) -> None:
    proposal = searched(MORSELS).proposals[0]
    assert proposal.remedies_searched
    assert proposal.best_change is None


def test_the_kind_that_spoils_it_is_left_out(searched: Search) -> None:
    proposal = searched(MORSELS).proposals[1]
    eaten = next(finding for finding in proposal.findings if finding.found.target.name == "neon tetra")
    assert "leave the neon tetras out" in [remedy.change for remedy in proposal.remedies_for(eaten)]


def test_the_best_change_is_the_smallest_set_that_makes_the_proposal_possible(
    searched: Search, screened_again: Again
) -> None:
    """A single jumper of a shoaling kind in an open tank needs a lid and company: neither is enough alone."""
    proposal = searched(HATCHETFISH).proposals[0]
    best = proposal.best_change
    assert best is not None
    assert best.risk <= BEARABLE
    assert best.changed.tank.lid
    lid_alone = best.changed.with_group(0, count=1)
    company_alone = best.changed.with_tank(lid=False)
    for changed in (lid_alone, company_alone):
        again = screened_again(changed)
        assert again.risk is not None
        assert again.risk.risk > BEARABLE


@pytest.mark.parametrize("text", COMBINED, ids=COMBINED_NAMES)
def test_no_part_of_the_best_change_is_larger_than_it_need_be(
    searched: Search, screened_again: Again, catalog: Catalog, text: str
) -> None:
    """With any part put back, or any smaller step in its place, a serious risk is left."""
    proposal = searched(text).proposals[0]
    assert proposal.best_change is not None
    read = read_plan(dedent(text), "plan.yaml", catalog)
    before, after = ChangedPlan.of(read, read.plan.proposals[0]), proposal.best_change.changed
    tanks = [before.tank.size, *(step.apply(before).tank.size for step in tank_steps(before))]
    smaller = [after.with_tank(size=size) for size in tanks if size.litres < after.tank.size.litres]
    if after.feeding != before.feeding:
        smaller.append(replace(after, feeding=before.feeding))
    for name in ("water_change", "filter"):
        if getattr(after.tank, name) != getattr(before.tank, name):
            smaller.append(after.with_tank(**{name: getattr(before.tank, name)}))
    for index, (old, new) in enumerate(zip(before.add, after.add, strict=True)):
        if old and new and old.length and new.length:
            shorter = range(int(new.length - old.length))
            smaller += [after.with_group(index, length=old.length + more) for more in shorter]
    assert len(smaller) >= 2
    for changed in smaller:
        again = screened_again(changed)
        assert again.risk is not None
        assert again.risk.risk > BEARABLE


def tank_steps(plan: ChangedPlan) -> Sequence[Change]:
    """The larger tanks that are tried, up to what can be built."""
    vast = ladders(plan, LAST_RESORT)
    return (vast or ladders(plan))[-1].steps


def test_trouble_that_passes_to_other_fish_is_not_called_gone(searched: Search, screened_again: Again) -> None:
    """Spared guppies leave the mollies to the same ammonia: what is left is the worst of it."""
    proposal = searched(NEW_FILTER).proposals[0]
    ammonia = next(one for one in proposal.findings if one.found.topic == "catching up")
    assert proposal.remedies_for(ammonia)
    for remedy in proposal.remedies_for(ammonia):
        again = screened_again(remedy.changed)
        left = [finding.risk for finding in again.findings if finding.found.topic == "catching up"]
        assert remedy.finding_risk == max(left, default=0), remedy.change


def test_nothing_is_searched_where_nothing_needs_it(searched: Search) -> None:
    text = """
        tank: {size: 100 x 40 x 50 cm, temperature: 25 C, ph: 6.8, hardness: 5 dGH}
        feeding: {places: 2}
        residents: [{species: bronze corydoras, count: 8, length: 5 cm}]
        proposals: [{name: rasboras, add: [{species: harlequin rasbora, count: 10, length: 3 cm}]}]
    """
    proposal = searched(text).proposals[0]
    assert proposal.risk is None or proposal.risk.risk <= BEARABLE
    assert not proposal.remedies_searched
    assert remedies_of(proposal) == []


def test_no_remedy_brings_a_serious_risk_on_the_residents(
    searched: Search, rescreened: Callable[..., Screening], catalog: Catalog
) -> None:
    """The tank as it stands, changed, holds nothing grave that it did not hold before."""
    for text in (HATCHETFISH, OPEN_TANK, *EXAMPLES.values()):
        screening = searched(text)
        belief = believe(read_plan(dedent(text), "plan.yaml", catalog), catalog, EFFORT).belief
        before = {finding.found.key: finding.risk for finding in screening.as_it_stands.findings}
        for remedy in (one for proposal in screening.proposals for one in remedies_of(proposal)):
            after = rescreened(remedy.changed, belief).as_it_stands
            for finding in after.findings:
                assert finding.risk <= max(BEARABLE, before.get(finding.found.key, 0)), remedy.change


def test_a_long_search_tells_what_it_is_looking_for(catalog: Catalog, monkeypatch: pytest.MonkeyPatch) -> None:
    read = read_plan(dedent(OPEN_TANK), "plan.yaml", catalog)
    told: list[str] = []
    screen(read, catalog, EFFORT, remedies=False, on_progress=told.append)
    assert told == []
    monkeypatch.setattr("coswim.screening.PATIENCE", -1.0)
    screen(read, catalog, EFFORT, on_progress=told.append)
    assert "ropefish: looking for changes against escape" in told


def test_the_search_can_be_turned_off(catalog: Catalog) -> None:
    read = read_plan(dedent(OPEN_TANK), "plan.yaml", catalog)
    proposal = screen(read, catalog, EFFORT, remedies=False).proposals[0]
    assert not proposal.remedies_searched
    assert remedies_of(proposal) == []
