"""Company: too little for shoaling fish, too much for those kept singly."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from coswim.findings.finding import Consequence
from coswim.hazards import schooling
from coswim.screening import Screening
from coswim.simulation.scene import Scene
from coswim.verdict.rating import Finding, Unrated

RatedBy = Callable[..., list[Finding]]
UnratedBy = Callable[..., list[Unrated]]
NEEDS_CHANGE = {"serious", "high"}
TANK = "150x60x60"


def level(findings: list[Finding], name: str) -> str:
    """The level of the finding on one kind, `none` without."""
    return next((str(f.level) for f in findings if f.found.target.name == name), "none")


@pytest.mark.parametrize(
    ("resident", "newcomer", "name"),
    [  # common practice, no source
        ("6 guppy, 3 cm", "1 neon tetra, 3 cm", "neon tetra"),
        ("6 guppy, 3 cm", "2 bronze corydoras, 4 cm", "bronze corydoras"),
        ("6 guppy, 3 cm", "1 clown loach, 6 cm", "clown loach"),
        ("6 guppy, 3 cm", "1 kuhli loach, 7 cm", "kuhli loach"),
        ("6 guppy, 3 cm", "2 tiger barb, 4 cm", "tiger barb"),
        ("1 bristlenose pleco, 8 cm", "1 black phantom tetra, 3 cm", "black phantom tetra"),  # small and territorial
        ("1 Siamese fighting fish, 6 cm", "1 Siamese fighting fish, 6 cm", "Siamese fighting fish"),
        ("1 red-tailed black shark, 10 cm", "1 red-tailed black shark, 8 cm", "red-tailed black shark"),
    ],
)
def test_wrong_company(rated_by: RatedBy, resident: str, newcomer: str, name: str) -> None:
    assert level(rated_by(schooling, TANK, [resident], [newcomer]), name) in NEEDS_CHANGE


@pytest.mark.parametrize(
    ("residents", "newcomer"),
    [  # common practice, no source
        (["3 neon tetra, 3 cm"], "4 neon tetra, 3 cm"),  # old and new count together
        (["8 neon tetra, 3 cm"], "5 bronze corydoras, 4 cm"),
        (["8 neon tetra, 3 cm"], "1 honey gourami, 4 cm"),
        (["8 bronze corydoras, 4 cm"], "2 freshwater angelfish, 6 cm"),
        (["8 bronze corydoras, 4 cm"], "1 Siamese fighting fish, 6 cm"),
        (["8 neon tetra, 3 cm"], "2 ram cichlid, 5 cm"),
    ],
)
def test_company_enough(rated_by: RatedBy, residents: list[str], newcomer: str) -> None:
    assert not {str(f.level) for f in rated_by(schooling, TANK, residents, [newcomer])} & NEEDS_CHANGE


@pytest.mark.parametrize("name", ["neon tetra", "white cloud mountain minnow"])
def test_ten_fear_less_than_one_or_two(rated_by: RatedBy, name: str) -> None:
    """Published, the sign: Saxby et al. 2010, Appl. Anim. Behav. Sci., groups of 1, 2, 5 and 10."""

    def likelihood(count: int) -> float:
        findings = rated_by(schooling, TANK, ["1 bristlenose pleco, 8 cm"], [f"{count} {name}, 3 cm"])
        return findings[0].likelihood or 0.0 if findings else 0.0

    one, two, five, ten = map(likelihood, (1, 2, 5, 10))
    assert one > two > five >= ten == 0


def test_angelfish_need_little_company(rated_by: RatedBy) -> None:
    """Published, the sign: Saxby et al. 2010, no clear link with the shoal size from 1 to 5."""
    for count in range(1, 6):
        newcomer = f"{count} freshwater angelfish, 6 cm"
        findings = rated_by(schooling, TANK, ["8 bronze corydoras, 4 cm"], [newcomer])
        assert level(findings, "freshwater angelfish") not in NEEDS_CHANGE


@settings(max_examples=100, deadline=None)
@given(st.integers(1, 60), st.integers(2, 30), st.floats(0, 1))
def test_one_more_never_makes_it_worse(count: int, smallest_group: int, weight: float) -> None:
    here = schooling.fear(count, smallest_group, weight=weight)
    assert 0 <= schooling.fear(count + 1, smallest_group, weight=weight) <= here <= 1
    assert schooling.fear(smallest_group, smallest_group, weight=weight) == 0


def test_fear_of_a_single_fish() -> None:
    """Derived from the equation: one of six, (5/6)^1.5 = 0.761; one of two, (1/5)^2 (1/2)^1.5 = 0.0141."""
    assert schooling.fear(1, 6, weight=1) == pytest.approx(0.761, abs=5e-4)
    assert schooling.fear(1, 2, weight=1) == pytest.approx(0.0141, abs=5e-5)


def test_the_finding_names_the_newcomer(rated_by: RatedBy) -> None:
    found = rated_by(schooling, TANK, ["1 bronze corydoras, 5 cm"], ["1 bronze corydoras, 4 cm"])[0].found
    assert not found.target.is_resident
    assert found.because[0] == "Old and new together there are 2; the smallest advised group is 6."


def test_a_second_of_a_solitary_kind_may_die(rated_by: RatedBy) -> None:
    finding = rated_by(schooling, TANK, ["1 rainbow shark, 10 cm"], ["1 rainbow shark, 8 cm"])[0]
    killed, attacked = (outcome.happens for outcome in finding.found.outcomes)
    assert finding.consequence is Consequence.CATASTROPHIC
    assert np.all(attacked[killed])
    assert finding.found.doer is not None
    assert finding.found.doer.is_resident


def test_unknown_company_is_said_and_not_silent(unrated_by: UnratedBy, bare_library: Callable[..., object]) -> None:
    unrated = unrated_by(schooling, TANK, ["8 guppy, 3 cm"], ["1 oddfish, 12 cm"], library=bare_library("schooling"))
    assert [one.found.missing for one in unrated] == ["oddfish: the profile does not state schooling"]


@settings(max_examples=60, deadline=None)
@given(st.integers(1, 30), st.integers(1, 10), st.integers(1, 4))
def test_one_more_female_never_makes_it_worse(females: int, males: int, wanted: int) -> None:
    here = schooling.driven(females, males, wanted=wanted)
    assert 0 <= schooling.driven(females + 1, males, wanted=wanted) <= here <= schooling.DRIVEN
    assert schooling.driven(wanted * males, males, wanted=wanted) == 0


@pytest.mark.parametrize(
    ("males", "is_said", "needs_change"),
    [  # common practice, no source: two or three females for each male of a livebearer
        ("", False, False),
        (", males: 2", False, False),
        (", males: 3", True, True),
        (", males: 5", True, True),
        (", males: 6", False, False),
    ],
    ids=["not stated", "two of six", "half", "five of six", "males only"],
)
def test_too_few_females_are_driven(
    screened: Callable[..., Screening], males: str, *, is_said: bool, needs_change: bool
) -> None:
    plan = (
        "tank: {size: 100 x 40 x 40 cm, temperature: 25 C, ph: 7.2, hardness: 10 dGH}\n"
        "residents: [{species: bristlenose pleco, length: 8 cm}]\n"
        f"proposals: [{{name: p, add: [{{species: guppy, count: 6, length: 3 cm{males}}}]}}]\n"
    )
    found = [one for one in screened(plan).proposals[0].findings if one.found.topic == "sexes"]
    assert bool(found) is is_said
    assert any(str(one.level) in NEEDS_CHANGE for one in found) is needs_change


def shares(simulated: Callable[..., Scene], fish: str) -> list[float]:
    """How often each outcome comes to pass for one group that is new to an empty tank; draws are even."""
    text = f"tank: {{size: 150 x 60 x 60 cm, temperature: 25 C}}\nproposals: [{{name: p, add: [{{{fish}}}]}}]\n"
    found = list(schooling.find(simulated(text, draws=2000)))
    return [float(outcome.happens.mean()) for outcome in found[-1].outcomes]


@pytest.mark.parametrize(
    ("fish", "expected"),
    [
        # derived: two of an aggressive kind kept singly, drive 0.8; 0.35 of the attacks end in death
        pytest.param("species: Siamese fighting fish, count: 2", [0.28, 0.8], id="one too many"),
        # derived: 0.6 (1 - 3 / (2 x 3)) of the tanks; 0.3 of those of aggressive males, by theirs of 0.5 over 0.8
        pytest.param("species: swordtail, count: 6, males: 3", [0.3 * 0.3 * 0.5 / 0.8, 0.3], id="driven females"),
        # derived: (1 - 1/6)^1.5 of those that shoal, 0.15 of that where it is territorial and large
        pytest.param("species: tinfoil barb", [0.7607], id="alone"),
        pytest.param("species: tinfoil barb, this_fish: {own_kind: territorial}", [0.1141], id="alone and at ease"),
    ],
)
def test_how_often_company_is_wrong(simulated: Callable[..., Scene], fish: str, expected: list[float]) -> None:
    assert shares(simulated, fish) == pytest.approx(expected, abs=0.002)
