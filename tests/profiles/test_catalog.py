"""A species is found by every name that a keeper might type, and own profiles stand in for built-in ones."""

from __future__ import annotations

from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from coswim.profiles import catalog as catalogs
from coswim.profiles.catalog import BUILT_IN, Catalog, UnknownSpecies
from coswim.profiles.names import Entry, name_key, read_names
from coswim.profiles.sources import EVIDENCE, read_bibliography, weakest
from coswim.text.problems import InputProblems

FOUND = [
    ("Barbonymus schwanenfeldii", "Barbonymus schwanenfeldii"),
    ("barbonymus SCHWANENFELDII", "Barbonymus schwanenfeldii"),
    ("tinfoil barb", "Barbonymus schwanenfeldii"),
    ("Tinfoil Barbs", "Barbonymus schwanenfeldii"),
    ("8 neon tetras", "Paracheirodon innesi"),
    ("8x neon tetra", "Paracheirodon innesi"),
    ("12 × cardinal tetras", "Paracheirodon axelrodi"),
    ("guppies", "Poecilia reticulata"),
    ("mollies", "Poecilia sphenops"),
    ("platies", "Xiphophorus maculatus"),
    ("angelfishes", "Pterophyllum scalare"),
    ("kuhli loaches", "Pangio kuhlii"),
    ("discus", "Symphysodon aequifasciatus"),
    ("endlicherii", "Polypterus endlicherii"),
    ("P. innesi", "Paracheirodon innesi"),
    ("saddled", "Polypterus endlicherii"),
    ("barb tinfoil", "Barbonymus schwanenfeldii"),
    ("Sterbas cory", "Hoplisoma sterbai"),
    ("Sterba’s corydoras", "Hoplisoma sterbai"),
    ("red tailed black shark", "Epalzeorhynchos bicolor"),
    ("Corydoras aeneus", "Osteogaster aenea"),
    ("Puntius tetrazona", "Puntigrus tetrazona"),
    ("Botia macracantha", "Chromobotia macracanthus"),
    ("CAE", "Gyrinocheilus aymonieri"),
    ("SAE", "Crossocheilus oblongus"),
    ("x-ray tetra", "Pristella maxillaris"),
    ("neons", "Paracheirodon innesi"),
    ("saddled-bichir", "Polypterus endlicherii"),
]
"""memory: the names of the trade; what counts is that the form of each name is understood."""


@pytest.mark.parametrize(("typed", "species"), FOUND, ids=[typed for typed, _ in FOUND])
def test_a_name_in_any_form_leads_to_its_species(catalog: Catalog, typed: str, species: str) -> None:
    assert catalog.find(typed).scientific_name == species


def test_every_name_of_every_species_leads_to_it(catalog: Catalog) -> None:
    """No name of the library is lost to another species."""
    lost = {
        name: catalog.find(name).scientific_name
        for entry in catalog.entries.values()
        for name in entry.names
        if catalog.find(name) != entry
    }
    assert lost == {}


@pytest.mark.parametrize(
    ("typed", "choices"),
    [
        ("bichir", ["Polypterus delhezi", "Polypterus endlicherii", "Polypterus ornatipinnis", "Polypterus senegalus"]),
        ("rams", ["Mikrogeophagus altispinosus", "Mikrogeophagus ramirezi"]),
        ("tetra", ["more"]),
        ("angel", ["Pterophyllum altum", "Pterophyllum scalare"]),
        ("cory", ["Hoplisoma panda", "Hoplisoma sterbai", "Osteogaster aenea", "Gastrodermus pygmaeus"]),
    ],
)
def test_an_ambiguous_name_offers_the_choices(catalog: Catalog, typed: str, choices: list[str]) -> None:
    with pytest.raises(UnknownSpecies) as caught:
        catalog.find(typed)
    message = str(caught.value.args[0])
    assert message.startswith(f"{typed!r} could be ")
    assert message.endswith("; write the full name")
    assert all(choice in message for choice in choices)


@pytest.mark.parametrize(
    ("typed", "offer"),
    [
        ("tinfol barb", "did you mean 'tinfoil barb'"),
        ("Paracheirodon inesi", "did you mean 'Paracheirodon innesi'"),
        ("qqqq", "`coswim profile list` shows all"),
        ("ray", "stingray"),
        ("neon tera", "did you mean 'neon tetra'"),
        ("amano shrimp", "is an invertebrate, and coswim screens fish"),
        ("three nerite snails", "is an invertebrate"),
        ("hybrid cichlid", "is a hybrid"),
        ("axolotl", "is no fish"),
        ("ab", "no profile answers"),
        ("", "no profile answers"),
    ],
)
def test_an_unknown_name_offers_what_is_near(catalog: Catalog, typed: str, offer: str) -> None:
    with pytest.raises(UnknownSpecies, match=offer):
        catalog.find(typed)


def test_whoever_can_be_asked_is_asked_once_with_the_best_first() -> None:
    asked: list[tuple[str, list[str]]] = []

    def ask(name: str, candidates: tuple[Entry, ...]) -> Entry | None:
        asked.append((name, [entry.scientific_name for entry in candidates]))
        return candidates[0]

    catalog = Catalog((BUILT_IN,), ask=ask)
    assert catalog.find("tinfol barb").scientific_name == "Barbonymus schwanenfeldii"
    assert catalog.find("tinfol barb").scientific_name == "Barbonymus schwanenfeldii"
    assert [name for name, _ in asked] == ["tinfol barb"]
    assert asked[0][1][0] == "Barbonymus schwanenfeldii"


@settings(max_examples=60, deadline=None)
@given(typed=st.text(max_size=30))
def test_any_text_finds_a_species_or_says_why_not(catalog: Catalog, typed: str) -> None:
    try:
        answer = catalog.find(typed).scientific_name
    except UnknownSpecies as error:
        answer = str(error.args[0])
    assert answer in catalog.entries or repr(typed) in answer


@given(name=st.text(max_size=30))
def test_a_key_of_a_key_is_the_key(name: str) -> None:
    assert name_key(name_key(name)) == name_key(name)


def written(folder: Path, file: str, text: str) -> Path:
    """A profile file with just its names."""
    path = folder / file
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_text(text, encoding="utf-8")
    return path


def test_a_later_folder_overrides_an_earlier_one_by_scientific_name(tmp_path: Path) -> None:
    first, second = tmp_path / "first", tmp_path / "second"
    written(first, "a.yaml", "scientific_name: Exemplum primum\ncommon_names: [one]\nfamily: A\n")
    written(first, "b.yaml", "scientific_name: Exemplum secundum\ncommon_names: [two]\nfamily: A\n")
    mine = written(second, "any/where.yaml", "scientific_name: Exemplum primum\ncommon_names: [uno]\nfamily: A\n")
    catalog = Catalog((first, second))
    assert catalog.find("Exemplum primum").path == mine
    assert catalog.find("uno").path == mine
    assert len(catalog.entries) == 2
    assert len(catalog.all_entries) == 3
    with pytest.raises(UnknownSpecies):
        catalog.find("one")


def test_files_of_a_folder_that_cannot_take_part_are_named(tmp_path: Path) -> None:
    own = tmp_path / "own"
    written(own, "a.yaml", "scientific_name: Exemplum primum\n")
    written(own, "sub/b.yml", "scientific_name: Exemplum primum\n")
    written(own, "c.yaml", "common_names: [three]\n")
    written(own, "d.yaml", "common_names: [four\n")
    written(own, ".hidden.yaml", "")
    written(own, "sources.yml", "")
    said = [str(problem).removeprefix(f"{own}/") for problem in Catalog((BUILT_IN, own)).left_out]
    assert said == [
        "c.yaml: scientific_name: is missing, so nobody knows which species it is",
        "d.yaml:2:1: is not valid YAML: did not find expected ',' or ']' while parsing a flow sequence",
        "sub/b.yml: is a second profile of 'Exemplum primum' beside a.yaml; keep one",
        "sources.yml: must be called sources.yaml",
    ]


def test_the_same_species_in_two_folders_is_no_doubt(tmp_path: Path) -> None:
    for folder in ("one", "two"):
        written(tmp_path / folder, "a.yaml", "scientific_name: Exemplum primum\n")
    assert Catalog((tmp_path / "one", tmp_path / "two")).left_out == ()


def test_a_name_in_use_beats_the_same_name_as_an_older_one(tmp_path: Path) -> None:
    written(tmp_path, "a.yaml", "scientific_name: Exemplum novum\nalso_known_as: [Exemplum vetus]\nfamily: A\n")
    written(tmp_path, "b.yaml", "scientific_name: Exemplum vetus\nfamily: A\n")
    assert Catalog((tmp_path,)).find("exemplum vetus").path.name == "b.yaml"


@pytest.mark.parametrize(
    ("text", "name"),
    [
        ("growth: 1\nscientific_name: Exemplum ultimum\n", "Exemplum ultimum"),
        ("x: {scientific_name: Not this}\nscientific_name: Exemplum verum\n", "Exemplum verum"),
        ("a: &x b\nb: *x\nscientific_name: Exemplum alias\n", "Exemplum alias"),
        ("scientific_name: Exemplum caput\ngrowth: [", "Exemplum caput"),
        ("no mapping", "Exemplum fractum"),
        ("", "Exemplum fractum"),
    ],
    ids=["names last", "nested key", "alias", "broken below", "no mapping", "empty"],
)
def test_names_are_read_from_any_file_however_broken(tmp_path: Path, text: str, name: str) -> None:
    assert read_names(written(tmp_path, "exemplum-fractum.yaml", text)).scientific_name == name


def test_the_standard_catalog_is_built_in_then_own_then_named(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    own, named, extra = (tmp_path / name for name in ("own", "named", "extra"))
    for folder in (own, named, extra):
        folder.mkdir()
    monkeypatch.setattr(catalogs, "own_folder", lambda: own)
    monkeypatch.setenv("COSWIM_PROFILES", str(named))
    assert Catalog.standard((extra,)).folders == (BUILT_IN, own, named, extra)
    own.rmdir()
    assert Catalog.standard().folders == (BUILT_IN, named)


def test_a_folder_named_by_hand_must_be_there(tmp_path: Path) -> None:
    with pytest.raises(InputProblems) as caught:
        Catalog.standard((tmp_path / "nowhere",))
    assert str(caught.value) == f"{tmp_path / 'nowhere'}: is not a folder of profiles (--profiles or COSWIM_PROFILES)"


def test_evidence_is_that_of_the_weakest_source(catalog: Catalog) -> None:
    """The kinds are those that sources.yaml gives: care-literature is common-practice."""
    profile = catalog.profile("neon tetra").model_copy(
        update={
            "sources": {"growth": ("fishbase", "care-literature"), "body": ("fishmorph",), "body.depth": ("memory",)}
        }
    )
    assert catalog.evidence(profile, "growth") == "common-practice"
    assert catalog.evidence(profile, "body.form") == "measured"
    assert catalog.evidence(profile, "body.depth") == "memory"
    assert catalog.evidence(profile, "swimming") == "memory"
    seen = profile.model_copy(update={"sources": {"growth": ("own-observation",)}})
    assert catalog.evidence(seen, "growth") == "own-observation"


@pytest.mark.parametrize(
    ("text", "problem"),
    [
        ("log: {kind: measured}\n", "1:6: log.citation: is missing (author, year, title, where)"),
        ("log: {kind: rumour, citation: x}\n", "1:13: log.kind: 'rumour' is not a kind of evidence"),
        ("log: my own\n", "1:6: log: must be a mapping with the keys kind, citation"),
        ("- log\n", "1:1: must be a mapping of source keys"),
        ("log: {kind: measured, citation: x, year: 2020}\n", "1:36: log.year: unknown key 'year'"),
    ],
)
def test_a_wrong_bibliography_says_where_and_what(tmp_path: Path, text: str, problem: str) -> None:
    file = written(tmp_path, "sources.yaml", text)
    with pytest.raises(InputProblems) as caught:
        read_bibliography(file)
    assert f"{file}:{problem}" in str(caught.value)


def test_a_folder_without_a_bibliography_has_none(tmp_path: Path) -> None:
    assert read_bibliography(tmp_path / "sources.yaml") == {}
    assert read_bibliography(written(tmp_path, "sources.yaml", "# nothing yet\n")) == {}


def test_the_kinds_of_evidence_have_one_order() -> None:
    """The design: measured > published > common practice > relatives > memory, and what a keeper saw with measured."""
    order = ["memory", "relatives", "common-practice", "published", "measured"]
    assert [weakest(order[number:]) for number in range(len(order))] == order
    assert weakest(["own-observation", "published"]) == "published"
    assert EVIDENCE["own-observation"] == EVIDENCE["measured"]
