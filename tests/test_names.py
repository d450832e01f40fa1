"""A name means one thing in the whole house."""

from __future__ import annotations

import ast
from collections import Counter
from pathlib import Path

import coswim

SOURCE = Path(coswim.__file__).parent


def test_no_two_classes_have_the_same_name() -> None:
    trees = (ast.parse(path.read_text(encoding="utf-8")) for path in SOURCE.rglob("*.py"))
    names = Counter(n.name.lstrip("_") for tree in trees for n in ast.walk(tree) if isinstance(n, ast.ClassDef))
    assert [name for name, times in names.items() if times > 1] == []
