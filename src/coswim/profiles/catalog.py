"""Where profiles are found: the built-in library, the keeper's own folder, and folders named by hand.

Later folders override earlier ones by scientific name. Looking a species up reads only the names at
the head of each file; a profile is read whole when it is wanted.
"""

from __future__ import annotations

import os
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from functools import cached_property
from pathlib import Path
from types import MappingProxyType
from typing import Any

import yaml
from platformdirs import user_data_path

from coswim.profiles.profile import Profile
from coswim.profiles.sources import Bibliography, Source, read_bibliography, weakest
from coswim.text.document import LOADER, read_document, read_file
from coswim.text.near import near_matches
from coswim.text.problems import InputProblems
from coswim.text.validation import validate

PACKAGE = Path(__file__).resolve().parent.parent
BUILT_IN = next(
    (
        folder
        for folder in (PACKAGE / "species_profiles", PACKAGE.parent.parent / "species_profiles")
        if folder.is_dir()
    ),
    PACKAGE / "species_profiles",
)
SOURCES_FILE = "sources.yaml"
FOLDERS_VARIABLE = "COSWIM_PROFILES"
NAME_KEYS = ("scientific_name", "also_known_as", "common_names", "family")


class UnknownSpecies(LookupError):
    """No profile, or more than one, answers to the name; the message offers near matches."""


@dataclass(frozen=True)
class Entry:
    """The names in one profile file."""

    path: Path
    scientific_name: str
    also_known_as: tuple[str, ...]
    common_names: tuple[str, ...]
    family: str
    built_in: bool

    @property
    def names(self) -> tuple[str, ...]:
        """Every name that leads to this profile."""
        return (self.scientific_name, *self.also_known_as, *self.common_names)


def own_folder() -> Path:
    """The folder for the keeper's own profiles."""
    return user_data_path("coswim") / "species_profiles"


@dataclass(frozen=True)
class Catalog:
    """All profiles in some folders, the first being the built-in library."""

    folders: tuple[Path, ...]
    _read: dict[Path, Profile] = field(default_factory=dict, compare=False, repr=False)

    @classmethod
    def standard(cls, extra: tuple[Path, ...] = ()) -> Catalog:
        """Built-in library, then the keeper's folder, COSWIM_PROFILES and `extra`, each overriding the last.

        Raises InputProblems when a folder named by hand is not there.
        """
        named = [Path(part) for part in os.environ.get(FOLDERS_VARIABLE, "").split(os.pathsep) if part]
        for folder in (*named, *extra):
            if not folder.is_dir():
                raise InputProblems([_no_folder(folder)])
        own = [own_folder()] if own_folder().is_dir() else []
        return cls((BUILT_IN, *own, *named, *extra))

    @cached_property
    def entries(self) -> Mapping[str, Entry]:
        """Every species' names by scientific name, overriding entries last."""
        found: dict[str, Entry] = {}
        for folder in self.folders:
            for path in sorted(folder.rglob("*.yaml")):
                if path.name != SOURCES_FILE:
                    entry = _read_names(path, built_in=folder == BUILT_IN)
                    found[entry.scientific_name] = entry
        return MappingProxyType(found)

    @cached_property
    def bibliography(self) -> Bibliography:
        """The sources of all folders together."""
        merged: dict[str, Source] = {}
        for folder in self.folders:
            merged |= read_bibliography(folder / SOURCES_FILE)
        return MappingProxyType(merged)

    @cached_property
    def _by_name(self) -> Mapping[str, tuple[Entry, ...]]:
        index: dict[str, list[Entry]] = {}
        for entry in self.entries.values():
            for name in dict.fromkeys(_key(name) for name in entry.names):
                index.setdefault(name, []).append(entry)
        return MappingProxyType({name: tuple(entries) for name, entries in index.items()})

    def find(self, name: str) -> Entry:
        """The entry for a scientific name, a common name (also plural) or a unique part of either."""
        wanted = _key(name)
        for candidate in dict.fromkeys((wanted, *_singulars(wanted))):
            exact = self._by_name.get(candidate, ())
            if len(exact) > 1:
                exact = tuple(e for e in exact if _key(e.scientific_name) == candidate) or exact
            if len(exact) == 1:
                return exact[0]
            part = exact or self._containing(candidate)
            if len(part) == 1:
                return part[0]
            if part:
                raise UnknownSpecies(f"{name!r} could be {_choices(part)}; write the full name")
        raise UnknownSpecies(f"no profile answers to {name!r}{self._offer(name)}")

    def profile(self, name: str) -> Profile:
        """The profile that answers to `name`; UnknownSpecies or InputProblems otherwise."""
        entry = self.find(name)
        return self.read(entry)

    def read(self, entry: Entry) -> Profile:
        """The whole profile of an entry."""
        if entry.path not in self._read:
            self._read[entry.path] = read_profile(entry.path)
        return self._read[entry.path]

    def evidence(self, profile: Profile, trait: str) -> str:
        """How strong the weakest source behind a trait is: memory, common-practice, published or measured."""
        keys = profile.source_keys(trait)
        return weakest([self.bibliography[key].kind if key in self.bibliography else "memory" for key in keys])

    def _containing(self, part: str) -> tuple[Entry, ...]:
        if len(part) < SHORTEST_PART:
            return ()
        return tuple(entry for entry in self.entries.values() if any(part in _key(name) for name in entry.names))

    def _offer(self, name: str) -> str:
        near = near_matches(name, [known for entry in self.entries.values() for known in entry.names])
        if near:
            return f"; did you mean {' or '.join(repr(match) for match in near)}?"
        return "; `coswim profile list` shows all, `coswim profile new` starts one"


SHORTEST_PART = 3
MOST_CHOICES = 4


def read_profile(path: Path) -> Profile:
    """One profile file, checked."""
    return validate(read_document(read_file(path), str(path)), Profile)


def _no_folder(folder: Path) -> Any:
    from coswim.text.problems import Problem

    return Problem(str(folder), 0, 0, "", f"is not a folder of profiles (--profiles or {FOLDERS_VARIABLE})")


def _read_names(path: Path, *, built_in: bool) -> Entry:
    names = dict(_head(path))
    scientific = names.get("scientific_name") or [path.stem.replace("-", " ").capitalize()]
    return Entry(
        path,
        scientific[0],
        tuple(names.get("also_known_as", ())),
        tuple(names.get("common_names", ())),
        (names.get("family") or [""])[0],
        built_in,
    )


def _head(path: Path) -> Iterator[tuple[str, list[str]]]:
    """The name keys of a profile, read event by event and no further than they go.

    A file that cannot be read or parsed yields what came before; reading it whole reports why.
    """
    wanted = set(NAME_KEYS)
    depth, key, values = 0, "", list[str]()
    try:
        for event in yaml.parse(read_file(path), Loader=LOADER):
            if isinstance(event, yaml.MappingStartEvent | yaml.SequenceStartEvent):
                depth += 1
            elif isinstance(event, yaml.MappingEndEvent | yaml.SequenceEndEvent):
                depth -= 1
                if depth == 1 and key:
                    yield key, values
                    wanted.discard(key)
                    key, values = "", []
            elif isinstance(event, yaml.ScalarEvent):
                if depth == 1 and not key:
                    key = event.value
                    continue
                values.append(event.value)
                if depth == 1:
                    yield key, values
                    wanted.discard(key)
                    key, values = "", []
            if not wanted:
                return
    except (yaml.YAMLError, InputProblems):
        return


def _key(name: str) -> str:
    return " ".join(name.casefold().replace("-", " ").split())


def _singulars(key: str) -> tuple[str, ...]:
    endings = (("ies", "y"), ("es", ""), ("s", ""))
    return tuple(key[: -len(plural)] + single for plural, single in endings if key.endswith(plural))


def _choices(entries: tuple[Entry, ...]) -> str:
    shown = [f"{e.scientific_name} ({e.common_names[0] if e.common_names else '?'})" for e in entries[:MOST_CHOICES]]
    more = len(entries) - len(shown)
    return " or ".join(shown) + (f" or {more} more" if more else "")
