"""Who harasses whom, and what makes it worse or better."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from coswim.findings.finding import Consequence
from coswim.hazards import aggression
from coswim.plans.reading import read_plan
from coswim.profiles.catalog import Catalog
from coswim.screening import Screening
from coswim.simulation.quarrel import Quarrel
from coswim.simulation.scene import Effort, Scene, build_scene
from coswim.verdict.rating import Finding, Unrated

RatedBy = Callable[..., list[Finding]]
UnratedBy = Callable[..., list[Unrated]]
RANK = {None: 0, "low": 1, "medium": 2, "serious": 3, "high": 4}


def between(findings: list[Finding], doer: str, target: str) -> Finding | None:
    """The finding of one attacker on one target."""
    for finding in findings:
        if finding.found.doer is not None and (finding.found.doer.name, finding.found.target.name) == (doer, target):
            return finding
    return None


def worst(findings: list[Finding]) -> int:
    """The highest level among the findings, 0 to 4."""
    return max((RANK[str(finding.level)] for finding in findings if finding.level), default=0)


def scene(catalog: Catalog, tank: str, residents: str, newcomers: str) -> Scene:
    read = read_plan(
        f"tank: {{size: {tank} cm, temperature: 26 C}}\nresidents: [{residents}]\n"
        f"proposals: [{{name: p, add: [{newcomers}]}}]\n",
        "plan.yaml",
        catalog,
    )
    return build_scene(read, read.plan.proposals[0], catalog, Effort(draws=300))


def quarrel(scene: Scene, doer: str, target: str) -> tuple[Quarrel, np.ndarray]:
    """One quarrel of a scene and its load."""
    fish = {(group.name, group.is_resident): group for group in scene.groups}
    attacker = next(group for (name, _), group in fish.items() if name == doer)
    quarrels = [Quarrel(scene, attacker, other) for other in scene.groups if other is not attacker or other.count > 1]
    mine = next(one for one in quarrels if one.target.name == target and one.target is not attacker)
    return mine, mine.load(quarrels)


@pytest.mark.parametrize(
    ("tank", "resident", "newcomer"),
    # common practice, no source
    [
        ("60x30x30", "1 Siamese fighting fish, 6 cm", "1 Siamese fighting fish, 6 cm"),
        ("120x40x50", "2 convict cichlid, 9 cm", "3 pearl gourami, 9 cm"),
        ("150x50x50", "8 zebra mbuna, 8 cm", "4 peacock cichlid, 8 cm"),
        ("160x60x60", "1 Jack Dempsey, 17 cm", "4 freshwater angelfish, 8 cm"),
        ("120x40x40", "1 rainbow shark, 12 cm", "1 rainbow shark, 8 cm"),
        ("120x50x60", "6 bronze corydoras, 5 cm", "1 Chinese algae eater, 16 cm"),
    ],
)
def test_classic_enemies(rated_by: RatedBy, tank: str, resident: str, newcomer: str) -> None:
    findings = rated_by(aggression, tank, [resident], [newcomer])
    assert worst(findings) >= RANK["serious"]
    assert findings[0].found.sentence.count(" may ") == 1
    assert "ordinal" in findings[0].found.because[-1]


@pytest.mark.parametrize(
    ("tank", "resident", "newcomer"),
    # common practice, no source
    [
        ("120x40x50", "12 neon tetra, 3 cm", "6 bronze corydoras, 5 cm"),
        ("100x40x40", "1 cockatoo dwarf cichlid, 6 cm", "12 black neon tetra, 3.5 cm"),
        ("120x50x50", "2 kribensis, 7 cm", "8 Congo tetra, 7 cm"),
        ("60x30x36", "1 Siamese fighting fish, 6 cm", "6 pygmy corydoras, 2.5 cm"),
        ("100x40x50", "2 pearl gourami, 9 cm", "12 harlequin rasbora, 4 cm"),
        ("200x60x60", "2 severum, 15 cm", "6 silver dollar, 11 cm"),
        ("200x60x60", "6 high-fronted eartheater, 14 cm", "12 Congo tetra, 8 cm"),
    ],
)
def test_classic_company(rated_by: RatedBy, tank: str, resident: str, newcomer: str) -> None:
    assert worst(rated_by(aggression, tank, [resident], [newcomer])) <= RANK["medium"]


def test_large_aggressive_cichlids_kill_small_slow_fish(rated_by: RatedBy) -> None:
    finding = rated_by(aggression, "150x50x50", ["2 Midas cichlid, 22 cm"], ["3 pearl gourami, 9 cm"])[0]
    assert finding.consequence is Consequence.CATASTROPHIC
    assert finding.likelihood is not None
    assert finding.likelihood >= 0.5
    assert "death" in finding.found.sentence


def test_a_group_of_newcomers_may_fight_among_themselves(rated_by: RatedBy) -> None:
    findings = rated_by(aggression, "60x30x30", ["6 neon tetra, 3 cm"], ["2 Siamese fighting fish, 6 cm"])
    finding = between(findings, "Siamese fighting fish", "Siamese fighting fish")
    assert finding is not None
    assert finding.found.doer is finding.found.target
    assert finding.found.sentence.startswith("Among the 2 Siamese fighting fish the weakest may")
    assert str(finding.level) == "high"


def test_fish_taken_for_rivals_fare_worse(catalog: Catalog) -> None:
    """A betta minds a gourami of its family more than a tetra of the gourami's size."""
    tank = scene(
        catalog,
        "100 x 40 x 40",
        "{species: Siamese fighting fish, length: 6 cm}",
        "{species: dwarf gourami, length: 5 cm}, {species: glowlight tetra, count: 8, length: 4 cm}",
    )
    gourami, _ = quarrel(tank, "Siamese fighting fish", "dwarf gourami")
    tetra, _ = quarrel(tank, "Siamese fighting fish", "glowlight tetra")
    assert (gourami.relation, tetra.relation) == ("same family", "other")
    assert np.all(gourami.drive >= tetra.drive)
    assert gourami.drive.mean() > tetra.drive.mean()


def loads_with(catalog: Catalog, history: str, *, of: str = "Jack Dempsey") -> np.ndarray:
    """The Jack Dempsey's attacks on a severum where one of the two has a record."""
    record = f", history: {{{history}}}" if history else ""
    mine, theirs = (record, "") if of == "Jack Dempsey" else ("", record)
    tank = scene(
        catalog,
        "150 x 60 x 60",
        f"{{species: Jack Dempsey, length: 16 cm{mine}}}",
        f"{{species: severum, count: 2, length: 14 cm{theirs}}}",
    )
    return quarrel(tank, "Jack Dempsey", "severum")[1]


@settings(max_examples=12, deadline=None)
@given(st.integers(0, 12), st.integers(0, 12), st.integers(1, 6))
def test_more_past_trouble_never_lowers_aggression(catalog: Catalog, hurt: int, spared: int, more: int) -> None:
    tried = hurt + spared
    before = loads_with(catalog, f"tankmates_tried: {tried}, tankmates_hurt: {hurt}" if tried else "")
    after = loads_with(catalog, f"tankmates_tried: {tried + more}, tankmates_hurt: {hurt + more}")
    assert np.all(after >= before - 1e-12)


def test_any_trouble_on_record_is_never_better_than_no_record(catalog: Catalog) -> None:
    """Half of four tankmates hurt is less than an aggressive kind is known for, and still no comfort."""
    assert np.all(loads_with(catalog, "tankmates_tried: 4, tankmates_hurt: 2") >= loads_with(catalog, ""))


def test_a_peaceful_record_helps(catalog: Catalog) -> None:
    assert loads_with(catalog, "tankmates_tried: 6").mean() < loads_with(catalog, "").mean()


def test_a_beaten_fish_is_the_easier_target(catalog: Catalog) -> None:
    beaten = loads_with(catalog, "hurt_by_tankmates: 3", of="severum")
    assert np.all(beaten >= loads_with(catalog, "", of="severum"))


def test_the_record_is_among_the_reasons(screened: Callable[..., Screening]) -> None:
    plan = """
        tank: {size: 150 x 60 x 60 cm, temperature: 26 C, ph: 7, hardness: 8 dGH}
        residents: [{species: severum, length: 18 cm, history: {tankmates_tried: 3, tankmates_hurt: 3}}]
        proposals: [{name: p, add: [{species: firemouth cichlid, count: 2, length: 9 cm}]}]
    """
    finding = between(list(screened(plan).proposals[0].findings), "severum", "firemouth cichlid")
    assert finding is not None
    # derived: 12 x 0.25 + 3 = 6 of 15
    assert any("hurt 3 of 3 tankmates" in reason and "0.40" in reason for reason in finding.found.because)


@settings(max_examples=10, deadline=None)
@given(st.floats(5, 20))
def test_a_fifth_more_length_never_worsens_a_newcomers_contests(catalog: Catalog, length: float) -> None:
    equal, longer = (
        quarrel(
            scene(
                catalog,
                "150 x 60 x 60",
                f"{{species: Jack Dempsey, length: {length:.2f} cm}}",
                f"{{species: severum, length: {size:.2f} cm}}",
            ),
            "Jack Dempsey",
            "severum",
        )[0].odds
        for size in (length, 1.2 * length)
    )
    assert np.all(longer <= equal + 1e-12)


def test_attacks_per_target_fall_with_a_larger_group_while_there_is_room(catalog: Catalog) -> None:
    resident = "{species: rainbow shark, length: 12 cm}"

    def load(tank: str, count: int) -> float:
        group = f"{{species: tiger barb, count: {count}, length: 5 cm}}"
        return float(quarrel(scene(catalog, tank, resident, group), "rainbow shark", "tiger barb")[1].mean())

    assert load("200 x 60 x 60", 12) < 0.7 * load("200 x 60 x 60", 3)
    assert load("60 x 30 x 30", 12) > 0.9 * load("60 x 30 x 30", 3)


@settings(max_examples=8, deadline=None)
@given(st.floats(1.1, 3.0))
def test_a_bigger_tank_never_makes_it_worse(catalog: Catalog, times: float) -> None:
    small, large = (
        quarrel(
            scene(
                catalog,
                f"{100 * more:.0f} x {40 * more:.0f} x 50",
                "{species: convict cichlid, count: 2, length: 9 cm}",
                "{species: platy, count: 6, length: 4 cm}",
            ),
            "convict cichlid",
            "platy",
        )[1].mean()
        for more in (1.0, times)
    )
    assert large <= small


def test_hiding_places_may_help_and_never_hurt(catalog: Catalog) -> None:
    def load(places: int) -> np.ndarray:
        read = read_plan(
            f"tank: {{size: 100 x 40 x 40 cm, temperature: 26 C, hiding_places: {places}}}\n"
            "residents: [{species: convict cichlid, count: 2, length: 9 cm}]\n"
            "proposals: [{name: p, add: [{species: platy, count: 6, length: 4 cm}]}]\n",
            "plan.yaml",
            catalog,
        )
        built = build_scene(read, read.plan.proposals[0], catalog, Effort(draws=300))
        return quarrel(built, "convict cichlid", "platy")[1]

    bare, furnished = load(0), load(12)
    assert np.all(furnished <= bare)
    assert furnished.mean() > 0.5 * bare.mean()  # never a cure by itself


def test_the_tables_turn_when_the_newcomer_outgrows_the_resident(rated_by: RatedBy) -> None:
    """A Jack Dempsey bought at 5 cm is the weaker one beside a convict of 10 cm, and soon is not."""
    findings = rated_by(aggression, "120x50x50", ["1 convict cichlid, 10 cm"], ["1 Jack Dempsey, 5 cm"])
    finding = between(findings, "Jack Dempsey", "convict cichlid")
    assert finding is not None
    assert any(reason.startswith("The tables turn at about month") for reason in finding.found.because)
    assert finding.found.from_month is not None
    assert finding.found.from_month > 0


def test_a_starving_resident_becomes_the_target(catalog: Catalog) -> None:
    """Beside twenty-four fast eaters the slow resident thins out, and each of them is up to it; beside one it does not."""
    resident = "{species: elephantnose fish, length: 18 cm}"
    (starved, by_many), (fed, by_one) = (
        quarrel(
            scene(catalog, "120 x 50 x 50", resident, f"{{species: tiger barb, count: {count}, length: 5 cm}}"),
            "tiger barb",
            "elephantnose fish",
        )
        for count in (24, 1)
    )
    assert starved.condition.mean() < fed.condition.mean() - 0.1
    assert fed.condition.mean() > 0.9
    assert np.all(starved.odds >= fed.odds - 1e-12)
    assert by_many.mean() > by_one.mean()


def test_what_is_not_known_is_said(unrated_by: UnratedBy, bare_library: Callable[..., Catalog]) -> None:
    library = bare_library("temperament")
    unrated = unrated_by(aggression, "150x50x50", ["1 oddfish, 15 cm"], ["6 platy, 4 cm"], library=library)
    assert {one.found.target.name for one in unrated} == {"oddfish", "platy"}
    assert all("oddfish: the profile does not state" in one.found.missing for one in unrated)


def test_a_group_of_cichlids_that_kill_their_rivals_needs_room(rated_by: RatedBy) -> None:
    """common practice, no source: four golden mbuna fight to the end in 60 cm and share a tank of 150 cm."""

    def level(tank: str) -> int:
        return worst(rated_by(aggression, tank, ["1 bristlenose pleco, 10 cm"], ["4 auratus cichlid, 9 cm"]))

    assert level("60x30x35") >= RANK["serious"]
    assert level("150x50x50") < RANK["serious"]


@pytest.mark.parametrize(("newcomer", "is_said"), [("6 cherry barb, 4.5 cm", True), ("1 oscar, 25 cm", False)])
def test_likeness_is_given_as_a_reason_only_at_similar_size(catalog: Catalog, newcomer: str, is_said: bool) -> None:
    count, rest = newcomer.split(" ", 1)
    species, length = rest.split(", ")
    resident = "{species: tiger barb, count: 2, length: 6 cm}"
    met = scene(catalog, "80 x 35 x 40", resident, f"{{species: {species}, count: {count}, length: {length}}}")
    said = [" ".join(one.because) for one in aggression.find(met) if one.doer and one.doer.name == "tiger barb"]
    assert said or not is_said
    assert any("for rivals" in reasons for reasons in said) is is_said
