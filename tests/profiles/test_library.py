"""The built-in library against published tables and against itself.

The published figures stand beside this file in `published_shapes.txt` and `published_facts.txt`, with
their sources.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

import pytest

from coswim.profiles.catalog import BUILT_IN, Catalog
from coswim.profiles.names import name_key
from coswim.profiles.profile import MAY_BE_ABSENT, Profile
from coswim.profiles.sources import read_bibliography
from coswim.text.quantities import Range

HERE = Path(__file__).parent
LISTED = 248
FACTS = 158
DEPTH_TOLERANCE = 0.15
"""FISHMORPH measures one drawing or photograph per species, about 15 % either way."""
SHARE_WITH_SOURCE = 0.6


@dataclass(frozen=True)
class Fact:
    """The sourced ranges and the record of one species."""

    name: str
    temperature: Range
    ph: Range
    hardness: Range
    record: float
    basis: str


def _lines(file: str) -> Iterator[str]:
    text = (HERE / file).read_text(encoding="utf-8")
    return (line for line in text.splitlines() if line and not line.startswith("#"))


def published_depths() -> dict[str, float | None]:
    """Depth over standard length by listed name; None where none is published."""
    depths: dict[str, float | None] = {}
    for genus_line in " ".join(_lines("published_shapes.txt")).split("; "):
        genus, _, species = genus_line.partition(" ")
        for item in species.split(", "):
            epithet, value = item.split()
            depths[f"{genus} {epithet}"] = None if value == "-" else 1 / float(value)
    return depths


def published_facts() -> list[Fact]:
    """The rows of published_facts.txt."""
    return [_fact(line) for line in _lines("published_facts.txt")]


def _fact(line: str) -> Fact:
    name, _, rest = line.partition(": ")
    *ranges, record = [part.split() for part in rest.split(", ")]
    temperature, ph, hardness = (Range(*map(float, words[0].split("-"))) for words in ranges)
    return Fact(name, temperature, ph, hardness, float(record[0]), record[1])


@pytest.fixture(scope="module")
def profiles(catalog: Catalog) -> dict[str, Profile]:
    """Every profile of the library by accepted name."""
    return {name: catalog.read(entry) for name, entry in catalog.entries.items()}


def test_the_tables_are_whole() -> None:
    """derived: the rows that were transcribed."""
    assert len(published_depths()) == LISTED
    assert len({fact.name for fact in published_facts()}) == FACTS


def test_every_listed_species_is_found_and_has_a_profile_of_its_own(catalog: Catalog) -> None:
    found = Counter(catalog.find(name).scientific_name for name in published_depths())
    assert len(found) == LISTED


@pytest.mark.parametrize(
    ("older", "accepted"),
    [
        ("Corydoras aeneus", "Osteogaster aenea"),
        ("Corydoras paleatus", "Hoplisoma paleatum"),
        ("Crenicichla lepidota", "Saxatilia lepidota"),
        ("Hemichromis bimaculatus", "Rubricatochromis bimaculatus"),
        ("Hemigrammus bleheri", "Petitella bleheri"),
        ("Hyphessobrycon eques", "Megalamphodus eques"),
        ("Micropterus salmoides", "Micropterus nigricans"),
        ("Puntius titteya", "Rohanella titteya"),
        ("Barbus tetrazona", "Puntigrus tetrazona"),
        ("Colisa lalia", "Trichogaster lalius"),
        ("Botia macracanthus", "Chromobotia macracanthus"),
        ("Celestichthys margaritatus", "Danio margaritatus"),
    ],
)
def test_older_names_lead_to_the_accepted_one(catalog: Catalog, older: str, accepted: str) -> None:
    """memory: the revisions of 2008 to 2024."""
    assert catalog.find(older).scientific_name == accepted


def test_depths_agree_with_the_published_shapes(catalog: Catalog) -> None:
    """published: FISHMORPH, all species that it lists, no exceptions."""
    off = {
        name: (catalog.profile(name).body.depth, depth)
        for name, depth in published_depths().items()
        if depth is not None and abs(catalog.profile(name).body.depth.middle / depth - 1) > DEPTH_TOLERANCE
    }
    assert off == {}


@pytest.mark.parametrize("quantity", ["temperature", "ph", "hardness"])
def test_water_ranges_overlap_the_sourced_ones(catalog: Catalog, quantity: str) -> None:
    """published: published_facts.txt."""
    apart = {}
    for fact in published_facts():
        own, sourced = getattr(catalog.profile(fact.name).water_ranges, quantity), getattr(fact, quantity)
        if own.low > sourced.high or own.high < sourced.low:
            apart[fact.name] = (own, sourced)
    assert apart == {}


def test_no_adult_is_longer_than_the_sourced_record(catalog: Catalog) -> None:
    """published: published_facts.txt; a standard length is turned into a total one, no basis counts as total."""
    above = {}
    for fact in published_facts():
        profile = catalog.profile(fact.name)
        assert profile.body.standard_length is not None
        record = fact.record / profile.body.standard_length if fact.basis == "SL" else fact.record
        if profile.adult_length.high > record:
            above[fact.name] = (profile.adult_length, record)
    assert above == {}


@pytest.mark.parametrize(
    "traits",
    [
        ("adult_length", "water_ranges", "body.depth"),
        ("adult_length", "water_ranges.temperature", "water_ranges.ph", "water_ranges.hardness", "body.depth"),
    ],
    ids=["by block", "by figure"],
)
def test_most_of_what_decides_rests_on_more_than_memory(
    catalog: Catalog, profiles: dict[str, Profile], traits: tuple[str, ...]
) -> None:
    """The first source named for a trait is the principal one."""
    kinds = Counter(
        catalog.bibliography[profile.source_keys(trait)[0]].kind for profile in profiles.values() for trait in traits
    )
    assert 1 - kinds["memory"] / kinds.total() >= SHARE_WITH_SOURCE


def test_every_profile_states_and_sources_every_block(profiles: dict[str, Profile]) -> None:
    gaps = {
        (name, block.name)
        for name, profile in profiles.items()
        for block in Profile.blocks()
        if (not profile.states(block.name) and block.name not in MAY_BE_ABSENT)
        or (profile.states(block.name) and not profile.source_keys(block.name))
    }
    assert gaps == set()
    assert all(profile.body.width and profile.body.standard_length for profile in profiles.values())


def test_every_source_is_in_the_bibliography_and_used(profiles: dict[str, Profile]) -> None:
    """The two that no profile names stand behind the weights and proportions of the body forms."""
    used = {key for profile in profiles.values() for keys in profile.sources.values() for key in keys}
    known = set(read_bibliography(BUILT_IN / "sources.yaml"))
    assert used <= known
    assert known - used <= {"froese-2014", "brofeldt-1917"}


def test_files_stand_under_family_and_accepted_name(catalog: Catalog) -> None:
    for entry in catalog.entries.values():
        folder, file = entry.family.lower(), entry.scientific_name.lower().replace(" ", "-")
        assert entry.path == BUILT_IN / folder / f"{file}.yaml"


def test_no_two_profiles_claim_the_same_name(catalog: Catalog) -> None:
    claims = Counter(
        key for entry in catalog.all_entries for key in dict.fromkeys(name_key(name) for name in entry.names)
    )
    assert [name for name, count in claims.items() if count > 1] == []
