"""The library at a glance: a few figures of each species, chosen by what a keeper asks for.

Only the figures that the list shows are read, and without the profile's model, so that the whole library
answers at once; whether a profile is right is for `coswim profile check` to say.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any, TypeVar

import yaml

from coswim.profiles.catalog import Catalog
from coswim.profiles.names import NAME_KEYS, Entry, entry_of, name_key
from coswim.text.document import LOADER, read_file
from coswim.text.problems import InputProblems
from coswim.text.quantities import FISH_LENGTH, HARDNESS, PH, TEMPERATURE, QuantityError, Range, parse_whole

ValueT = TypeVar("ValueT")


@dataclass(frozen=True)
class Listed:
    """One species at a glance; what its file does not say, or not readably, is None."""

    entry: Entry
    adult_length: Range | None
    temperature: Range | None
    ph: Range | None
    hardness: Range | None
    smallest_group: int | None


@dataclass(frozen=True)
class Wanted:
    """What a keeper looks for; None or '' leaves it open."""

    text: str = ""
    family: str = ""
    length: Range | None = None
    temperature: Range | None = None
    group: int | None = None

    def fits(self, listed: Listed) -> bool:
        """Whether the species is one of those looked for; an unknown figure never is."""
        entry = listed.entry
        words, named = name_key(self.text).split(), " ".join(map(name_key, (*entry.names, entry.family)))
        return (
            all(word in named for word in words)
            and name_key(entry.family).startswith(name_key(self.family))
            and (self.length is None or _grows_to(listed.adult_length, self.length))
            and (self.temperature is None or _covers(listed.temperature, self.temperature))
            and (self.group is None or (listed.smallest_group is not None and listed.smallest_group <= self.group))
        )


def glances(catalog: Catalog) -> tuple[Listed, ...]:
    """Every species of the catalog, by family and name; files are read once and only as far as needed."""
    found = (_glance(path, built_in=built_in) for path, built_in in catalog.files())
    holding = {glance.entry.scientific_name: glance for glance in found}
    return tuple(sorted(holding.values(), key=lambda glance: (glance.entry.family, glance.entry.scientific_name)))


def _grows_to(adult: Range | None, length: Range) -> bool:
    """A grown fish is within the range; one length alone is the most."""
    least = 0.0 if length.low == length.high else length.low
    return adult is not None and least <= adult.high <= length.high


def _covers(window: Range | None, temperature: Range) -> bool:
    return window is not None and window.low <= temperature.low and temperature.high <= window.high


def _glance(path: Path, *, built_in: bool) -> Listed:
    blocks = _blocks(path)
    water = _pairs(blocks.get("water_ranges"))
    return Listed(
        entry_of(path, {key: _texts(blocks.get(key)) for key in NAME_KEYS}, built_in=built_in),
        _read(blocks.get("adult_length"), FISH_LENGTH.parse_range),
        _read(water.get("temperature"), TEMPERATURE.parse_range),
        _read(water.get("ph"), PH.parse_range),
        _read(water.get("hardness"), HARDNESS.parse_range),
        _read(_pairs(blocks.get("schooling")).get("smallest_group"), parse_whole),
    )


def _blocks(path: Path) -> Mapping[str, Any]:
    try:
        return _pairs(yaml.compose(read_file(path), Loader=LOADER))
    except (yaml.YAMLError, InputProblems, RecursionError):
        return {}


def _pairs(node: Any) -> Mapping[str, Any]:
    pairs = node.value if isinstance(node, yaml.MappingNode) else ()
    return {key.value: value for key, value in pairs if isinstance(key, yaml.ScalarNode)}


def _texts(node: Any) -> list[str]:
    parts = node.value if isinstance(node, yaml.SequenceNode) else [node]
    return [part.value for part in parts if isinstance(part, yaml.ScalarNode)]


def _read(node: Any, parse: Callable[[str], ValueT]) -> ValueT | None:
    try:
        return parse(node.value) if isinstance(node, yaml.ScalarNode) else None
    except QuantityError:
        return None
