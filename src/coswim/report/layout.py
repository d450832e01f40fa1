"""A document as lines of a fixed width: what the terminal, the plain text and the aligned blocks share.

Lines keep the roles of their spans, so that a writer may dress them; without dress they are the report.
Besides the document's own roles there are 'title', 'heading' and 'ink' (the inked part of a drawing).
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from itertools import chain
from types import MappingProxyType
from typing import NamedTuple

from coswim.report import document as doc
from coswim.report.document import Block, Line, Span, plain, text
from coswim.report.grid import table_lines
from coswim.report.wrapping import cells, fill
from coswim.text.printable import REPLACEMENT, one_line, printable_lines

FENCE = "~~~"
PASTED_BACK = "yaml"  # a plan is fenced, so that it is found again in a post; a command or a sketch is not
FENCE_LIKE = re.compile(r"[~`]{3,}")
STEP = "  "
LABEL = 10  # columns for a label, so that those of one report stand alike
ENDLESS = 1_000_000
NARROW = 60
"""Columns below which labels stand in the text and not beside it. Source: judgement."""
BLANK: Line = ()
PLAIN_SIGNS = MappingProxyType(
    str.maketrans(
        {
            "–": "-", "—": "-", "−": "-", "×": "x", "·": "-", "…": "...", "≤": "<=", "≥": ">=", "≈": "~",
            "°": " deg ", "µ": "u", "“": '"', "”": '"', "‘": "'", "’": "'", "→": "->", "±": "+/-",
            "▁": "_", "▂": ".", "▃": "-", "▄": "=", "▅": "+", "▆": "*", "▇": "%", "█": "#",
            "\N{NO-BREAK SPACE}": " ", "\N{NARROW NO-BREAK SPACE}": " ", REPLACEMENT: "?",
        }
    )
)  # fmt: skip
"""Signs of the trade in ASCII, for readers whose machine may lack them. Letters stay as they are."""


class Page(NamedTuple):
    """How wide the lines may be, and whether drawings and signs keep to ASCII.

    On a `posted` page a paragraph is one line, since boards wrap by themselves.
    """

    width: int
    ascii_only: bool = False
    posted: bool = False

    def shrunk(self, indent: str) -> Page:
        """What is left behind an indent."""
        return self._replace(width=self.width - cells(indent))

    @property
    def running(self) -> int:
        """How wide running text may be."""
        return ENDLESS if self.posted else self.width

    def safe(self, line: Line) -> Line:
        """A line of untrusted text that may be shown: one line, no control signs, no fence of a code block."""
        return tuple(Span(self.words(span.text), span.role) for span in line)

    def words(self, untrusted: str) -> str:
        """The same for bare text."""
        shown = FENCE_LIKE.sub("~~", one_line(untrusted))
        return shown.translate(PLAIN_SIGNS) if self.ascii_only else shown


def lay_out(document: doc.Document, page: Page) -> Iterator[Line]:
    """The whole document, line by line. Code is kept letter by letter, however long its lines."""
    title = chain(_heading(text(document.title), 0, page), (BLANK,)) if document.title else ()
    return map(_trimmed, chain(title, _blocks(document.blocks, 0, page)))


def _trimmed(line: Line) -> Line:
    """The line without white space at its end."""
    while line and not line[-1].text.rstrip():
        line = line[:-1]
    return (*line[:-1], Span(line[-1].text.rstrip(), line[-1].role)) if line else BLANK


def _blocks(blocks: Iterable[Block], depth: int, page: Page) -> Iterator[Line]:
    before: Block | None = None
    for block in blocks:
        if before is not None and not (
            isinstance(before, doc.Paragraph) and isinstance(block, doc.Bullets | doc.Facts)
        ):
            yield BLANK
        yield from _block(block, depth, page)
        before = block


def _block(block: Block, depth: int, page: Page) -> Iterator[Line]:
    match block:
        case doc.Paragraph(line):
            yield from fill(page.safe(line), page.running)
        case doc.Facts(rows):
            yield from _facts(rows, page)
        case doc.Bullets(items):
            mark = "- " if page.ascii_only else "• "
            for item in items:
                yield from fill(page.safe(item), page.running, first=mark, hanging=STEP)
        case doc.Table():
            yield from table_lines(block.said(page.words), page.width, ascii_only=page.ascii_only)
        case doc.Drawing(picture, alternative):
            from coswim.report import drawing  # not loaded for text without drawings

            drawn = drawing.draw(picture, page.width, ascii_only=page.ascii_only, words=page.words)
            yield from drawn or fill(page.safe(text(alternative)), page.width)
        case doc.Code(words, language):
            fence = FENCE if language == PASTED_BACK else ""
            yield from [text(f"{fence} {language}", "code")] if fence else []
            yield from (text(line, "code") for line in printable_lines(words))
            yield from [text(fence, "code")] if fence else []
        case doc.Section(title, inner):
            yield from _heading(title, depth + 1, page)
            indent = STEP if depth else ""
            for line in _blocks(inner, depth + 1, page.shrunk(indent)):
                yield line if not line or line[0].role == "code" or not indent else (Span(indent), *line)


def _facts(rows: tuple[tuple[str, Line], ...], page: Page) -> Iterator[Line]:
    """Labels in a column beside what they say; before it where there is little room."""
    column = max(LABEL, *(cells(page.words(label)) for label, _ in rows)) + len(STEP)
    if page.posted or page.width < NARROW or 2 * column > page.width:
        for label, said in rows:
            yield from fill((Span(f"{page.words(label)}: ", "strong"), *page.safe(said)), page.running, hanging=STEP)
        return
    for label, said in rows:
        shown = page.words(label)
        first, *others = fill(page.safe(said), page.width - len(STEP) - column)
        yield (Span(STEP), Span(shown, "label"), Span(" " * (column - cells(shown))), *first)
        yield from ((Span(STEP + " " * column), *line) for line in others)


def _heading(title: Line, depth: int, page: Page) -> Iterator[Line]:
    """The title and each section have a rule beneath; what is inside a section is indented instead."""
    role = "heading" if depth else "title"
    carries_itself = any(span.role == "strong" for span in title)
    dressed = title if carries_itself else tuple(Span(span.text, span.role or role) for span in title)
    lines = fill(page.safe(dressed), page.running, hanging=STEP if depth > 1 else "")
    yield from lines
    if depth <= 1:
        double, single = "=-" if page.ascii_only else "═─"
        widest = max(cells(plain(line)) for line in lines)
        yield text((single if depth else double) * min(widest, page.width), role)
