"""Data flows one way: which room may import which, read from the imports themselves."""

from __future__ import annotations

import ast
import re
import sys
from pathlib import Path

import pytest

import coswim

SOURCE = Path(coswim.__file__).parent
TABLE = Path(__file__).parents[1] / "DEVELOPERS.md"
ROW = re.compile(r"^\| `(\w+)(?:/|\.py)` \|.*\| ([^|]+) \|$", re.MULTILINE)
LAZY = {
    "__main__.py",
    "profiles/catalog.py",
    "report/decision.py",
    "report/layout.py",
    "report/screening_report.py",
    "screening.py",
}
"""Modules that load some others only when they are wanted, each with its reason in the code; so do all commands."""
MODULES = sorted(SOURCE.rglob("*.py"))


def rooms() -> dict[str, set[str]]:
    """What each room may import, from the table in DEVELOPERS.md: the rooms named, or all above but those named."""
    found: dict[str, set[str]] = {}
    for name, words in ROW.findall(TABLE.read_text(encoding="utf-8")):
        named = set(re.findall(r"`(\w+)(?:/|\.py)`", words))
        found[name] = set(found) - named if words.startswith("all above") else named
    return found


def imported(path: Path) -> set[str]:
    """Every module that a file imports, in full."""
    names: set[str] = set()
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Import):
            names |= {alias.name for alias in node.names}
        elif isinstance(node, ast.ImportFrom) and node.module:
            names |= {node.module, *(f"{node.module}.{alias.name}" for alias in node.names)}
    return names


def room(path: Path) -> str:
    """The room that a module lives in, or is; '' for the package itself and its way in."""
    return (
        "" if path.stem.startswith("__") and path.parent == SOURCE else path.relative_to(SOURCE).parts[0].split(".")[0]
    )


def test_the_table_of_rooms_is_whole() -> None:
    assert set(rooms()) == {room(path) for path in MODULES if not path.stem.startswith("__")} - {""}


@pytest.mark.parametrize("path", MODULES, ids=lambda path: str(path.relative_to(SOURCE)))
def test_a_module_imports_only_what_its_room_may(path: Path) -> None:
    own = room(path)
    wanted = {name.split(".")[1] for name in imported(path) if name.startswith("coswim.")}
    assert wanted - {own, "__version__"} <= (rooms()[own] if own else {"cli"})


@pytest.mark.parametrize("path", MODULES, ids=lambda path: str(path.relative_to(SOURCE)))
def test_no_import_hides_in_a_function(path: Path) -> None:
    hidden = [
        node.lineno
        for function in ast.walk(ast.parse(path.read_text(encoding="utf-8")))
        if isinstance(function, ast.FunctionDef)
        for node in ast.walk(function)
        if isinstance(node, ast.Import | ast.ImportFrom) and ast.unparse(node).split()[1].startswith("coswim")
    ]
    assert room(path) == "cli" or bool(hidden) == (path.relative_to(SOURCE).as_posix() in LAZY)


@pytest.mark.parametrize("path", [p for p in MODULES if room(p) == "biology"], ids=lambda path: path.stem)
def test_biology_imports_numpy_and_the_standard_library_only(path: Path) -> None:
    allowed = {"numpy", *sys.stdlib_module_names}
    outside = {name for name in imported(path) if name.split(".")[0] not in allowed}
    assert {name for name in outside if not name.startswith(("coswim.biology", "coswim.arrays"))} == set()


def test_a_hazard_never_imports_a_sibling() -> None:
    for path in SOURCE.joinpath("hazards").glob("*.py"):
        if path.stem != "__init__":
            assert not [name for name in imported(path) if name.startswith("coswim.hazards")], path.name


def test_no_module_is_named_after_nothing() -> None:
    assert not {path.stem for path in MODULES} & {"utils", "helpers", "common", "misc", "base", "core"}
