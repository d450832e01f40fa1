"""Plain text, safe anywhere: 78 columns, drawings and signs in ASCII, no markup."""

from __future__ import annotations

from coswim.report.document import Document, plain
from coswim.report.layout import Page, lay_out

WIDTH = 78
POSTED = 64
"""Columns of tables and drawings in a post, as boards show them. Source: judgement."""


def write(document: Document, *, posted: bool = False) -> str:
    """The document as plain text; in a post a paragraph is one line, since boards wrap by themselves."""
    page = Page(POSTED if posted else WIDTH, ascii_only=True, posted=posted)
    return "\n".join(map(plain, lay_out(document, page))) + "\n"
