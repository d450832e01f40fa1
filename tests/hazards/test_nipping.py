"""Who bites what off whom."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
import pytest

from coswim.findings.finding import Consequence
from coswim.hazards import nipping
from coswim.profiles.catalog import Catalog
from coswim.screening import Screening
from coswim.simulation.scene import Scene
from coswim.verdict.rating import Finding, Unrated

RatedBy = Callable[..., list[Finding]]
UnratedBy = Callable[..., list[Unrated]]
TANK = "120x50x50"
SEVERE = {"serious", "high"}


def between(findings: list[Finding], doer: str, target: str) -> Finding | None:
    """The finding of one nipper on one target."""
    for finding in findings:
        if finding.found.doer is not None and (finding.found.doer.name, finding.found.target.name) == (doer, target):
            return finding
    return None


def share(finding: Finding | None) -> float:
    """The share of draws in which something is bitten at all."""
    return 0.0 if finding is None else sum(float(outcome.happens.mean()) for outcome in finding.found.outcomes)


@pytest.mark.parametrize(
    ("resident", "newcomer", "nipper", "bitten"),
    # common practice, no source
    [
        ("3 freshwater angelfish, 8 cm", "8 tiger barb, 4 cm", "tiger barb", "freshwater angelfish"),
        ("8 tiger barb, 5 cm", "1 Siamese fighting fish, 6 cm", "tiger barb", "Siamese fighting fish"),
        ("6 serpae tetra, 4 cm", "4 pearl gourami, 8 cm", "serpae tetra", "pearl gourami"),
        ("8 guppy, 4 cm", "3 dwarf pufferfish, 2.5 cm", "dwarf pufferfish", "guppy"),
        ("6 Buenos Aires tetra, 6 cm", "6 guppy, 4 cm", "Buenos Aires tetra", "guppy"),
    ],
)
def test_known_nippers_and_what_they_bite(
    rated_by: RatedBy, resident: str, newcomer: str, nipper: str, bitten: str
) -> None:
    finding = between(rated_by(nipping, TANK, [resident], [newcomer]), nipper, bitten)
    assert finding is not None
    assert str(finding.level) in SEVERE
    assert finding.consequence is Consequence.CRITICAL
    assert "trailing fins" in finding.found.sentence


@pytest.mark.parametrize(
    ("resident", "newcomer"),
    # common practice, no source
    [
        ("10 tiger barb, 5 cm", "5 clown loach, 9 cm"),
        ("10 tiger barb, 5 cm", "8 giant danio, 8 cm"),
        ("6 emperor tetra, 4 cm", "2 pearl gourami, 9 cm"),
        ("4 freshwater angelfish, 8 cm", "10 lemon tetra, 4 cm"),
        ("8 guppy, 4 cm", "6 bronze corydoras, 5 cm"),
        ("4 molly, 6 cm", "4 platy, 4 cm"),
    ],
)
def test_nippers_among_fish_that_offer_little(rated_by: RatedBy, resident: str, newcomer: str) -> None:
    assert not SEVERE & {str(finding.level) for finding in rated_by(nipping, TANK, [resident], [newcomer])}


def test_a_fish_that_never_nips_does_not(rated_by: RatedBy) -> None:
    assert rated_by(nipping, TANK, ["2 pearl gourami, 9 cm"], ["10 neon tetra, 3 cm"]) == []


def test_each_nips_less_in_a_larger_group() -> None:
    """Sign published: ten attack less than one or two (Saxby et al. 2010)."""
    left = [nipping.left_in_company(count, 6) for count in range(1, 40)]
    assert left == sorted(left, reverse=True)
    assert left[0] == 1.0
    assert left[-1] < 0.1


@pytest.mark.parametrize("chance", [0.01, 0.1, 0.6])
def test_of_more_nippers_than_a_full_group_somebody_nips_no_less(chance: float) -> None:
    """Derived: 1 - (1 - p)^n with p falling as the root of n, from the smallest advised group on."""
    some = [1 - (1 - chance * nipping.left_in_company(count, 6)) ** count for count in range(6, 60)]
    assert some == sorted(some)


def test_six_known_nippers_nip_in_half_of_the_tanks(rated_by: RatedBy) -> None:
    """Derived from the words: 1 - (1 - 0.6 x 0.2)^6 = 0.54; of occasional ones 1 - (1 - 0.1 x 0.2)^6 = 0.11."""
    findings = rated_by(nipping, TANK, ["2 freshwater angelfish, 8 cm"], ["6 tiger barb, 4 cm"])
    finding = between(findings, "tiger barb", "freshwater angelfish")
    assert finding is not None
    fed = next(figure.value for figure in finding.found.figures if figure.key == "nippers")
    assert fed >= 0.53
    assert "Nips often" in finding.found.because[0]


@pytest.mark.parametrize(("coverage", "calm"), [(1.0, 0.8), (0.5, 0.48)], ids=["fed", "hungry"])
def test_hunger_leaves_a_part_of_the_calm_of_company(
    simulated: Callable[..., Scene], coverage: float, calm: float
) -> None:
    """Derived: in the group it wants a known nipper nips 0.6 (1 - 0.8) of the time, hungry 0.6 (1 - 0.6 x 0.8); sign
    published (tilapia attack more after two days without food)."""
    scene = simulated(
        "tank: {size: 120 x 50 x 50 cm, temperature: 25 C}\nresidents: [{species: freshwater angelfish, length: 8 cm}]\n"
        "proposals: [{add: [{species: tiger barb, count: 6, length: 4 cm}]}]\n"
    )
    vars(scene.course)["coverage"] = np.full_like(scene.course.lengths, coverage)
    found = next(one for one in nipping.find(scene) if one.pair[0].name == "tiger barb" and one.pair[1] is not one.doer)
    nippers = next(figure.value for figure in found.figures if figure.key == "nippers")
    assert nippers == pytest.approx(1 - (1 - 0.6 * (1 - calm)) ** 6)


@pytest.mark.parametrize(("more", "count"), [("", 8), ("", 24), (", feeding: {by_hand: [silver arowana]}", 8)])
def test_barbels_in_a_frenzy_fare_worse_beside_more_eaters_and_at_the_tongs(
    screened: Callable[..., Screening], more: str, count: int
) -> None:
    def bitten(extra: str, number: int) -> float:
        feeding = "feeding: {by_hand: [silver arowana]}\n" if extra else ""
        plan = (
            "tank: {size: 300 x 90 x 70 cm, temperature: 26 C, ph: 7, hardness: 8 dGH}\n"
            f"{feeding}residents: [{{species: silver arowana, length: 40 cm}}]\n"
            f"proposals: [{{name: p, add: [{{species: giant danio, count: {number}, length: 8 cm}}]}}]\n"
        )
        findings = [one for one in screened(plan).proposals[0].findings if one.found.hazard == "nipping"]
        return share(between(findings, "giant danio", "silver arowana"))

    assert bitten(more, count) > bitten("", 6) > 0


def test_long_fins_on_a_quick_fish_are_bitten_less(rated_by: RatedBy) -> None:
    findings = rated_by(nipping, TANK, ["4 pearl gourami, 9 cm", "8 Congo tetra, 8 cm"], ["8 tiger barb, 5 cm"])
    slow, quick = (between(findings, "tiger barb", name) for name in ("pearl gourami", "Congo tetra"))
    assert share(slow) > share(quick) > 0


def test_in_a_frenzy_a_barbel_may_be_taken_for_food(rated_by: RatedBy) -> None:
    findings = rated_by(nipping, TANK, ["1 silver arowana, 20 cm"], ["8 giant danio, 8 cm"])
    finding = between(findings, "giant danio", "silver arowana")
    assert finding is not None
    assert finding.consequence is Consequence.MARGINAL
    assert "may nip the barbels" in finding.found.sentence
    assert "feeding frenzy" in finding.found.because[0]
    calm = rated_by(nipping, TANK, ["1 silver arowana, 20 cm"], ["8 Congo tetra, 8 cm"])
    assert between(calm, "Congo tetra", "silver arowana") is None


def test_a_group_bites_its_own_fins(rated_by: RatedBy) -> None:
    finding = between(
        rated_by(nipping, TANK, ["6 neon tetra, 3 cm"], ["4 paradise fish, 7 cm"]), *["paradise fish"] * 2
    )
    assert finding is not None
    assert finding.found.sentence == "The 4 paradise fish may nip each other's trailing fins."


def test_an_unknown_temper_is_said_where_there_is_something_to_bite(
    unrated_by: UnratedBy, bare_library: Callable[..., Catalog]
) -> None:
    library = bare_library("temperament")
    newcomers = ["4 guppy, 4 cm", "6 platy, 4 cm"]
    (unrated,) = unrated_by(nipping, TANK, ["1 oddfish, 15 cm"], newcomers, library=library)
    assert [fish.name for fish in unrated.found.pair] == ["oddfish", "guppy"]
    assert unrated.found.missing == "oddfish: the profile does not state temperament.nips"


def told(simulated: Callable[..., Scene], *, nips: str = "often", level: str = "mid", more: str = "") -> list[float]:
    """The shares of futures in which trailing fins are bitten for good, and at all, by barbs of the middle."""
    text = f"""
        tank: {{size: 120 x 50 x 50 cm, temperature: 25 C}}
        residents: [{{species: tiger barb, count: 8, length: 4 cm, this_fish: {{nips: {nips}, level: mid}}}}]
        proposals:
          - name: p
            add:
              - species: opaline gourami
                length: 7 cm
                this_fish: {{stamina: average, level: {level}, features: [long-fins{more}]}}
    """
    (found,) = (one for one in nipping.find(simulated(text, draws=4000)) if not one.target.is_resident)
    return [float(outcome.happens.mean()) for outcome in found.outcomes]


@pytest.mark.parametrize(
    ("nips", "more", "part"),
    # derived: 0.3 of the bites on trailing fins last, 0.8 of those on a slow fish; from occasional nippers 0.35 of that
    [("often", "", 0.3), ("often", ", slow-swimmer", 0.8), ("sometimes", ", slow-swimmer", 0.28)],
)
def test_what_lasts_is_a_part_of_what_is_bitten(
    simulated: Callable[..., Scene], nips: str, more: str, part: float
) -> None:
    lasting, bitten = told(simulated, nips=nips, more=more)
    assert lasting / bitten == pytest.approx(part, abs=0.05)


def test_at_another_level_three_bites_of_ten_are_left(simulated: Callable[..., Scene]) -> None:
    here, elsewhere = (told(simulated, level=level)[-1] for level in ("mid", "bottom"))
    assert elsewhere / here == pytest.approx(0.3, abs=0.03)


@pytest.mark.parametrize(("by_hand", "each"), [("[]", 0.005), ("[bronze corydoras]", 0.01)], ids=["scattered", "tongs"])
def test_a_frenzy_is_twice_as_dangerous_around_the_tongs(
    simulated: Callable[..., Scene], by_hand: str, each: float
) -> None:
    """Derived: of twenty well-fed fish that rush for food at its level one bites a barbel in 1 - (1 - p)^20."""
    text = f"""
        tank: {{size: 120 x 50 x 50 cm, temperature: 25 C}}
        feeding: {{by_hand: {by_hand}}}
        residents: [{{species: bronze corydoras, length: 6 cm, this_fish: {{stamina: average, level: bottom}}}}]
        proposals:
          - name: p
            add:
              - species: rosy barb
                count: 20
                length: 5 cm
                this_fish: {{nips: never, pace: frantic, level: bottom}}
    """
    (found,) = nipping.find(simulated(text, draws=4000))
    assert float(found.outcomes[-1].happens.mean()) == pytest.approx(1 - (1 - each) ** 20, abs=0.02)
