"""What holds of every remedy in realistic tanks; what is found, and in which order, is made-up hazards' to test."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from coswim.remedies.change import Remedy
from coswim.remedies.changed_plan import ChangedPlan
from coswim.remedies.stocking import FITS_A_HOME
from coswim.screening import Screened, Screening
from coswim.verdict.rating import Finding, shares_of
from coswim.verdict.risk import BEARABLE, HARMLESS, level_of

Search = Callable[[str], Screening]
Again = Callable[..., Screened]
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
GIANTS = """
    tank: {size: 240 x 80 x 70 cm, temperature: 26 C, ph: 7, hardness: 8 dGH}
    residents: [{species: neon tetra, count: 10, length: 3 cm}]
    proposals: [{name: a giant, add: [{species: redtail catfish, count: 1, length: 15 cm}]}]
"""
SHELLS = """
    tank: {size: 150 x 60 x 60 cm, temperature: 26 C, ph: 7.9, hardness: 15 dGH}
    residents: [{species: frontosa, count: 5, length: 22 cm}]
    proposals: [{name: shell dwellers, add: [{species: shell-dwelling cichlid, count: 8, length: 4 cm}]}]
"""
MORSELS = """
    tank: {size: 150 x 60 x 60 cm, temperature: 25 C, ph: 7, hardness: 8 dGH}
    residents: [{species: oscar, count: 1, length: 22 cm}]
    proposals:
      - name: morsels
        add: [{species: neon tetra, count: 12, length: 3 cm}, {species: guppy, count: 8, length: 4 cm}]
"""
LONELY = """
    tank: {size: 100 x 40 x 50 cm, temperature: 24 C, ph: 7, hardness: 8 dGH, lid: no}
    residents: [{species: archerfish, count: 5, length: 8 cm}]
    proposals: [{name: a catfish, add: [{species: pictus catfish, count: 1, length: 6 cm}]}]
"""
COOL = """
    tank: {size: 150 x 60 x 60 cm, temperature: 22 C, ph: 7, hardness: 8 dGH}
    residents: [{species: Hoplosternum littorale, count: 1, length: 11 cm}]
    proposals:
      - name: eel and catfish
        add: [{species: peacock eel, count: 1, length: 13 cm}, {species: pictus catfish, count: 5, length: 6 cm}]
"""
BUSHFISH = """
    tank: {size: 100 x 40 x 50 cm, temperature: 26 C, ph: 7, hardness: 8 dGH}
    residents: [{species: leopard bushfish, count: 1, length: 13 cm}]
    proposals: [{name: neons, add: [{species: neon tetra, count: 10, length: 3 cm}]}]
"""
GOLDFISH = """
    tank: {size: 120 x 50 x 50 cm, temperature: 24 C, ph: 7, hardness: 8 dGH, water_change: {share: 10 %}}
    residents: [{species: bumblebee goby, count: 1, length: 2 cm}]
    proposals:
      - name: goldfish and peacocks
        add: [{species: peacock cichlid, count: 8, length: 6 cm}, {species: fancy goldfish, count: 4, length: 6 cm}]
"""
SEVERUMS = """
    tank: {size: 100 x 40 x 50 cm, temperature: 28 C, ph: 7, hardness: 8 dGH}
    residents: [{species: Megalechis thoracata, count: 5, length: 10 cm}]
    proposals:
      - name: severums and a jewel
        add: [{species: jewel cichlid, count: 1, length: 8 cm}, {species: banded severum, count: 2, length: 17 cm}]
"""
ELEPHANTNOSE = """
    tank: {size: 150 x 60 x 60 cm, temperature: 25 C, ph: 7, hardness: 8 dGH}
    residents: [{species: elephantnose fish, count: 1, length: 18 cm}]
    proposals: [{name: danios, add: [{species: giant danio, count: 14, length: 9 cm}]}]
"""
DWARFS = """
    tank: {size: 80 x 35 x 40 cm, temperature: 25 C, ph: 6.5, hardness: 4 dGH}
    residents: [{species: cockatoo dwarf cichlid, count: 2, length: 6 cm}]
    proposals: [{name: tetras, add: [{species: glowlight tetra, count: 10, length: 3.5 cm}]}]
"""
LOACHES = """
    tank: {size: 100 x 40 x 40 cm, temperature: 20 C, ph: 7, hardness: 8 dGH}
    residents: [{species: white cloud mountain minnow, count: 12, length: 3 cm}]
    proposals: [{name: loaches, add: [{species: reticulated hillstream loach, count: 3, length: 5 cm}]}]
"""
SWORDTAILS = """
    tank: {size: 80 x 40 x 40 cm, temperature: 26 C, ph: 7, hardness: 8 dGH}
    residents: [{species: filament barb, count: 1, length: 4 cm}]
    proposals: [{name: swordtails, add: [{species: green swordtail, count: 2, length: 5 cm}]}]
"""
PLANS = {
    "elephantnose": ELEPHANTNOSE,
    "bushfish": BUSHFISH,
    "goldfish": GOLDFISH,
    "severums": SEVERUMS,
    "new-filter": NEW_FILTER,
    "giants": GIANTS,
    "shells": SHELLS,
    "morsels": MORSELS,
    "lonely": LONELY,
    "cool": COOL,
    "dwarfs": DWARFS,
    "loaches": LOACHES,
    "swordtails": SWORDTAILS,
}
each_plan = pytest.mark.parametrize("text", PLANS.values(), ids=PLANS.keys())


def against(proposal: Screened) -> list[tuple[Finding, Remedy]]:
    """Every remedy that is shown for a finding."""
    return [(finding, remedy) for finding in proposal.findings for remedy in proposal.remedies_for(finding)]


def share(proposal: Screened, finding: Finding) -> float:
    """The share of draws in which a finding comes to the consequence that it had before."""
    same = [one for one in (*proposal.findings, *proposal.standing) if one.found.key == finding.found.key]
    return max((shares_of(one).get(finding.consequence, 0.0) for one in same), default=0.0)


@each_plan
def test_a_keeper_would_notice_what_a_remedy_does(searched: Search, screened_again: Again, text: str) -> None:
    """A fifth of the draws at least; half a degree that takes a finding just below a band's edge is no remedy."""
    proposal = searched(text).proposals[0]
    for finding, remedy in against(proposal):
        after = share(screened_again(remedy.changed), finding)
        assert after <= 0.8 * share(proposal, finding), remedy.change


@each_plan
def test_a_remedy_brings_its_finding_to_medium_or_the_whole_down_with_it(searched: Search, text: str) -> None:
    """Where the whole is grave without a grave finding, for many small ones, it brings the whole down."""
    proposal = searched(text).proposals[0]
    for finding, remedy in against(proposal):
        assert remedy.finding_risk < finding.risk
        assert remedy.risk <= proposal.risk_number
        lower = remedy.finding_risk <= BEARABLE or level_of(remedy.finding_risk) != finding.level
        assert lower, remedy.change
        if remedy.finding_risk > BEARABLE or finding.risk <= BEARABLE < proposal.risk_number:
            assert remedy.risk < proposal.risk_number, remedy.change


@each_plan
def test_a_finding_is_offered_three_changes_at_most_and_no_thing_twice(searched: Search, text: str) -> None:
    """One food, one number, one tank: the one that does most."""
    read, proposal = searched(text).read, searched(text).proposals[0]
    before = values(ChangedPlan.of(read, read.plan.proposals[0]))
    for finding in proposal.findings:
        changed = [
            tuple(name for name, value in values(remedy.changed).items() if value != before[name])
            for remedy in proposal.remedies_for(finding)
        ]
        assert len(set(changed)) == len(changed) <= 3


def values(plan: ChangedPlan) -> dict[str, object]:
    """Everything that a change could touch, by name."""
    groups = {f"group {n}, {name}": value for n, entry in enumerate(plan.add) for name, value in (entry or ())}
    return dict(plan.tank) | dict(plan.feeding) | {f"group {n}": bool(e) for n, e in enumerate(plan.add)} | groups


@each_plan
def test_something_is_always_left_to_buy(searched: Search, text: str) -> None:
    proposal = searched(text).proposals[0]
    best = [proposal.best_change] if proposal.best_change else []
    for remedy in (*best, *(remedy for _, remedy in against(proposal))):
        assert remedy.changed.proposal.add, remedy.change


@each_plan
def test_no_tank_is_named_again_and_none_that_few_homes_hold(searched: Search, text: str) -> None:
    """A tank for the worst finding does for the lesser ones, or a still larger one is named; vast ones stand last."""
    proposal = searched(text).proposals[0]
    now = searched(text).read.plan.tank.size.litres
    litres = [remedy.changed.tank.size.litres for _, remedy in against(proposal)]
    larger = [size for size in litres if size > now]
    assert larger == sorted(set(larger))
    assert max(litres, default=0) <= FITS_A_HOME


def test_a_new_filter_runs_in_before_a_far_larger_tank_is_bought(searched: Search) -> None:
    """It spares more than half of the water that a tank alone would need."""
    proposal = searched(NEW_FILTER).proposals[0]
    best = proposal.best_change
    assert best is not None
    assert best.changed.tank.filter == "mature"
    assert best.change.startswith(
        "let the filter run in until ammonia and nitrite read zero before they move in and use"
    )
    alone = next(remedy for _, remedy in against(proposal) if remedy.change.startswith("use a tank"))
    assert alone.risk <= BEARABLE
    assert best.changed.tank.size.litres < alone.changed.tank.size.litres / 2


@each_plan
def test_a_remedy_brings_nothing_new_where_the_whole_stays(searched: Search, screened_again: Again, text: str) -> None:
    proposal = searched(text).proposals[0]
    above = BEARABLE if proposal.risk_number > BEARABLE else HARMLESS
    before = {finding.found.key: finding.risk for finding in proposal.findings}
    for remedy in (remedy for _, remedy in against(proposal) if remedy.risk == proposal.risk_number):
        for finding in screened_again(remedy.changed).findings:
            assert finding.risk <= max(above, before.get(finding.found.key, 0)), remedy.change


def test_hunger_is_not_cured_with_more_mouths(searched: Search) -> None:
    text = """
        tank: {size: 150 x 50 x 50 cm, temperature: 25 C, ph: 7, hardness: 8 dGH, hiding_places: 20}
        residents: [{species: zebra mbuna, count: 16, length: 10 cm}]
        proposals: [{name: a gudgeon, add: [{species: peacock gudgeon, count: 2, length: 5 cm}]}]
    """
    hungry = [
        remedy
        for finding, remedy in against(searched(text).proposals[0])
        if finding.found.hazard == "feeding-competition" and finding.risk > BEARABLE
    ]
    assert hungry
    assert not [remedy for remedy in hungry if remedy.change.startswith("add ")]


@each_plan
def test_care_is_what_can_be_done_with_these_fish_in_this_tank(searched: Search, text: str) -> None:
    proposal = searched(text).proposals[0]
    if proposal.risk_number <= BEARABLE:
        assert proposal.best_change is None
        for _, remedy in against(proposal):
            assert remedy.changed.tank.size == searched(text).read.plan.tank.size
            assert all(remedy.changed.add)
