"""The trait that moves the risk most is named, with the risk at both ends of its range."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
import pytest

from coswim.arrays import Flags
from coswim.findings.finding import Consequence, Found, Outcome, Used, cannot_rate
from coswim.profiles.catalog import Catalog
from coswim.screening import Screening
from coswim.simulation.scene import Scene
from coswim.verdict.assessment import Assessment
from coswim.verdict.rating import Finding, Unrated, rate
from coswim.verdict.sensitivity import sensitivity

PLAN = """
    tank: {size: 180 x 60 x 60 cm, temperature: 26 C, ph: 7, hardness: 6 dGH}
    residents: [{species: saddled bichir, length: 38 cm}]
    proposals: [{name: p, add: [{species: Congo tetra, count: 8, length: 6 cm}]}]
"""
USED = ("adult_length", "growth", "mouth_gape")


@pytest.fixture(scope="module")
def scene(simulated: Callable[..., Scene], catalog: Catalog) -> Scene:
    """A simulated proposal to put findings of our own on, in which the hazards have drawn what they read."""
    scene = simulated(PLAN, draws=1000)
    assert Assessment(scene, catalog).findings
    return scene


def one_finding(scene: Scene, catalog: Catalog, happens: Flags) -> tuple[Finding, ...]:
    """One finding, which rests on what the resident's profile says of length, growth and gape."""
    resident = next(fish for fish in scene.groups if fish.is_resident)
    outcome = Outcome(Consequence.CATASTROPHIC, happens)
    one = Found(
        "a-hazard",
        None,
        resident,
        "It happens.",
        (outcome,),
        uses=(Used(resident.profile, USED),),
    )
    finding = rate(one, catalog)
    return (finding,) if isinstance(finding, Finding) else ()


def drawn(scene: Scene, trait: str) -> np.ndarray:
    """Where the resident lies in the range of a trait, draw by draw."""
    resident = next(fish for fish in scene.groups if fish.is_resident)
    return scene.draws.drawn_for(resident.key)[trait]


def test_a_trait_that_decides_alone_is_named_with_both_ends(scene: Scene, catalog: Catalog) -> None:
    """It happens in the upper half of the adult lengths: never in the lowest fifth, always in the highest.

    derived: shares 0 and 1 of catastrophic draws are nothing and 20; half of them is 20 now.
    """
    happens = drawn(scene, "adult_length") >= 0.5
    line = sensitivity(scene, one_finding(scene, catalog, happens), (), catalog=catalog).words
    assert line == (
        "how long the saddled bichir gets (45-60 cm, from memory): if short the risk is gone, "
        "if long it is 20 (high); now 20."
    )


def test_the_direction_is_that_of_the_trait(scene: Scene, catalog: Catalog) -> None:
    """It happens to the slowest tenth: in half of the lowest fifth, and never in the highest."""
    happens = drawn(scene, "growth") < 0.1
    line = sensitivity(scene, one_finding(scene, catalog, happens), (), catalog=catalog).words
    assert line.startswith("how fast the saddled bichir grows")
    # derived: 0.5 of the draws is frequent, 0.1 occasional; published table: catastrophic 20 and 17
    assert line.endswith("if slow the risk is 20 (high), if fast it is gone; now 17.")


def test_a_trait_that_moves_shares_but_not_the_risk_is_named_as_such(scene: Scene, catalog: Catalog) -> None:
    happens = (drawn(scene, "adult_length") >= 0.4) | (drawn(scene, "growth") >= 0.4)
    line = sensitivity(scene, one_finding(scene, catalog, happens), (), catalog=catalog).words
    assert "though the risk stays 20 at either end" in line


def test_chance_alone_names_no_trait(scene: Scene, catalog: Catalog) -> None:
    for seed in range(20):
        happens = np.random.default_rng(seed).random(1000) < 0.3
        line = sensitivity(scene, one_finding(scene, catalog, happens), (), catalog=catalog).words
        assert line == ""


def test_a_trait_that_no_finding_rests_on_is_not_named(scene: Scene, catalog: Catalog) -> None:
    newcomer = next(fish for fish in scene.groups if not fish.is_resident)
    happens = scene.draws.drawn_for(newcomer.key)["adult_length"] >= 0.5
    assert sensitivity(scene, one_finding(scene, catalog, happens), (), catalog=catalog).words == ""


def test_what_is_missing_comes_first(scene: Scene, catalog: Catalog) -> None:
    unknown = cannot_rate("a-hazard", "whether it happens", target=scene.groups[0], uses=(), missing="no growth stated")
    unrated = rate(unknown, catalog)
    assert isinstance(unrated, Unrated)
    findings = one_finding(scene, catalog, np.ones(1000, dtype=bool))
    line = sensitivity(scene, findings, [unrated, unrated], catalog=catalog).words
    assert line == "what is missing decides most: no growth stated."


def test_it_decides_where_the_two_ends_lead_to_different_verdicts(scene: Scene, catalog: Catalog) -> None:
    """derived: never and always are reasonable and do not stock; 40 and 60 of 100 are both do not stock."""
    lengths = drawn(scene, "adult_length")
    alone = sensitivity(scene, one_finding(scene, catalog, lengths >= 0.5), (), catalog=catalog)
    assert alone.decides
    often = np.arange(len(lengths)) % 5 < 2 + (lengths >= 0.5)
    assert not sensitivity(scene, one_finding(scene, catalog, often), (), catalog=catalog).decides


def test_nothing_is_said_where_nothing_was_found(scene: Scene, catalog: Catalog) -> None:
    assert sensitivity(scene, one_finding(scene, catalog, np.zeros(1000, dtype=bool)), (), catalog=catalog).words == ""


def test_a_mouth_that_is_only_just_too_small_is_what_to_measure(screened: Callable[..., Screening]) -> None:
    """Barbs of about the size of the mouth: whether they fit hangs on the gape, which rests on memory."""
    text = PLAN.replace("Congo tetra, count: 8, length: 6 cm", "tinfoil barb, count: 8, length: 11 cm")
    line = screened(text, draws=1000).proposals[0].sensitivity.words
    assert line.startswith("how wide the mouth of the saddled bichir opens")
