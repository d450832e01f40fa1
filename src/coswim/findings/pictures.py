"""Data for drawings, without any drawing: curves over the months, bars, windows on a scale."""

from __future__ import annotations

from typing import NamedTuple

from coswim.arrays import Floats
from coswim.simulation.quantiles import quantiles


class Curve(NamedTuple):
    """A quantity over the months: the middle of the draws and the span that holds 80 % of them."""

    name: str
    months: tuple[float, ...]
    low: tuple[float, ...]
    middle: tuple[float, ...]
    high: tuple[float, ...]


class Bar(NamedTuple):
    """A named share, 0 to 1, of a whole."""

    name: str
    value: float
    note: str = ""


class Window(NamedTuple):
    """A range on a scale, e.g. the temperatures one fish stands."""

    name: str
    low: float
    high: float


class Picture(NamedTuple):
    """Data for a drawing; `kind` says which: curves, bars, windows or months (share of draws by month)."""

    kind: str
    title: str
    unit: str
    curves: tuple[Curve, ...] = ()
    bars: tuple[Bar, ...] = ()
    windows: tuple[Window, ...] = ()
    marker: tuple[float, float] | None = None
    marker_name: str = ""
    shares: tuple[float, ...] = ()


SPREAD = (0.1, 0.5, 0.9)


def curve(name: str, months: Floats, values: Floats) -> Curve:
    """The median over the draws and the span that holds 80 % of them, month by month.

    Parameters: months, shape (months,); values, shape (draws, months), any unit.
    """
    return Curve(name, _floats(months), *map(_floats, quantiles(values, SPREAD)))


def _floats(values: Floats) -> tuple[float, ...]:
    return tuple(map(float, values))
