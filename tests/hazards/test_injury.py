"""Shocks, bites, scales, rasping and stings."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import pytest

from coswim.findings.finding import Consequence, Found
from coswim.hazards import injury
from coswim.plans.reading import read_plan
from coswim.profiles.catalog import Catalog
from coswim.simulation.quarrel import Quarrel
from coswim.simulation.scene import Effort, Scene, build_scene
from coswim.verdict.rating import Finding, Unrated

RatedBy = Callable[..., list[Finding]]
UnratedBy = Callable[..., list[Unrated]]
TANK = "200x70x60"
SEVERE = {"serious", "high"}


def used(findings: list[Finding], doer: str, target: str, topic: str) -> Finding | None:
    """The finding of one weapon of one fish on another."""
    for finding in findings:
        found = finding.found
        if found.doer and (found.doer.name, found.target.name, found.topic) == (doer, target, topic):
            return finding
    return None


@pytest.mark.parametrize(
    ("resident", "newcomer", "doer", "target", "topic"),
    # common practice, no source
    [
        ("8 red-bellied piranha, 15 cm", "5 silver dollar, 12 cm", "red-bellied piranha", "silver dollar", "bite"),
        ("8 red-bellied piranha, 15 cm", "1 oscar, 25 cm", "red-bellied piranha", "oscar", "bite"),
        ("6 molly, 6 cm", "1 green spotted puffer, 9 cm", "green spotted puffer", "molly", "bite"),
        ("1 electric catfish, 25 cm", "1 oscar, 25 cm", "electric catfish", "oscar", "shock"),
        ("12 bucktooth tetra, 7 cm", "6 bronze corydoras, 6 cm", "bucktooth tetra", "bronze corydoras", "scales"),
        ("5 blue discus, 13 cm", "1 common pleco, 25 cm", "common pleco", "blue discus", "rasping"),
        ("5 blue discus, 13 cm", "1 Chinese algae eater, 12 cm", "Chinese algae eater", "blue discus", "rasping"),
        ("1 ocellate river stingray, 40 cm", "1 sailfin pleco, 30 cm", "sailfin pleco", "ocellate river stingray",
         "rasping"),
        ("1 ocellate river stingray, 40 cm", "1 Jack Dempsey, 18 cm", "ocellate river stingray", "Jack Dempsey",
         "sting"),
    ],
)  # fmt: skip
def test_weapons_that_matter(
    rated_by: RatedBy, resident: str, newcomer: str, doer: str, target: str, topic: str
) -> None:
    finding = used(rated_by(injury, TANK, [resident], [newcomer]), doer, target, topic)
    assert finding is not None
    assert str(finding.level) in SEVERE
    assert " may " in finding.found.sentence


@pytest.mark.parametrize(
    ("resident", "newcomer"),
    # common practice, no source
    [
        ("1 tambaqui, 30 cm", "5 silver dollar, 12 cm"),
        ("1 red-bellied pacu, 30 cm", "1 oscar, 25 cm"),
        ("5 blue discus, 13 cm", "1 bristlenose pleco, 9 cm"),
        ("4 freshwater angelfish, 8 cm", "6 bronze corydoras, 5 cm"),
        ("1 oscar, 25 cm", "1 common pleco, 28 cm"),
        ("1 elephantnose fish, 18 cm", "8 Congo tetra, 8 cm"),
        ("2 ocellate river stingray, 45 cm", "5 high-fronted eartheater, 18 cm"),
    ],
)
def test_weapons_that_hardly_matter(rated_by: RatedBy, resident: str, newcomer: str) -> None:
    assert not SEVERE & {str(finding.level) for finding in rated_by(injury, TANK, [resident], [newcomer])}


def test_strong_electricity_kills_and_weak_disturbs(rated_by: RatedBy) -> None:
    strong = rated_by(injury, TANK, ["1 electric catfish, 30 cm"], ["1 sailfin pleco, 30 cm"])[0]
    assert strong.consequence is Consequence.CATASTROPHIC
    findings = rated_by(injury, TANK, ["1 black ghost knifefish, 20 cm"], ["1 elephantnose fish, 18 cm"])
    weak = used(findings, "elephantnose fish", "black ghost knifefish", "shock")
    assert weak is not None
    assert weak.consequence is Consequence.MARGINAL
    assert "may disturb the electric sense" in weak.found.sentence


def test_biters_in_the_company_they_want_leave_each_other_alone(rated_by: RatedBy) -> None:
    def own(count: int) -> Finding | None:
        newcomers = [f"{count} red-bellied piranha, 15 cm"]
        findings = rated_by(injury, TANK, ["1 common pleco, 30 cm"], newcomers)
        return used(findings, "red-bellied piranha", "red-bellied piranha", "bite")

    few, many = own(2), own(8)
    assert few is not None
    assert str(few.level) in SEVERE
    assert many is None or str(many.level) not in SEVERE


def test_a_mob_kills_what_one_biter_only_wounds(rated_by: RatedBy) -> None:
    def consequence(count: int) -> Consequence | None:
        findings = rated_by(injury, TANK, ["1 oscar, 30 cm"], [f"{count} red-bellied piranha, 20 cm"])
        finding = used(findings, "red-bellied piranha", "oscar", "bite")
        return finding.consequence if finding else None

    assert (consequence(1), consequence(6)) == (Consequence.CRITICAL, Consequence.CATASTROPHIC)


def test_a_larger_suckermouth_rasps_more(rated_by: RatedBy) -> None:
    def share(suckermouth: str) -> float:
        findings = rated_by(injury, TANK, ["5 blue discus, 14 cm"], [f"1 {suckermouth}"])
        name = suckermouth.split(",")[0]
        finding = used(findings, name, "blue discus", "rasping")
        return 0.0 if finding is None else sum(float(outcome.happens.mean()) for outcome in finding.found.outcomes)

    assert share("common pleco, 28 cm") > share("bristlenose pleco, 9 cm") >= 0


def test_an_armed_fish_of_unknown_temper_is_said(unrated_by: UnratedBy, catalog: Catalog, tmp_path: Path) -> None:
    (tmp_path / "mirus-dentatus.yaml").write_text(
        "scientific_name: Mirus dentatus\ncommon_names: [toothy oddfish]\nfamily: Mirabilidae\n"
        "adult_length: 20-25 cm\nbody: {form: fusiform, depth: 0.3-0.4}\nfeatures: [strong-bite]\n"
        "sources: {adult_length: memory}\n",
        encoding="utf-8",
    )
    library = Catalog((*catalog.folders, tmp_path))
    (unrated,) = unrated_by(injury, TANK, ["1 toothy oddfish, 15 cm"], ["6 platy, 4 cm"], library=library)
    assert unrated.found.sentence == "Whether the toothy oddfish would wound the 6 platies is not known."
    assert "toothy oddfish: the profile does not state" in unrated.found.missing


def dashes(catalog: Catalog, fish: str, tank: str = "120 x 50 x 50", furnishing: str = "soft plants") -> Found | None:
    """The finding on the first group's dashing in a tank of some furnishing."""
    read = read_plan(
        f"tank: {{size: {tank} cm, temperature: 26 C, furnishing: {furnishing}}}\nresidents: [{fish}]\n",
        "plan.yaml",
        catalog,
    )
    scene = build_scene(read, None, catalog, Effort(draws=1000))
    return next((found for found in injury.find(scene) if found.topic == "dashing"), None)


def hurt(found: Found | None) -> float:
    """Share of futures in which one is hurt at all."""
    return float(found.outcomes[-1].happens.mean()) if found else 0.0


SHARKS = "{species: bala shark, count: 5, length: 15 cm}"


def test_a_large_quick_fish_in_a_short_tank_hits_the_glass(catalog: Catalog) -> None:
    """common practice, no source: balas in 120 cm lose scales; in 250 cm, and small danios in 80 cm, they do not."""
    found = dashes(catalog, SHARKS)
    assert found is not None
    assert found.sentence == "The 5 bala sharks may dash against the glass and lose scales or an eye."
    assert hurt(found) > 0.05
    assert dashes(catalog, SHARKS, tank="250 x 80 x 70") is None
    assert dashes(catalog, "{species: zebrafish, count: 8, length: 4 cm}", tank="80 x 35 x 40") is None


def test_what_makes_dashing_worse(catalog: Catalog) -> None:
    plain = hurt(dashes(catalog, SHARKS))
    assert hurt(dashes(catalog, SHARKS, furnishing="hard roots and rocks")) > plain
    assert hurt(dashes(catalog, SHARKS.replace("5", "2", 1))) < plain
    assert hurt(dashes(catalog, SHARKS, tank="150 x 50 x 50")) < plain
    assert hurt(dashes(catalog, f"{SHARKS}, {{species: wolf cichlid, length: 35 cm}}")) > plain


@pytest.mark.parametrize(("company", "useless"), [("", True), (", {species: common pleco, length: 20 cm}", False)])
def test_rocks_that_shelter_nobody_are_called_a_cost(catalog: Catalog, company: str, *, useless: bool) -> None:
    found = dashes(catalog, SHARKS + company, furnishing="hard roots and rocks")
    assert found is not None
    assert any("cost and give nothing" in reason for reason in found.because) is useless


def test_armour_counts_once_beside_stamina(catalog: Catalog) -> None:
    """Judgement: plates add a quarter to what a fish endures; the profile's stamina is stated apart from them."""
    read = read_plan(
        "tank: {size: 200 x 60 x 60 cm, temperature: 26 C}\nresidents: [{species: convict cichlid, length: 10 cm}, "
        "{species: common pleco, length: 20 cm}]\n",
        "plan.yaml",
        catalog,
    )
    scene = build_scene(read, None, catalog, Effort(draws=100))
    convict, pleco = sorted(scene.groups, key=lambda group: group.name == "common pleco")
    without = {"features": tuple(feature for feature in pleco.profile.features if feature != "armoured")}
    bare = replace(pleco, profile=pleco.profile.model_copy(update=without))
    armoured, unarmoured = (
        Quarrel(replace(scene, groups=tuple(target if one is pleco else one for one in scene.groups)), convict, target)
        for target in (pleco, bare)
    )
    assert "armoured" in pleco.profile.features
    assert armoured.endures == pytest.approx(1.25 * unarmoured.endures)


def harm(simulated: Callable[..., Scene], resident: str, newcomer: str, topic: str) -> list[float]:
    """The shares of futures in which a newcomer kills, hurts for good, and bothers, by one weapon."""
    text = f"""
        tank: {{size: 200 x 70 x 60 cm, temperature: 26 C}}
        residents: [{{{resident}}}]
        proposals: [{{name: p, add: [{{{newcomer}}}]}}]
    """
    found = injury.find(simulated(text, draws=2000))
    mine = next(one for one in found if one.topic == topic and one.doer and not one.doer.is_resident)
    return [float(outcome.happens.mean()) for outcome in mine.outcomes]


@pytest.mark.parametrize(("hours", "rasped"), [("night", 0.4), ("day", 0.2)])
def test_a_suckermouth_of_the_day_rasps_half_as_often(
    simulated: Callable[..., Scene], hours: str, rasped: float
) -> None:
    """Derived: 0.4 of those of 30 cm, beside a broad, slow and fragile fish."""
    discus = "species: blue discus, length: 13 cm, this_fish: {stamina: fragile, features: [slow-swimmer]}"
    pleco = f"species: common pleco, length: 32 cm, this_fish: {{active: {hours}}}"
    assert harm(simulated, discus, pleco, "rasping")[-1] == pytest.approx(rasped, abs=0.03)


@pytest.mark.parametrize(("stinger", "is_grave"), [("oscar, length: 25 cm", True), ("zebrafish, length: 4 cm", False)])
def test_a_sting_of_a_large_fish_is_grave(simulated: Callable[..., Scene], stinger: str, is_grave: bool) -> None:
    dempsey = "species: Jack Dempsey, length: 18 cm, this_fish: {other_fish: aggressive}"
    _, grave, any_sting = harm(
        simulated, dempsey, f"species: {stinger}, this_fish: {{features: [venomous-spine]}}", "sting"
    )
    assert 0.4 < any_sting < 0.7  # they share one level of two
    assert grave == (any_sting if is_grave else 0)
