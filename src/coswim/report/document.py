"""A report as a neutral tree: text with roles, lists, tables, pictures. Writers turn it into a format."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TypeAlias

from coswim.findings.pictures import Picture


@dataclass(frozen=True)
class Span:
    """A run of text; role is '' (plain), 'strong', 'quiet' or 'code'."""

    text: str
    role: str = ""


Line: TypeAlias = tuple[Span, ...]


@dataclass(frozen=True)
class Paragraph:
    """Running text."""

    line: Line


@dataclass(frozen=True)
class Bullets:
    """A list, one line each."""

    items: tuple[Line, ...]


@dataclass(frozen=True)
class Table:
    """Rows of cells under a header; numeric columns are aligned right. `numeric` holds their indexes."""

    header: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    numeric: frozenset[int] = frozenset()


@dataclass(frozen=True)
class Drawing:
    """A picture with the sentence that stands for it where it cannot be seen."""

    picture: Picture
    alternative: str


@dataclass(frozen=True)
class Code:
    """Text to be kept letter by letter, such as a plan that others can run."""

    text: str
    language: str = "yaml"


@dataclass(frozen=True)
class Section:
    """A heading with what belongs to it; role is '', 'proposal' or 'finding'."""

    title: Line
    blocks: tuple[Block, ...]
    role: str = ""


Block: TypeAlias = "Paragraph | Bullets | Table | Drawing | Code | Section"


@dataclass(frozen=True)
class Document:
    """A whole report."""

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
