"""Where profiles are found: the built-in library, the keeper's own folder, and folders named by hand.

Later folders override earlier ones by scientific name. Looking a species up reads only the names in
each file; a profile is read whole when it is wanted, and only then is its model loaded.
"""

from __future__ import annotations

import os
import re
from collections.abc import Callable, Iterable, Iterator, Mapping
from contextlib import suppress
from dataclasses import dataclass, field
from functools import cached_property
from pathlib import Path
from types import MappingProxyType
from typing import TYPE_CHECKING, Any

from coswim.profiles.names import (
    Entry,
    entry_of,
    file_name,
    is_scientific,
    name_key,
    name_problem,
    names_of,
    read_names,
    wanted_keys,
)
from coswim.profiles.strangers import stranger
from coswim.text.document import document_of
from coswim.text.printable import quoted, shortened
from coswim.text.problems import InputProblems, Problem, near_matches, whole_file

if TYPE_CHECKING:
    from coswim.profiles.profile import Profile
    from coswim.profiles.sources import Bibliography, Source

INSTALLED, CHECKOUT = (Path(__file__).resolve().parents[up] / "species_profiles" for up in (1, 3))
BUILT_IN = CHECKOUT if CHECKOUT.is_dir() and not INSTALLED.is_dir() else INSTALLED
SOURCES_FILE = "sources.yaml"
MISNAMED_SOURCES = "sources.yml"
ENDINGS = (".yaml", ".yml")
FOLDERS_VARIABLE = "COSWIM_PROFILES"
SHORTEST_PART = 4
FEWEST_INITIALS, MOST_INITIALS = 3, 5
MOST_CHOICES = 12
LETTER_AND_HYPHEN = re.compile(r"\b\w-\w|\b\w{1,2}-")


class UnknownSpecies(LookupError):
    """No profile, or more than one, answers to the name; the message offers near matches.

    `candidates` are the species that may have been meant, the best first.
    """

    def __init__(self, message: str, candidates: tuple[Entry, ...] = ()) -> None:
        super().__init__(message)
        self.candidates = candidates


def own_folder() -> Path:
    """The folder for the keeper's own profiles."""
    from platformdirs import user_data_path

    return user_data_path("coswim") / "species_profiles"


@dataclass(frozen=True)
class Catalog:
    """All profiles in some folders, the first being the built-in library.

    `ask` is asked which of several species a name stands for; without it, or where it answers None, the name
    is a problem.
    """

    folders: tuple[Path, ...]
    ask: Callable[[str, tuple[Entry, ...]], Entry | None] | None = field(default=None, compare=False, repr=False)
    chosen: dict[str, Entry] = field(default_factory=dict, compare=False, repr=False)
    _parsed: dict[str, Any] = field(default_factory=dict, compare=False, repr=False)
    _read: dict[Path, Profile] = field(default_factory=dict, compare=False, repr=False)
    _completed: dict[Path, Profile] = field(default_factory=dict, compare=False, repr=False)

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
        return tuple(self._names_in(path, built_in=built_in) for path, built_in in self.files())

    def _names_in(self, path: Path, *, built_in: bool) -> Entry:
        parsed = self._parsed.get(str(path))
        if isinstance(parsed, dict):
            return entry_of(path, names_of(parsed), built_in=built_in)
        return read_names(path, built_in=built_in)

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
        return self._index(lambda name: (name_key(name),))

    def find(self, name: str) -> Entry:
        """The entry for a scientific name, a common name (also plural or counted) or a unique part of either."""
        filed = self._filed(name) or self.chosen.get(name)
        if filed:
            return filed
        try:
            return self._unique(name)
        except UnknownSpecies as error:
            answer = self.ask(name, error.candidates) if self.ask and error.candidates else None
            if answer is None:
                raise
            return self.chosen.setdefault(name, answer)

    def _unique(self, name: str) -> Entry:
        """The one entry that answers to a name; UnknownSpecies where there is none, or there are several."""
        wanted = wanted_keys(name)
        for matches in (self._named, self._abbreviated, self._with_initials):
            found = next((entries for key in wanted if (entries := matches(key))), ())
            if found:
                return _only(name, found)
        if is_none_of_ours := stranger(name_key(name)):
            raise UnknownSpecies(f"{quoted(name)} {is_none_of_ours}")
        for matches in (self._with_part, self._with_words, self._with_piece):
            found = next((entries for key in wanted if (entries := matches(key))), ())
            if found:
                return _only(name, found)
        raise self._nobody(name)

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
        """The profile that answers to `name`, completed from relatives; UnknownSpecies or InputProblems otherwise."""
        return self.completed(self.find(name))

    def completed(self, entry: Entry) -> Profile:
        """The profile of an entry with what it does not state borrowed from its genus, else from its family."""
        from coswim.profiles.borrowing import completed

        if entry.path not in self._completed:
            self._completed[entry.path] = completed(self.read(entry), self.circles(entry.scientific_name, entry.family))
        return self._completed[entry.path]

    def genus(self, name: str) -> tuple[Profile, ...]:
        """The profiles of the other species of a genus, by its present or an older name."""
        genus = name.partition(" ")[0]
        return self._readable(
            entry
            for entry in self.entries.values()
            if entry.scientific_name != name
            and genus in {each.partition(" ")[0] for each in (entry.scientific_name, *entry.also_known_as)}
        )

    def circles(self, name: str, family: str) -> Iterator[tuple[Profile, ...]]:
        """The relatives of a species, its genus and then its family; each circle is read when it is asked."""
        yield self.genus(name)
        yield self._readable(
            one for one in self.entries.values() if one.family == family and one.scientific_name != name
        )

    def _readable(self, entries: Iterable[Entry]) -> tuple[Profile, ...]:
        """The profiles of some entries; those that cannot be read are no evidence."""
        found: list[Profile] = []
        for entry in entries:
            with suppress(InputProblems):
                found.append(self.read(entry))
        return tuple(found)

    def read(self, entry: Entry) -> Profile:
        """The whole profile of an entry; InputProblems where it is wrong, or is one of two in a folder."""
        if entry.path in self._doubled:
            raise InputProblems([self._doubled[entry.path]])
        if entry.path not in self._read:
            self._read[entry.path] = self._as_parsed(entry.path) or read_profile(entry.path)
        return self._read[entry.path]

    def take(self, parsed: Mapping[str, Any]) -> None:
        """Files that need not be parsed any more: their plain data, by path."""
        self._parsed.update(parsed)

    def _as_parsed(self, path: Path) -> Profile | None:
        """The profile in a file that was parsed before; None where it was not, or is wrong in a place to be named."""
        from coswim.profiles.profile import Profile

        try:
            return Profile.model_validate(self._parsed.pop(str(path))) if str(path) in self._parsed else None
        except ValueError:
            return None

    def evidence(self, profile: Profile, trait: str) -> str:
        """How strong the weakest source behind a trait is: one of the kinds of evidence."""
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

    def _with_initials(self, key: str) -> tuple[Entry, ...]:
        """`cae` for Chinese algae eater, where no more than one species has these initials."""
        if not FEWEST_INITIALS <= len(key) <= MOST_INITIALS or not key.isalpha():
            return ()
        found = {
            entry.scientific_name: entry
            for entry in self.entries.values()
            for name in entry.common_names
            if "".join(word[0] for word in name_key(name).split()) == key
        }
        return tuple(found.values()) if len(found) == 1 else ()

    def _with_part(self, key: str) -> tuple[Entry, ...]:
        """Whole words in a row, `angel` also for `angelfish`; a word with a hyphen is one word."""
        words = (f" {key} ", f" {key}fish ")
        return self._where(lambda known: any(word in f" {known} " for word in words), whole=True)

    def _with_words(self, key: str) -> tuple[Entry, ...]:
        """Whole words in any order."""
        words = set(key.split())
        return self._where(lambda known: words <= set(known.split()), whole=True)

    def _with_piece(self, key: str) -> tuple[Entry, ...]:
        """Letters in a row."""
        return self._where(lambda known: key in known) if len(key) >= SHORTEST_PART else ()

    def _where(self, fits: Callable[[str], bool], *, whole: bool = False) -> tuple[Entry, ...]:
        """The entries with a name that fits; for whole words, what stands within a hyphenated word is no word."""
        index = self._by_whole_words if whole else self._by_key
        return tuple(dict.fromkeys(entry for key, entries in index.items() if fits(key) for entry in entries))

    @cached_property
    def _by_whole_words(self) -> Mapping[str, tuple[Entry, ...]]:
        """By keys in which a hyphenated word is left as it is typed or read as one.

        The halves of `red-tailed` are words too, those of `x-ray` are not.
        """
        return self._index(
            lambda name: ("" if LETTER_AND_HYPHEN.search(name) else name_key(name), name_key(name.replace("-", "")))
        )

    def _index(self, keys: Callable[[str], tuple[str, ...]]) -> Mapping[str, tuple[Entry, ...]]:
        """The entries by the keys of their names, each once."""
        index: dict[str, dict[Entry, None]] = {}
        for entry in self.entries.values():
            for key in filter(None, (key for name in entry.names for key in keys(name))):
                index.setdefault(key, {})[entry] = None
        return MappingProxyType({key: tuple(entries) for key, entries in index.items()})

    def _nobody(self, name: str) -> UnknownSpecies:
        spelled = {known: entry for entry in self.entries.values() for known in entry.names}
        key = name_key(name)
        ends = re.compile(rf"\b{re.escape(key)}|{re.escape(key)}\b")
        begun = {spelled[known]: known for known in reversed(spelled) if ends.search(name_key(known))}
        near = [*reversed(begun.values())][:MOST_CHOICES] if len(key) >= FEWEST_INITIALS else []
        near = near or near_matches(name, spelled)
        if near:
            offer = f"did you mean {' or '.join(quoted(match) for match in near)}?"
            return UnknownSpecies(
                f"no profile answers to {quoted(name)}; {offer}", tuple(dict.fromkeys(spelled[match] for match in near))
            )
        offer = "`coswim profile list` shows all, `coswim profile new` starts one"
        return UnknownSpecies(f"no profile answers to {quoted(name)}; {offer}")


def read_profile(path: Path) -> Profile:
    """One profile file, checked."""
    from coswim.profiles.profile import Profile
    from coswim.text.validation import validate

    return validate(document_of(path), Profile)


def profile_files(folder: Path) -> tuple[Path, ...]:
    """The profile files in a folder and those below it, by name."""
    found = ([where, name] for where, _, names in os.walk(folder) for name in names if _may_be_profile(name))
    return tuple(Path(*parts) for parts in sorted(found))


def _may_be_profile(file: str) -> bool:
    return file.lower().endswith(ENDINGS) and not file.startswith(".") and file not in (SOURCES_FILE, MISNAMED_SOURCES)


def _only(name: str, found: tuple[Entry, ...]) -> Entry:
    if len(found) == 1:
        return found[0]
    names = [(e.scientific_name, e.common_names[0] if e.common_names else "?") for e in found[:MOST_CHOICES]]
    choices = [f"{shortened(scientific)} ({shortened(common)})" for scientific, common in names]
    choices += [f"{len(found) - len(names)} more"] if len(found) > len(names) else []
    raise UnknownSpecies(f"{name!r} could be {' or '.join(choices)}; write the full name", found)
