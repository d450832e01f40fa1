"""The text that an edit starts from: every key with what it wants.

A new profile has values of a similar species or its genus; one that is there already is kept line by line, with the
comments beside it and what it does not state commented out. Copied values are a start and no knowledge, so every
source is `memory` (or `relatives`) until the keeper has looked.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from textwrap import wrap
from typing import Any, NamedTuple

from pydantic import BaseModel
from pydantic.fields import FieldInfo

from coswim.library.schema import HEADER, profile_schema
from coswim.profiles.borrowing import BORROWED, RELATIVES, borrow, most_frequent
from coswim.profiles.catalog import Catalog
from coswim.profiles.names import is_hybrid, is_scientific, no_name
from coswim.profiles.profile import Profile
from coswim.text import wording
from coswim.text.document import YamlDocument, read_document
from coswim.text.fields import model_in
from coswim.text.printable import one_line
from coswim.text.problems import whole_file
from coswim.text.quantities import Range

OWN = ("scientific_name", "also_known_as", "common_names", "record_length", "notes", "sources")
"""What is never taken over from another species."""
SENTENCES = ("cautions", "notes")
COMMENT_COLUMN, WIDTH = 34, 118
TOP = re.compile(r"(\w+):")
PLAIN = re.compile(r"[\w.][\w .()/%-]*")
STEP = "  "


class Draft(NamedTuple):
    """Values as they are written in a profile, by block, and the species that lent them."""

    values: Mapping[str, Any]
    lenders: tuple[str, ...]


@dataclass(frozen=True)
class _Row:
    """One key of the template; one that is not active is commented out."""

    indent: str
    text: str
    hint: str
    active: bool

    @property
    def key(self) -> str:
        """What stands before the colon."""
        return self.text.partition(":")[0]

    def lines(self) -> Iterator[str]:
        start = self.indent if self.active else f"# {self.indent}"
        line = f"{start}{self.text}".rstrip()
        if COMMENT_COLUMN + len(self.hint) > WIDTH:
            yield from (f"{start}# {part}" for part in wrap(self.hint, WIDTH - len(start), break_on_hyphens=False))
            yield line
        else:
            yield f"{line.ljust(COMMENT_COLUMN)} # {self.hint}" if self.hint else line


SOURCES = "sources"
HEAD_OF_SOURCES = _Row(
    "",
    f"{SOURCES}:",
    "for each block a key of sources.yaml, or memory, common-practice or own-observation",
    active=True,
)


def drafted(scientific_name: str, catalog: Catalog) -> Draft | None:
    """What the other species of its genus lend; None where the library has none of them, and for a hybrid."""
    genus = [profile for profile in catalog.genus(scientific_name) if not profile.is_hybrid]
    if not genus or is_hybrid(scientific_name):
        return None
    form = most_frequent([profile.body.form for profile in genus])
    found = {"family": most_frequent([profile.family for profile in genus]), "body.form": form}
    found |= borrow(BORROWED, genus, form=form)
    values: dict[str, Any] = {}
    for trait, value in found.items():
        block, _, part = trait.rpartition(".")
        (values.setdefault(block, {}) if block else values)[part] = _written(value)
    return Draft(values, tuple(profile.scientific_name for profile in genus))


def _written(value: Any) -> Any:
    if isinstance(value, Range):
        return f"{value.low:g}-{value.high:g}"
    return list(value) if isinstance(value, tuple) else str(value)


def template(scientific_name: str, *, like: YamlDocument | None = None, draft: Draft | None = None) -> str:
    """A commented profile of `scientific_name`, empty or with the values of the profile `like` or of a draft."""
    if not is_scientific(scientific_name):
        raise whole_file("species", no_name(scientific_name))
    values = draft.values if draft else {}
    if like is not None:
        values = {key: value for key, value in like.data.items() if key not in OWN}
    source = RELATIVES if draft and like is None else "memory"
    rows = (*_keys({"scientific_name": scientific_name, "also_known_as": [], "common_names": [], **values}),)
    lines = [*_opening(scientific_name, like, draft)]
    lines += [line for row in (*rows, *_sources(values, source)) for line in row.lines()]
    return "\n".join(lines) + "\n"


def commented(text: str, file: str) -> str:
    """The text of a profile with the comments of `template`; the text as it is where they would change what it says."""
    document = read_document(text, file)
    lines = [*_own_copy(document), *_beside(text, [*_keys(document.data), HEAD_OF_SOURCES])]
    found = "\n".join(lines) + "\n"
    return found if read_document(found, file).data == document.data else text


def _own_copy(document: YamlDocument) -> Iterator[str]:
    yield HEADER
    yield f"# Your own profile of {document.data.get('scientific_name')}: it overrides the one that comes with coswim."
    yield "# Remove '# ' before a key to use it, and name your own source where you know better: own-observation."
    yield ""


def _beside(text: str, rows: Sequence[_Row]) -> Iterator[str]:
    """Each line with its hint; after each block the keys that it does not state, and before the sources the others."""
    blocks: dict[str, list[_Row]] = {}
    for row in rows:
        if not row.indent:
            blocks[row.key] = []
        blocks[[*blocks][-1]].append(row)
    stated: dict[str, list[str]] = {}
    for line in text.splitlines():
        if match := TOP.match(line):
            stated[match[1]] = []
        stated.setdefault([*stated][-1] if stated else "", []).append(line)
    for name, lines in stated.items():
        if name == SOURCES:
            absent = (row for block, rows in blocks.items() if block not in stated for row in rows)
            yield from (line for row in absent for line in row.lines())
        yield from _hinted(lines, blocks.get(name, []))


def _hinted(lines: Sequence[str], rows: Sequence[_Row]) -> Iterator[str]:
    """The lines of one block with their hints, and after them what it could state too."""
    hints = {(row.indent, row.key): row.hint for row in rows}
    for line in lines:
        indent, words = line[: len(line) - len(line.lstrip())], line.strip()
        hint = "" if "#" in line else hints.get((indent, words.partition(":")[0]), "")
        yield from _Row(indent, words, hint, active=True).lines()
    if lines[0].rstrip().endswith(":"):
        yield from (line for row in rows if not row.active for line in row.lines())


def _opening(scientific_name: str, like: YamlDocument | None, draft: Draft | None) -> Iterator[str]:
    yield HEADER
    yield f"# A coswim profile of {scientific_name}. Fill in what you know, leave out what you do not:"
    yield "# what is missing is borrowed from relatives, else it cannot be rated; the report says so."
    yield "# Remove '# ' before a key to use it."
    if like is not None:
        other = like.data.get("scientific_name", "a similar species")
        yield f"# The values are those of {other}: a start, no knowledge. Look at each of them."
    elif draft is not None:
        yield from wrap(
            f"The values are borrowed from {wording.listed(draft.lenders)} and widened: a start, no knowledge. Look at "
            "each of them, and name your own source where you know better.",
            WIDTH,
            initial_indent="# ",
            subsequent_indent="# ",
        )
    yield ""


def _keys(values: Mapping[str, Any]) -> Iterator[_Row]:
    schema = profile_schema()
    for name, field in Profile.model_fields.items():
        if name != "sources":
            yield from _rows(name, field, schema["properties"][name], values, schema["$defs"])


def _rows(
    name: str, field: FieldInfo, node: Mapping[str, Any], values: Mapping[str, Any], defs: Mapping[str, Any]
) -> Iterator[_Row]:
    active = name in values or field.is_required()
    inner = model_in(field.annotation)
    if inner is not None:
        yield from _block(name, defs[inner.__name__], values.get(name), inner, defs, active=active)
    elif name in SENTENCES and values.get(name):
        yield _Row("", f"{name}:", _hint(node), active)
        yield from (_Row(STEP, f"- {_scalar(sentence)}", "", active) for sentence in values[name])
    else:
        value = _scalar(values.get(name)) if active else _example(node)
        yield _Row("", f"{name}: {value}", _hint(node), active)


def _block(
    name: str, node: Mapping[str, Any], given: Any, model: type[BaseModel], defs: Mapping[str, Any], *, active: bool
) -> Iterator[_Row]:
    known = given if isinstance(given, dict) else {}
    yield _Row("", f"{name}:", str(node.get("description", "")), active)
    for part, piece in model.model_fields.items():
        for row in _rows(part, piece, node["properties"][part], known, defs):
            yield _Row(STEP + row.indent, row.text, row.hint, active and row.active)


def _hint(node: Mapping[str, Any]) -> str:
    words = node.get("enum")
    return " | ".join(words) if words else str(node.get("description", ""))


def _example(node: Mapping[str, Any]) -> str:
    if node.get("type") == "array" or "anyOf" in node:
        return "[]"
    return str((node.get("examples") or node.get("enum") or [""])[0])


def _scalar(value: Any) -> str:
    """A value as YAML, in one line."""
    if value is None:
        return ""
    if isinstance(value, list):
        return f"[{', '.join(map(_scalar, value))}]"
    if isinstance(value, dict):
        return f"{{{', '.join(f'{key}: {_scalar(inner)}' for key, inner in value.items())}}}"
    text = one_line(str(value)).strip()
    return text if PLAIN.fullmatch(text) else "'" + text.replace("'", "''") + "'"


def _sources(values: Mapping[str, Any], source: str) -> Iterator[_Row]:
    """A source for each block: `source` where something was copied, an open line where nothing is stated yet."""
    yield HEAD_OF_SOURCES
    blocks = Profile.blocks()
    for name in (block.name for block in blocks):
        copied = values.get(name) not in (None, [], "")
        active = copied or Profile.model_fields[name].is_required()
        yield _Row(STEP, f"{name}: {source if copied else 'memory'}", "", active)
    part = next(part for block in blocks for part in block.parts)
    yield _Row(STEP, f"{part.name}: memory", "a part of a block may have its own", active=False)
