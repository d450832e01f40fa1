"""Who leaves an open tank."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
import pytest

from coswim.findings.finding import Consequence
from coswim.hazards import escape
from coswim.simulation.scene import Scene
from coswim.verdict.rating import Finding

RatedBy = Callable[..., list[Finding]]
TANK = "120x50x50"


def likelihood(findings: list[Finding], name: str) -> float:
    """The share of draws in which one kind gets out."""
    return next((f.likelihood or 0.0 for f in findings if f.found.target.name == name), 0.0)


@pytest.mark.parametrize(
    "newcomer",
    # common practice, no source: known leapers
    ["6 marbled hatchetfish, 3 cm", "1 African butterflyfish, 8 cm", "1 ropefish, 25 cm", "1 dwarf snakehead, 12 cm"],
)
def test_a_habitual_leaper_in_an_open_tank(rated_by: RatedBy, newcomer: str) -> None:
    finding = rated_by(escape, TANK, ["8 neon tetra, 3 cm"], [newcomer], lid=False)[0]
    assert str(finding.level) == "high"
    assert finding.consequence is Consequence.CATASTROPHIC
    assert finding.found.doer is None


def test_a_lid_ends_it(rated_by: RatedBy) -> None:
    assert rated_by(escape, TANK, ["1 Jack Dempsey, 15 cm"], ["6 marbled hatchetfish, 3 cm"]) == []


def test_calm_fish_stay_in_an_open_tank(rated_by: RatedBy) -> None:
    assert rated_by(escape, TANK, ["2 freshwater angelfish, 8 cm"], ["8 bronze corydoras, 5 cm"], lid=False) == []


def test_a_chased_fish_may_leap_though_it_rarely_leaps(rated_by: RatedBy) -> None:
    finding = rated_by(escape, TANK, ["1 Jack Dempsey, 15 cm"], ["6 bronze corydoras, 5 cm"], lid=False)[0]
    assert finding.found.target.name == "bronze corydoras"
    assert finding.found.doer is not None
    assert finding.found.doer.name == "Jack Dempsey"
    assert str(finding.level) == "serious"


def test_small_fish_chase_nobody_out(rated_by: RatedBy) -> None:
    """A rainbow shark of at most 15 cm is no match for a common pleco of 30 cm."""
    assert rated_by(escape, TANK, ["1 common pleco, 30 cm"], ["1 convict cichlid, 8 cm"], lid=False) == []


@pytest.mark.parametrize(("count", "fish_months"), [(1, 24), (3, 72)])
def test_odds_add_up_over_fish_and_months(rated_by: RatedBy, count: int, fish_months: int) -> None:
    """Derived: 1 - (1 - 0.7 x 0.02)^24 = 0.287 for one ropefish over 24 months; 0.638 for three; residents are not new."""
    findings = rated_by(escape, TANK, [f"{count} ropefish, 25 cm"], lid=False)
    assert likelihood(findings, "ropefish") == pytest.approx(1 - (1 - 0.7 * 0.02) ** fish_months, abs=0.005)


def test_a_shoal_that_leaps_when_startled_wants_a_lid_and_is_not_refused(rated_by: RatedBy) -> None:
    """Common practice, no source: harlequins are kept in open tanks, and one is lost now and then."""
    finding = rated_by(escape, TANK, ["2 freshwater angelfish, 8 cm"], ["10 harlequin rasbora, 3 cm"], lid=False)[0]
    assert finding.found.target.name == "harlequin rasbora"
    assert str(finding.level) in {"serious", "medium"}
    assert any("lid" in reason for reason in finding.found.because)


def test_the_first_weeks_are_the_most_dangerous(rated_by: RatedBy) -> None:
    """Derived: of a fish that leaps when startled, 0.0015 in the first weeks against 0.00015 in a month."""

    def dies(residents: list[str], newcomers: list[str]) -> float:
        findings = rated_by(escape, TANK, residents, newcomers, lid=False, months=1, draws=4000)
        return likelihood(findings, "harlequin rasbora")

    new = dies(["2 freshwater angelfish, 8 cm"], ["40 harlequin rasbora, 3 cm"])
    settled = dies(["40 harlequin rasbora, 3 cm"], ["2 freshwater angelfish, 8 cm"])
    assert new == pytest.approx(1 - ((1 - 0.7 * 0.0015) * (1 - 0.7 * 0.00015)) ** 40, abs=0.002)
    assert settled == pytest.approx(1 - (1 - 0.7 * 0.00015) ** 40, abs=0.002)


@pytest.mark.parametrize(("moves_in", "is_new"), [("last", False), ("together", True), ("first", True)])
def test_a_resident_that_is_moved_is_new_to_its_place(
    simulated: Callable[..., Scene], moves_in: str, *, is_new: bool
) -> None:
    scene = simulated(
        "tank: {size: 120 x 50 x 50 cm, temperature: 25 C, lid: no}\n"
        "residents: [{species: harlequin rasbora, count: 10, length: 3 cm}]\n"
        f"proposals: [{{moves_in: {moves_in}, add: [{{species: freshwater angelfish, length: 8 cm}}]}}]\n"
    )
    found = next(one for one in escape.find(scene) if one.target.name == "harlequin rasbora")
    assert any("in its first weeks" in reason for reason in found.because) is is_new


def test_not_every_fish_that_leaves_dies(rated_by: RatedBy) -> None:
    finding = rated_by(escape, TANK, ["8 neon tetra, 3 cm"], ["1 ropefish, 25 cm"], lid=False)[0]
    dies, leaves = (outcome.happens for outcome in finding.found.outcomes)
    assert finding.consequence is Consequence.CATASTROPHIC
    assert np.all(leaves[dies])
    assert dies.sum() < leaves.sum()


@pytest.mark.parametrize(("whole", "parts"), [("8 marbled hatchetfish, 3 cm", ["3", "5"]), ("2 ropefish, 25 cm", "11")])
def test_splitting_a_group_changes_nothing(rated_by: RatedBy, whole: str, parts: list[str]) -> None:
    def one_dies(entries: list[str]) -> float:
        findings = rated_by(escape, TANK, ["2 freshwater angelfish, 8 cm"], entries, lid=False, months=6, draws=2000)
        return float(np.any([f.found.outcomes[0].happens for f in findings], axis=0).mean())

    species = whole.split(" ", 1)[1]
    assert one_dies([f"{part} {species}" for part in parts]) == pytest.approx(one_dies([whole]), abs=0.04)


def test_a_chaser_or_a_longer_time_never_calms_a_leaper(rated_by: RatedBy) -> None:
    def share(resident: str, months: int) -> float:
        findings = rated_by(escape, TANK, [resident], ["2 ropefish, 25 cm"], lid=False, months=months)
        return likelihood(findings, "ropefish")

    calm, longer, chased = (
        share("8 neon tetra, 3 cm", 6),
        share("8 neon tetra, 3 cm", 12),
        share("1 wolf fish, 35 cm", 6),
    )
    assert calm < longer
    assert calm < chased


@pytest.mark.parametrize("count", [3, 12])
def test_no_more_than_three_of_a_group_are_chased_at_a_time(simulated: Callable[..., Scene], count: int) -> None:
    """Derived: three that rarely leap are chased for 24 months, 0.0006 x 0.8 a month each; the rest leaps 1 in 100,000."""
    text = f"""
        tank: {{size: 150 x 60 x 60 cm, temperature: 25 C, lid: no}}
        residents: [{{species: Jack Dempsey, length: 18 cm, this_fish: {{other_fish: aggressive}}}}]
        proposals: [{{name: p, add: [{{species: bronze corydoras, count: {count}, length: 5 cm}}]}}]
    """
    (found,) = (one for one in escape.find(simulated(text, draws=4000)) if not one.target.is_resident)
    calm, chased = (1 - 0.00001) ** (24 * count), (1 - 0.0006 * 0.8) ** (24 * 3)
    assert float(found.outcomes[-1].happens.mean()) == pytest.approx(1 - calm * chased, abs=0.002)
