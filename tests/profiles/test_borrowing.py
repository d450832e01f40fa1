"""What a profile leaves out is borrowed from its genus, else from its family, and marked; without relatives it stays out.

The species are invented; expected values are derived from those of their relatives.
"""

from __future__ import annotations

from pathlib import Path
from textwrap import dedent

import pytest

from coswim.plans.reading import read_plan
from coswim.profiles.borrowing import BORROWED
from coswim.profiles.catalog import BUILT_IN, Catalog
from coswim.profiles.profile import Profile
from coswim.profiles.traits import Trait
from coswim.screening import Screened, screen
from coswim.simulation.scene import Effort
from coswim.text.quantities import Range

BARE = """\
scientific_name: {name}
common_names: [{common}]
family: {family}
adult_length: 6-7 cm
usual_size: 4 cm
body: {{form: {form}}}
sources: {{adult_length: memory, usual_size: memory, body: memory}}
"""
LENDER = """\
scientific_name: {name}
common_names: [{name} example]
family: Exemplidae
adult_length: 4-5 cm
body: {{form: fusiform, standard_length: 0.8, depth: {depth}, width: 0.14-0.17}}
mouth_gape: 0.06-0.08
temperament: {{own_kind: {temper}, other_fish: peaceful, nips: {nips}, stamina: {stamina}}}
water_ranges: {{temperature: {warm}, ph: 6.0-7.5, hardness: 2-15 dGH}}
features: [{features}]
sources: {{adult_length: memory, body: memory, mouth_gape: {source}, temperament: memory, water_ranges: memory}}
"""
RULES = {
    "depth": "0.2-0.3",
    "temper": "peaceful",
    "nips": "never",
    "stamina": "average",
    "warm": "22-26 C",
    "features": "",
}
LENDERS = (
    {"name": "Exemplum unum", "depth": "0.2-0.24", "nips": "often", "warm": "20-25 C", "features": "armoured"},
    {
        "name": "Exemplum duo",
        "depth": "0.25-0.3",
        "stamina": "fragile",
        "warm": "22-26 C",
        "features": "armoured, barbels",
    },
    {"name": "Exemplum tres", "depth": "0.22-0.26", "temper": "assertive", "warm": "23-28 C", "features": "armoured"},
    {"name": "Aliud unum", "depth": "0.4-0.5", "temper": "aggressive", "stamina": "tough"},
)
SPARE = "Exemplum novum"


def library(folder: Path, *, source: str = "memory", **bare: str) -> Catalog:
    """Three species of one genus, one of another of the family, and one of which next to nothing is known."""
    for lender in LENDERS:
        text = LENDER.format(**{**RULES, **lender, "source": source})
        (folder / f"{lender['name'].replace(' ', '-')}.yaml").write_text(text, encoding="utf-8")
    names = {"name": SPARE, "common": "new example", "family": "Exemplidae", "form": "fusiform"}
    (folder / "new.yaml").write_text(BARE.format(**{**names, **bare}), encoding="utf-8")
    return Catalog((folder,))


@pytest.mark.parametrize(
    ("trait", "expected"),
    [
        ("body.depth", Range(0.2 * 0.9, 0.3 * 1.1)),  # derived: the span of the genus, a tenth wider at either end
        ("body.standard_length", 0.8),
        ("mouth_gape", Range(0.06 * 0.9, 0.08 * 1.1)),
        ("temperament.own_kind", "assertive"),  # the roughest of three
        ("temperament.nips", "often"),
        ("temperament.stamina", "fragile"),  # the weakest of three
        ("water_ranges.temperature", Range(22, 26)),  # medians of 20, 22, 23 and of 25, 26, 28; not widened
        ("features", ("armoured",)),  # at least half
    ],
)
def test_the_genus_lends(tmp_path: Path, trait: str, expected: object) -> None:
    profile = library(tmp_path).profile(SPARE)
    found = profile.value(trait)
    if isinstance(expected, Range):
        assert (found.low, found.high) == pytest.approx((expected.low, expected.high), rel=0.005)
    else:
        assert found == expected
    assert profile.source_keys(trait) == ("relatives",)


def test_a_genus_without_others_borrows_from_the_family_and_shapes_from_its_form_alone(tmp_path: Path) -> None:
    profile = library(tmp_path, name="Novum novum").profile("Novum novum")
    assert (profile.body.depth.low, profile.body.depth.high) == pytest.approx((0.18, 0.55))
    assert profile.temperament is not None
    assert profile.temperament.own_kind == "aggressive"
    flat = library(tmp_path, form="elongated").profile(SPARE)
    assert not flat.has("body.depth")
    assert flat.has("mouth_gape")


def test_one_odd_relative_in_five_does_not_speak_for_all() -> None:
    strongest = BORROWED["temperament.other_fish"]
    assert strongest(["peaceful"] * 4 + ["aggressive"]) == "peaceful"
    assert strongest(["peaceful"] * 3 + ["aggressive"]) == "aggressive"


@pytest.mark.parametrize(
    "bare", [{"name": "Novum novum", "family": "Novidae"}, {"name": "Exemplum hybrid novum"}], ids=["alone", "hybrid"]
)
def test_without_relatives_and_for_a_hybrid_nothing_is_borrowed(tmp_path: Path, bare: dict[str, str]) -> None:
    profile = library(tmp_path, **bare).profile(bare["name"])
    assert not any(profile.has(trait) for trait in BORROWED if trait != "features")


def test_what_is_borrowed_is_not_lent_on(tmp_path: Path) -> None:
    profile = library(tmp_path, source="relatives").profile(SPARE)
    assert not profile.has("mouth_gape")
    assert profile.has("temperament.nips")


def test_what_is_stated_stays_and_the_rest_of_its_block_is_borrowed(tmp_path: Path) -> None:
    catalog = library(tmp_path)
    file = tmp_path / "new.yaml"
    stated = "temperament: {nips: sometimes, other_fish: assertive}\nsources: {temperament: memory, "
    file.write_text(file.read_text(encoding="utf-8").replace("sources: {", stated), encoding="utf-8")
    profile = catalog.profile(SPARE)
    assert profile.temperament is not None
    assert (profile.temperament.own_kind, profile.temperament.other_fish) == ("assertive", "assertive")
    assert profile.temperament.nips == "sometimes"
    assert profile.source_keys("temperament.own_kind") == ("relatives",)
    assert profile.source_keys("temperament.nips") == ("memory",)


def test_a_block_that_lacks_a_needed_part_is_unknown_where_nobody_lends_it(tmp_path: Path) -> None:
    catalog = library(tmp_path, name="Novum novum", family="Novidae")
    file = tmp_path / "new.yaml"
    stated = "temperament: {nips: often}\nsources: {temperament: memory, "
    file.write_text(file.read_text(encoding="utf-8").replace("sources: {", stated), encoding="utf-8")
    assert catalog.read(catalog.find("Novum novum")).lacking() == (
        "body.depth",
        "temperament.own_kind",
        "temperament.other_fish",
    )
    assert catalog.profile("Novum novum").temperament is None


def test_a_profile_that_states_all_is_left_as_it_is(catalog: Catalog) -> None:
    assert all(catalog.completed(entry) is catalog.read(entry) for entry in catalog.entries.values())


def test_every_trait_is_borrowed_or_there_is_a_reason_why_not() -> None:
    """Lengths, sexes and trade differ among relatives; a weight follows from the form, the rest holds only if stated."""
    lengths = {"adult_length", "record_length", "usual_size", "smallest_tank"}
    own = lengths | {"in_trade", "sexes", "body.form", "body.weight"}
    stated = {"temperament.rough_from", "feeding_style.longest_prey"}

    def leaves(trait: Trait) -> list[str]:
        inner = trait.parts if trait.name not in own else ()
        return [part.name for part in inner] or [trait.name]

    assert {leaf for block in Profile.blocks() for leaf in leaves(block)} - own - stated == set(BORROWED)


def screened(catalog: Catalog, newcomer: str) -> Screened:
    plan = f"""\
        tank: {{size: 120x50x50 cm, temperature: 25 C, ph: 7, hardness: 8, lid: no}}
        residents: [{{species: oscar, count: 1, length: 25 cm}}]
        proposals: [{{add: [{{species: {newcomer}, count: 4, length: 5 cm}}]}}]
        """
    read = read_plan(dedent(plan), "plan.yaml", catalog)
    return screen(read, catalog, Effort(draws=100), remedies=False).proposals[0]


def test_what_rests_on_relatives_is_rated_and_says_so(tmp_path: Path) -> None:
    """A new barb beside an oscar: the genus Puntigrus says how deep it is, and the finding that it does."""
    names = {"name": "Puntigrus novus", "common": "new barb", "family": "Cyprinidae", "form": "short-deep"}
    depth = Catalog((BUILT_IN,)).profile("tiger barb").body
    (tmp_path / "new.yaml").write_text(BARE.format(**{**names, "form": depth.form}), encoding="utf-8")
    found = screened(Catalog((BUILT_IN, tmp_path)), "new barb")
    eaten = next(finding for finding in found.findings if finding.found.hazard == "gape-fit")
    nips = next(finding for finding in found.findings if finding.found.hazard == "nipping")
    assert "relatives" in {eaten.confidence, nips.confidence}
    assert found.unrated == ()


def test_what_has_no_relatives_cannot_be_rated(tmp_path: Path) -> None:
    names = {"name": "Novum novum", "common": "new example", "family": "Novidae", "form": "fusiform"}
    (tmp_path / "new.yaml").write_text(BARE.format(**names), encoding="utf-8")
    found = screened(Catalog((BUILT_IN, tmp_path)), "new example")
    hazards = {one.found.hazard for one in found.unrated}
    assert {"gape-fit", "aggression", "water-overlap", "feeding-competition", "escape"} <= hazards
    assert all(one.found.missing for one in found.unrated)
