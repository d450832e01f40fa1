"""Lines filled to a width, and how wide text stands: words keep their roles, a number its unit, no line is too long."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterator
from typing import TypeAlias

from coswim.report.document import Line, Span

WIDTHLESS = frozenset({"Mn", "Me", "Cf"})
SPACES = re.compile(r"\s+")
BREAK = re.compile(r"(?<![<>≤≥])(?<!\bpH) (?!(?:%|mm|cm|g|kg|C|F|L|gal|ppm|mg/L|dGH)(?:\W|$))(?!(?<=\d )in(?:\W|$))")
"""White space at which a line may end: not within `< 1 %` or `28 cm`."""

Piece: TypeAlias = tuple[str, str]
"""Text and its role; a word is a run of pieces, for its roles may change within."""


def cells(text: str) -> int:
    """How many columns the text takes on a screen with fixed width: East Asian wide letters take two.

    >>> cells("fish"), cells("金魚")
    (4, 4)
    """
    return len(text) if text.isascii() else sum(map(_cells_of, text))


def fill(line: Line, width: int, *, first: str = "", hanging: str = "") -> list[Line]:
    """The line broken to `width` columns, with something before the first and the following ones.

    Always at least one line; a word longer than a whole line is cut.
    """
    lines: list[list[Piece]] = []
    indent, room = first, 0
    for word, size in _words(line, max(1, width - max(cells(first), cells(hanging)))):
        role = word[0][1]
        if lines and room > size:
            before, role_before = lines[-1][-1]
            if len(word) == 1 and role == role_before:
                lines[-1][-1] = (f"{before} {word[0][0]}", role)
            else:
                lines[-1] += [(" ", role if role == role_before else ""), *word]
            room -= size + 1
        else:
            lines.append([(indent, ""), *word])
            room = width - cells(indent) - size
            indent = hanging
    return [_merged(pieces) for pieces in lines] or [_merged([(first, "")])]


def _words(line: Line, longest: int) -> Iterator[tuple[list[Piece], int]]:
    """Unbreakable words with their widths, none above `longest`."""
    word: list[Piece] = []
    size = 0
    for span in line:
        for number, part in enumerate(BREAK.split(SPACES.sub(" ", span.text))):
            if number and word:
                yield from [(word, size)] if size <= longest else _cut(word, longest)
                word, size = [], 0
            if part:
                word.append((part, span.role))
                size += cells(part)
    if word:
        yield from [(word, size)] if size <= longest else _cut(word, longest)


def _cut(word: list[Piece], longest: int) -> Iterator[tuple[list[Piece], int]]:
    cut: list[Piece] = []
    used = 0
    for text, role in word:
        for character in text:
            size = cells(character)
            if used + size > longest and cut:
                yield cut, used
                cut, used = [], 0
            cut.append((character, role))
            used += size
    yield cut, used


def _merged(pieces: list[Piece]) -> Line:
    """Neighbours of the same role as one span."""
    merged: list[Piece] = []
    for text, role in pieces:
        if merged and merged[-1][1] == role:
            merged[-1] = (merged[-1][0] + text, role)
        elif text:
            merged.append((text, role))
    return tuple(Span(text, role) for text, role in merged)


def _cells_of(character: str) -> int:
    if unicodedata.category(character) in WIDTHLESS:
        return 0
    return 2 if unicodedata.east_asian_width(character) in "WF" else 1
