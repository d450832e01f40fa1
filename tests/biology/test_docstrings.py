"""Every model function says what it computes, from what, how far it holds and where it is from, in the same order."""

from __future__ import annotations

import inspect
import re
from collections.abc import Callable, Iterator
from importlib import import_module
from pkgutil import iter_modules
from typing import Any

import pytest

from coswim import biology

HEADS = ("Equation", "Parameters", "Returns", "Valid range", "Source", "Check value")


def functions() -> Iterator[Callable[..., Any]]:
    for found in iter_modules(biology.__path__):
        module = import_module(f"coswim.biology.{found.name}")
        for name, function in inspect.getmembers(module, inspect.isfunction):
            if function.__module__ == module.__name__ and not name.startswith("_"):
                yield function


@pytest.mark.parametrize(
    "function", tuple(functions()), ids=lambda one: f"{one.__module__.rpartition('.')[2]}.{one.__name__}"
)
def test_a_model_function_has_its_heads_in_order_and_a_check_that_runs(function: Callable[..., Any]) -> None:
    said = inspect.getdoc(function) or ""
    places = [said.find(f"{head}: ") for head in HEADS]
    assert -1 not in places, [head for head, place in zip(HEADS, places, strict=True) if place < 0]
    assert places == sorted(places)
    assert "\n>>> " in said
    missing = [name for name in inspect.signature(function).parameters if name not in said]
    assert missing == [] or re.search(r"Parameters: [^.]*\bas `\w+`|; the rest as `\w+`", said), missing
