"""A trait that is added to the model is checked, shown, asked for and compared without a list kept in step by hand.

The traits here are invented: light that a species likes, how far it jumps, and a part of its temper.
"""

from __future__ import annotations

import json
import sys
from pathlib import Path
from typing import Annotated

import pytest
from pydantic import Field

from coswim.library import evidence, schema, template
from coswim.library.checking import MISSING, check
from coswim.library.comparison import Difference, overrides
from coswim.profiles import profile, scales
from coswim.profiles.catalog import Catalog, read_profile
from coswim.profiles.scales import Scale, Step
from coswim.report import profile_data, profile_page
from coswim.report.writers import write
from coswim.text.document import read_document, read_file
from coswim.text.fields import LengthRange, Share, Text, YesNo, one_of
from coswim.text.validation import validate

LIGHT = Scale("light", "lux", (Step("dim", 50.0, "likes shade"), Step("bright", 500.0, "likes sun")))
Light = Annotated[str, one_of(LIGHT.words, what="word for light")]


class MoreTemperament(profile.Temperament):
    """A temper with one part more."""

    sulks: Light = Field("dim", description="invented part")


class MoreProfile(profile.Profile):
    """A species with two traits more."""

    temperament: MoreTemperament | None = None
    light: Light | None = Field(None, description="how much light it likes")
    leap: LengthRange | None = Field(None, title="Jumps", description="how far it jumps, e.g. 10-20 cm")


class OddProfile(MoreProfile):
    """A species with traits of other types than the profile has today."""

    digs: YesNo = False
    shy: Share = 0.25
    calls: tuple[Text, ...] = ()


@pytest.fixture(autouse=True)
def _more_traits(monkeypatch: pytest.MonkeyPatch) -> None:
    """The larger model wherever coswim uses the profile's, and the new scale among the others."""
    before = profile.Profile
    for module in [module for name, module in sys.modules.items() if name.startswith("coswim.")]:
        if getattr(module, "Profile", None) is before:
            monkeypatch.setattr(module, "Profile", MoreProfile)
    monkeypatch.setattr(scales, "SCALES", (*scales.SCALES, LIGHT))


def tetra(catalog: Catalog, folder: Path, *more: str, sources: str = "") -> Path:
    """A copy of the neon tetra's profile with more lines, and more among its sources."""
    text = catalog.find("neon tetra").path.read_text(encoding="utf-8").rstrip()
    assert text.splitlines()[-1].startswith("  ")  # the sources come last
    path = folder / "mine.yaml"
    path.write_text("\n".join((*more, text, sources)) + "\n", encoding="utf-8")
    return path


def said(path: Path, catalog: Catalog) -> list[str]:
    """The messages of a check."""
    checked = check([path], catalog)
    return [remark.problem.message for remark in (*checked.problems, *checked.warnings)]


def test_a_new_trait_without_a_source_fails_the_check(catalog: Catalog, tmp_path: Path) -> None:
    given = ("light: dim", "leap: 10-20 cm")
    messages = said(tetra(catalog, tmp_path, *given), catalog)
    assert messages == [
        f"names no source for {trait}; write the key of one, or memory if the value is recalled"
        for trait in ("leap", "light")
    ]
    assert said(tetra(catalog, tmp_path, *given, sources="  light: memory\n  leap: memory"), catalog) == []


def test_a_new_trait_that_is_not_stated_is_missed(catalog: Catalog, tmp_path: Path) -> None:
    messages = said(tetra(catalog, tmp_path), catalog)
    assert messages == [MISSING] * 2


def test_a_new_part_is_covered_by_the_source_of_its_block_or_wants_its_own(catalog: Catalog, tmp_path: Path) -> None:
    path = tetra(catalog, tmp_path, "light: dim", "leap: 10-20 cm", sources="  light: memory\n  leap: memory")
    text = path.read_text(encoding="utf-8").replace("temperament:\n", "temperament:\n  sulks: bright\n", 1)
    assert "  temperament: " in text
    path.write_text(text, encoding="utf-8")
    assert said(path, catalog) == []
    parts = "\n".join(f"  temperament.{part}: memory" for part in ("own_kind", "other_fish", "nips", "stamina"))
    lines = [parts if line.startswith("  temperament: ") else line for line in text.splitlines()]
    path.write_text("\n".join(lines), encoding="utf-8")
    assert [message[:32] for message in said(path, catalog)] == ["names no source for temperament;"]
    path.write_text("\n".join((*lines, "  temperament.sulks: memory")), encoding="utf-8")
    assert said(path, catalog) == []


def test_a_new_trait_shows_on_the_page(catalog: Catalog, tmp_path: Path) -> None:
    path = tetra(catalog, tmp_path, "light: dim", "leap: 10-20 cm", sources="  light: memory\n  leap: memory")
    text = write(profile_page.page(profile_page.Subject(read_profile(path), {}, ())), "plain")
    assert "Light: dim, likes shade" in text
    assert "Jumps: 10-20 cm" in text
    assert "Sulks: dim, likes shade" in text
    path = tetra(catalog, tmp_path)
    text = write(profile_page.page(profile_page.Subject(read_profile(path), {}, ())), "plain")
    assert f"Light: {profile_page.NOT_STATED}" in text


def test_a_trait_of_any_type_shows_on_the_page(catalog: Catalog, tmp_path: Path) -> None:
    path = tetra(catalog, tmp_path, "digs: yes", "shy: 20 %", "calls: [Growl, hum]", sources="  digs: memory")
    odd = validate(read_document(read_file(path), str(path)), OddProfile)
    text = write(profile_page.page(profile_page.Subject(odd, {}, ())), "plain")
    for line in ("Digs: yes", "Shy: 0.2", "Calls: Growl and hum"):
        assert f"- {line}\n" in text


def test_a_new_trait_is_data_for_programs(catalog: Catalog, tmp_path: Path) -> None:
    path = tetra(catalog, tmp_path, "light: dim", sources="  light: memory")
    assert json.loads(profile_data.profile(read_profile(path)))["light"] == "dim"


def test_the_template_asks_for_a_new_trait_and_its_source() -> None:
    lines = [" ".join(line.split()) for line in template.template("Danio kyathit").splitlines()]
    assert "# light: dim # dim | bright" in lines
    assert "# leap: 28 cm # how far it jumps, e.g. 10-20 cm" in lines
    assert "# light: memory" in lines


def test_editors_know_a_new_trait_and_that_it_has_a_source() -> None:
    found = schema.profile_schema()
    assert found["properties"]["light"]["enumDescriptions"] == ["likes shade", "likes sun"]
    assert {"light", "leap", "temperament.sulks"} <= set(found["properties"]["sources"]["propertyNames"]["enum"])


def test_what_a_new_trait_rests_on_is_counted(catalog: Catalog, tmp_path: Path) -> None:
    path = tetra(catalog, tmp_path, "light: dim", sources="  light: memory")
    rows = {each.block: each for each in evidence.support([read_profile(path)], catalog.bibliography)}
    assert (rows["light"].memory, rows["jumps"].missing) == (1, 1)


def test_a_new_trait_is_compared(catalog: Catalog, tmp_path: Path) -> None:
    tetra(catalog, tmp_path, "light: dim", sources="  light: memory")
    (found,) = overrides(Catalog((*catalog.folders, tmp_path)))
    assert Difference("light", "", "dim") in found.changes()
