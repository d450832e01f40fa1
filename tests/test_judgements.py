"""`coswim explain judgement` lists what rests on judgement, and cannot be stale: it is read from the source."""

from __future__ import annotations

import ast
import re
from collections.abc import Iterator
from importlib import import_module
from pathlib import Path

import pytest

import coswim
from coswim.explaining import TOPICS
from coswim.judgements import EQUATION, FILE, LEFT_OUT, Assumption, judgements
from coswim.report.document import Section, Table

SOURCE = Path(coswim.__file__).parent
FOUND = list(judgements())
CONSTANTS = [one for one in FOUND if one.value != EQUATION and one.name != FILE]


@pytest.mark.parametrize("one", CONSTANTS, ids=lambda one: f"{one.module}.{one.name}")
def test_a_constant_has_the_value_that_is_listed(one: Assumption) -> None:
    """Oracle: Python itself, which imports the module and knows the constant."""
    module = import_module(f"coswim.{one.module}")
    values = [getattr(module, name) for name in one.name.split(", ")]
    assert "judgement" in one.meaning.casefold()
    if re.fullmatch(r"[-\d.e, ]+", one.value):
        known = values[0] if len(values) == 1 else tuple(values)
        assert ast.literal_eval(one.value) == known


STARTS = re.compile(r"([A-Z][A-Z0-9_, ]*)(?:: [^=]*)? = ")


def texts_of(source: str) -> Iterator[tuple[str, str]]:
    """The names of constants and the text that follows each, taken from the lines of a source."""
    name, text = "", ""
    for line in source.splitlines():
        if text:
            text += f" {line}"
        elif start := STARTS.match(line):
            name = start[1].strip()
        elif name and line.startswith('"""'):
            text = line
        elif line[:1].isalpha() or line.startswith("@"):
            name = ""
        if text.endswith('"""') and len(text) > 3:
            yield name, text
            name, text = "", ""


def test_no_text_on_a_constant_is_overlooked() -> None:
    """Oracle: a reading of the source line by line, for constants whose text names judgement as their source."""
    said = {
        (".".join(path.relative_to(SOURCE).with_suffix("").parts), name)
        for path in SOURCE.rglob("*.py")
        if path.relative_to(SOURCE).parts[0].removesuffix(".py") not in LEFT_OUT
        for name, text in texts_of(path.read_text(encoding="utf-8"))
        if re.search(r"source:\s+judgement", text, re.IGNORECASE)
    }
    assert len(said) > 150
    assert said <= {(one.module, one.name) for one in CONSTANTS}


def test_equations_and_files_that_say_so_are_listed_too() -> None:
    named = {(one.module, one.name) for one in FOUND}
    assert ("biology.contest", "crowding") in named
    assert ("library.habits", FILE) in named


def test_the_explanation_holds_every_one_of_them() -> None:
    sections = [block for block in TOPICS["judgement"].explained().blocks if isinstance(block, Section)]
    tables = [block for section in sections for block in section.blocks if isinstance(block, Table)]
    assert [row for table in tables for row in table.rows] == [one[1:] for one in FOUND]
