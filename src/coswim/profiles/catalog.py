"""Where profiles are found: the built-in library, the keeper's own folder, and folders named by hand.

Later folders override earlier ones by scientific name. Looking a species up reads only the names in
each file; a profile is read whole when it is wanted, and only then is its model loaded.
"""

from __future__ import annotations

import os
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, field
from functools import cached_property
from pathlib import Path
from types import MappingProxyType
from typing import TYPE_CHECKING

from coswim.profiles.names import Entry, file_name, is_scientific, name_key, name_problem, read_names, wanted_keys
from coswim.text.document import read_document, read_file
from coswim.text.near import near_matches
from coswim.text.printable import quoted
from coswim.text.problems import InputProblems, Problem, whole_file

if TYPE_CHECKING:
    from coswim.profiles.profile import Profile
    from coswim.profiles.sources import Bibliography, Source

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
MISNAMED_SOURCES = "sources.yml"
ENDINGS = (".yaml", ".yml")
FOLDERS_VARIABLE = "COSWIM_PROFILES"


class UnknownSpecies(LookupError):
    """No profile, or more than one, answers to the name; the message offers near matches."""


def own_folder() -> Path:
    """The folder for the keeper's own profiles."""
    from platformdirs import user_data_path

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
                raise whole_file(str(folder), f"is not a folder of profiles (--profiles or {FOLDERS_VARIABLE})")
        own = [own_folder()] if own_folder().is_dir() else []
        return cls((BUILT_IN, *own, *named, *extra))

    def files(self) -> Iterator[tuple[Path, bool]]:
        """Every profile file, and whether it is a built-in one; a later one overrides its namesake."""
        for folder in self.folders:
            for path in profile_files(folder):
                yield path, folder == BUILT_IN

    @cached_property
    def all_entries(self) -> tuple[Entry, ...]:
        """The names in every file, in the order of the folders."""
        return tuple(read_names(path, built_in=built_in) for path, built_in in self.files())

    @cached_property
    def entries(self) -> Mapping[str, Entry]:
        """The entry that holds for each species, by scientific name."""
        held: dict[str, Entry] = {}
        for entry in self.all_entries:
            before = held.get(entry.scientific_name)
            if before and entry.path in self._nameless:  # found by the names of the one it was to override
                entry = before._replace(path=entry.path, built_in=False)
            held[entry.scientific_name] = entry
        return MappingProxyType(held)

    @property
    def left_out(self) -> tuple[Problem, ...]:
        """Why files in the keeper's own folders cannot take part: no names, a second one of a species."""
        own = [folder / MISNAMED_SOURCES for folder in self._own_folders]
        misnamed = [Problem(str(path), 0, 0, "", f"must be called {SOURCES_FILE}") for path in own if path.exists()]
        return (*self._nameless.values(), *self._doubled.values(), *misnamed)

    @property
    def _own_folders(self) -> tuple[Path, ...]:
        return tuple(folder for folder in self.folders if folder != BUILT_IN)

    @cached_property
    def _nameless(self) -> Mapping[Path, Problem]:
        """The keeper's files whose names cannot be read, and why."""
        files = [path for folder in self._own_folders for path in profile_files(folder)]
        return MappingProxyType({path: problem for path in files if (problem := name_problem(path))})

    @cached_property
    def _doubled(self) -> Mapping[Path, Problem]:
        """The keeper's files for a species that has another in the same folder."""
        found: dict[Path, Problem] = {}
        for folder in self._own_folders:
            first: dict[str, Path] = {}
            for path in profile_files(folder):
                if path in self._nameless:
                    continue
                species = read_names(path).scientific_name
                other = first.setdefault(species, path)
                if other != path:
                    message = f"is a second profile of {quoted(species)} beside {other.relative_to(folder)}; keep one"
                    found[path] = Problem(str(path), 0, 0, "", message)
        return MappingProxyType(found)

    @cached_property
    def bibliography(self) -> Bibliography:
        """The sources of all folders together."""
        from coswim.profiles.sources import read_bibliography

        merged: dict[str, Source] = {}
        for folder in self.folders:
            merged |= read_bibliography(folder / SOURCES_FILE)
        return MappingProxyType(merged)

    @cached_property
    def _by_key(self) -> Mapping[str, tuple[Entry, ...]]:
        index: dict[str, list[Entry]] = {}
        for entry in self.entries.values():
            for key in dict.fromkeys(map(name_key, entry.names)):
                index.setdefault(key, []).append(entry)
        return MappingProxyType({key: tuple(entries) for key, entries in index.items()})

    def find(self, name: str) -> Entry:
        """The entry for a scientific name, a common name (also plural or counted) or a unique part of either."""
        filed = self._filed(name)
        if filed:
            return filed
        wanted = wanted_keys(name)
        for matches in (self._named, self._abbreviated, self._with_part, self._with_words, self._with_piece):
            found = next((entries for key in wanted if (entries := matches(key))), ())
            if len(found) == 1:
                return found[0]
            if found:
                raise UnknownSpecies(f"{quoted(name)} could be {_choices(found)}; write the full name")
        raise UnknownSpecies(f"no profile answers to {quoted(name)}{self._offer(name)}")

    def _filed(self, name: str) -> Entry | None:
        """The species of this scientific name, found by its file's name without reading the whole library."""
        if not is_scientific(name):
            return None
        shelves = [
            read_names(path, built_in=folder == BUILT_IN)
            for folder in self.folders
            for path in (folder.glob(f"*/{file_name(name)}") if folder == BUILT_IN else profile_files(folder))
        ]
        return next((entry for entry in reversed(shelves) if entry.scientific_name == name), None)

    def profile(self, name: str) -> Profile:
        """The profile that answers to `name`; UnknownSpecies or InputProblems otherwise."""
        return self.read(self.find(name))

    def read(self, entry: Entry) -> Profile:
        """The whole profile of an entry; InputProblems where it is wrong, or is one of two in a folder."""
        if entry.path in self._doubled:
            raise InputProblems([self._doubled[entry.path]])
        if entry.path not in self._read:
            self._read[entry.path] = read_profile(entry.path)
        return self._read[entry.path]

    def evidence(self, profile: Profile, trait: str) -> str:
        """How strong the weakest source behind a trait is: memory, common-practice, published or measured."""
        from coswim.profiles.sources import kind_of, weakest

        return weakest([kind_of(key, self.bibliography) for key in profile.source_keys(trait)])

    def _named(self, key: str) -> tuple[Entry, ...]:
        """Exactly so; a scientific name in use beats the same name as an older one of another species."""
        found = self._by_key.get(key, ())
        return tuple(entry for entry in found if name_key(entry.scientific_name) == key) or found

    def _abbreviated(self, key: str) -> tuple[Entry, ...]:
        """`p innesi` for Paracheirodon innesi."""
        initial, _, epithet = key.partition(" ")
        if len(initial) != 1 or not epithet:
            return ()
        return self._where(lambda known: known.startswith(initial) and known.partition(" ")[2] == epithet)

    def _with_part(self, key: str) -> tuple[Entry, ...]:
        """Whole words in a row."""
        return self._where(lambda known: f" {key} " in f" {known} ")

    def _with_words(self, key: str) -> tuple[Entry, ...]:
        """Whole words in any order."""
        words = set(key.split())
        return self._where(lambda known: words <= set(known.split()))

    def _with_piece(self, key: str) -> tuple[Entry, ...]:
        """Letters in a row."""
        return self._where(lambda known: key in known) if len(key) >= SHORTEST_PART else ()

    def _where(self, fits: Callable[[str], bool]) -> tuple[Entry, ...]:
        return tuple(dict.fromkeys(entry for key, entries in self._by_key.items() if fits(key) for entry in entries))

    def _offer(self, name: str) -> str:
        near = near_matches(name, [known for entry in self.entries.values() for known in entry.names])
        if near:
            return f"; did you mean {' or '.join(quoted(match) for match in near)}?"
        return "; `coswim profile list` shows all, `coswim profile new` starts one"


SHORTEST_PART = 3
MOST_CHOICES = 4


def read_profile(path: Path) -> Profile:
    """One profile file, checked."""
    from coswim.profiles.profile import Profile
    from coswim.text.validation import validate

    return validate(read_document(read_file(path), str(path)), Profile)


def profile_files(folder: Path) -> tuple[Path, ...]:
    """The profile files in a folder and those below it, by name."""
    no_profiles = (SOURCES_FILE, MISNAMED_SOURCES)
    return tuple(
        path
        for path in sorted(folder.rglob("*.[yY]*[mM]*[lL]"))
        if path.suffix.lower() in ENDINGS and path.name not in no_profiles and not path.name.startswith(".")
    )


def _choices(entries: tuple[Entry, ...]) -> str:
    shown = [f"{e.scientific_name} ({e.common_names[0] if e.common_names else '?'})" for e in entries[:MOST_CHOICES]]
    more = len(entries) - len(shown)
    return " or ".join(shown) + (f" or {more} more" if more else "")
