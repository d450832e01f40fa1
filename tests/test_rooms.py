"""Data flows one way: which room may import which, read from the imports themselves."""

from __future__ import annotations

import ast
import sys
from pathlib import Path

import pytest

import coswim

SOURCE = Path(coswim.__file__).parent
FORBIDDEN = {
    "text": {
        "profiles",
        "plans",
        "biology",
        "simulation",
        "findings",
        "hazards",
        "verdict",
        "aftercare",
        "report",
        "cli",
    },
    "profiles": {"plans", "simulation", "findings", "hazards", "verdict", "aftercare", "cli"},
    "plans": {"biology", "simulation", "findings", "hazards", "verdict", "aftercare", "report", "cli"},
    "simulation": {"findings", "hazards", "verdict", "aftercare", "report", "cli"},
    "findings": {"biology", "hazards", "verdict", "aftercare", "report", "cli"},
    "hazards": {"verdict", "aftercare", "report", "cli"},
    "verdict": {"aftercare", "report", "cli"},
    "aftercare": {"hazards", "report", "cli"},
    "report": {"biology", "hazards", "simulation", "cli"},
}
MODULES = sorted(SOURCE.rglob("*.py"))


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
    """The room that a module lives in; '' for those at the top."""
    return path.relative_to(SOURCE).parts[0] if path.parent != SOURCE else ""


@pytest.mark.parametrize("path", MODULES, ids=lambda path: str(path.relative_to(SOURCE)))
def test_a_module_imports_only_what_its_room_may(path: Path) -> None:
    rooms = {name.split(".")[1] for name in imported(path) if name.startswith("coswim.")} - {"arrays"}
    assert not rooms & FORBIDDEN.get(room(path), {"cli"} - {room(path)} if path.stem != "__main__" else set())


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
