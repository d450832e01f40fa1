"""The names in profile files, read without the rest, and how a typed name is compared with them."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Collection, Iterator, Mapping, Sequence
from contextlib import suppress
from pathlib import Path
from typing import Any, NamedTuple

import yaml

from coswim.text.document import LOADER, document_of, read_file
from coswim.text.printable import quoted
from coswim.text.problems import InputProblems, Problem, whole_file

NAME_KEYS = ("scientific_name", "also_known_as", "common_names", "family")
SCIENTIFIC_NAME = re.compile(r"[A-Z][a-z-]+ [a-z][a-z0-9-]*(?: [a-z0-9-]+)?")
LONGEST_NAME = 80
COUNT = re.compile(r"^\d++(?:\s*+[x×])?\s++")
ENDINGS = (("ies", "y"), ("es", ""), ("s", ""), ("fishes", "fish"))
SAME = str.maketrans({"-": " ", "‐": " ", "‑": " ", ".": " ", ",": " ", "'": None, "’": None, "`": None})


class Entry(NamedTuple):
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


def is_scientific(name: str) -> bool:
    """Genus and epithet, perhaps a third word, and nothing that could lead a path elsewhere.

    >>> is_scientific("Betta splendens"), is_scientific("../Betta splendens"), is_scientific("Betta splendens\\n")
    (True, False, False)
    """
    return len(name) <= LONGEST_NAME and SCIENTIFIC_NAME.fullmatch(name) is not None


def file_name(scientific_name: str) -> str:
    """The name of a species' file, `betta-splendens.yaml`; InputProblems where it is not such a name."""
    if not is_scientific(scientific_name):
        raise whole_file("species", no_name(scientific_name))
    return f"{scientific_name.lower().replace(' ', '-')}.yaml"


def no_name(text: str) -> str:
    """What to say of a text that is no scientific name."""
    return f"{quoted(text)} is not a scientific name; write genus and epithet, e.g. 'Betta splendens'"


def read_names(path: Path, *, built_in: bool = False) -> Entry:
    """The names in a profile file; the file's own name where it states none.

    Of a file that cannot be read or parsed, what comes before; reading it whole reports why.
    """
    names: dict[str, list[str]] = {}
    with suppress(yaml.YAMLError, InputProblems):
        for key, values in _head(path):
            names[key] = values
    return entry_of(path, names, built_in=built_in)


def name_problem(path: Path) -> Problem | None:
    """What keeps the names in a profile file from being read; None when they can be."""
    try:
        if not dict(_head(path)).get("scientific_name"):
            return Problem(str(path), 0, 0, "scientific_name", "is missing, so nobody knows which species it is")
    except (yaml.YAMLError, InputProblems):
        try:
            document_of(path)
        except InputProblems as error:
            return error.problems[0]
    return None


def entry_of(path: Path, names: Mapping[str, Sequence[str]], *, built_in: bool) -> Entry:
    """The entry of a file from the lists under its name keys."""
    scientific = names.get("scientific_name") or [path.stem.replace("-", " ").capitalize()]
    return Entry(
        path,
        scientific[0],
        tuple(names.get("also_known_as", ())),
        tuple(names.get("common_names", ())),
        (names.get("family") or [""])[0],
        built_in,
    )


def names_of(profile: Mapping[str, Any]) -> dict[str, list[str]]:
    """The lists under the name keys of a profile's plain data, as `entry_of` takes them."""
    found = {key: profile[key] for key in NAME_KEYS if profile.get(key)}
    return {key: [value] if isinstance(value, str) else value for key, value in found.items()}


def is_hybrid(scientific_name: str) -> bool:
    """The name is that of a cross made by breeders: `Amphilophus hybrid parrot`."""
    return scientific_name.split()[1:2] == ["hybrid"]


def name_key(name: str) -> str:
    """A name as it is compared: no capitals, accents, hyphens, dots or apostrophes, single spaces.

    >>> name_key("Boeseman's  Rainbow-fish")
    'boesemans rainbow fish'
    """
    bare = name if name.isascii() else _without_accents(name)
    return " ".join(bare.casefold().translate(SAME).split())


def _without_accents(name: str) -> str:
    return "".join(sign for sign in unicodedata.normalize("NFKD", name) if not unicodedata.combining(sign))


def wanted_keys(name: str) -> tuple[str, ...]:
    """The keys a typed name may stand for: as it is, without a count, and in the singular."""
    key = name_key(name)
    keys = dict.fromkeys((key, COUNT.sub("", key)))
    singular = [one[: -len(plural)] + single for one in keys for plural, single in ENDINGS if one.endswith(plural)]
    return tuple(one for one in dict.fromkeys((*keys, *singular)) if one)


def is_plural(key: str, names: Collection[str]) -> bool:
    """A typed name is the plural of one of some names, or of a part of one; all as names are compared.

    >>> is_plural("tinfoil barbs", {"tinfoil barb"}), is_plural("discus", {"discus"})
    (True, False)
    """
    singular = {key[: -len(plural)] + single for plural, single in ENDINGS if key.endswith(plural)}
    return any(f" {one} " in f" {name} " for one in singular for name in names)


def _head(path: Path) -> Iterator[tuple[str, list[str]]]:
    """The name keys of a profile, read event by event and no further than they go."""
    wanted = set(NAME_KEYS)
    depth, key, values = 0, "", list[str]()
    for event in yaml.parse(read_file(path), Loader=LOADER):
        if isinstance(event, yaml.ScalarEvent):
            if depth == 1 and not key:
                key = event.value
                continue
            values.append(event.value)
        elif isinstance(event, yaml.CollectionStartEvent):
            depth += 1
        elif isinstance(event, yaml.CollectionEndEvent):
            depth -= 1
        if depth == 1 and key:  # its value is complete
            yield key, values
            wanted.discard(key)
            key, values = "", []
        if not wanted:
            return
