"""The parts of text drawings: two sets of signs, columns, bars, names at the side, and numbers along a scale."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import ClassVar, NamedTuple

import numpy as np

from coswim.findings.pictures import Curve
from coswim.report.axes import Axis, month_ticks, ticks
from coswim.report.document import Line, Span, plain, text
from coswim.report.wrapping import cells, fill

GAP = "  "
NAME_PART = 0.36
"""The part of the width that names may take before they are wrapped. Source: judgement."""
APART = 3
"""The fewest columns between two numbers of a scale."""
MOST_PER_MONTH = 2
SHORTEST = 10
"""A drawing with less room than this for its ink is not worth looking at. Source: judgement."""


class Ink(NamedTuple):
    """A set of signs: `heights` run from least to full, `none` stands for exactly zero, `rest` for what a bar lacks.

    `window` holds a range's start, middle and end, and a mark that crosses it or passes beside it; `dots` are
    two square dots one above the other: none, the upper, the lower, both; `ruler` is a start, a middle and an end.
    """

    none: str
    heights: str
    bar: str
    rest: str
    rows: int
    dash: str
    points_down: str
    window: str
    dots: str
    ruler: str
    longest: int = 60

    def range_sign(self, at: int, low: int, high: int, *, marked: bool) -> str:
        """The sign of one column of a range from column `low` to `high`, crossed by a mark or not."""
        start, middle, end, crossed, passed = tuple(self.window)
        if not low <= at <= high:
            return passed if marked else " "
        if marked:
            return crossed
        return start if at == low else end if at == high else middle


BLOCKS = Ink("·", "▁▂▃▄▅▆▇", "▇", "·", 1, "–", "▼", "├─┤┼┊", " ▀▄█", "├─┤")
SIGNS = Ink(".", "-=#", "#", ".", 2, "-", "v", "(=)+:", " '.#", "|-|")


def columns(levels: Sequence[float], ink: Ink) -> list[str]:
    """Upright bars for levels from 0 to 1, topmost row first without empty ones; anything above zero shows."""
    steps, rows = len(ink.heights), ink.rows
    heights = [0 if not level > 0 else max(1, round(min(1.0, level) * rows * steps)) for level in levels]
    lines = []
    for row in reversed(range(rows)):
        left = [height - row * steps for height in heights]
        signs = [" " if part <= 0 else ink.heights[min(part, steps) - 1] for part in left]
        if row == 0:
            signs = [ink.none if part <= 0 else sign for part, sign in zip(left, signs, strict=True)]
        lines.append("".join(signs))
    return [line for line in lines if line.strip()]


def length_of(level: float, longest: int, ink: Ink) -> str:
    """A lying bar for a level from 0 to 1; anything above zero shows."""
    return ink.bar * (max(1, round(min(1.0, level) * longest)) if level > 0 else 0)


class Names(NamedTuple):
    """Names in a column of their own at the left, wrapped where they are long."""

    wrapped: tuple[tuple[str, ...], ...]
    width: int

    def beside(self, index: int, line: Line) -> Iterator[Line]:
        """A name with the last of its lines beside `line`."""
        *above, last = self.wrapped[index]
        yield from (text(words) for words in above)
        yield (Span(last + " " * (self.width - cells(last)) + GAP), *line)


def named(names: Sequence[str], width: int) -> Names:
    """Names fitted to a drawing of `width`."""
    most = max(1, int(width * NAME_PART))
    wrapped = tuple(tuple(plain(line) for line in fill(text(name), most)) for name in names)
    return Names(wrapped, max(cells(words) for lines in wrapped for words in lines))


@dataclass(frozen=True)
class MonthColumns:
    """Months 0 to `last` spread over `columns`."""

    last: int
    columns: int
    NAME: ClassVar[str] = "month"

    @classmethod
    def fitting(cls, last: int, room: int) -> MonthColumns:
        """One or two whole columns a month where there is room for them and the last number, else fewer columns."""
        free = max(0, room - len(str(last)) + 1)
        whole = min(MOST_PER_MONTH, free // (last + 1))
        return cls(last, whole * (last + 1) or free)

    @property
    def is_too_short(self) -> bool:
        """There is less room than months, and too little to be worth looking at."""
        return self.columns < min(SHORTEST, self.last + 1)

    def months(self) -> list[int]:
        """The month at the start of each column."""
        return [column * (self.last + 1) // self.columns for column in range(self.columns)]

    def spans(self) -> list[range]:
        """The months that each column stands for, at least one."""
        starts = [*self.months(), self.last + 1]
        return [range(start, max(end, start + 1)) for start, end in pairwise(starts)]

    def values(self, curve: Curve) -> list[float]:
        """The middle of a curve at each column, on the straight line between its points."""
        return [float(value) for value in np.interp(self.months(), curve.months, curve.middle)]

    def labels(self) -> str:
        """The numbers of the months, each at its first column, and room for the last."""
        at = [min(self.columns - 1, -(-month * self.columns // (self.last + 1))) for month in range(self.last + 1)]

        def stand_apart(months: Sequence[float]) -> bool:
            return all(at[int(b)] - at[int(a)] >= len(str(a)) + APART for a, b in pairwise(months))

        shown = month_ticks(0, self.last, stand_apart)
        return _placed([(at[month], str(month)) for month in shown]).ljust(self.columns + len(str(self.last)) - 1)


class NumberLine:
    """Values over some columns, at least from `low` to `high`, with as many round numbers as have room."""

    def __init__(self, low: float, high: float, columns: int) -> None:
        self._columns = columns
        self._marks = ticks(low, high, self._have_room)
        self._scale = Axis(self._marks[0], self._marks[-1], 0, columns - 1)

    def _have_room(self, marks: Sequence[float]) -> bool:
        parts = len(marks) - 1
        return parts <= 2 or self._columns // parts >= max(map(len, map(_number, marks))) + APART

    def column(self, value: float) -> int:
        """Where a value stands."""
        return round(self._scale.at(value))

    def labels(self) -> str:
        """The round numbers, each centred on its column."""
        placed = []
        for mark in self._marks:
            words = _number(mark)
            column = self.column(mark) - (len(words) - 1) // 2
            placed.append((min(max(0, column), self._columns - len(words)), words))
        return _placed(placed)


def _number(value: float) -> str:
    return f"{value:.10g}"


def _placed(marks: Sequence[tuple[int, str]]) -> str:
    """Words at their columns; what would touch the one before is left out."""
    line = ""
    for column, words in marks:
        if not line or column > len(line):
            line = line.ljust(column) + words
    return line
