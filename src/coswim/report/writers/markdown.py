"""CommonMark with pipe tables, for README files, issue trackers and boards that speak it.

Paragraphs stay on one line, because many boards turn line breaks into breaks. Text is escaped so that
nothing in it is markup, not even a bare address that a board would turn into a link.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterable, Iterator
from types import MappingProxyType

from coswim.report import document as doc
from coswim.report import drawing
from coswim.report.document import Block, Line, Span, plain, text
from coswim.text.printable import one_line, printable_lines

DRAWING_WIDTH = 64
DEEPEST = 6
SPECIAL = re.compile(r"[\\`*_\[\]|~#$]|<(?=[A-Za-z/!?])|&(?=[#\w])|:(?=//)|(?<=www)\.", re.IGNORECASE)
STARTS_BLOCK = re.compile(r"^(>|-(?=[\s-]|$)|\+(?=\s|$)|=|\d{1,9}(?=[.)](?:\s|$)))")
LEAD = re.compile(r"^[\s.,:;]*")
AT = "(at)"
"""Boards look for mail addresses in the finished text, where no escape is left to stop them."""
EMPHASIS = MappingProxyType({"strong": "**", "quiet": "*"})


def write(document: doc.Document) -> str:
    """The document as Markdown."""
    title = [_heading(text(document.title), 1), ""] if document.title else []
    return "\n".join((*title, *_blocks(document.blocks, 1))) + "\n"


def _blocks(blocks: Iterable[Block], depth: int) -> Iterator[str]:
    before: Block | None = None
    mark = "-"
    for block in blocks:
        if before is not None:
            yield ""
        # two lists in a row would be read as one, were their marks the same
        mark = "*" if isinstance(before, doc.Bullets | doc.Facts) and mark == "-" else "-"
        yield from _block(block, depth, mark)
        before = block


def _block(block: Block, depth: int, mark: str) -> Iterator[str]:
    match block:
        case doc.Paragraph(line):
            yield _block_text(line)
        case doc.Bullets(items):
            yield from (f"{mark} {_block_text(item)}" for item in items)
        case doc.Facts(rows):
            yield from (f"{mark} {_block_text((Span(f'{label}: ', 'strong'), *said))}" for label, said in rows)
        case doc.Table(header, rows, numeric):
            yield _row(header)
            yield "|" + "|".join(" ---: " if index in numeric else " --- " for index in range(len(header))) + "|"
            yield from map(_row, rows)
        case doc.Drawing(picture, alternative):
            drawn = [plain(line).rstrip() for line in drawing.draw(picture, DRAWING_WIDTH)]
            yield from _fenced(drawn, "text") if drawn else [_block_text(text(alternative))]
        case doc.Code(words, language):
            yield from _fenced(printable_lines(words), language)
        case doc.Section(title, inner):
            yield _heading(title, depth + 1)
            yield ""
            yield from _blocks(inner, depth + 1)


def _heading(title: Line, depth: int) -> str:
    return f"{'#' * min(depth, DEEPEST)} {_inline(title)}".rstrip()


def _block_text(line: Line) -> str:
    """Text that begins a block, so that its first sign must not look like a list, a rule or a heading."""
    return STARTS_BLOCK.sub(lambda start: start[1] + "\\" if start[1].isdigit() else "\\" + start[1], _inline(line))


def _row(cells: Iterable[str]) -> str:
    return "| " + " | ".join(" ".join(escaped(cell).split()) for cell in cells) + " |"


def _fenced(lines: list[str], language: str) -> Iterator[str]:
    """A code block whose fence is longer than any run of its sign inside."""
    fence = "`" * max(3, longest_run("\n".join(lines), "`") + 1)
    yield f"{fence}{language}"
    yield from lines
    yield fence


def longest_run(text: str, sign: str) -> int:
    """The length of the longest unbroken run of one sign.

    >>> longest_run("a `` b ```", "`")
    3
    """
    return max(map(len, re.findall(f"{re.escape(sign)}+", text)), default=0)


def escaped(untrusted: str) -> str:
    r"""Text in which nothing is markup.

    >>> print(escaped("2 * 3 [fish](x) | www.x"))
    2 \* 3 \[fish\](x) \| www\.x
    >>> print(escaped("xmpp:a@b.example"))
    xmpp:a(at)b.example
    """
    return SPECIAL.sub(r"\\\g<0>", one_line(untrusted)).replace("@", AT)


def _inline(line: Line) -> str:
    """The spans with their emphasis, on one line."""
    shown = ""
    after = [escaped(span.text)[:1] for span in line]
    for index, span in enumerate(line):
        if span.role == "code":
            shown += _code(one_line(span.text))
        else:
            following = next((first for first in after[index + 1 :] if first), "")
            shown += _emphasised(escaped(span.text), EMPHASIS.get(span.role, ""), shown[-1:], following)
    return " ".join(shown.split())


def _emphasised(words: str, mark: str, before: str, after: str) -> str:
    """Marks around the words, white space and leading stops left outside.

    Where CommonMark would not read the marks as emphasis, because of the letters beside them, there are none.
    """
    body = LEAD.sub("", words)
    core = body.rstrip()
    if not mark or not core:
        return words
    lead, trail = words[: len(words) - len(body)], body[len(core) :]
    before, after = (before + lead)[-1:], (trail + after)[:1]
    opens = _is_apart(before) or not _is_sign(core[0])
    closes = _is_apart(after) or not _is_sign(core[-1])
    if opens and closes and before != mark[0]:
        return f"{lead}{mark}{core}{mark}{trail}"
    return words


def _is_apart(character: str) -> bool:
    return not character or character.isspace() or _is_sign(character)


def _is_sign(character: str) -> bool:
    return unicodedata.category(character)[0] in "PS"


def _code(words: str) -> str:
    """A code span, its fence longer than any run of its sign inside."""
    fence = "`" * (longest_run(words, "`") + 1)
    return f"{fence} {words} {fence}" if words.strip("`") != words else f"{fence}{words}{fence}"
