"""What several commands take: their options and formats, and how what stands behind one is read.

What cannot be read is wrong usage that says what is allowed.
"""

from __future__ import annotations

from collections.abc import Callable, Collection
from pathlib import Path
from typing import Annotated, TypeVar

import typer

from coswim.cli import completing
from coswim.report.writers import FORMATS, format_of
from coswim.text.printable import quoted, shortened
from coswim.text.problems import did_you_mean

JSON, TERMINAL = "json", "terminal"
ALL_FORMATS = (*FORMATS, JSON)
FORMAT_HELP = f"Print as {', '.join(ALL_FORMATS)}."
PlanSource = Annotated[str, typer.Argument(metavar="PLAN", help="The plan file, or - for standard input.")]
Format = Annotated[
    str | None, typer.Option("--as", metavar="FORMAT", help=FORMAT_HELP, autocompletion=completing.formats)
]
Report = Annotated[Path | None, typer.Option(metavar="FILE", help="Write it to FILE; its ending says the format.")]
ForForum = Annotated[
    bool, typer.Option("--for-forum", help="A short post (bbcode unless --as) that others can paste and run.")
]
Draws = Annotated[int, typer.Option(min=50, max=100_000, help="Simulated futures.")]
Seed = Annotated[int, typer.Option(min=0, max=2**31, help="Start of the random numbers.")]
Months = Annotated[int | None, typer.Option(min=1, max=240, help="Months to look ahead; overrides the plan.")]
ValueT = TypeVar("ValueT")


def value(text: str, read: Callable[[str], ValueT], option: str) -> ValueT:
    """What the text stands for; wrong usage with the words of a ValueError."""
    try:
        return read(text)
    except ValueError as error:
        raise typer.BadParameter(str(error), param_hint=option) from None


def value_if_typed(text: str | None, read: Callable[[str], ValueT], option: str) -> ValueT | None:
    """The same; None where nothing was typed."""
    return None if text is None else value(text, read, option)


def one_of(word: str, allowed: Collection[str], option: str) -> str:
    """The word, if it is allowed; a near one is offered otherwise."""
    if word not in allowed:
        names = ", ".join(map(shortened, allowed)) or "none"
        message = f"{quoted(word)} is not one of {names}{did_you_mean(word, allowed)}"
        raise typer.BadParameter(message, param_hint=option)
    return word


def document_format(as_format: str | None, report: Path | None, *, otherwise: str = TERMINAL) -> str:
    """The format that is named, else the one that the ending of the report's file stands for."""
    if as_format:
        return one_of(as_format, ALL_FORMATS, "--as")
    if report is None:
        return otherwise
    found = format_of(report)
    if found is None:
        message = f"the ending of {quoted(report.name)} names no format; add --as"
        raise typer.BadParameter(message, param_hint="--report")
    return found
