"""A forum post in the tags that boards have in common: b, i, u, list, code. Nothing else is assumed.

A paragraph is one line, since boards wrap by themselves; tables and drawings are aligned text in [code].
Brackets of untrusted text become parentheses: no way of quoting a
bracket works on every board, and a sign that a board might strip would bring the tag back to life.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from types import MappingProxyType

from coswim.report import document as doc
from coswim.report import drawing
from coswim.report.document import Block, Line, Span, plain, text
from coswim.report.grid import table_lines
from coswim.text.printable import one_line, printable_lines

CODE_WIDTH = 64
"""Columns of tables and drawings: what boards show of a code block without scrolling. Source: judgement."""
BRACKETS = MappingProxyType(str.maketrans("[]", "()"))
TAGS = MappingProxyType({"strong": "b", "quiet": "i"})
ENDS_CODE = re.compile(r"\[(?=/?\s*code)", re.IGNORECASE)


def write(document: doc.Document) -> str:
    """The document as a post."""
    title = [*_heading(text(document.title), 0), ""] if document.title else []
    return "\n".join(line.rstrip() for line in (*title, *_blocks(document.blocks, 0))) + "\n"


def _blocks(blocks: Iterable[Block], depth: int) -> Iterator[str]:
    before: Block | None = None
    for block in blocks:
        if before is not None and not isinstance(block, doc.Bullets | doc.Facts):
            yield ""
        yield from _block(block, depth)
        before = block


def _block(block: Block, depth: int) -> Iterator[str]:
    match block:
        case doc.Paragraph(line):
            yield _running(line)
        case doc.Bullets(items):
            yield "[list]"
            yield from (_running(item, "[*]") for item in items)
            yield "[/list]"
        case doc.Facts(rows):
            yield "[list]"
            yield from (_running((Span(f"{label}: ", "strong"), *said), "[*]") for label, said in rows)
            yield "[/list]"
        case doc.Table():
            yield from _aligned(table_lines(block.said(_words), CODE_WIDTH))
        case doc.Drawing(picture, alternative):
            drawn = drawing.draw(picture, CODE_WIDTH, words=_words)
            yield from _aligned(drawn) if drawn else [_running(text(alternative))]
        case doc.Code(words):
            yield from _code(ENDS_CODE.sub("(", line) for line in printable_lines(words))
        case doc.Section(title, inner):
            yield from _heading(title, depth + 1)
            yield from _blocks(inner, depth + 1)


def _aligned(lines: Iterable[Line]) -> Iterator[str]:
    yield from _code(plain(line).rstrip() for line in lines)


def _code(lines: Iterable[str]) -> Iterator[str]:
    yield "[code]"
    yield from lines
    yield "[/code]"


def _heading(title: Line, depth: int) -> Iterator[str]:
    """The title and each section are underlined; what is inside a section is bold."""
    carries_itself = any(span.role == "strong" for span in title)
    dressed = title if carries_itself else tuple(Span(span.text, "strong") for span in title)
    yield f"[u]{_running(dressed)}[/u]" if depth <= 1 else _running(dressed)


def _running(line: Line, mark: str = "") -> str:
    """Text on one line."""
    return mark + _tagged(tuple(Span(_words(span.text), span.role) for span in line))


def _words(untrusted: str) -> str:
    return one_line(untrusted).translate(BRACKETS)


def _tagged(line: Line) -> str:
    """The line with a pair of tags around what each dressed span says, white space left outside."""
    parts = []
    for span in line:
        words = span.text.strip()
        tag = TAGS.get(span.role)
        if tag and words:
            start = span.text.index(words)
            parts.append(f"{span.text[:start]}[{tag}]{words}[/{tag}]{span.text[start + len(words) :]}")
        else:
            parts.append(span.text)
    return "".join(parts)
