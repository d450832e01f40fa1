"""What is asked on a terminal: which species a name stands for, and values one at a time."""

from __future__ import annotations

import sys
from collections.abc import Callable
from typing import TypeVar

import typer

from coswim.cli import output
from coswim.profiles.names import Entry
from coswim.text.quantities import QuantityError

ValueT = TypeVar("ValueT")


def is_possible() -> bool:
    """Somebody is there to answer."""
    return bool(sys.stdin and sys.stdin.isatty() and sys.stderr.isatty())


def species(name: str, candidates: tuple[Entry, ...]) -> Entry | None:
    """The species that is meant, by its number; None where it is none of them."""
    output.complain(f"Which {name!r} is meant?")
    for number, entry in enumerate(candidates, 1):
        called = entry.common_names[0] if entry.common_names else ""
        output.complain(f"  {number}  {called} ({entry.scientific_name})")
    answer = line(f"Number from 1 to {len(candidates)}, or Enter for none of these")
    return candidates[int(answer) - 1] if answer.isdecimal() and 1 <= int(answer) <= len(candidates) else None


def line(question: str, default: str = "") -> str:
    """One line of an answer; nothing where Enter is pressed."""
    return str(typer.prompt(question, default=default, show_default=bool(default), err=True)).strip()


def until_right(question: str, read: Callable[[str], ValueT], *, default: str = "") -> ValueT:
    """The answer once it can be read; what is wrong with the others is said."""
    while True:
        try:
            return read(line(question, default))
        except QuantityError as error:
            output.complain(f"  {error}")
