"""What the keeper's own profile changes in a built-in one, trait by trait."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from coswim.profiles.catalog import Catalog
from coswim.profiles.names import Entry
from coswim.text.document import document_of


@dataclass(frozen=True)
class Difference:
    """One trait that differs; '' where one of the two does not state it."""

    trait: str
    built_in: str
    own: str


@dataclass(frozen=True)
class Override:
    """A species whose own profile stands in for the built-in one."""

    built_in: Entry
    own: Entry

    def changes(self) -> tuple[Difference, ...]:
        """The traits that differ, in the order of the built-in profile, then those that are new."""
        before, after = (dict(_flat(document_of(entry.path).data)) for entry in (self.built_in, self.own))
        pairs = ((trait, before.get(trait, ""), after.get(trait, "")) for trait in dict.fromkeys((*before, *after)))
        return tuple(Difference(*pair) for pair in pairs if pair[1] != pair[2])


def overrides(catalog: Catalog) -> tuple[Override, ...]:
    """Every built-in profile that another one stands in for, by name."""
    built_in = {entry.scientific_name: entry for entry in catalog.all_entries if entry.built_in}
    found = [
        Override(built_in[name], entry)
        for name, entry in catalog.entries.items()
        if name in built_in and not entry.built_in
    ]
    return tuple(sorted(found, key=lambda override: override.own.scientific_name))


def _flat(data: Any, path: str = "") -> Iterator[tuple[str, str]]:
    if isinstance(data, Mapping):
        for key, value in data.items():
            yield from _flat(value, f"{path}.{key}" if path else key)
    elif isinstance(data, list):
        yield path, ", ".join(str(part) for part in data)
    else:
        yield path, " ".join(str(data).split())
