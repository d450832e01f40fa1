"""Data for drawings, without any drawing: one type for each picture that a report can show."""

from __future__ import annotations

from typing import NamedTuple, TypeAlias

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
    """A named range on a scale, e.g. the temperatures that one fish stands."""

    name: str
    low: float
    high: float


class CurvesPicture(NamedTuple):
    """Quantities of one unit over the months; `marker` is what they are held against."""

    title: str
    unit: str
    curves: tuple[Curve, ...]
    marker: Window | None = None


class BarsPicture(NamedTuple):
    """Shares of a whole, beside each other; `unit` says of what, e.g. `of the food`."""

    title: str
    unit: str
    bars: tuple[Bar, ...]


class WindowsPicture(NamedTuple):
    """Ranges on one scale; `marker` runs through all of them."""

    title: str
    unit: str
    windows: tuple[Window, ...]
    marker: Window | None = None


class MonthsPicture(NamedTuple):
    """A share of the draws for each month from 0 on; `unit` says of what."""

    title: str
    unit: str
    shares: tuple[float, ...]


class FishPicture(NamedTuple):
    """A fish from the side, to scale; lengths in cm. `form` is the body form of its profile."""

    name: str
    form: str
    total_length: float
    standard_length: float
    depth: float


Picture: TypeAlias = CurvesPicture | BarsPicture | WindowsPicture | MonthsPicture | FishPicture

SPREAD = (0.1, 0.5, 0.9)


def curve(name: str, months: Floats, values: Floats) -> Curve:
    """The median over the draws and the span that holds 80 % of them, month by month.

    Parameters: months, shape (months,); values, shape (draws, months), any unit.
    """
    return Curve(name, _floats(months), *map(_floats, quantiles(values, SPREAD)))


def _floats(values: Floats) -> tuple[float, ...]:
    return tuple(map(float, values))
