"""The formats that a report may be wanted in, and which one is."""

from __future__ import annotations

from pathlib import Path

import typer

from coswim.cli.typed import one_of
from coswim.report.writers import FORMATS, format_of
from coswim.text.printable import quoted

JSON, TERMINAL = "json", "terminal"
ALL_FORMATS = (*FORMATS, JSON)
FORMAT_HELP = f"Print as {', '.join(ALL_FORMATS)}."


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
