"""Plain text, safe anywhere: 78 columns, drawings and signs in ASCII, no markup."""

from __future__ import annotations

from coswim.report.document import Document, plain
from coswim.report.layout import Page, lay_out

WIDTH = 78


def write(document: Document) -> str:
    """The document as plain text."""
    return "\n".join(map(plain, lay_out(document, Page(WIDTH, ascii_only=True)))) + "\n"
