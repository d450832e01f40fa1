"""A report as a neutral tree: text with roles, lists, tables, pictures. Writers turn it into a format."""

from __future__ import annotations

from collections.abc import Callable
from typing import NamedTuple, TypeAlias

from coswim.findings.pictures import Picture


class Span(NamedTuple):
    """A run of text; role is '' (plain), 'strong', 'quiet' or 'code'."""

    text: str
    role: str = ""


Line: TypeAlias = tuple[Span, ...]


class Paragraph(NamedTuple):
    """Running text."""

    line: Line


class Bullets(NamedTuple):
    """A list, one line each."""

    items: tuple[Line, ...]


class Facts(NamedTuple):
    """Short labels, each with a line that says what there is to say of it."""

    rows: tuple[tuple[str, Line], ...]


class Table(NamedTuple):
    """Rows of cells under a header; numeric columns are aligned right. `numeric` holds their indexes."""

    header: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    numeric: frozenset[int] = frozenset()

    def said(self, words: Callable[[str], str]) -> Table:
        """The table with each of its cells put into other words."""
        rows = tuple(tuple(map(words, row)) for row in self.rows)
        return Table(tuple(map(words, self.header)), rows, self.numeric)


class Drawing(NamedTuple):
    """A picture with the sentence that stands for it where it cannot be seen."""

    picture: Picture
    alternative: str


class Code(NamedTuple):
    """Text to be kept letter by letter, such as a plan that others can run."""

    text: str
    language: str = "yaml"


class Section(NamedTuple):
    """A heading with what belongs to it; role is '', 'proposal' or 'finding'."""

    title: Line
    blocks: tuple[Block, ...]
    role: str = ""


Block: TypeAlias = "Paragraph | Bullets | Facts | Table | Drawing | Code | Section"


class Document(NamedTuple):
    """A whole report; one without a title begins with its first block."""

    title: str
    blocks: tuple[Block, ...]


def text(words: str, role: str = "") -> Line:
    """A line of one span."""
    return (Span(words, role),)


def strong(words: str) -> Span:
    """Text that carries the message."""
    return Span(words, "strong")


def quiet(words: str) -> Span:
    """Text that may be passed over."""
    return Span(words, "quiet")


def plain(line: Line) -> str:
    """The words of a line without their roles."""
    return "".join(span.text for span in line)
