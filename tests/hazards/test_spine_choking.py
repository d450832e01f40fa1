"""Locked spines in the throat of the eater: published cases, keepers' cases, laws."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from coswim.findings.finding import Consequence
from coswim.findings.pictures import CurvesPicture, MonthsPicture
from coswim.hazards import gape_fit, spine_choking
from coswim.profiles.catalog import BUILT_IN, Catalog
from coswim.simulation.scene import Scene
from coswim.verdict.rating import Finding, Unrated

RatedBy = Callable[..., list[Finding]]
UnratedBy = Callable[..., list[Unrated]]
NEEDS_CHANGE = {"serious", "high"}
TANK = "180x60x60"
HURT = {Consequence.CATASTROPHIC, Consequence.CRITICAL}
# The shapes of the two wild fish are memory. The gape is an assumption of the test, a range that holds what is
# plausible, so individuals differ within it as measured fish do (CV 0.18) and not as guessed ones.
SOURCES = "assumed: {kind: published, citation: 'an assumption of this test'}\n"
PIKEMINNOW = """
scientific_name: Ptychocheilus lucius
common_names: [Colorado pikeminnow]
family: Leuciscidae
adult_length: 60-90 cm
body: {form: elongated, standard_length: 0.84, depth: 0.18-0.21}
mouth_gape: 0.11-0.13
growth: 0.05-0.1
feeding_style: {diet: piscivore, eats_fish: any that fit, level: [mid], pace: steady, active: day}
swimming: open-water
sources: {body: memory, mouth_gape: assumed}
"""
CHANNEL_CATFISH = """
scientific_name: Ictalurus punctatus
common_names: [channel catfish]
family: Ictaluridae
adult_length: 50-70 cm
body: {form: fusiform, standard_length: 0.82, depth: 0.19-0.22, width: 0.17-0.2}
growth: 0.1-0.15
features: [barbels, scaleless, locking-spines]
sources: {body: memory}
"""


@pytest.fixture(scope="module")
def river(tmp_path_factory: pytest.TempPathFactory) -> Catalog:
    """The built-in library with the two fish of the published cases."""
    folder: Path = tmp_path_factory.mktemp("river")
    (folder / "pikeminnow.yaml").write_text(PIKEMINNOW, encoding="utf-8")
    (folder / "catfish.yaml").write_text(CHANNEL_CATFISH, encoding="utf-8")
    (folder / "sources.yaml").write_text(SOURCES, encoding="utf-8")
    return Catalog((BUILT_IN, folder))


def meet(rated_by: RatedBy, river: Catalog, pikeminnow_mm: int, catfish_mm: int) -> tuple[float, float]:
    """On the day they meet: the share of draws in which spines would stick, and their span over the gape."""
    groups = [f"1 Colorado pikeminnow, {pikeminnow_mm} mm"], [f"1 channel catfish, {catfish_mm} mm"]
    shares, curves = rated_by(spine_choking, "900x300x200", *groups, library=river, draws=1000)[0].pictures
    assert isinstance(shares, MonthsPicture)
    assert isinstance(curves, CurvesPicture)
    spines, mouth = curves.curves
    return shares.shares[0], spines.middle[0] / mouth.middle[0]


@pytest.mark.parametrize(
    ("pikeminnow_mm", "catfish_mm"),
    [  # published, categorical: a hazard to the predator (McAda 1983; Wick et al. 1985, second-hand)
        (550, 120),
        (591, 174),
    ],
)
def test_published_lodgings_are_flagged(rated_by: RatedBy, river: Catalog, pikeminnow_mm: int, catfish_mm: int) -> None:
    share, span = meet(rated_by, river, pikeminnow_mm, catfish_mm)
    assert share > 0.35
    assert span > spine_choking.THROAT[0]


def test_the_published_case_without_lodging_is_little_or_none(rated_by: RatedBy, river: Catalog) -> None:
    """Published, categorical and weak: 444 mm and 77 mm (Pimentel et al. 1985, second-hand)."""
    share, span = meet(rated_by, river, 444, 77)
    assert share < 0.2
    assert span < spine_choking.THROAT[0]


@pytest.mark.parametrize(
    ("eater", "prey"),
    [  # common practice, no source
        ("1 oscar, 26 cm", "8 bronze corydoras, 6 cm"),
        ("1 oscar, 26 cm", "1 pictus catfish, 9 cm"),
        ("1 tiger shovelnose catfish, 50 cm", "1 striped raphael catfish, 13 cm"),
        ("1 redtail catfish, 40 cm", "1 common pleco, 15 cm"),
        ("1 Jack Dempsey, 17 cm", "6 panda corydoras, 4 cm"),
    ],
)
def test_hunters_choke_on_spiny_company(rated_by: RatedBy, eater: str, prey: str) -> None:
    finding = rated_by(spine_choking, TANK, [eater], [prey])[0]
    assert str(finding.level) in NEEDS_CHANGE
    assert finding.found.target.is_resident  # the eater is the one in danger
    assert finding.found.doer is not None
    assert not finding.found.doer.is_resident


@pytest.mark.parametrize(
    ("eater", "prey"),
    [  # common practice, no source
        ("4 freshwater angelfish, 8 cm", "8 bronze corydoras, 5 cm"),
        ("8 neon tetra, 3 cm", "6 bronze corydoras, 5 cm"),
        ("5 blue discus, 14 cm", "8 Sterba's corydoras, 5 cm"),
        ("1 oscar, 26 cm", "5 silver dollar, 12 cm"),  # no spines
        ("1 saddled bichir, 38 cm", "1 common pleco, 28 cm"),  # too large to try
        ("1 bristlenose pleco, 8 cm", "6 bronze corydoras, 4 cm"),
    ],
)
def test_no_choking_where_nothing_spiny_is_tried(rated_by: RatedBy, eater: str, prey: str) -> None:
    assert not {str(f.level) for f in rated_by(spine_choking, TANK, [eater], [prey])} & NEEDS_CHANGE


def test_where_spines_seldom_stick_half_of_them_kill(rated_by: RatedBy) -> None:
    """Derived from the judgement that half do: of rare cases, hardly ever two in one future, half are deaths."""
    groups = ["1 freshwater angelfish, 15 cm"], ["2 pygmy corydoras, 2 cm"]
    killed, choked = (o.happens.mean() for o in rated_by(spine_choking, TANK, *groups, draws=8000)[0].found.outcomes)
    assert 0.005 < choked < 0.1
    assert killed / choked == pytest.approx(0.5, abs=0.1)


def test_those_that_die_are_a_part_of_those_that_choke(rated_by: RatedBy) -> None:
    finding = rated_by(spine_choking, TANK, ["1 oscar, 26 cm"], ["8 bronze corydoras, 6 cm"])[0]
    killed, choked = (outcome.happens for outcome in finding.found.outcomes)
    assert finding.consequence is Consequence.CATASTROPHIC
    assert np.all(choked[killed])
    assert 0 < killed.mean() < choked.mean()


def share_hurt(findings: list[Finding]) -> float:
    """The share of draws in which at least one eater is hurt."""
    flags = [outcome.happens for f in findings for outcome in f.found.outcomes if outcome.consequence in HURT]
    return float(np.any(flags, axis=0).mean()) if flags else 0.0


@pytest.mark.parametrize(
    ("eater", "prey"), [("oscar, 26 cm", "bronze corydoras, 6 cm"), ("oscar, 26 cm", "pictus catfish, 9 cm")]
)
def test_more_of_either_make_it_likelier(rated_by: RatedBy, eater: str, prey: str) -> None:
    shares = [
        share_hurt(rated_by(spine_choking, TANK, [f"{eaters} {eater}"], [f"{number} {prey}"]))
        for eaters, number in ((1, 1), (1, 3), (2, 3), (2, 9))
    ]
    assert shares == sorted(shares)
    assert shares[0] < shares[1]


def test_splitting_a_group_changes_nothing(rated_by: RatedBy) -> None:
    """Beyond the spread of the draws, as each part's individual is drawn by itself."""

    def share(eaters: list[str], prey: list[str]) -> float:
        eaters, prey = [f"{n} oscar, 26 cm" for n in eaters], [f"{n} bronze corydoras, 6 cm" for n in prey]
        return share_hurt(rated_by(spine_choking, TANK, eaters, prey, draws=2000))

    whole = share(["2"], ["4"])
    assert share(["2"], ["1", "3"]) == pytest.approx(whole, abs=0.06)
    assert share(["1", "1"], ["4"]) == pytest.approx(whole, abs=0.08)


LOACH = """
scientific_name: Botia ficta
common_names: [thorn loach]
family: Botiidae
adult_length: 8-10 cm
body: {form: fusiform, standard_length: 0.82, depth: 0.22-0.25, width: 0.14-0.16}
growth: 0.4-0.6
features: [barbels, cheek-spines]
sources: {body: memory}
"""


def test_spines_under_the_eye_wound_the_throat_and_lock_nothing(rated_by: RatedBy, tmp_path: Path) -> None:
    (tmp_path / "botia-ficta.yaml").write_text(LOACH, encoding="utf-8")
    library = Catalog((BUILT_IN, tmp_path))
    finding = rated_by(spine_choking, TANK, ["1 oscar, 26 cm"], ["5 thorn loach, 6 cm"], library=library)[0]
    assert finding.consequence is Consequence.CRITICAL
    assert "throat by the spines under the eyes of the 5 thorn loaches" in finding.found.sentence
    assert not any(figure.key == "spine_span_mm" for figure in finding.found.figures)
    bare = LOACH.replace(", cheek-spines", "")
    (tmp_path / "botia-ficta.yaml").write_text(bare, encoding="utf-8")
    again = Catalog((BUILT_IN, tmp_path))
    groups = ["1 oscar, 26 cm"], ["5 thorn loach, 6 cm"]
    assert rated_by(spine_choking, TANK, *groups, library=again) == []
    eaten = [rated_by(gape_fit, TANK, *groups, library=each)[0].likelihood for each in (library, again)]
    assert eaten[0] == eaten[1]  # the fish goes in as easily with such spines


@settings(max_examples=15, deadline=None)
@given(st.integers(2, 11), st.integers(12, 30))
def test_a_longer_time_together_never_lowers_it(rated_by: RatedBy, months: int, eater_cm: int) -> None:
    def share(horizon: int) -> float:
        groups = [f"1 oscar, {eater_cm} cm"], ["6 bronze corydoras, 5 cm"]
        findings = rated_by(spine_choking, TANK, *groups, months=horizon, draws=200)
        return max((float(f.found.outcomes[1].happens.mean()) for f in findings), default=0.0)

    assert share(months) <= share(months + 12)


def test_an_unknown_mouth_is_said_and_not_silent(unrated_by: UnratedBy, bare_library: Callable[..., Catalog]) -> None:
    library = bare_library("mouth_gape")
    unrated = unrated_by(spine_choking, TANK, ["1 oddfish, 20 cm"], ["6 bronze corydoras, 5 cm"], library=library)
    assert [one.found.missing for one in unrated] == ["oddfish: the profile does not state mouth_gape"]


def test_a_horizon_of_one_month_is_one_months_chance(simulated: Callable[..., Scene]) -> None:
    """Derived: of eight that surely stick and are gladly tried, 0.02 a month each, one does in 1 - 0.98^8 = 0.149.

    A second month would make it 0.276; the fish meet at month 0, and the last month is the end of the time.
    """
    text = """
        tank: {size: 180 x 60 x 60 cm, temperature: 25 C}
        residents: [{species: oscar, length: 25 cm, this_fish: {mouth: 41 mm}}]
        proposals: [{name: p, add: [{species: bronze corydoras, count: 8, length: 5 cm, this_fish: {depth: 25 mm}}]}]
        horizon: 1 month
    """
    (found,) = spine_choking.find(simulated(text, draws=4000))
    died, hurt = (float(outcome.happens.mean()) for outcome in found.outcomes)
    assert hurt == pytest.approx(1 - 0.98**8, abs=0.02)
    assert died == pytest.approx(1 - 0.99**8, abs=0.02)
