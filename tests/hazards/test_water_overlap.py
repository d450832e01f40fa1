"""Which water suits whom, through whole screenings."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from coswim.findings.finding import Consequence
from coswim.hazards import water_overlap
from coswim.profiles.catalog import Catalog
from coswim.screening import Screening
from coswim.simulation.scene import Scene
from coswim.text.quantities import Range
from coswim.verdict.rating import CANNOT_BE_JUDGED, Finding, rate

Screen = Callable[..., Screening]


def findings(screening: Screening) -> list[Finding]:
    return [f for f in screening.proposals[0].findings if f.found.hazard == "water-overlap"]


def plan(tank: str, newcomer: str) -> str:
    return (
        f"tank: {{size: 150 x 60 x 60 cm, {tank}}}\n"
        "residents: [{species: blue discus, count: 5, length: 13 cm}]\n"
        f"proposals: [{{name: p, add: [{newcomer}]}}]\n"
    )


WARM = "temperature: 28.5 C, ph: 6.4, hardness: 4 dGH"
GOLDFISH = "{species: goldfish, count: 2, length: 10 cm}"
CARDINALS = "{species: cardinal tetra, count: 20, length: 3 cm}"


def test_goldfish_in_discus_water_suffer(screened: Screen) -> None:
    """common practice, no source."""
    worst = findings(screened(plan(WARM, GOLDFISH)))[0]
    assert worst.found.target.name == "goldfish"
    assert worst.found.topic == "temperature"
    assert str(worst.level) in {"high", "serious"}
    assert any("no temperature that suits all" in reason for reason in worst.found.because)


def test_cardinals_in_discus_water_are_well(screened: Screen) -> None:
    """common practice, no source."""
    assert all(str(f.level) in {"low", "medium"} for f in findings(screened(plan(WARM, CARDINALS))))


def test_an_untested_tank_cannot_be_rated(screened: Screen) -> None:
    proposal = screened(plan("temperature: 28.5 C", CARDINALS)).proposals[0]
    assert "the plan does not state the tank's pH; test it" in [one.found.missing for one in proposal.unrated]
    assert proposal.verdict.words == CANNOT_BE_JUDGED


@settings(max_examples=15, deadline=None)
@given(st.floats(20, 27), st.floats(0, 5))
def test_warming_towards_the_range_never_makes_it_worse(
    simulated: Callable[..., Scene], catalog: Catalog, temperature: float, warmer: float
) -> None:
    def risk(degrees: float) -> float:
        scene = simulated(plan(f"temperature: {degrees:.2f} C, ph: 6.4, hardness: 4 dGH", CARDINALS), draws=120)
        rated = [rate(found, catalog) for found in water_overlap.find(scene) if found.topic == "temperature"]
        mine = [f.risk for f in rated if isinstance(f, Finding) and f.found.target.name == "cardinal tetra"]
        return max(mine, default=0)

    assert risk(min(temperature + warmer, 26.0)) <= risk(min(temperature, 26.0))


@pytest.mark.parametrize(("salinity", "is_a_problem"), [("fresh", False), ("brackish", True)])
def test_salt(screened: Screen, salinity: str, is_a_problem: bool) -> None:
    found = findings(screened(plan(f"{WARM}, salinity: {salinity}", CARDINALS)))
    assert any(f.found.topic == "salt" and f.found.target.name == "cardinal tetra" for f in found) == is_a_problem


@pytest.mark.parametrize("salinity", ["fresh", "fresh-brackish", "brackish"])
def test_mollies_are_at_home_in_fresh_and_in_brackish_water(screened: Screen, salinity: str) -> None:
    """common practice, no source"""
    water = f"temperature: 27 C, ph: 7.6, hardness: 20 dGH, salinity: {salinity}"
    said = findings(screened(plan(water, "{species: sailfin molly, count: 6, length: 6 cm}")))
    assert "salt" not in {one.found.topic for one in said if one.found.target.profile.family == "Poeciliidae"}


@pytest.mark.parametrize("warmest", [14, 20, 26, 30])
def test_a_tank_that_is_also_warm_at_times_is_no_safer_than_one_that_is_always_cold(
    screened: Screen, warmest: int
) -> None:
    def likelihood(temperature: str) -> float:
        water = f"temperature: {temperature} C, ph: 6.4, hardness: 4 dGH"
        return max(one.likelihood or 0.0 for one in findings(screened(plan(water, CARDINALS))) if one.risk > 15)

    assert likelihood(f"14-{warmest}") >= likelihood("14")


@pytest.mark.parametrize("temperature", ["20 C", "22 C", "24 C", "28 C"])
def test_fish_without_any_water_in_common_are_told_whatever_the_tank_holds(screened: Screen, temperature: str) -> None:
    """common practice, no source: goldfish and discus do not go together, not even half way between."""
    screening = screened(plan(f"temperature: {temperature}, ph: 6.8, hardness: 6 dGH", GOLDFISH))
    said = next(one for one in findings(screening) if one.found.topic == "temperature for both")
    assert said.likelihood is not None
    assert said.likelihood > 0.5
    assert screening.proposals[0].verdict.words not in {"reasonable", "possible, with care"}


@pytest.mark.parametrize(("temperature", "worst"), [("25.5", "marginal"), ("21", "critical"), ("16", "catastrophic")])
def test_the_colder_the_worse(screened: Screen, temperature: str, worst: str) -> None:
    """common practice, no source: discus (27-30 C) ail when cool, waste away when cold and die when chilled."""
    screening = screened(plan(f"temperature: {temperature} C, ph: 6.4, hardness: 4 dGH", CARDINALS))
    cold = next(one for one in screening.as_it_stands.findings if one.found.topic == "temperature")
    often = [str(one.consequence) for one in cold.found.outcomes if one.happens.mean() > 0.5]
    assert often[0] == worst


@pytest.mark.parametrize(
    ("hardness", "worst"),
    # common practice, no source: soft-water fish (cardinals: at most 12 dGH) are kept in middling water, do badly in hard
    # water and waste away in the hardest
    [("10", None), ("22", "marginal"), ("40", "critical")],
)
def test_the_harder_the_worse_for_soft_water_fish(screened: Screen, hardness: str, worst: str | None) -> None:
    screening = screened(plan(f"temperature: 28 C, ph: 6.4, hardness: {hardness} dGH", CARDINALS))
    hard = [
        one for one in findings(screening) if (one.found.topic, one.found.target.name) == ("hardness", "cardinal tetra")
    ]
    often = [str(one.consequence) for each in hard for one in each.found.outcomes if one.happens.mean() > 0.5]
    assert (often[0] if often else None) == worst


@pytest.mark.parametrize(
    ("species", "current", "suffers"),
    [  # common practice, no source
        ("reticulated hillstream loach", "still", True),
        ("reticulated hillstream loach", "moderate", False),
        ("reticulated hillstream loach", "strong", False),
        ("Siamese fighting fish", "strong", True),
        ("Siamese fighting fish", "moderate", False),
    ],
)
def test_a_current_two_steps_off_is_stress_and_one_is_none(
    screened: Callable[..., Screening], species: str, current: str, *, suffers: bool
) -> None:
    plan = (
        f"tank: {{size: 80 x 35 x 40 cm, temperature: 24 C, ph: 7, hardness: 8 dGH, current: {current}}}\n"
        "residents: [{species: bristlenose pleco, length: 8 cm}]\n"
        f"proposals: [{{name: p, add: [{{species: {species}, length: 5 cm}}]}}]\n"
    )
    found = [one for one in screened(plan).proposals[0].findings if one.found.topic == "current"]
    assert bool(found) is suffers
    assert all(one.consequence is Consequence.MARGINAL for one in found)


@pytest.mark.parametrize(("current", "suffer"), [("still", 0.7), ("moderate", 0.0), ("strong", 0.0)])
def test_of_fish_of_the_rapids_seven_in_ten_mind_still_water(
    simulated: Callable[..., Scene], current: str, suffer: float
) -> None:
    """Derived: two steps from what they want; draws are even. One step is none."""
    text = f"""
        tank: {{size: 120 x 50 x 50 cm, temperature: 22 C, current: {current}}}
        residents: [{{species: reticulated hillstream loach, count: 4, length: 5 cm}}]
    """
    found = [one for one in water_overlap.find(simulated(text, draws=1000)) if one.topic == water_overlap.CURRENT]
    assert sum(float(one.outcomes[0].happens.mean()) for one in found) == pytest.approx(suffer, abs=0.001)


def test_of_two_that_share_no_water_each_is_half_the_way_outside(simulated: Callable[..., Scene]) -> None:
    """Derived: 7 C from one range to the other is 3.5 C for each, less its slack, and lasting harm begins at 4 C."""
    text = """
        tank: {size: 150 x 60 x 60 cm, temperature: 25 C, ph: 7, hardness: 8 dGH}
        residents: [{species: blue discus, count: 5, length: 13 cm}]
        proposals: [{name: p, add: [{species: goldfish, count: 2, length: 10 cm}]}]
    """
    scene = simulated(text, draws=1000)
    goldfish, discus = sorted(scene.groups, key=lambda group: group.is_resident)
    water = goldfish.profile.water_ranges
    assert water is not None
    cold = goldfish.profile.model_copy(
        update={"water_ranges": water.model_copy(update={"temperature": Range(10, 20)})}  # invented
    )
    apart = replace(scene, groups=(replace(goldfish, profile=cold), discus))
    (found,) = (one for one in water_overlap.find(apart) if one.topic == "temperature for both")
    _, lasting, stress = (float(outcome.happens.mean()) for outcome in found.outcomes)
    assert found.figures[0].value == 7
    assert stress > 0.95
    assert lasting == 0


@pytest.mark.parametrize("span", ["25-33 C", "13-25 C"], ids=["hot summers", "cold winters"])
def test_of_a_range_both_ends_are_met(simulated: Callable[..., Scene], span: str) -> None:
    """Derived: neon tetras want 20 to 26 C; 33 or 13 C is 7 C outside, less a slack of about 1 C, and 4 C harms for good."""
    text = f"""
        tank: {{size: 80 x 35 x 40 cm, temperature: {span}, ph: 6.5, hardness: 5 dGH}}
        residents: [{{species: neon tetra, count: 8, length: 3 cm}}]
    """
    (found,) = (one for one in water_overlap.find(simulated(text, draws=500)) if one.topic == "temperature")
    assert float(found.outcomes[1].happens.mean()) > 0.5
