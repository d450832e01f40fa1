"""A forum post in the tags that boards have in common: b, i, u, list, code. Nothing else is assumed.

Tables and drawings are aligned text in [code]. Boards keep line breaks, so sentences end lines and no
line is longer than 100 characters. Brackets of untrusted text become parentheses: no way of quoting a
bracket works on every board, and a sign that a board might strip would bring the tag back to life.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from types import MappingProxyType

from coswim.report import drawing
from coswim.report.document import (
    Block,
    Bullets,
    Code,
    Document,
    Drawing,
    Line,
    Paragraph,
    Section,
    Span,
    Table,
    plain,
    text,
)
from coswim.report.grid import table_lines
from coswim.report.wrapping import fill
from coswim.text.printable import one_line, printable_lines

LONGEST = 100
CODE_WIDTH = 64
"""Columns of tables and drawings: what boards show of a code block without scrolling. Source: judgement."""
SLACK = 8
"""Columns by which lines of one sentence may differ. Source: judgement."""
BRACKETS = MappingProxyType(str.maketrans("[]", "()"))
TAGS = MappingProxyType({"strong": "b", "quiet": "i"})
SENTENCE = re.compile(r"(?<=[a-z0-9)]{3}[.!?;]) (?=[A-Z])")
"""Between sentences; not behind the initials and abbreviations of a source."""
ENDS_CODE = re.compile(r"\[(?=/?\s*code)", re.IGNORECASE)


def write(document: Document) -> str:
    """The document as a post."""
    lines = [*_heading(text(document.title), 0), "", *_blocks(document.blocks, 0)]
    return "\n".join(line.rstrip() for line in lines) + "\n"


def _blocks(blocks: Iterable[Block], depth: int) -> Iterator[str]:
    before: Block | None = None
    for block in blocks:
        if before is not None and not isinstance(block, Bullets):
            yield ""
        yield from _block(block, depth)
        before = block


def _block(block: Block, depth: int) -> Iterator[str]:
    match block:
        case Paragraph(line):
            yield from _running(line)
        case Bullets(items):
            yield "[list]"
            for item in items:
                yield from _running(item, mark="[*]")
            yield "[/list]"
        case Table():
            yield from _aligned(table_lines(_safe_table(block), CODE_WIDTH))
        case Drawing(picture, alternative):
            drawn = drawing.draw(picture, CODE_WIDTH, words=_words)
            yield from _aligned(drawn) if drawn else _running(text(alternative))
        case Code(words):
            yield from _code(ENDS_CODE.sub("(", line) for line in printable_lines(words))
        case Section(title, inner):
            yield from _heading(title, depth + 1)
            yield from _blocks(inner, depth + 1)


def _aligned(lines: Iterable[Line]) -> Iterator[str]:
    yield from _code(chunk for line in lines for chunk in _chunks(plain(line).rstrip()))


def _code(lines: Iterable[str]) -> Iterator[str]:
    yield "[code]"
    yield from lines
    yield "[/code]"


def _heading(title: Line, depth: int) -> Iterator[str]:
    """The title and each section are underlined; what is inside a section is bold."""
    carries_itself = any(span.role == "strong" for span in title)
    dressed = title if carries_itself else tuple(Span(span.text, "strong") for span in title)
    for line in _running(dressed):
        yield f"[u]{line}[/u]" if depth <= 1 else line


def _running(line: Line, mark: str = "") -> Iterator[str]:
    """Text that breaks at sentences, and within those only that are too long for a line."""
    safe = tuple(Span(_words(span.text), span.role) for span in line)
    room = LONGEST - len(mark) - len("[u][/u]")
    if len(_tagged(safe)) <= room:
        yield mark + _tagged(safe)
        return
    for sentence in _sentences(safe):
        for part in _fitting(sentence, room):
            yield mark + part
            mark = ""


def _fitting(sentence: Line, room: int) -> Iterator[str]:
    """The sentence in as few lines as stay within `room` with their tags, about equally long."""
    fewest = len(fill(sentence, room))
    even = len(plain(sentence)) // fewest + SLACK
    for width in (min(even, room), *range(room, room // 2, -SLACK)):
        lines = list(map(_tagged, fill(sentence, width)))
        if max(map(len, lines)) <= room and (len(lines) == fewest or width != even):
            yield from lines
            return
    yield from _chunks(plain(sentence), room)


def _chunks(words: str, size: int = LONGEST) -> Iterator[str]:
    """The text cut at every `size` characters."""
    yield from (words[start : start + size] for start in range(0, max(1, len(words)), size))


def _sentences(line: Line) -> Iterator[Line]:
    sentence: list[Span] = []
    for span in line:
        first, *others = SENTENCE.split(span.text)
        sentence.append(Span(first, span.role))
        for words in others:
            yield tuple(sentence)
            sentence = [Span(words, span.role)]
    yield tuple(sentence)


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


def _safe_table(table: Table) -> Table:
    rows = tuple(tuple(map(_words, row)) for row in table.rows)
    return Table(tuple(map(_words, table.header)), rows, table.numeric)
