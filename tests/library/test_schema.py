"""The JSON Schema lets through what coswim reads and marks what coswim refuses."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
import yaml

from coswim.library.comparison import Difference, overrides
from coswim.library.schema import profile_schema
from coswim.profiles import scales
from coswim.profiles.catalog import Catalog
from coswim.profiles.profile import Profile

SCHEMA = profile_schema()
LOADER = getattr(yaml, "CBaseLoader", yaml.BaseLoader)
TYPES: dict[str, type | tuple[type, ...]] = {
    "object": dict, "array": list, "string": str, "number": (int, float), "integer": int,
}  # fmt: skip


def accepts(node: Any, value: Any) -> bool:
    """The part of JSON Schema that the schema of profiles uses; any other keyword is an error of this test."""
    known = {
        "$schema",
        "$comment",
        "$defs",
        "title",
        "description",
        "examples",
        "default",
        "enumDescriptions",
        "$ref",
        "anyOf",
    }
    known |= {"type", "enum", "properties", "required", "additionalProperties", "propertyNames", "items"}
    known |= {"minItems", "maxItems", "maxLength", "minimum", "maximum"}
    assert set(node) <= known
    if "$ref" in node:
        return accepts(SCHEMA["$defs"][node["$ref"].rpartition("/")[2]], value)
    if "anyOf" in node:
        return any(accepts(part, value) for part in node["anyOf"])
    kinds = node["type"] if isinstance(node.get("type"), list) else [node["type"]] if "type" in node else []
    if kinds and not any(isinstance(value, TYPES[kind]) for kind in kinds):
        return False
    if "enum" in node and value not in node["enum"]:
        return False
    if isinstance(value, dict):
        return _accepts_mapping(node, value)
    if isinstance(value, list):
        return len(value) >= node.get("minItems", 0) and all(accepts(node["items"], part) for part in value)
    return True


def _accepts_mapping(node: Any, value: dict[str, Any]) -> bool:
    properties, others = node.get("properties", {}), node.get("additionalProperties", True)
    if not set(node.get("required", ())) <= set(value):
        return False
    if not all(accepts(node.get("propertyNames", {}), key) for key in value):
        return False
    for key, inner in value.items():
        allowed = properties.get(key, others)
        if allowed is False or (isinstance(allowed, dict) and not accepts(allowed, inner)):
            return False
    return True


def test_every_profile_of_the_library_fits_the_schema(catalog: Catalog) -> None:
    refused = [
        entry.scientific_name
        for entry in catalog.entries.values()
        if not accepts(SCHEMA, yaml.load(entry.path.read_text(encoding="utf-8"), Loader=LOADER))  # noqa: S506
    ]
    assert refused == []


@pytest.mark.parametrize(
    ("key", "value"),
    [
        ("growht", "1-2"),
        ("swimming", "flying"),
        ("features", ["wings"]),
        ("features", "air-breather"),
        ("body", {"depth": "0.3"}),
        ("body", {"form": "round", "depth": "0.3"}),
        ("growth", None),
        ("sources", {"colour": "memory"}),
        ("sources", {"growth": []}),
        ("common_names", []),
        ("notes", "one text"),
    ],
)
def test_what_coswim_refuses_is_marked(catalog: Catalog, key: str, value: Any) -> None:
    path = catalog.find("neon tetra").path
    data = yaml.load(path.read_text(encoding="utf-8"), Loader=LOADER)  # noqa: S506
    assert accepts(SCHEMA, data)
    assert not accepts(SCHEMA, {**data, key: value})


@pytest.mark.parametrize(
    ("key", "value"),
    [("growth", 1.5), ("common_names", "one name"), ("also_known_as", "Older name"), ("mouth_gape", 0.1)],
)
def test_what_coswim_also_reads_is_let_through(catalog: Catalog, key: str, value: Any) -> None:
    """coswim reads every scalar as text; an editor may see a number."""
    data = yaml.load(catalog.find("neon tetra").path.read_text(encoding="utf-8"), Loader=LOADER)  # noqa: S506
    Profile.model_validate({**data, key: str(value)})
    assert accepts(SCHEMA, {**data, key: value})


def test_an_editor_can_show_what_each_word_means() -> None:
    """Every scale word stands in the schema with its meaning."""
    shown: dict[str, str] = {}

    def collect(node: Any) -> None:
        if isinstance(node, dict):
            if "enumDescriptions" in node:
                shown.update(zip(node["enum"], node["enumDescriptions"], strict=True))
            for inner in node.values():
                collect(inner)
        elif isinstance(node, list):
            for inner in node:
                collect(inner)

    collect(SCHEMA)
    assert {step.word for scale in scales.SCALES for step in scale.steps} <= set(shown)


def test_the_difference_is_told_trait_by_trait(catalog: Catalog, tmp_path: Path) -> None:
    entry = catalog.find("neon tetra")
    text = entry.path.read_text(encoding="utf-8")
    assert "swimming: cruiser\n" in text
    mine = text.replace("swimming: cruiser\n", "swimming: local\n").replace("features: []\n", "features: [digger]\n")
    (tmp_path / "mine.yaml").write_text(mine.replace("growth: 1", "growth:   1"), encoding="utf-8")
    (found,) = overrides(Catalog((*catalog.folders, tmp_path)))
    assert found.changes() == (Difference("swimming", "cruiser", "local"), Difference("features", "", "digger"))


def test_without_own_profiles_nothing_is_overridden(catalog: Catalog) -> None:
    assert overrides(catalog) == ()
