"""Checking profiles: one file, a folder, or the whole library.

Mistakes (schema, ranges, missing or unknown sources, a species written twice) are certain; doubts
(plausibility, relatives, shared names, a file in the wrong place) are warnings until a note explains them.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from contextlib import suppress
from dataclasses import dataclass
from itertools import islice
from pathlib import Path

from coswim.library import plausibility, relatives
from coswim.library.family import Library
from coswim.library.remark import Doubt, Remark, explanation
from coswim.profiles.catalog import BUILT_IN, SOURCES_FILE, Catalog, profile_files
from coswim.profiles.names import file_name, name_key
from coswim.profiles.profile import MAY_BE_ABSENT, Profile
from coswim.profiles.sources import ALWAYS_KNOWN, Bibliography, read_bibliography
from coswim.profiles.traits import Trait
from coswim.text import wording
from coswim.text.document import Path_, YamlDocument, document_of
from coswim.text.printable import quoted, shortened
from coswim.text.problems import InputProblems, Problem, did_you_mean
from coswim.text.validation import validate

MISSING = "is missing; it is borrowed from relatives where there are any, else what depends on it cannot be rated"
MOST_NAMED = 4
"""Of many species with one name only the first are listed."""


@dataclass(frozen=True)
class Checked:
    """What a check found, in the order of the files."""

    profiles: int
    remarks: tuple[Remark, ...]

    @property
    def problems(self) -> tuple[Remark, ...]:
        """Certain mistakes."""
        return tuple(remark for remark in self.remarks if remark.certain)

    @property
    def warnings(self) -> tuple[Remark, ...]:
        """Doubts that no note explains."""
        return tuple(remark for remark in self.remarks if not remark.certain and not remark.explained_by)

    @property
    def explained(self) -> tuple[Remark, ...]:
        """Doubts that a note explains."""
        return tuple(remark for remark in self.remarks if remark.explained_by)


_Names = Mapping[str, Mapping[str, None]]  # the inner one is an ordered set


@dataclass(frozen=True)
class _Read:
    path: Path
    root: Path
    document: YamlDocument
    profile: Profile


def check(places: Iterable[Path], catalog: Catalog) -> Checked:
    """Check files and folders, each profile also against the catalog's others."""
    roots = {path: place for place in places for path in (profile_files(place) if place.is_dir() else (place,))}
    remarks: list[Remark] = []
    read: list[_Read] = []
    for path, place in roots.items():
        try:
            document = document_of(path)
            read.append(_Read(path, _root(path, place, catalog), document, validate(document, Profile)))
        except InputProblems as error:
            remarks += [Remark(problem, certain=True) for problem in error.problems]
    known, names = _library(read, catalog), _names(read, catalog)
    roots_read = {entry.root for entry in read}
    bibliographies = {root: {**catalog.bibliography, **read_bibliography(root / SOURCES_FILE)} for root in roots_read}
    for entry in read:
        remarks += _remarks(entry, known, names, bibliographies[entry.root])
        remarks += _misplaced(entry)
    remarks += _written_twice(read)
    return Checked(len(roots), tuple(sorted(set(remarks))))


def check_all(catalog: Catalog) -> Checked:
    """Check every profile of the catalog, the overridden ones too."""
    return check((entry.path for entry in catalog.all_entries), catalog)


def _root(path: Path, place: Path, catalog: Catalog) -> Path:
    """The folder of profiles that a file belongs to: one of the catalog's, the one asked for, or its own."""
    known = next((folder for folder in catalog.folders if path.resolve().is_relative_to(folder.resolve())), None)
    return known or (place if place.is_dir() else path.parent)


def _library(read: list[_Read], catalog: Catalog) -> Library:
    """The profiles of all families in question; those that cannot be read are no evidence."""
    families = {entry.profile.family for entry in read}
    profiles = {entry.profile.scientific_name: entry.profile for entry in read}
    for entry in catalog.entries.values():
        if entry.family in families and entry.scientific_name not in profiles:
            with suppress(InputProblems):
                profiles[entry.scientific_name] = catalog.read(entry)
    return Library(profiles)


def _names(read: list[_Read], catalog: Catalog) -> _Names:
    """The species that each name leads to, in order."""
    by_species = {entry.scientific_name: entry.names for entry in catalog.entries.values()}
    for entry in read:
        profile = entry.profile
        by_species[profile.scientific_name] = (profile.scientific_name, *profile.also_known_as, *profile.common_names)
    found: dict[str, set[str]] = {}
    for species, names in by_species.items():
        for name in names:
            found.setdefault(name_key(name), set()).add(species)
    return {name: dict.fromkeys(sorted(species)) for name, species in found.items()}


def _remarks(entry: _Read, known: Library, names: _Names, bibliography: Bibliography) -> Iterator[Remark]:
    profile = entry.profile
    found = (
        *_source_doubts(profile, bibliography),
        *_missing(profile),
        *_shared_names(profile, names),
        *plausibility.doubts(profile.usable()),
        *relatives.doubts(profile.usable(), known.relatives(profile)),
    )
    for doubt in found:
        problem = entry.document.problem(_path(doubt.blocks[0]), doubt.message)
        yield Remark(problem, certain=doubt.certain, explained_by=explanation(profile, doubt))


def _path(block: str) -> Path_:
    """`sources.body.depth` is the key `body.depth` under `sources`; any other dot is a step down."""
    if block.startswith("sources."):
        return ("sources", block.removeprefix("sources."))
    return tuple(block.split("."))


def _source_doubts(profile: Profile, bibliography: Bibliography) -> Iterator[Doubt]:
    for block in profile.blocks():
        if profile.states(block.name) and not profile.source_keys(block.name) and not _parts_sourced(profile, block):
            message = f"names no source for {block.name}; write the key of one, or memory if the value is recalled"
            yield Doubt(("sources",), message, certain=True)
    for trait, keys in profile.sources.items():
        for key in keys:
            if key not in bibliography and key not in ALWAYS_KNOWN:
                message = f"{quoted(key)} is not in {SOURCES_FILE}{did_you_mean(key, (*bibliography, *ALWAYS_KNOWN))}"
                yield Doubt((f"sources.{trait}",), message, certain=True)
        if not profile.states(trait):
            yield Doubt((f"sources.{trait}",), f"names a source, but the profile does not state {trait}")


def _parts_sourced(profile: Profile, block: Trait) -> bool:
    stated = [part.name for part in block.parts if profile.states(part.name)]
    return bool(stated) and all(part in profile.sources for part in stated)


def _missing(profile: Profile) -> Iterator[Doubt]:
    for block in profile.blocks():
        if not profile.has(block.name) and block.name not in MAY_BE_ABSENT:
            yield Doubt((block.name,), MISSING)
    for part in profile.lacking():
        yield Doubt((part,), MISSING)


def _shared_names(profile: Profile, names: _Names) -> Iterator[Doubt]:
    species = profile.scientific_name
    for field, own in (
        ("scientific_name", (profile.scientific_name,)),
        ("also_known_as", profile.also_known_as),
        ("common_names", profile.common_names),
    ):
        for name in own:
            bearers = names.get(name_key(name), {})
            others = [other for other in islice(bearers, MOST_NAMED + 1) if other != species][:MOST_NAMED]
            more = len(bearers) - len(others) - (species in bearers)
            if others:
                said = wording.listed([*map(shortened, others), *([f"{more} more"] if more else [])])
                yield Doubt((field,), f"{quoted(name)} also leads to {said}")


def _written_twice(read: list[_Read]) -> Iterator[Remark]:
    first: dict[tuple[Path, str], Path] = {}
    for entry in read:
        species = entry.profile.scientific_name
        if (entry.root, species) in first:
            message = f"{quoted(species)} already has a profile in this folder: {first[entry.root, species]}"
            yield Remark(entry.document.problem(("scientific_name",), message), certain=True)
        first.setdefault((entry.root, species), entry.path)


def _misplaced(entry: _Read) -> Iterator[Remark]:
    """Any name works; the built-in library is kept in order so that people find their way in it."""
    wanted = Path(entry.profile.family.lower(), file_name(entry.profile.scientific_name))
    if entry.root == BUILT_IN and entry.path.resolve() != (BUILT_IN / wanted).resolve():
        yield Remark(Problem(str(entry.path), 0, 0, "", f"should be {wanted}, after its names"), certain=True)
