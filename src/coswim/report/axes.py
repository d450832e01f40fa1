"""Scales with round numbers along them, for drawings made of signs and of shapes alike."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from itertools import count

MONTH_STEPS = (1, 2, 3, 6, 12, 24, 60, 120)
ROUND_STEPS = (1, 2, 5)
MOST_STEPS = 5
MOST_MONTH_STEPS = 6
LEAST_SPAN = 1e-9
"""Values that lie closer together than this are drawn as one. Source: judgement; no measure of ours is finer."""
OF_ONE = 0.1
"""The scale of a single value spans this part of it. Source: judgement."""

Fits = Callable[[Sequence[float]], bool]


@dataclass(frozen=True)
class Axis:
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


def ticks(low: float, high: float, fits: Fits | None = None) -> tuple[float, ...]:
    """Round values that enclose the span from low to high: as close as `fits` allows, or in five steps at most.

    >>> ticks(23.4, 29)
    (22.0, 24.0, 26.0, 28.0, 30.0)
    """
    span = high - low if high - low >= LEAST_SPAN else max(MOST_STEPS, abs(high) * OF_ONE)
    fits = fits or _few(span, MOST_STEPS)
    return next(marks for step in _round_steps(span) if fits(marks := _enclosing(low, high, step)))


def month_ticks(first: float, last: float, fits: Fits | None = None) -> tuple[int, ...]:
    """Months to write on the axis: as close as `fits` allows, or seven at most up to sixty years.

    >>> month_ticks(0, 24)
    (0, 6, 12, 18, 24)
    """
    fits = fits or _few(last - first, MOST_MONTH_STEPS)
    spaced = [range(math.ceil(first / step) * step, math.floor(last) + 1, step) for step in MONTH_STEPS]
    return tuple(next((months for months in spaced if fits(months)), spaced[-1]))


def _few(span: float, most: int) -> Fits:
    """A test of marks: they divide a span into so many parts at most."""
    # a quotient such as 0.1 / 0.01 may end a hair above the whole number that it is
    return lambda marks: len(marks) < 2 or round(span / (marks[1] - marks[0]), 9) <= most


def _round_steps(span: float) -> Iterator[float]:
    """1, 2 and 5 times the powers of ten, from less than a tenth of a span upwards."""
    for power in count(math.floor(math.log10(span)) - 1):
        yield from (float(f"{factor}e{power}") for factor in ROUND_STEPS)


def _enclosing(low: float, high: float, step: float) -> tuple[float, ...]:
    """Multiples of a step from below low to above high, two at least."""
    first, last = math.floor(round(low / step, 9)), math.ceil(round(high / step, 9))
    return tuple(round(index * step, 12) for index in range(first, max(last, first + 1) + 1))
