"""Who leaves an open tank."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from coswim.findings.finding import Consequence
from coswim.hazards import escape
from coswim.verdict.rating import Finding

RatedBy = Callable[..., list[Finding]]
TANK = "120x50x50"


def likelihood(findings: list[Finding], name: str) -> float:
    """The share of draws in which one kind gets out."""
    return next((f.likelihood or 0.0 for f in findings if f.found.target.name == name), 0.0)


@pytest.mark.parametrize(
    "newcomer",
    # common practice, no source: known jumpers
    ["6 marbled hatchetfish, 3 cm", "1 African butterflyfish, 8 cm", "1 ropefish, 25 cm", "1 dwarf snakehead, 12 cm"],
)
def test_a_jumper_in_an_open_tank(rated_by: RatedBy, newcomer: str) -> None:
    finding = rated_by(escape, TANK, ["8 neon tetra, 3 cm"], [newcomer], lid=False)[0]
    assert str(finding.level) == "high"
    assert finding.consequence is Consequence.CATASTROPHIC
    assert finding.found.doer is None


def test_a_lid_ends_it(rated_by: RatedBy) -> None:
    assert rated_by(escape, TANK, ["1 Jack Dempsey, 15 cm"], ["6 marbled hatchetfish, 3 cm"]) == []


def test_calm_fish_stay_in_an_open_tank(rated_by: RatedBy) -> None:
    assert rated_by(escape, TANK, ["2 freshwater angelfish, 8 cm"], ["8 bronze corydoras, 5 cm"], lid=False) == []


def test_a_chased_fish_may_leap_though_it_is_no_jumper(rated_by: RatedBy) -> None:
    finding = rated_by(escape, TANK, ["1 Jack Dempsey, 15 cm"], ["6 bronze corydoras, 5 cm"], lid=False)[0]
    assert finding.found.target.name == "bronze corydoras"
    assert finding.found.doer is not None
    assert finding.found.doer.name == "Jack Dempsey"
    assert str(finding.level) == "serious"


def test_small_fish_chase_nobody_out(rated_by: RatedBy) -> None:
    """A rainbow shark of at most 15 cm is no match for a common pleco of 30 cm."""
    assert rated_by(escape, TANK, ["1 common pleco, 30 cm"], ["1 convict cichlid, 8 cm"], lid=False) == []


def test_odds_add_up_over_fish_and_months(rated_by: RatedBy) -> None:
    """Derived: 1 - 0.98^24 = 0.384 for one jumper over 24 months, 1 - 0.98^72 = 0.766 for three."""
    one, three = (
        likelihood(rated_by(escape, TANK, ["8 neon tetra, 3 cm"], [f"{n} ropefish, 25 cm"], lid=False), "ropefish")
        for n in (1, 3)
    )
    assert one == pytest.approx(0.384, abs=0.005)
    assert three == pytest.approx(0.766, abs=0.005)


def test_a_chaser_or_a_longer_time_never_calms_a_jumper(rated_by: RatedBy) -> None:
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
