"""What rests on judgement: every constant and equation whose own documentation says so, read from the source.

Judgement means that nobody measured it: experience, a rough reading of what was measured on something else, or what
makes ordinary tanks come out as keepers know them. Such a number orders and explains; it may be wrong by half. What
the reading of files and the layout of reports rest on is left out.
"""

from __future__ import annotations

import ast
import re
from collections.abc import Iterator
from itertools import pairwise
from pathlib import Path
from typing import NamedTuple

WORD = re.compile(r"(?<!the )\bjudgement\b", re.IGNORECASE)
"""The word in a documentation; `the judgement` is what a diary comes to."""
MANY = frozenset({"all", "numbers", "bounds", "steps", "swings", "shares", "odds"})
"""Words of a sentence that says so of many numbers at once."""
LEFT_OUT = frozenset({"report", "cli", "text", "judgements"})
FILE, EQUATION, SEVERAL = "the file", "an equation", "several values"
LONGEST_VALUE = 150


class Assumption(NamedTuple):
    """A constant or an equation: its module, its name, its value in words and what its documentation says."""

    module: str
    name: str
    value: str
    meaning: str


def judgements() -> Iterator[Assumption]:
    """All of them, module by module: what a file says of itself, its constants in their order, its equations."""
    home = Path(__file__).parent
    for path in sorted(home.rglob("*.py")):
        within = path.relative_to(home).with_suffix("").parts
        if within[0] not in LEFT_OUT:
            tree = ast.parse(path.read_text(encoding="utf-8"))
            for found in (*_whole(tree), *_constants(tree), *_equations(tree)):
                yield Assumption(".".join(within), *found)


def _whole(tree: ast.Module) -> Iterator[tuple[str, str, str]]:
    for said in _joined(ast.get_docstring(tree) or "").split(". "):
        if WORD.search(said) and MANY & set(said.casefold().split()):
            yield FILE, SEVERAL, f"{said.rstrip('.')}."


def _constants(tree: ast.Module) -> Iterator[tuple[str, str, str]]:
    """Assignments that a text of their own follows."""
    for statement, after in pairwise(tree.body):
        if not isinstance(statement, ast.Assign | ast.AnnAssign) or statement.value is None:
            continue
        if isinstance(after, ast.Expr) and isinstance(after.value, ast.Constant):
            said = _joined(str(after.value.value))
            target = statement.targets[0] if isinstance(statement, ast.Assign) else statement.target
            if WORD.search(said):
                yield ast.unparse(target).strip("()"), _in_words(statement.value), said


def _equations(tree: ast.Module) -> Iterator[tuple[str, str, str]]:
    """Functions whose documentation names judgement; its first paragraph says what they are."""
    for node in ast.walk(tree):
        if isinstance(node, ast.FunctionDef):
            said = ast.get_docstring(node) or ""
            if WORD.search(said):
                yield node.name, EQUATION, _joined(said.partition("\n\n")[0])


def _in_words(value: ast.expr) -> str:
    """A number, several, or words with theirs, where they are short."""
    while isinstance(value, ast.Call) and len(value.args) == 1:
        (value,) = value.args
    if isinstance(value, ast.Dict):
        pairs = zip(value.keys, value.values, strict=True)
        words = ", ".join(f"{_plain(key)} {_plain(number)}" for key, number in pairs if key is not None)
    else:
        words = ", ".join(map(_plain, value.elts)) if isinstance(value, ast.Tuple) else _plain(value)
    return words if len(words) <= LONGEST_VALUE else SEVERAL


def _plain(value: ast.expr) -> str:
    return str(value.value) if isinstance(value, ast.Constant) else ast.unparse(value)


def _joined(words: str) -> str:
    return " ".join(words.split())
