"""The list shows what a keeper asks for, and says honestly what the library rests on."""

from __future__ import annotations

from pathlib import Path

import pytest

from coswim.library.evidence import CORE, Support, core_shares, support
from coswim.library.listing import Wanted, glances
from coswim.profiles.catalog import Catalog
from coswim.text.quantities import Range

TEXT = """\
scientific_name: Exemplum {epithet}
also_known_as: [Vetus {epithet}]
common_names: [{epithet} fish]
family: {family}
adult_length: {length}
schooling: {{smallest_group: {group}}}
water_ranges: {{temperature: {temperature}, ph: 6-7, hardness: 2-10}}
"""
SPECIES = (
    ("parvum", "Aidae", "3-4 cm", 6, "22-26 C"),
    ("medium", "Aidae", "8-10 cm", 1, "73-79 F"),
    ("magnum", "Beidae", "30-40 cm", 0, "18-24 C"),
)


@pytest.fixture
def small(tmp_path: Path) -> Catalog:
    """Three invented species and one file that nobody can read."""
    for epithet, family, length, group, temperature in SPECIES:
        text = TEXT.format(epithet=epithet, family=family, length=length, group=group, temperature=temperature)
        (tmp_path / f"{epithet}.yaml").write_text(text, encoding="utf-8")
    (tmp_path / "broken.yaml").write_text("a: [", encoding="utf-8")
    return Catalog((tmp_path,))


@pytest.mark.parametrize(
    ("wanted", "epithets"),
    [
        (Wanted(), ["Broken", "medium", "parvum", "magnum"]),
        (Wanted(text="fish"), ["medium", "parvum", "magnum"]),
        (Wanted(text="PARVUM vetus"), ["parvum"]),
        (Wanted(text="beidae"), ["magnum"]),
        (Wanted(family="Aid"), ["medium", "parvum"]),
        (Wanted(length=Range(10, 10)), ["medium", "parvum"]),
        (Wanted(length=Range(5, 40)), ["medium", "magnum"]),
        (Wanted(length=Range(9, 9.9)), []),
        (Wanted(temperature=Range(25, 25)), ["medium", "parvum"]),
        (Wanted(temperature=Range(22, 26)), ["parvum"]),  # 73 F is 22.8 C
        (Wanted(group=1), ["medium", "magnum"]),
        (Wanted(group=6, family="Aidae"), ["medium", "parvum"]),
    ],
)
def test_only_what_is_looked_for_is_listed(small: Catalog, wanted: Wanted, epithets: list[str]) -> None:
    found = tuple(each for each in glances(small) if wanted.fits(each))
    assert [each.entry.scientific_name.rpartition(" ")[2] for each in found] == epithets


def test_the_list_says_what_the_whole_profile_says(catalog: Catalog) -> None:
    """Two ways of reading, one answer: the quick one must not drift from the strict one."""
    for each in glances(catalog):
        profile = catalog.read(each.entry)
        assert profile.water_ranges is not None
        assert profile.schooling is not None
        assert each.entry == catalog.entries[profile.scientific_name]
        assert (each.adult_length, each.smallest_group) == (profile.adult_length, profile.schooling.smallest_group)
        water = profile.water_ranges
        assert (each.temperature, each.ph, each.hardness) == (water.temperature, water.ph, water.hardness)


def test_a_later_folder_overrides_in_the_list_too(small: Catalog, tmp_path: Path) -> None:
    own = tmp_path.parent / f"{tmp_path.name}-own"
    own.mkdir()
    text = TEXT.format(epithet="parvum", family="Aidae", length="5-6 cm", group=6, temperature="22-26 C")
    (own / "mine.yaml").write_text(text, encoding="utf-8")
    found = {each.entry.scientific_name: each for each in glances(Catalog((*small.folders, own)))}
    assert found["Exemplum parvum"].adult_length == Range(5, 6)
    assert len(found) == 4


def test_a_key_that_is_no_text_is_passed_over(small: Catalog, tmp_path: Path) -> None:
    """A mapping may have a list for a key; `profile check` says what is wrong with it."""
    own = tmp_path.parent / f"{tmp_path.name}-odd"
    own.mkdir()
    text = TEXT.format(epithet="rarum", family="Aidae", length="5-6 cm", group=6, temperature="22-26 C")
    (own / "mine.yaml").write_text(f"[a, b]: c\n{text}", encoding="utf-8")
    found = {each.entry.scientific_name: each for each in glances(Catalog((*small.folders, own)))}
    assert found["Exemplum rarum"].adult_length == Range(5, 6)


def test_memory_in_one_part_of_the_water_makes_it_partly_memory(catalog: Catalog) -> None:
    """The keys' kinds: usgs is published, memory is memory."""
    parts = ("water_ranges.temperature", "water_ranges.ph", "water_ranges.hardness")
    tetra = catalog.profile("neon tetra")
    cases = {
        ("usgs", "usgs", "usgs"): (1, 0, 0),
        ("usgs", "memory", "usgs"): (0, 1, 0),
        ("memory", "memory", "memory"): (0, 0, 1),
    }
    for keys, counts in cases.items():
        profile = tetra.model_copy(update={"sources": {part: (key,) for part, key in zip(parts, keys, strict=True)}})
        water = next(each for each in support([profile], catalog.bibliography) if each.block == "water")
        assert (water.sourced, water.partly, water.memory) == counts


def test_a_block_that_is_not_stated_is_neither_sourced_nor_memory(catalog: Catalog) -> None:
    profile = catalog.profile("neon tetra").model_copy(update={"growth": None})
    growth = next(each for each in support([profile], catalog.bibliography) if each.block == "growth")
    assert (growth.missing, growth.stated) == (1, 0)


def test_the_shares_of_the_core_blocks_are_counted_over_all_of_them() -> None:
    """derived: 3 + 1 + 2 of 12 blocks are sourced, 6 + 1 at least in part."""
    first, second, third = CORE
    counts = ((first, 3, 0, 1, 0), (second, 1, 1, 2, 0), (third, 2, 0, 2, 0), ("other", 9, 9, 9, 0))
    sourced, partly = core_shares([Support(*row) for row in counts])
    assert (sourced, partly) == pytest.approx((6 / 12, 7 / 12))
