"""Data flows one way: each room imports what the table in DEVELOPERS.md allows it, and nothing else of ours."""

from __future__ import annotations

import ast
import re
import sys
from pathlib import Path

import pytest

import coswim

SOURCE = Path(coswim.__file__).parent
TABLE = Path(__file__).parents[1] / "DEVELOPERS.md"
MODULES = sorted(SOURCE.rglob("*.py"))
FOR_ALL = {"arrays", "__version__"}
LATE = {
    "__main__.py": "closed streams are mended before anything is loaded",
    "profiles/catalog.py": "a list of profiles is read without the models",
    "report/screening_report.py": "a report without the plan needs no writer of plans",
    "report/writers/__init__.py": "one format is written at a time",
}
"""Modules that load some of ours late, for a quick start, besides the commands in cli/."""


def room(name: str) -> str:
    """The room that a module's path or a word of the table names."""
    return name.partition("/")[0].removesuffix(".py")


def table() -> dict[str, set[str]]:
    """For each room the rooms that it may import."""
    rows = [line.split("|")[1:-1] for line in TABLE.read_text(encoding="utf-8").splitlines() if line.startswith("| `")]
    return {
        room(re.findall("`([^`]+)`", cells[0])[0]): {room(name) for name in re.findall("`([^`]+)`", cells[2])}
        for cells in rows
    }


ALLOWED = table()


def imported(tree: ast.AST) -> set[str]:
    """Every module that a piece of code imports, in full."""
    names: set[str] = set()
    for node in ast.walk(tree):
        if isinstance(node, ast.Import):
            names |= {alias.name for alias in node.names}
        elif isinstance(node, ast.ImportFrom) and node.module:
            names |= {node.module, *(f"{node.module}.{alias.name}" for alias in node.names)}
    return names


def named(tree: ast.AST) -> set[str]:
    """Modules of ours that stand in a string, to be loaded when they are wanted."""
    words = [str(node.value) for node in ast.walk(tree) if isinstance(node, ast.Constant)]
    return {word for word in words if re.fullmatch(r"coswim(\.\w+)+", word)}


def loads_late(tree: ast.Module) -> bool:
    """A function imports a module of ours, or one whose name it is given."""
    functions = [node for node in ast.walk(tree) if isinstance(node, ast.FunctionDef)]
    return any(
        name.startswith("coswim") for function in functions for name in imported(function)
    ) or "importlib.import_module" in imported(tree)


def parsed(path: Path) -> ast.Module:
    return ast.parse(path.read_text(encoding="utf-8"))


def where(path: Path) -> str:
    return path.relative_to(SOURCE).as_posix()


def test_every_room_stands_in_the_table() -> None:
    assert {room(where(path)) for path in MODULES} - {"__init__", "arrays"} == set(ALLOWED)


def test_no_two_rooms_import_each_other() -> None:
    """Read from the top, a room imports only rooms above it."""
    above: set[str] = set()
    for name, allowed in ALLOWED.items():
        assert allowed <= above, name
        above.add(name)


@pytest.mark.parametrize("path", MODULES, ids=where)
def test_a_module_imports_only_what_its_room_may(path: Path) -> None:
    tree, here = parsed(path), room(where(path))
    names = [name.split(".") for name in imported(tree) | named(tree) if name.startswith("coswim.")]
    assert {name[1] for name in names} <= ALLOWED.get(here, set()) | FOR_ALL | {here}


@pytest.mark.parametrize("path", [path for path in MODULES if room(where(path)) != "cli"], ids=where)
def test_no_import_is_hidden_in_a_function(path: Path) -> None:
    assert loads_late(parsed(path)) == (where(path) in LATE)


@pytest.mark.parametrize("path", [p for p in MODULES if room(where(p)) == "biology"], ids=lambda path: path.stem)
def test_biology_imports_numpy_and_the_standard_library_only(path: Path) -> None:
    allowed = {"numpy", *sys.stdlib_module_names}
    outside = {name for name in imported(parsed(path)) if name.split(".")[0] not in allowed}
    assert {name for name in outside if not name.startswith(("coswim.biology", "coswim.arrays"))} == set()


def test_a_hazard_never_imports_a_sibling() -> None:
    for path in SOURCE.joinpath("hazards").glob("*.py"):
        if path.stem != "__init__":
            assert not [name for name in imported(parsed(path)) if name.startswith("coswim.hazards")], path.name


def test_no_module_is_named_after_nothing() -> None:
    assert not {path.stem for path in MODULES} & {"utils", "helpers", "common", "misc", "base", "core"}
