"""How wide text is in a drawing, and text broken into lines that fit."""

from __future__ import annotations

import unicodedata
from collections.abc import Iterator

NARROW, ORDINARY, CAPITAL, WIDE = 0.42, 0.66, 0.8, 1.02
"""Widths of letters, parts of the type size, no smaller than in the widest sans serif in common use.
Source: judgement, after the advance widths of DejaVu Sans."""
BEYOND_LATIN = 1.35
NARROW_LETTERS = frozenset("ijltfrI.,:;'|!()[]/- ")
WIDE_LETTERS = frozenset("mwMW@%œæŒÆ…—–")
LATIN_ENDS = "\u024f"


def text_width(words: str, size: float) -> float:
    """The width that a text needs at most, in the unit of its type size."""
    return size * sum(map(_letter_width, words))


def _letter_width(letter: str) -> float:
    if unicodedata.category(letter) in ("Mn", "Me"):
        return 0.0
    if letter in NARROW_LETTERS:
        return NARROW
    if letter in WIDE_LETTERS:
        return WIDE
    if letter > LATIN_ENDS:
        return BEYOND_LATIN
    return CAPITAL if letter.isupper() or unicodedata.category(letter)[0] == "S" else ORDINARY


def wrapped(words: str, width: float, size: float) -> tuple[str, ...]:
    """A text in lines no wider than `width`, broken between words, within a word only when it must be."""
    lines: list[str] = []
    line = ""
    for piece in (part for word in words.split() for part in _pieces(word, width, size)):
        longer = f"{line} {piece}".lstrip()
        if line and text_width(longer, size) > width:
            lines.append(line)
            line = piece
        else:
            line = longer
    return (*lines, line)


def _pieces(word: str, width: float, size: float) -> Iterator[str]:
    piece = ""
    for letter in word:
        if piece and text_width(piece + letter, size) > width:
            yield piece
            piece = ""
        piece += letter
    yield piece
