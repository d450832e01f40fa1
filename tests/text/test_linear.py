"""Every pattern of coswim takes a time that grows with the length of the text and no faster.

The time is that of the processor, and the allowance is a hundred times what is usual: a pattern whose
time grows with the square of the length takes seconds where it may take a sixth of one.
"""

from __future__ import annotations

import importlib
import pkgutil
import re
from collections.abc import Callable
from contextlib import suppress
from functools import cache, partial
from pathlib import Path
from time import process_time

import pytest

import coswim
from coswim.plans.posted import find_plan
from coswim.text import quantities as q
from coswim.text.problems import InputProblems

LENGTHS = (4_000, 16_000)  # the short one first, so that a runaway pattern fails before it takes minutes
SECONDS_PER_CHARACTER = 5e-6
PUMPS = (
    "a", " ", "1", "~", "`", "<", "-", "'", "x ", "1 ", "1 x", "- ", "a ", "a-", "1,", "1.", "1-", "to ", "by ", "x", "é", "\t",
    "[code", "[code]", "[/code", "[quote]", "[quote=", "<pre", "<pre>", "</pre ", "<b", "www.", "a@", "&#", "://", "a: ", "> ", "# ",
)  # fmt: skip
AROUND = (("", ""), ("1", "!"), ("1 a", "1"), ("~~~", "`"), ("<", ">"))


SOURCES = "".join(path.read_text(encoding="utf-8") for path in Path(coswim.__file__).parent.rglob("*.py"))


@cache
def uses() -> dict[str, Callable[[str], object]]:
    """Every compiled pattern that a module of coswim holds, in each way in which it is used."""
    found: dict[str, Callable[[str], object]] = {}
    for module in pkgutil.walk_packages(coswim.__path__, "coswim."):
        if not module.name.endswith("__main__"):
            for name, value in vars(importlib.import_module(module.name)).items():
                if isinstance(value, re.Pattern):
                    for way in filter(
                        re.Pattern.__dict__.__contains__, sorted({*re.findall(rf"\b{name}\.(\w+)\(", SOURCES)})
                    ):
                        found[f"{name}.{way}"] = partial(value.sub, "") if way == "sub" else getattr(value, way)
    return found


def took(work: Callable[[], object]) -> float:
    start = process_time()
    work()
    return process_time() - start


def attacks(length: int) -> list[str]:
    return [before + (pump * length)[:length] + after for pump in PUMPS for before, after in AROUND]


@pytest.mark.parametrize("use", uses().values(), ids=list(uses()))
def test_a_pattern_is_linear(use: Callable[[str], object]) -> None:
    for length in LENGTHS:
        for text in attacks(length):
            assert took(lambda text=text: use(text)) < SECONDS_PER_CHARACTER * length, (text[:20], length)  # type: ignore[misc]


def test_all_patterns_are_found() -> None:
    assert {"SPAN.fullmatch", "FENCE.fullmatch", "QUOTE_TAG.split", "HTML_TAG.sub"} <= set(uses())


def test_this_test_can_fail() -> None:
    quadratic = re.compile(r"^\s*(`{3,}|~{3,})([^`]*)$")
    assert took(lambda: quadratic.match("~" * 8_000 + "`")) > SECONDS_PER_CHARACTER * 8_000


def swallowed(work: Callable[[str], object], text: str) -> None:
    with suppress(InputProblems, ValueError):
        work(text)


@pytest.mark.parametrize(
    "read", [q.FISH_LENGTH.parse, q.FISH_LENGTH.parse_range, q.parse_box, q.parse_whole, q.parse_yes_no],
    ids=["value", "range", "size", "whole number", "yes or no"],
)  # fmt: skip
def test_a_quantity_of_any_length_is_refused_at_once(read: Callable[[str], object]) -> None:
    for text in attacks(100_000):
        with pytest.raises(q.QuantityError) as refusal:
            read(text)
        assert len(str(refusal.value)) < 300


@pytest.mark.parametrize("line", ["", "\n"], ids=["one line", "many lines"])
def test_a_post_is_read_in_linear_time(line: str) -> None:
    for length in (8_000, 32_000):
        for pump in (
            *PUMPS,
            "```\n",
            "tank:\n",
            "tank: 1\nresidents: 1\nx\n",
            "[quote]tank:\n",
            "<pre>\ntank:\n</pre>",
            "> tank:\n",
        ):
            post = ((pump + line) * length)[:length] + "\ntank: 1\nresidents: 2\n"
            assert took(lambda post=post: swallowed(lambda text: find_plan(text, "post"), post)) < 2e-5 * length, pump  # type: ignore[misc]
