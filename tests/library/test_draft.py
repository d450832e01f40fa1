"""A new species starts from what its genus tells, and the file says so."""

from __future__ import annotations

from pathlib import Path

import pytest
import yaml

from coswim.library.checking import check
from coswim.library.template import drafted, template
from coswim.profiles.catalog import Catalog, read_profile
from coswim.text.document import LOADER


def test_a_draft_takes_its_values_from_the_genus_and_names_it(catalog: Catalog) -> None:
    text = template("Danio kyathit", draft=drafted("Danio kyathit", catalog))
    opening = " ".join(text.partition("\n\n")[0].replace("\n# ", " ").split())
    assert "borrowed from Danio albolineatus, " in opening
    assert "a start, no knowledge" in opening
    data = yaml.load(text, Loader=LOADER)  # noqa: S506
    assert data["family"] == "Danionidae"
    assert data["swimming"] == "open-water"
    assert data["sources"]["growth"] == data["sources"]["body"] == "relatives"
    assert data["adult_length"] == ""  # for the keeper to say


def test_a_draft_is_sound_once_names_and_length_are_in(catalog: Catalog, tmp_path: Path) -> None:
    text = template("Danio kyathit", draft=drafted("Danio kyathit", catalog))
    filled = text.replace("common_names: []", "common_names: [orange-finned danio]").replace(
        "adult_length: ", "adult_length: 4-5 cm", 1
    )
    path = tmp_path / "danio-kyathit.yaml"
    path.write_text(filled, encoding="utf-8")
    assert check([path], catalog).problems == ()
    assert catalog.evidence(read_profile(path), "growth") == "relatives"


@pytest.mark.parametrize("name", ["Novum novum", "Amphilophus hybrid novus"], ids=["no genus", "hybrid"])
def test_without_a_genus_and_for_a_hybrid_there_is_nothing_to_start_from(catalog: Catalog, name: str) -> None:
    assert drafted(name, catalog) is None
