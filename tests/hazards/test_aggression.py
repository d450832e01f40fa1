"""Who harasses whom, and what makes it worse or better."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from coswim.biology import contest
from coswim.findings.finding import Consequence
from coswim.hazards import aggression
from coswim.plans.reading import read_plan
from coswim.profiles.catalog import Catalog
from coswim.simulation import shelter, temper
from coswim.simulation.crowd import Crowd, together
from coswim.simulation.quarrel import DRIVE_POWER, Quarrel, _pressed
from coswim.simulation.scene import Effort, Scene, build_scene
from coswim.verdict.rating import Finding, Unrated

RatedBy = Callable[..., list[Finding]]
UnratedBy = Callable[..., list[Unrated]]
RANK = {None: 0, "low": 1, "medium": 2, "serious": 3, "high": 4}


def between(findings: list[Finding], doer: str, target: str) -> Finding | None:
    """The finding on one target that is led by one attacker."""
    for finding in findings:
        leader = finding.found.blamed
        if leader is not None and (leader.name, finding.found.target.name) == (doer, target):
            return finding
    return None


def worst(findings: list[Finding]) -> int:
    """The highest level among the findings, 0 to 4."""
    return max((RANK[str(finding.level)] for finding in findings if finding.level), default=0)


def scene(catalog: Catalog, tank: str, residents: str, newcomers: str, *, furnishing: str = "soft plants") -> Scene:
    read = read_plan(
        f"tank: {{size: {tank} cm, temperature: 26 C, furnishing: {furnishing}}}\nresidents: [{residents}]\n"
        f"proposals: [{{name: p, add: [{newcomers}]}}]\n",
        "plan.yaml",
        catalog,
    )
    return build_scene(read, read.plan.proposals[0], catalog, Effort(draws=300))


def crowd(scene: Scene) -> Crowd:
    """All quarrels of a scene."""
    return Crowd(tuple(Quarrel(scene, doer, target) for doer in scene.groups for target in scene.targets(doer)))


def quarrel(scene: Scene, doer: str, target: str) -> tuple[Quarrel, np.ndarray]:
    """One quarrel of a scene and its load, all attackers of the group together."""
    all_quarrels = crowd(scene)
    mine = next(
        one for one in all_quarrels.quarrels if not one.is_within and (one.doer.name, one.target.name) == (doer, target)
    )
    return mine, together(all_quarrels.single(mine), mine)


def well_fed(scene: Scene) -> Scene:
    """The scene with what the feeding race does to the fish left out."""
    vars(scene.course)["condition"] = np.ones_like(scene.course.lengths)
    return scene


def load_on(scene: Scene, target: str) -> np.ndarray:
    """What the worst-off of a group gets from everybody, over what it endures, all being well fed."""
    well_fed(scene)
    fish = next(group for group in scene.groups if group.name == target)
    parts = [part for _, part in crowd(scene).parts(fish)]
    return contest.added_up(parts, [1] * len(parts)) if parts else np.zeros((300, 1))


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


def test_stress_injury_and_death_begin_where_the_explanation_says(catalog: Catalog) -> None:
    """Judgement, said in `coswim explain aggression`: more than it endures, twice as much, three and a half times."""
    tank = scene(
        catalog,
        "150 x 50 x 50",
        "{species: Midas cichlid, length: 16 cm}",
        "{species: pearl gourami, count: 3, length: 10 cm}",
    )
    hardest = load_on(tank, "pearl gourami").max(axis=1)
    found = next(one for one in aggression.find(tank) if one.target.name == "pearl gourami")
    happens = {outcome.consequence: outcome.happens for outcome in found.outcomes}
    for consequence, from_load in (("marginal", 1.0), ("critical", 2.0), ("catastrophic", 3.5)):
        assert np.array_equal(happens[Consequence(consequence)], hardest >= from_load)
        assert (hardest >= from_load).mean() > 0
    assert (hardest < 3.5).any()


def test_a_group_of_newcomers_may_fight_among_themselves(rated_by: RatedBy) -> None:
    findings = rated_by(aggression, "60x30x30", ["6 neon tetra, 3 cm"], ["2 Siamese fighting fish, 6 cm"])
    finding = between(findings, "Siamese fighting fish", "Siamese fighting fish")
    assert finding is not None
    assert finding.found.blamed is finding.found.target
    assert finding.found.sentence.startswith("Among the 2 Siamese fighting fish the weakest may")
    assert str(finding.level) == "high"


def test_fish_taken_for_rivals_fare_worse(catalog: Catalog) -> None:
    """A betta minds a gourami of its family more than a tetra of the gourami's size."""
    tank = scene(
        catalog,
        "100 x 40 x 40",
        "{species: Siamese fighting fish, length: 6 cm}",
        "{species: dwarf gourami, length: 5 cm}, {species: bleeding heart tetra, count: 8, length: 5 cm}",
    )
    gourami, _ = quarrel(tank, "Siamese fighting fish", "dwarf gourami")
    tetra, _ = quarrel(tank, "Siamese fighting fish", "bleeding heart tetra")
    assert (gourami.relation, tetra.relation) == ("same family", "other")
    assert np.all(gourami.drive >= tetra.drive)
    assert gourami.drive.mean() > tetra.drive.mean()


SOME = st.sampled_from(
    ["convict cichlid", "kenyi cichlid", "Jack Dempsey", "tiger barb", "rainbow shark", "firemouth cichlid"]
)


@settings(max_examples=12, deadline=None)
@given(SOME, st.integers(1, 6), st.integers(1, 6), SOME)
def test_one_more_attacker_never_lowers_what_a_target_gets(
    catalog: Catalog, kind: str, count: int, more: int, other: str
) -> None:
    """Neither more of an attacker's kind nor attackers of another kind make a blue acara safer."""
    resident = "{species: blue acara, length: 13 cm}"
    first = f"{{species: {kind}, count: {count}, length: 8 cm}}"

    def load(newcomers: str) -> np.ndarray:
        return load_on(scene(catalog, "300 x 100 x 60", resident, newcomers), "blue acara")

    before = load(first)
    assert np.all(load(first.replace(f"count: {count}", f"count: {count + more}")) >= before * 0.999)
    if other != kind:
        assert np.all(load(f"{first}, {{species: {other}, count: {more}, length: 8 cm}}") >= before * 0.999)


@pytest.mark.parametrize(
    ("tank", "resident", "attacker", "calm_with_one"),
    # common practice, no source: one convict leaves room in 300 cm, eight do not; kenyi bully a hap, many to death
    [
        ("300 x 100 x 60", "blue acara, length: 13 cm", "convict cichlid", True),
        ("150 x 50 x 50", "electric blue hap, length: 12 cm", "kenyi cichlid", False),
    ],
)
def test_more_attackers_are_worse(
    catalog: Catalog, tank: str, resident: str, attacker: str, *, calm_with_one: bool
) -> None:
    shares = []
    for count in (1, 2, 4, 8, 16):
        newcomers = f"{{species: {attacker}, count: {count}, length: 9 cm}}"
        worst_load = load_on(scene(catalog, tank, f"{{species: {resident}}}", newcomers), resident.split(",")[0])
        shares.append(float((worst_load >= 1).any(axis=1).mean()))
    assert shares == sorted(shares)
    assert (shares[0] < 0.1) is calm_with_one
    assert shares[3] > 0.2


def test_two_entries_of_a_group_attack_like_one(catalog: Catalog) -> None:
    resident = "{species: blue acara, length: 13 cm}"
    whole = "{species: kenyi cichlid, count: 8, length: 9 cm}"
    halves = ", ".join(2 * ["{species: kenyi cichlid, count: 4, length: 9 cm}"])
    one, two = (
        float(np.median(load_on(scene(catalog, "200 x 60 x 60", resident, fish), "blue acara").max(axis=1)))
        for fish in (whole, halves)
    )
    assert two == pytest.approx(one, rel=0.15)


def test_the_target_has_one_finding_and_the_other_attackers_are_named(rated_by: RatedBy) -> None:
    residents = ["1 Jack Dempsey, 17 cm", "2 firemouth cichlid, 13 cm", "3 convict cichlid, 11 cm"]
    findings = rated_by(aggression, "200x60x60", residents, ["3 pearl gourami, 10 cm"])
    on_gourami = [finding.found for finding in findings if finding.found.target.name == "pearl gourami"]
    assert len(on_gourami) == 1
    assert any(reason.startswith("Others add to it: ") for reason in on_gourami[0].because)


@pytest.mark.parametrize(("residents", "milder"), [("{species: oscar, length: 8 cm}", True),
                                                   ("{species: oscar, length: 20 cm}", False)])  # fmt: skip
def test_a_young_fish_is_a_step_milder(catalog: Catalog, residents: str, *, milder: bool) -> None:
    """The oscar's words hold from 12 cm; a young one grows into them."""
    drive = quarrel(scene(catalog, "200 x 60 x 60", residents, "{species: silver dollar, length: 12 cm}"), "oscar",
                    "silver dollar")[0].drive  # fmt: skip
    assert bool((drive[:, 0] < drive[:, -1]).all()) is milder


@pytest.mark.parametrize(("males", "worse"), [(0, False), (1, False), (3, True)])
def test_males_among_themselves(catalog: Catalog, males: int, *, worse: bool) -> None:
    """Electric yellows are assertive among their kind and territorial where two or more are males."""
    group = f"{{species: electric yellow cichlid, count: 4, length: 9 cm, males: {males}}}"
    tank = scene(catalog, "100 x 40 x 40", group, "{species: platy, count: 4, length: 4 cm}")
    cichlid = next(group for group in tank.groups if group.name == "electric yellow cichlid")
    drive = Quarrel(tank, cichlid, cichlid).drive.mean()
    known = temper.drive(cichlid, "assertive").mean() * temper.company(cichlid, 4)
    assert bool(drive > 1.2 * known) is worse


@pytest.mark.parametrize(
    ("species", "sexes", "steps_up"),
    [
        ("pearl gourami", "males: 1", True),  # the male guards a bubble nest: any family, not cichlids alone
        ("pearl gourami", "males: 2", False),
        ("kribensis", "males: 1", True),
        ("tiger barb", "males: 1", False),  # guards nothing
    ],
)
def test_who_guards_a_brood_drives_others_off(catalog: Catalog, species: str, sexes: str, *, steps_up: bool) -> None:
    pair = f"{{species: {species}, count: 2, length: 10 cm, {sexes}}}"
    tank = scene(catalog, "100 x 40 x 40", pair, "{species: platy, count: 4, length: 4 cm}")
    assert bool(quarrel(tank, species, "platy")[0].guarding.any()) is steps_up


@pytest.mark.parametrize(
    ("furnishing", "helps"), [("bare", False), ("hard roots and rocks", False), ("soft plants", True)]
)
def test_what_shelters_a_fish_of_open_space(catalog: Catalog, furnishing: str, *, helps: bool) -> None:
    """A bleeding heart tetra hides among plants and not among rocks; where a digger lives no plants are left."""

    def places(resident: str) -> float:
        tank = scene(catalog, "120 x 50 x 50", resident, "{species: bleeding heart tetra, count: 4, length: 6 cm}",
                     furnishing=furnishing)  # fmt: skip
        tetra = next(group for group in tank.groups if group.name == "bleeding heart tetra")
        return shelter.places(tank, tetra)

    assert (places("{species: rainbow shark, length: 12 cm}") > 2) is helps
    assert places("{species: oscar, length: 20 cm}") == 2


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
    assert np.all(longer <= equal + 1e-6)


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
    assert any(reason.startswith("The tables turn ") for reason in finding.found.because)
    assert finding.found.from_month is not None
    assert finding.found.from_month > 0


@pytest.mark.parametrize(("moves_in", "is_said"), [("last", True), ("together", False), ("first", False)])
def test_who_lived_there_first_is_said_by_the_order_of_moving_in(
    catalog: Catalog, moves_in: str, *, is_said: bool
) -> None:
    read = read_plan(
        "tank: {size: 120 x 50 x 50 cm, temperature: 26 C}\n"
        "residents: [{species: Jack Dempsey, length: 17 cm}]\n"
        f"proposals: [{{moves_in: {moves_in}, add: [{{species: convict cichlid, length: 9 cm}}]}}]\n",
        "plan.yaml",
        catalog,
    )
    met = build_scene(read, read.plan.proposals[0], catalog, Effort(draws=300))
    on_convict = next(one for one in aggression.find(met) if one.target.name == "convict cichlid")
    assert on_convict.blamed_label == "the Jack Dempsey"
    assert any("and lived there first" in reason for reason in on_convict.because) is is_said


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
    assert starved.condition[:, -1].mean() < fed.condition[:, -1].mean() - 0.1
    assert fed.condition.mean() > 0.9
    assert np.all(starved.odds >= fed.odds - 1e-6)
    assert by_many.mean() > by_one.mean()


def test_what_is_not_known_is_said(unrated_by: UnratedBy, bare_library: Callable[..., Catalog]) -> None:
    library = bare_library("temperament")
    unrated = unrated_by(aggression, "150x50x50", ["1 oddfish, 15 cm"], ["6 platy, 4 cm"], library=library)
    assert {one.found.target.name for one in unrated} == {"oddfish", "platy"}
    assert all("oddfish: the profile does not state" in one.found.missing for one in unrated)


def test_a_group_of_cichlids_that_kill_their_rivals_needs_room(rated_by: RatedBy) -> None:
    """common practice, no source: four golden mbuna fight to the end in 60 cm and share a tank of 150 cm."""

    def level(tank: str) -> int:
        findings = rated_by(aggression, tank, ["1 bristlenose pleco, 10 cm"], ["4 auratus cichlid, 9 cm"])
        return worst([finding for finding in findings if finding.found.target.name == "auratus cichlid"])

    assert level("60x30x35") >= RANK["serious"]
    assert level("150x50x50") < RANK["serious"]


@pytest.mark.parametrize(("newcomer", "is_said"), [("6 cherry barb, 4.5 cm", True), ("1 oscar, 25 cm", False)])
def test_likeness_is_given_as_a_reason_only_at_similar_size(catalog: Catalog, newcomer: str, is_said: bool) -> None:
    count, rest = newcomer.split(" ", 1)
    species, length = rest.split(", ")
    resident = "{species: tiger barb, count: 2, length: 6 cm}"
    met = scene(catalog, "80 x 35 x 40", resident, f"{{species: {species}, count: {count}, length: {length}}}")
    said = [" ".join(one.because) for one in aggression.find(met) if one.blamed and one.blamed.name == "tiger barb"]
    assert said or not is_said
    assert any("for rivals" in reasons for reasons in said) is is_said


def test_of_its_own_kind_the_strongest_decides(simulated: Callable[..., Scene]) -> None:
    """Derived: of several groups of the target's kind the hardest in each future, and not their sum."""
    three = simulated("""
        tank: {size: 120 x 50 x 50 cm, temperature: 26 C, ph: 7, hardness: 8 dGH}
        residents: [{species: convict cichlid, count: 1, length: 11 cm}, {species: convict cichlid, length: 9 cm}]
        proposals: [{name: p, add: [{species: convict cichlid, count: 1, length: 8 cm}]}]
    """)
    all_of_them = crowd(three)
    target = next(group for group in three.groups if not group.is_resident)
    one, other = (all_of_them.single(quarrel) for quarrel in all_of_them.on(target))
    ((_, load),) = all_of_them.parts(target)
    assert np.array_equal(load, np.maximum(one, other))
    assert np.mean(load < one + other) > 0.9


def test_bony_plates_endure_a_quarter_more(catalog: Catalog) -> None:
    """Judgement, see ARMOUR: 1.25 times the attacks, the same individual in each future."""
    bare, plated = (
        quarrel(
            scene(
                catalog,
                "120 x 50 x 50",
                "{species: Jack Dempsey, length: 15 cm}",
                f"{{species: bronze corydoras, count: 6, length: 5 cm, this_fish: {{features: {features}}}}}",
            ),
            "Jack Dempsey",
            "bronze corydoras",
        )[0].endures
        for features in ("[]", "[armoured]")
    )
    assert plated[:, 0] == pytest.approx(1.25 * bare[:, 0])


def test_matched_rivals_fight(catalog: Catalog) -> None:
    """Derived from the odds: a fight of even odds does 0.35 of the harm of winning, where the attacker is territorial;
    being aggressive itself the target yields to no smaller fish but in a fifth of what goes beyond a drive of 0.5.
    """
    plan = "{species: firemouth cichlid, length: 12 cm, this_fish: {other_fish: territorial}}"
    rivals = "{species: convict cichlid, length: 11 cm, this_fish: {other_fish: aggressive}}"
    fight, _ = quarrel(scene(catalog, "120 x 50 x 50", plan, rivals), "firemouth cichlid", "convict cichlid")
    assert fight.relation == "same family"
    won, drive = fight.odds, fight.drive
    fought = np.minimum(1, won + 0.35 * np.minimum(1, drive / 0.5) * 4 * won * (1 - won))
    yields = 0.2 * np.maximum(0, drive - 0.5)
    assert fight.prevails == pytest.approx(1 - (1 - fought) * (1 - yields))
    assert (fight.prevails > won + 0.05).mean() > 0.5


def test_a_larger_group_that_fights_back_keeps_attackers_off(catalog: Catalog) -> None:
    """Derived: of four against one, wholly aggressive (0.8), half of the three quarters that outnumber: 0.7 is left."""
    one, four = (
        quarrel(
            scene(
                catalog,
                "120 x 50 x 50",
                "{species: Jack Dempsey, length: 15 cm}",
                f"{{species: convict cichlid, count: {count}, length: 9 cm, this_fish: {{other_fish: aggressive}}}}",
            ),
            "Jack Dempsey",
            "convict cichlid",
        )[0].attention
        for count in (1, 4)
    )
    assert four[:, 0] == pytest.approx(0.7 * one[:, 0])


def test_three_in_five_couples_come_to_breed(catalog: Catalog) -> None:
    """Judgement, see BREEDS; draws are even."""
    couple = "{species: convict cichlid, count: 2, males: 1, length: 10 cm}"
    other = "{species: bronze corydoras, count: 6, length: 5 cm}"
    found, _ = quarrel(scene(catalog, "120 x 50 x 50", couple, other), "convict cichlid", "bronze corydoras")
    assert found.guarding.any(axis=1).mean() == pytest.approx(0.6, abs=0.01)


def test_a_quick_hunter_chases_what_is_small(catalog: Catalog) -> None:
    """Derived: beside what it treats all other fish with, 0.15 more of the rest towards those that it might swallow."""
    oscar = "{species: oscar, length: 22 cm, this_fish: {pace: fast, eats_fish: any that fit}}"
    small, large = (
        quarrel(scene(catalog, "200 x 60 x 60", oscar, f"{{species: {fish} cm}}"), "oscar", fish.split(",")[0])[0].drive
        for fish in ("bronze corydoras, length: 5", "common pleco, length: 32")
    )
    assert small[:, 0] == pytest.approx(1 - 0.85 * (1 - large[:, 0]))


def test_what_is_written_out_is_the_power_that_is_named() -> None:
    drives = np.array([0.0, 0.3, 1.0])
    assert _pressed(drives) == pytest.approx(drives**DRIVE_POWER)
