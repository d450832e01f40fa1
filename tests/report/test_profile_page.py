"""The page of a species and the list say what the profile says, in words, and hide no gap."""

from __future__ import annotations

import json
from dataclasses import asdict, astuple, replace
from pathlib import Path

import pytest

from coswim.library.comparison import overrides
from coswim.library.evidence import support
from coswim.library.listing import Listed, glances
from coswim.library.portrait import portrait
from coswim.profiles.catalog import BUILT_IN, Catalog
from coswim.profiles.profile import Profile
from coswim.report import profile_data, profile_report
from coswim.report.profile_page import Subject, page
from coswim.report.support_report import rests_on
from coswim.report.writers import FORMATS, write
from coswim.text.document import read_document
from coswim.text.validation import validate

Library = tuple[Listed, ...]
BARE = """\
scientific_name: Exemplum nudum
common_names: [bare example]
family: Exemplidae
adult_length: 8-12 cm
body: {form: short-deep, depth: 0.5}
sources: {adult_length: my-log, body: memory}
"""


@pytest.fixture(scope="module")
def library() -> Library:
    """The whole library at a glance."""
    return glances(Catalog((BUILT_IN,)))


def shown(profile: Profile, catalog: Catalog, library: Library, *, kept_in: str = "") -> str:
    """The page as plain text in one line."""
    given = Subject(profile, catalog.bibliography, library, kept_in)
    return " ".join(write(page(given), "plain").split())


@pytest.mark.parametrize(
    "words",
    [
        "saddled bichir (Polypterus endlicherii)",
        "Family Polypteridae. Older names: Polypterus endlicheri.",
        "longest on record 76 cm",
        "To its own kind: assertive, pushes others aside at food",
        "Eats fish: any that fit, hunts fish; swallows whatever the mouth allows",
        "Feeding level: bottom",
        "Feature: armoured, bony plates or hard scales",
        "10 cm",
        "fishmorph (measured) for body: depth. Brosse S.",
    ],
)
def test_the_page_says_it_in_words(catalog: Catalog, library: Library, words: str) -> None:
    assert words in shown(catalog.profile("saddled bichir"), catalog, library)


def test_every_species_has_a_page_in_every_format(catalog: Catalog, library: Library) -> None:
    for entry in list(catalog.entries.values())[::25]:
        document = page(Subject(catalog.read(entry), catalog.bibliography, library))
        assert all(entry.scientific_name in write(document, name) for name in FORMATS)


def test_what_a_profile_does_not_state_is_said(catalog: Catalog, library: Library) -> None:
    text = shown(validate(read_document(BARE, "bare.yaml"), Profile), catalog, library)
    for block in ("Mouth", "Growth", "Company", "Temperament", "Feeding style"):
        assert f"{block}: not stated: what depends on it cannot be rated" in text
    assert "width not stated, so the usual one of its form is taken" in text
    assert "Water ranges not stated" in text
    assert "my-log (memory) for adult length. not in the bibliography" in text


def test_cautions_come_before_the_figures_and_a_note_names_its_block(catalog: Catalog, library: Library) -> None:
    profile = catalog.profile("neon tetra").model_copy(
        update={"cautions": ("Bites.",), "notes": ("body.width: a disc.", "In short: no block.")}
    )
    text = shown(profile, catalog, library)
    assert text.index("Bites.") < text.index("Grown:")
    assert "body, width: a disc." in text
    assert "In short: no block." in text


def test_an_own_profile_says_where_it_lies(catalog: Catalog, library: Library) -> None:
    assert "Your own profile: /mine/x.yaml" in shown(catalog.profile("oscar"), catalog, library, kept_in="/mine/x.yaml")


def test_the_figures_are_those_of_a_fish_of_middling_length() -> None:
    """derived: 10 cm, 0.78 of it standard length (short-deep), half of that deep; published: 20.417 g (Froese et al. 2014)."""
    found = portrait(validate(read_document(BARE, "bare.yaml"), Profile))
    assert found.length == 10
    assert found.standard_length == pytest.approx(7.8)
    assert found.depth_mm is not None
    assert astuple(found.depth_mm) == pytest.approx((39, 39))
    assert found.weight_g == pytest.approx(20.417, rel=1e-3)
    assert (found.width_mm, found.gape_mm, found.months_to_grow) == (None, None, None)


def test_the_months_to_grow_are_those_of_von_bertalanffy() -> None:
    """derived: 1 - exp(-K t) = 0.8 at t = ln(5) / K; 1.609 years at K 1, half of that at K 2."""
    profile = validate(read_document(BARE + "growth: 1-2\nmouth_gape: 0.1\n", "bare.yaml"), Profile)
    found = portrait(profile)
    assert found.months_to_grow is not None
    assert astuple(found.months_to_grow) == pytest.approx((9.657, 19.31), abs=0.01)
    assert found.gape_mm is not None
    assert astuple(found.gape_mm) == pytest.approx((7.8, 7.8))


def test_the_list_keeps_one_line_a_species_at_80_columns(library: Library) -> None:
    lines = write(profile_report.table(library, whole=len(library)), "terminal").splitlines()
    assert max(map(len, lines)) <= 80
    assert sum("–" in line for line in lines) >= len(library)
    assert len(lines) == len(library) + 5  # title and rule, an empty line, header and rule


def test_the_list_marks_own_profiles_and_unknown_figures(library: Library) -> None:
    own = replace(library[0], entry=library[0].entry._replace(built_in=False), temperature=None)
    text = write(profile_report.table((own, *library[1:3]), whole=249), "plain")
    assert text.startswith("3 of 249 species")
    assert " *" in text
    assert "* your own profile" in text
    assert " ? " in text


def test_an_empty_list_says_so(library: Library) -> None:
    assert write(profile_report.table((), whole=len(library)), "plain").startswith(f"0 of {len(library)} species")


def test_what_the_library_rests_on_is_shown_with_its_gaps(catalog: Catalog) -> None:
    """derived: one profile, whose width is memory alone and whose growth is not stated."""
    profile = catalog.profile("neon tetra").model_copy(update={"growth": None})
    text = write(rests_on(support([profile], catalog.bibliography), profiles=1), "plain")
    rows = {line.split("  ")[0]: line.split()[-8:] for line in text.splitlines() if "%" in line and "  " in line}
    assert rows["body width"] == ["0", "%", "0", "%", "100", "%", "0", "%"]
    assert rows["growth"] == ["0", "%", "0", "%", "0", "%", "100", "%"]


def test_differences_are_a_table(catalog: Catalog, tmp_path: Path) -> None:
    text = catalog.find("neon tetra").path.read_text(encoding="utf-8")
    (tmp_path / "mine.yaml").write_text(text.replace("swimming: cruiser", "swimming: local"), encoding="utf-8")
    found = overrides(Catalog((*catalog.folders, tmp_path)))
    shown_ = write(profile_report.differences(found, {"Paracheirodon innesi": "mine.yaml"}), "plain")
    assert [line.split() for line in shown_.splitlines() if "swimming" in line] == [["swimming", "cruiser", "local"]]


def test_the_data_are_in_house_units(catalog: Catalog, library: Library) -> None:
    first = json.loads(profile_data.species(library))[0]
    assert first["scientific_name"] == library[0].entry.scientific_name
    assert library[0].adult_length is not None
    assert first["adult_length"] == asdict(library[0].adult_length)
    oscar = catalog.profile("oscar")
    data = json.loads(profile_data.profile(oscar))
    assert data["body"]["depth"] == {"low": oscar.body.depth.low, "high": oscar.body.depth.high}
    assert "weight" not in data["body"]


def test_what_is_borrowed_is_shown_and_said_to_be_so(library: Library, tmp_path: Path) -> None:
    """A bichir of which the keeper knows length and form alone: the rest is its genus's."""
    text = BARE.replace("Exemplum nudum", "Polypterus novus").replace("Exemplidae", "Polypteridae")
    text = text.replace("short-deep, depth: 0.5", "elongated").replace("my-log", "memory")
    (tmp_path / "new.yaml").write_text(text, encoding="utf-8")
    catalog = Catalog((BUILT_IN, tmp_path))
    words = shown(catalog.profile("Polypterus novus"), catalog, library)
    assert "Diet: piscivore" in words
    assert "relatives for" in words
    assert "borrowed from its genus or family" in " ".join(words.split())


def test_a_body_of_unknown_depth_is_not_drawn(catalog: Catalog, library: Library) -> None:
    bare = validate(read_document(BARE.replace(", depth: 0.5", ""), "x.yaml"), Profile)
    words = shown(bare, catalog, library)
    assert "depth not stated" in words
    assert "to scale" not in words


def test_what_may_be_absent_is_not_called_a_gap(catalog: Catalog, library: Library) -> None:
    words = shown(catalog.profile("neon tetra"), catalog, library)
    assert "not stated" not in words
