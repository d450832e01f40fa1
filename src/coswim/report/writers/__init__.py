"""The formats that a document is written in, one file each; a format is one function and one line below."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from importlib import import_module
from pathlib import Path
from types import MappingProxyType

from coswim.report.document import Document
from coswim.report.writers import bbcode, markdown, plain, terminal

PIPED = 80


def _terminal(document: Document) -> str:
    """What a terminal of 80 columns without colour shows."""
    return terminal.write(document, width=PIPED, colour=False)


def _html(document: Document) -> str:
    """One page; its template engine is only loaded when a page is wanted."""
    written = import_module("coswim.report.writers.html").write(document)
    return str(written)


FORMATS: Mapping[str, Callable[[Document], str]] = MappingProxyType(
    {
        "terminal": _terminal,
        "plain": plain.write,
        "bbcode": bbcode.write,
        "markdown": markdown.write,
        "html": _html,
    }
)
"""Every format of a document by name. The data itself (`json`) is no document and has no writer here."""

ENDINGS: Mapping[str, str] = MappingProxyType(
    {
        ".txt": "plain",
        ".bbcode": "bbcode",
        ".bb": "bbcode",
        ".md": "markdown",
        ".markdown": "markdown",
        ".html": "html",
        ".htm": "html",
        ".json": "json",
    }
)


def write(document: Document, name: str) -> str:
    """The document in the format called `name`; KeyError for one that is not in FORMATS."""
    return FORMATS[name](document)


def format_of(file: Path | str) -> str | None:
    """The name of the format that a file's ending stands for; None where it stands for none.

    >>> format_of("my-tank.HTM"), format_of("my-tank.doc")
    ('html', None)
    """
    return ENDINGS.get(Path(file).suffix.lower())
