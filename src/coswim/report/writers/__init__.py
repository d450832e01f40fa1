"""The formats that a document is written in, one file each; a format is one module and one name below."""

from __future__ import annotations

from collections.abc import Mapping
from importlib import import_module
from pathlib import Path
from types import MappingProxyType

from coswim.report.document import Document

MODULES: Mapping[str, str] = MappingProxyType(
    {name: f"coswim.report.writers.{name}" for name in ("terminal", "plain", "bbcode", "markdown", "html")}
)
"""Every format of a document, with the module whose `write` makes it; it is loaded when it is wanted. The
data itself (`json`) is no document and has no writer here."""
FORMATS = tuple(MODULES)

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
    return str(import_module(MODULES[name]).write(document))


def write_post(document: Document, name: str) -> str:
    """The same for a board that wraps lines by itself; KeyError for a format that is not in FORMATS."""
    if name == "plain":
        return str(import_module(MODULES[name]).write(document, posted=True))
    return write(document, name)


def format_of(file: Path | str) -> str | None:
    """The name of the format that a file's ending stands for; None where it stands for none.

    >>> format_of("my-tank.HTM"), format_of("my-tank.doc")
    ('html', None)
    """
    return ENDINGS.get(Path(file).suffix.lower())
