"""The JSON Schema of a profile, so that editors complete keys and words and mark what is wrong."""

from __future__ import annotations

from functools import cache
from typing import Any

from coswim.profiles import scales
from coswim.profiles.profile import Profile
from coswim.text.printable import json_text

DIALECT = "https://json-schema.org/draft/2020-12/schema"
FILE = "profile.schema.json"
HEADER = f"# yaml-language-server: $schema={FILE}"
"""The comment by which editors find the schema beside a profile."""
WRITTEN_HERE = "Written by coswim, and written anew when it changes; a file without this line is left alone."
LIST_OR_TEXT = ("also_known_as", "common_names", "level")
"""Lists that may be written as one text."""


def profile_schema() -> dict[str, Any]:
    """The schema, as a profile is written (text with units, one word for a list of one)."""
    found: dict[str, Any] = _written(Profile.model_json_schema())
    keys = found["properties"]["sources"]
    keys["propertyNames"] = {"enum": list(Profile.sourced())}
    keys["additionalProperties"] = _or_text(keys["additionalProperties"])
    return {"$schema": DIALECT, "$comment": WRITTEN_HERE, **found, "title": "coswim profile"}


@cache
def schema_text() -> str:
    """The schema as a file."""
    return json_text(profile_schema())


def _written(node: Any, name: str = "") -> Any:
    """The model's schema without what no keeper writes: nulls, titles, defaults that say nothing."""
    if isinstance(node, list):
        return [_written(part) for part in node]
    if not isinstance(node, dict):
        return node
    if "anyOf" in node and {"type": "null"} in node["anyOf"]:
        stated = next(part for part in node["anyOf"] if part != {"type": "null"})
        node = {**stated, **{key: value for key, value in node.items() if key not in {"anyOf", "default"}}}
    if "properties" in node:
        node = {**node, "properties": {key: _written(value, key) for key, value in node["properties"].items()}}
    kept = {
        key: value if key in {"properties", "enum", "examples", "default"} else _written(value)
        for key, value in node.items()
        if not (key == "title" and isinstance(value, str))
        and (key, value) not in (("examples", ["text"]), ("default", None))
    }
    if kept.get("type") == "array" and "minLength" in kept:  # the length of a list, not of a text
        kept["minItems"] = kept.pop("minLength")
    if "enum" in kept:
        scale = next((scale for scale in scales.SCALES if list(scale.words) == kept["enum"]), None)
        kept |= {"enumDescriptions": [step.meaning for step in scale.steps]} if scale else {}  # beside each word
    return _or_text(kept) if name in LIST_OR_TEXT else kept


def _or_text(node: dict[str, Any]) -> dict[str, Any]:
    lists = {key: value for key, value in node.items() if key != "description"}
    described = {"description": node["description"]} if "description" in node else {}
    return {**described, "anyOf": [node["items"], lists]}
