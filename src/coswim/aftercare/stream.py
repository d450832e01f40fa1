"""A diary as text: a YAML stream, one document an entry, which a person may edit.

coswim writes an entry on one line, `--- {date: 2026-01-05, group: oscar, ate: no}`. Its closing brace is what
tells a whole entry from one that was cut off. A person may write entries over several lines instead.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from datetime import date
from decimal import Decimal
from itertools import pairwise
from typing import NamedTuple

import yaml
from pydantic import BaseModel

from coswim.aftercare.diary import Diary, DiaryEntry
from coswim.text.document import LOADER, decode, read_document
from coswim.text.printable import yaml_escape
from coswim.text.problems import InputProblems, Problem, refuse_any
from coswim.text.validation import validate

MARKER = re.compile(r"^---(?=\s|$)", re.MULTILINE)
START = "--- {"
MOST_ENTRIES = 5_000
"""Three a day for more than four years. Source: judgement."""
PLAIN_TEXT = re.compile(r"[^\W\d_](?:[\w ()/.;-]*[\w).])?")
UNITS = {"length": " cm", "weight": " g", "temperature": " C", "hardness": " dGH"}
DIGITS = 6
LEAST_DIGIT = 9  # behind the decimal point: below what any kit or ruler tells
CUT_OFF = "the last entry was cut off while it was written and takes no part"
CONCENTRATIONS = ("ammonia", "nitrite", "nitrate")


class Part(NamedTuple):
    """One document of the stream and the lines before it."""

    text: str
    lines_before: int


def read_diary(raw: bytes, file: str) -> Diary:
    """The diary in a file's bytes; InputProblems with every problem otherwise.

    A last entry that was cut off is set apart and reported, not a problem.
    """
    whole, tail = split_torn(raw)
    text = decode(whole, file)
    found: list[tuple[DiaryEntry, int]] = []
    refuse_any(_read_into(found, text, file))
    found.sort(key=lambda item: item[0].date)
    torn = Problem(file, text.count("\n") + 1, 1, "", CUT_OFF) if tail else None
    return Diary(file, tuple(entry for entry, _ in found), tuple(line for _, line in found), torn)


def _read_into(found: list[tuple[DiaryEntry, int]], text: str, file: str) -> Iterator[Problem]:
    """Fills in the entries; yields what is wrong with the others."""
    for number, part in enumerate(_parts(text)):
        if number == MOST_ENTRIES:
            message = f"is the entry after the {MOST_ENTRIES:,} that a diary may hold; begin another file"
            yield Problem(file, part.lines_before + 1, 1, "", message)
            return
        try:
            found.append(_entry(part, file))
        except InputProblems as error:
            yield from (one._replace(line=one.line and one.line + part.lines_before) for one in error.problems)


def split_torn(raw: bytes) -> tuple[bytes, bytes]:
    """What is whole, and an entry at the end that was cut off while it was written (or nothing).

    Only a last line without its end can be cut off, and only when it is coswim's own.

    >>> split_torn(b"--- {date: 2026-01-05, note: a}\\n--- {date: 2026-01")
    (b'--- {date: 2026-01-05, note: a}\\n', b'--- {date: 2026-01')
    """
    cut = raw.rfind(b"\n") + 1
    tail = raw[cut:]
    words = tail.decode("utf-8", "replace").rstrip("\0")
    if not words and not tail:
        return raw, b""
    is_ours = words.startswith(START) or START.startswith(words)
    return (raw[:cut], tail) if is_ours and not _is_closed(words) else (raw, b"")


def write_entry(entry: DiaryEntry) -> str:
    """The entry as one document of the stream, on a line of its own.

    >>> print(write_entry(DiaryEntry(date=date(2026, 1, 5), group="oscar", ate="no", note="shy: stays behind")), end="")
    --- {date: 2026-01-05, group: oscar, ate: no, note: "shy: stays behind"}
    """
    return f"--- {_flow(entry)}\n"


def _is_closed(words: str) -> bool:
    try:
        return isinstance(yaml.compose(words, Loader=LOADER), yaml.MappingNode)
    except yaml.YAMLError:
        return False


def _parts(text: str) -> Iterator[Part]:
    """The documents that hold anything; comments and blank lines alone are none."""
    starts = [match.start() for match in MARKER.finditer(text)]
    lines_before = 0
    for begin, end in pairwise([0, *starts, len(text)]):
        piece = text[begin:end]
        if _has_content(piece):
            yield Part(piece, lines_before)
        lines_before += piece.count("\n")


def _has_content(piece: str) -> bool:
    lines = piece.removeprefix("---").splitlines()
    return any(line.strip() and not line.lstrip().startswith("#") and line.strip() != "..." for line in lines)


def _entry(part: Part, file: str) -> tuple[DiaryEntry, int]:
    document = read_document(part.text, file)
    return validate(document, DiaryEntry), document.place(())[0] + part.lines_before


def _flow(model: BaseModel) -> str:
    stated = ((name, getattr(model, name)) for name in type(model).model_fields if name in model.model_fields_set)
    return "{" + ", ".join(f"{name}: {_value(name, value)}" for name, value in stated if value is not None) + "}"


def _value(name: str, value: object) -> str:
    if isinstance(value, BaseModel):
        return _flow(value)
    if isinstance(value, float):
        number = format(Decimal(f"{round(value, LEAST_DIGIT):.{DIGITS}g}"), "f")
        return number + (" mg/L" if name in CONCENTRATIONS else UNITS.get(name, ""))
    if isinstance(value, date | int):
        return str(value)
    return _text(str(value))


def _text(words: str) -> str:
    """Bare where YAML takes it for text whatever stands around it, else in quotes with YAML's own escapes."""
    if PLAIN_TEXT.fullmatch(words) and words.isprintable():
        return words
    return '"' + "".join(map(_escaped, words)) + '"'


def _escaped(character: str) -> str:
    if character in '"\\':
        return f"\\{character}"
    return character if character.isprintable() else yaml_escape(character)
