"""What a picture shows, in words, for where it cannot be seen."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from itertools import pairwise
from types import MappingProxyType

from coswim.findings.pictures import SPREAD, Curve, Picture
from coswim.text import wording


def described(picture: Picture) -> str:
    """What a reader would take from the picture, in a sentence or two; ValueError for an unknown kind."""
    if picture.kind not in KINDS:
        raise ValueError(f"picture {picture.title!r}: kind {picture.kind!r} is none of {', '.join(KINDS)}")
    if not any((picture.curves, picture.bars, picture.windows, picture.shares)):
        return "There is nothing to show."
    return KINDS[picture.kind](picture)


def crossings(curves: tuple[Curve, ...]) -> tuple[float, ...]:
    """The months at which the middle lines of two curves change places; none unless there are two.

    Between the given months the lines are taken as straight.
    """
    if len(curves) != 2 or curves[0].months != curves[1].months:
        return ()
    months = curves[0].months
    gaps = [a - b for a, b in zip(curves[0].middle, curves[1].middle, strict=True)]
    return tuple(
        months[i] + (months[j] - months[i]) * gaps[i] / (gaps[i] - gaps[j])
        for i, j in pairwise(range(len(months)))
        if gaps[i] * gaps[j] < 0 or (gaps[j] == 0 != gaps[i])
    )


def crossing_words(curves: tuple[Curve, ...]) -> str:
    """`the lines cross about month 7`; empty when they do not."""
    months = crossings(curves)
    return f"the lines cross about month {wording.listed([f'{month:.0f}' for month in months])}" if months else ""


def marker_words(picture: Picture) -> str:
    """`the tank: 26 C`; empty when nothing is marked."""
    if picture.marker is None:
        return ""
    return f"{picture.marker_name}: {span(*picture.marker, unit=picture.unit)}"


def span(low: float, high: float, *, unit: str) -> str:
    """A range with its unit, in as many digits as a reader needs."""
    return wording.span(float(f"{low:.3g}"), float(f"{high:.3g}"), unit=unit)


def spread_words() -> str:
    """What the band around a line holds."""
    return f"{wording.share(SPREAD[-1] - SPREAD[0])} of the draws"


def _curves(picture: Picture) -> str:
    courses = [_course(curve, picture.unit) for curve in picture.curves]
    bracketed = f"in brackets, where {spread_words()} lie"
    return _sentences([*courses, bracketed, crossing_words(picture.curves), marker_words(picture)])


def _course(curve: Curve, unit: str) -> str:
    ends = dict.fromkeys((0, len(curve.months) - 1))
    values = [
        f"{_value(curve.middle[i], unit)} at month {curve.months[i]:g} "
        f"({wording.number(curve.low[i])} to {wording.number(curve.high[i])})"
        for i in ends
    ]
    return f"{curve.name}: {', '.join(values)}"


def _value(value: float, unit: str) -> str:
    return f"{wording.number(value)} {unit}".rstrip()


def _bars(picture: Picture) -> str:
    return _sentences(
        [f"{bar.name}: {wording.share(bar.value)}{f' ({bar.note})' if bar.note else ''}" for bar in picture.bars]
    )


def _windows(picture: Picture) -> str:
    ranges = [f"{window.name}: {span(window.low, window.high, unit=picture.unit)}" for window in picture.windows]
    return _sentences([*ranges, marker_words(picture)])


def _months(picture: Picture) -> str:
    shares = picture.shares
    last, most = len(shares) - 1, shares.index(max(shares))
    said = {0: "", last: ""} | {most: "the most, "}
    return _sentences(
        [f"{said[month]}{wording.share(shares[month])} {picture.unit} at month {month}" for month in sorted(said)]
    )


def _sentences(parts: list[str]) -> str:
    return f"{wording.opening('; '.join(part for part in parts if part))}."


KINDS: Mapping[str, Callable[[Picture], str]] = MappingProxyType(
    {"curves": _curves, "bars": _bars, "windows": _windows, "months": _months}
)
