"""Data for drawings, without any drawing: curves over the months, bars, windows on a scale."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

import numpy as np

from coswim.simulation.luck import Floats


@dataclass(frozen=True)
class Curve:
    """A quantity over the months: the middle of the draws and the span that holds 80 % of them."""

    name: str
    months: tuple[float, ...]
    low: tuple[float, ...]
    middle: tuple[float, ...]
    high: tuple[float, ...]


@dataclass(frozen=True)
class Bar:
    """A named share, 0 to 1, of a whole."""

    name: str
    value: float
    note: str = ""


@dataclass(frozen=True)
class Window:
    """A range on a scale, e.g. the temperatures one fish stands."""

    name: str
    low: float
    high: float


@dataclass(frozen=True)
class Picture:
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


class _DrawnCurve(Curve):
    """A curve whose spread is worked out once it is looked at, which a search for remedies never does."""

    def __init__(self, name: str, months: Floats, values: Floats) -> None:
        object.__setattr__(self, "name", name)
        object.__setattr__(self, "months", _floats(months))
        object.__setattr__(self, "_values", values)

    @cached_property
    def _spread(self) -> list[tuple[float, ...]]:
        return [_floats(values) for values in _quantiles(self.__dict__["_values"], SPREAD)]

    @property
    def low(self) -> tuple[float, ...]:
        return self._spread[0]

    @property
    def middle(self) -> tuple[float, ...]:
        return self._spread[1]

    @property
    def high(self) -> tuple[float, ...]:
        return self._spread[2]


def curve(name: str, months: Floats, values: Floats) -> Curve:
    """The median over the draws and the span that holds 80 % of them, month by month.

    Parameters: months, shape (months,); values, shape (draws, months), any unit.
    """
    return _DrawnCurve(name, months, values)


def _quantiles(values: Floats, shares: tuple[float, ...]) -> list[Floats]:
    """Quantiles over the draws, on a straight line between neighbours as `numpy.quantile` has them.

    One sort serves all shares, which takes a quarter of the time.
    """
    ordered = np.sort(values, axis=0)
    places = [(len(values) - 1) * share for share in shares]
    below = [ordered[int(place)] for place in places]
    above = [ordered[min(int(place) + 1, len(values) - 1)] for place in places]
    return [low + (high - low) * (place % 1) for low, high, place in zip(below, above, places, strict=True)]


def _floats(values: Floats) -> tuple[float, ...]:
    return tuple(float(value) for value in values)
