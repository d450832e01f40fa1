"""Room, ground and stock: what is too small for whom, and what is not."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from coswim.biology import space as biology
from coswim.findings.finding import Consequence
from coswim.findings.pictures import CurvesPicture
from coswim.hazards import space
from coswim.plans.reading import read_plan
from coswim.profiles.catalog import Catalog
from coswim.simulation import room
from coswim.simulation.scene import Effort, build_scene
from coswim.verdict.rating import Finding, Unrated, overall

RatedBy = Callable[..., list[Finding]]
UnratedBy = Callable[..., list[Unrated]]
NEEDS_CHANGE = {"serious", "high"}


def worst(findings: list[Finding], topic: str = "") -> str:
    """The worst level of the findings (of one topic), `none` without any."""
    return next((str(f.level) for f in findings if f.level and topic in f.found.topic), "none")


@pytest.mark.parametrize(
    ("tank", "resident", "newcomer", "topic"),
    [  # common practice, no source
        ("80x35x36", "6 guppy, 4 cm", "5 bala shark, 8 cm", "room"),
        ("60x30x36", "6 guppy, 4 cm", "1 common pleco, 8 cm", "room"),
        ("80x35x40", "8 guppy, 4 cm", "1 common pleco, 10 cm", "room"),
        ("150x50x53", "1 oscar, 25 cm", "1 redtail catfish, 15 cm", "room"),
        ("60x30x30", "6 neon tetra, 3 cm", "1 goldfish, 6 cm", "room"),
        ("100x40x50", "6 tiger barb, 5 cm", "1 oscar, 8 cm", "room"),
        ("60x30x30", "6 neon tetra, 3 cm", "6 giant danio, 5 cm", "room"),
        ("60x30x30", "6 neon tetra, 3 cm", "2 freshwater angelfish, 5 cm", "room"),
        ("120x50x50", "1 oscar, 15 cm", "1 red-bellied pacu, 10 cm", "room"),
        ("180x60x60", "1 oscar, 25 cm", "1 silver arowana, 20 cm", "room"),
        ("100x40x50", "8 tiger barb, 5 cm", "5 clown loach, 6 cm", "stock"),
        ("60x30x30", "30 neon tetra, 3 cm", "12 guppy, 3 cm", "stock"),
        ("60x30x30", "6 guppy, 4 cm", "5 convict cichlid, 6 cm", "ground"),
    ],
)
def test_too_small(rated_by: RatedBy, tank: str, resident: str, newcomer: str, topic: str) -> None:
    assert worst(rated_by(space, tank, [resident], [newcomer]), topic) in NEEDS_CHANGE


@pytest.mark.parametrize(
    ("tank", "residents", "newcomer"),
    [  # common practice, no source
        ("60x30x30", ["6 panda corydoras, 4 cm"], "10 neon tetra, 3 cm"),
        ("80x35x40", ["10 neon tetra, 3 cm", "2 ram cichlid, 5 cm"], "6 bronze corydoras, 5 cm"),
        ("100x40x50", ["8 bronze corydoras, 5 cm"], "4 freshwater angelfish, 6 cm"),
        ("150x60x60", ["5 silver dollar, 12 cm"], "1 oscar, 12 cm"),
        ("120x50x50", ["20 cardinal tetra, 3 cm"], "5 blue discus, 10 cm"),
        ("120x50x50", ["6 electric yellow cichlid, 8 cm"], "8 zebra mbuna, 7 cm"),
        ("120x50x50", ["8 bronze corydoras, 5 cm"], "6 Boeseman's rainbowfish, 7 cm"),
        ("250x80x70", ["5 clown loach, 12 cm"], "5 bala shark, 10 cm"),
        ("60x30x30", ["6 ember tetra, 2 cm"], "1 Siamese fighting fish, 6 cm"),
    ],
)
def test_room_enough(rated_by: RatedBy, tank: str, residents: list[str], newcomer: str) -> None:
    assert worst(rated_by(space, tank, residents, [newcomer])) not in NEEDS_CHANGE


@pytest.mark.parametrize(
    ("fish", "too_small", "enough"),
    [  # common practice, no source: the lengths of tank that keepers name, and the step below
        ("5 clown loach, 8 cm", "120x50x50", "180x60x60"),
        ("1 oscar, 20 cm", "100x40x50", "150x60x60"),
        ("2 goldfish, 15 cm", "100x40x50", "150x60x60"),
        ("6 silver dollar, 8 cm", "120x50x50", "150x60x60"),
        ("10 neon tetra, 3 cm", "40x25x25", "60x30x36"),
        ("5 bala shark, 8 cm", "150x60x60", "250x80x70"),
    ],
)
def test_what_keepers_agree_on(rated_by: RatedBy, fish: str, too_small: str, enough: str) -> None:
    assert worst(rated_by(space, too_small, [fish]), "room") in NEEDS_CHANGE
    assert worst(rated_by(space, enough, [fish])) not in NEEDS_CHANGE


@pytest.mark.parametrize("name", ["oscar", "bala shark", "saddled bichir", "goldfish", "freshwater angelfish", "guppy"])
def test_what_is_wanted_is_never_below_the_legal_floor(catalog: Catalog, name: str) -> None:
    """Published: 3, 2 and 1 body lengths (SR 455.1, Annex 2, Table 8)."""
    read = read_plan(
        f"tank: {{size: 60 x 30 x 30 cm, temperature: 25 C}}\nresidents: [{{species: {name}, length: 4 cm}}]\n",
        "plan.yaml",
        catalog,
    )
    (fish,) = build_scene(read, None, catalog, Effort(draws=50)).groups
    wanted = room.wants(fish, fish.profile.swimming or "cruiser", number=1, least=False)
    length = fish.profile.adult_length.high
    legal = biology.legal_box(length * fish.standard_fraction)
    assert all(side >= floor - 1e-6 for side, floor in zip(wanted.box(length), legal, strict=True))


def test_what_comes_after_the_months_looked_ahead_has_no_month_in_them(rated_by: RatedBy) -> None:
    """Derived: bala sharks of 8 cm outgrow 100 cm of tank long after the first month, but do."""
    soon, late = (
        next(
            f.found
            for f in rated_by(space, "100x40x50", ["5 bala shark, 8 cm"], months=months)
            if f.found.topic == "room"
        )
        for months in (120, 1)
    )
    assert soon.from_month is not None
    assert 1 < soon.from_month <= 120 == soon.to_month
    assert late.from_month is not None
    assert late.from_month > 1
    assert late.to_month is None


def test_a_larger_group_wants_a_longer_tank(rated_by: RatedBy) -> None:
    few, many = (
        next(
            (f for f in rated_by(space, "150x60x60", [f"{count} silver dollar, 8 cm"]) if f.found.topic == "room"), None
        )
        for count in (6, 18)
    )
    assert many is not None
    assert many.risk > (few.risk if few else 0)


SPECIES = st.sampled_from(
    ["bala shark", "common pleco", "oscar", "zebrafish", "convict cichlid", "fire eel", "freshwater angelfish", "guppy"]
)


@settings(max_examples=60, deadline=None)
@given(
    data=st.data(),
    species=st.tuples(SPECIES, SPECIES),
    counts=st.tuples(st.integers(1, 12), st.integers(1, 12)),
    sides=st.tuples(st.integers(25, 250), st.integers(20, 90), st.integers(20, 90)),
)
def test_a_bigger_tank_never_raises_the_risk(
    rated_by: RatedBy, data: st.DataObject, species: tuple[str, str], counts: tuple[int, int], sides: tuple[int, ...]
) -> None:
    """Every side is monotone by itself, finding by finding and for the proposal as a whole."""
    more = [1.0, 1.0, 1.0]
    more[data.draw(st.integers(0, 2))] = data.draw(st.floats(1, 2.5))
    groups = [f"{count} {name}, 3 cm" for count, name in zip(counts, species, strict=True)]

    def risks(tank: str) -> tuple[dict[object, int], int]:
        findings = rated_by(space, tank, groups[:1], groups[1:], draws=100)
        union = overall(findings)
        return {f.found.key: f.risk for f in findings}, union.risk if union else 0

    small, whole = risks("x".join(str(side) for side in sides))
    larger, whole_of_larger = risks("x".join(f"{side * by:.1f}" for side, by in zip(sides, more, strict=True)))
    assert all(risk <= small.get(key, 0) for key, risk in larger.items())
    assert whole_of_larger <= whole


def test_the_month_at_which_the_tank_is_outgrown(rated_by: RatedBy) -> None:
    """Derived: outgrown at the month at which the middle fish passes the longest that the tank holds."""
    finding = rated_by(space, "80x35x36", ["6 guppy, 4 cm"], ["5 bala shark, 8 cm"])[0]
    found = finding.found
    (picture,) = finding.pictures
    assert isinstance(picture, CurvesPicture)
    length, limit = picture.curves
    assert found.from_month is not None
    assert length.middle[found.from_month - 1] < limit.middle[0] * 1.05
    assert length.middle[found.from_month] > limit.middle[0] * 0.95
    assert found.sentence == f"The 5 bala sharks outgrow the tank within about {found.from_month} months."


def test_outgrown_after_the_months_looked_ahead_is_told_and_counts_as_stress(rated_by: RatedBy) -> None:
    """Within six months the pleco still fits; its grown size decides, but not as lasting harm."""
    finding = rated_by(space, "80x35x40", ["8 guppy, 4 cm"], ["1 common pleco, 8 cm"], months=6)[0]
    assert finding.consequence is Consequence.MARGINAL
    assert finding.likelihood is not None
    assert finding.likelihood > 0.9
    assert finding.found.from_month is not None
    assert finding.found.from_month > 6
    assert any("after the 6 months looked ahead" in reason for reason in finding.found.because)


def test_far_too_long_within_the_months_is_lasting_harm(rated_by: RatedBy) -> None:
    finding = rated_by(space, "120x50x50", ["1 oscar, 15 cm"], ["1 red-bellied pacu, 10 cm"])[0]
    assert finding.consequence is Consequence.CRITICAL


def test_the_law_is_a_floor_and_never_a_pass(rated_by: RatedBy) -> None:
    """Published: Table 8 asks for 2 body lengths of width; 46 cm of bichir in 60 cm is below it."""
    findings = rated_by(space, "180x60x60", ["12 Congo tetra, 6 cm"], ["1 saddled bichir, 30 cm"])
    assert findings[0].consequence is Consequence.MARGINAL
    reasons = [reason for f in findings for reason in f.found.because]
    assert any("below a legal minimum used in Switzerland" in reason for reason in reasons)
    roomy = rated_by(space, "400x200x100", ["12 Congo tetra, 6 cm"], ["1 saddled bichir, 20 cm"])
    assert not any("legal" in reason or "law" in reason for f in roomy for reason in f.found.because)


def test_a_crowded_tank_is_laid_to_those_who_crowd_it(rated_by: RatedBy) -> None:
    """Newcomers that need little of the water are not named; the finding is then one among residents."""

    def named(newcomer: str) -> str:
        findings = rated_by(space, "60x30x30", ["40 neon tetra, 3 cm"], [newcomer])
        return next(f.found.target.name for f in findings if f.found.topic == "stock")

    assert named("1 ember tetra, 2 cm") == "neon tetra"
    assert named("12 guppy, 3 cm") == "guppy"


def test_a_pair_or_an_advised_group_holds_one_place(rated_by: RatedBy) -> None:
    """A convict couple guards its brood together."""
    alone = rated_by(space, "60x30x30", ["6 guppy, 4 cm"], ["2 convict cichlid, 7 cm"])
    several = rated_by(space, "60x30x30", ["6 guppy, 4 cm"], ["6 convict cichlid, 7 cm"])
    assert worst(alone, "ground") == "none"
    assert worst(several, "ground") in NEEDS_CHANGE


@pytest.mark.parametrize(
    ("missing", "hazard_words"), [("swimming", "room to swim"), ("temperament", "ground of their own")]
)
def test_a_missing_trait_is_said_and_not_silent(
    unrated_by: UnratedBy, bare_library: Callable[..., object], missing: str, hazard_words: str
) -> None:
    library = bare_library(missing)
    (unrated,) = unrated_by(space, "60x30x30", ["6 guppy, 4 cm"], ["3 oddfish, 12 cm"], library=library)
    assert unrated.found.missing == f"oddfish: the profile does not state {missing}"
    assert hazard_words in unrated.found.sentence
    assert unrated_by(space, "800x300x200", ["6 guppy, 4 cm"], ["3 oddfish, 12 cm"], library=library) == []


def test_unknown_growth_leaves_the_month_open(rated_by: RatedBy, bare_library: Callable[..., object]) -> None:
    library = bare_library("growth")
    findings = rated_by(space, "40x25x25", ["6 guppy, 4 cm"], ["1 oddfish, 12 cm"], library=library)
    room, stock = (next(f.found for f in findings if f.found.topic == topic) for topic in ("room", "stock"))
    assert (room.from_month, stock.from_month) == (None, None)
    assert any("How fast it grows is not stated" in reason for reason in room.because)
