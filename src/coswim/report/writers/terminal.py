"""The report for a terminal: laid out to its width, with styles that support the words and carry nothing alone."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from types import MappingProxyType

from coswim.report.document import Document, Line, plain
from coswim.report.layout import Page, lay_out

STYLES: Mapping[str, str] = MappingProxyType(
    {
        "title": "bold",
        "heading": "bold cyan",
        "strong": "bold",
        "quiet": "dim",
        "label": "cyan",
        "ink": "cyan",
    }
)
"""What each role looks like; the roles that are not here look like the rest."""


def write(document: Document, *, width: int = 80, colour: bool = False, ascii_only: bool = False) -> str:
    """The document for a terminal of `width` columns; without colour the layout is the same."""
    lines = lay_out(document, Page(width, ascii_only=ascii_only))
    return "\n".join(_styled(lines) if colour else map(plain, lines)) + "\n"


def _styled(lines: Iterable[Line]) -> Iterator[str]:
    """Lines with their roles as terminal styles, in the 16 colours that every reader's own theme defines."""
    from rich.color import ColorSystem  # not loaded for a report without colour
    from rich.style import Style

    styles = {role: Style.parse(style) for role, style in STYLES.items()}
    for line in lines:
        yield "".join(
            styles[span.role].render(span.text, color_system=ColorSystem.STANDARD)
            if span.role in styles and not span.text.isspace()
            else span.text
            for span in line
        )
