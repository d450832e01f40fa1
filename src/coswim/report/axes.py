"""Where things go in a drawing: scales with round ticks, and names broken into lines that fit."""

from __future__ import annotations

import math
import unicodedata
from collections.abc import Iterator
from dataclasses import dataclass

MONTH_STEPS = (1, 2, 3, 6, 12, 24, 60, 120)
ROUND_STEPS = (1, 2, 5, 10)
MOST_STEPS = 5
MOST_MONTH_STEPS = 6
NARROW, ORDINARY, CAPITAL, WIDE = 0.42, 0.66, 0.8, 1.02
"""Widths of letters, parts of the type size, no smaller than in the widest sans serif in common use.
Source: judgement, after the advance widths of DejaVu Sans."""
BEYOND_LATIN = 1.35
NARROW_LETTERS = frozenset("ijltfrI.,:;'|!()[]/- ")
WIDE_LETTERS = frozenset("mwMW@%œæŒÆ…—–")
LATIN_ENDS = "\u024f"


@dataclass(frozen=True)
class Scale:
    """Lays the values from `low` to `high` along the drawing from `start` to `end`."""

    low: float
    high: float
    start: float
    end: float

    def at(self, value: float) -> float:
        """The place of a value; the middle when the scale holds a single value."""
        if self.high == self.low:
            return (self.start + self.end) / 2
        return self.start + (value - self.low) / (self.high - self.low) * (self.end - self.start)


def round_step(low: float, high: float) -> float:
    """The step of 1, 2 or 5 (times a power of ten) that divides a span into five parts at most.

    >>> round_step(0, 70), round_step(6.0, 7.5)
    (20.0, 0.5)
    """
    rough = (high - low) / MOST_STEPS or 1.0
    power = math.floor(math.log10(rough))
    # a quotient such as 0.1 / 0.01 may end a hair above the step that it is
    factor = next(step for step in ROUND_STEPS if step >= round(rough / 10.0**power, 9))
    return float(f"{factor}e{power}")


def ticks(low: float, high: float) -> tuple[float, ...]:
    """Round values that enclose the span from low to high.

    >>> ticks(23.4, 29)
    (22.0, 24.0, 26.0, 28.0, 30.0)
    """
    step = round_step(low, high)
    first, last = math.floor(round(low / step, 9)), math.ceil(round(high / step, 9))
    return tuple(round(index * step, 12) for index in range(first, max(last, first + 1) + 1))


def month_ticks(first: float, last: float) -> tuple[int, ...]:
    """Months to write on the axis, seven at most up to sixty years.

    >>> month_ticks(0, 24)
    (0, 6, 12, 18, 24)
    """
    step = next((s for s in MONTH_STEPS if (last - first) / s <= MOST_MONTH_STEPS), MONTH_STEPS[-1])
    return tuple(range(math.ceil(first / step) * step, math.floor(last) + 1, step))


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
