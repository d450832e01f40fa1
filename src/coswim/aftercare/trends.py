"""A diary in lines: all that an entry says, and each trend from the first entry to the last."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import NamedTuple

from coswim.aftercare.diary import ATE, CHASED, WaterTest
from coswim.aftercare.watched import Noted, Watched
from coswim.aftercare.water_rules import un_ionised
from coswim.text import wording

BARS = "▁▂▃▄▅▆▇█"
LONGEST = 30
"""Values that a line shows; of more, the last. Source: judgement, what fits on a screen."""
TESTS = (("ammonia", "total ammonia", "mg/L"), ("nitrite", "nitrite", "mg/L"), ("nitrate", "nitrate", "mg/L"),
         ("ph", "pH", ""), ("temperature", "temperature", "C"), ("hardness", "hardness", "dGH"))  # fmt: skip


class Trend(NamedTuple):
    """One quantity of one group (or of the water): its bars, the first and last value in words."""

    of: str
    what: str
    bars: str
    first: str
    last: str


def said(noted: Noted, seen: Watched) -> str:
    """All that an entry says, on one line."""
    return "; ".join(_said(noted, seen))


def _said(noted: Noted, seen: Watched) -> Iterator[str]:
    entry = noted.entry
    if entry.ate:
        yield f"ate: {entry.ate}"
    if entry.chased:
        yield f"chased: {entry.chased}"
    if entry.damage:
        yield f"damage {entry.damage.grade} on {entry.damage.place}"
    if entry.length:
        yield f"{entry.length:g} cm"
    if entry.weight:
        yield f"{entry.weight:g} g"
    if entry.water:
        yield from _tested(entry.water, seen)
    if entry.note:
        yield f"“{entry.note}”"


def _tested(test: WaterTest, seen: Watched) -> Iterator[str]:
    for name, what, unit in TESTS:
        value = getattr(test, name)
        if value is not None:
            yield f"{what} {value:.4g} {unit}".rstrip()
        if name == "ammonia" and (part := un_ionised(test, seen.company)):
            yield f"of it un-ionised {wording.number(part)} mg/L"


def sparkline(values: Sequence[float], *, low: float | None = None, high: float | None = None) -> str:
    """Values as bars between a low and a high end, their own where none is given; a flat row where all are equal.

    >>> sparkline([1, 2, 3, 2, 8]), sparkline([5, 5])
    ('▁▂▃▂█', '▁▁')
    """
    shown = values[-LONGEST:]
    bottom = min(shown) if low is None else low
    top = max(shown) if high is None else high
    if top <= bottom:
        return BARS[0] * len(shown)
    steps = len(BARS) - 1
    return "".join(BARS[round((min(max(value, bottom), top) - bottom) / (top - bottom) * steps)] for value in shown)


def trends(seen: Watched) -> tuple[Trend, ...]:
    """Every quantity that was written down at least twice, group by group, then the water."""
    return (*_of_fish(seen), *_of_water(seen))


def _of_fish(seen: Watched) -> Iterator[Trend]:
    for fish in seen.company.fish:
        noted = seen.of(fish, ever=True)
        yield from _words(fish.name, "ate", noted, tuple(reversed(ATE)))
        yield from _words(fish.name, "chased", noted, CHASED)
        hurt = [float(n.entry.damage.grade) for n in noted if n.entry.damage]
        yield from _trend(fish.name, "damage", hurt, "grade", low=0, high=3, before=True)
        yield from _trend(fish.name, "length", [n.entry.length for n in noted if n.entry.length], "cm")
        yield from _trend(fish.name, "weight", [n.entry.weight for n in noted if n.entry.weight], "g")


def _of_water(seen: Watched) -> Iterator[Trend]:
    for name, what, unit in TESTS:
        values = [value for n in seen.tests if (value := getattr(n.entry.water, name)) is not None]
        yield from _trend("water", what, values, unit, low=0 if unit == "mg/L" else None)
    parts = [
        part for n in seen.tests if n.entry.water and (part := un_ionised(n.entry.water, seen.company)) is not None
    ]
    yield from _trend("water", "un-ionised", parts, "mg/L", low=0)


def _words(of: str, what: str, noted: Sequence[Noted], scale: tuple[str, ...]) -> Iterator[Trend]:
    words = [word for n in noted if (word := getattr(n.entry, what)) is not None]
    if len(words) > 1:
        bars = sparkline([float(scale.index(word)) for word in words], low=0, high=len(scale) - 1)
        yield Trend(of, what, bars, words[0], words[-1])


def _trend(
    of: str,
    what: str,
    values: Sequence[float],
    unit: str,
    *,
    low: float | None = None,
    high: float | None = None,
    before: bool = False,
) -> Iterator[Trend]:
    if len(values) > 1:
        ends = (f"{value:.3g}" for value in (values[0], values[-1]))
        first, last = (f"{unit} {end}" if before else f"{end} {unit}".strip() for end in ends)
        yield Trend(of, what, sparkline(values, low=low, high=high), first, last)
