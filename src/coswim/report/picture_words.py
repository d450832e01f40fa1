"""What a picture shows, in words, for where it cannot be seen."""

from __future__ import annotations

from itertools import pairwise

from coswim.findings import pictures
from coswim.text import wording

NOTHING = "There is nothing to show."
SPREAD_WORDS = f"{round(100 * (pictures.SPREAD[-1] - pictures.SPREAD[0]))} of 100 futures"
"""What the band around a line holds."""


def described(picture: pictures.Picture) -> str:
    """What a reader would take from the picture, in a sentence or two."""
    match picture:
        case pictures.CurvesPicture():
            return _curves(picture)
        case pictures.BarsPicture():
            return _sentence(
                [
                    f"{bar.name}: {wording.share(bar.value)}{f' ({bar.note})' if bar.note else ''}"
                    for bar in picture.bars
                ]
            )
        case pictures.WindowsPicture():
            marked = [picture.marker] if picture.marker else []
            return _sentence([window_words(each, picture.unit) for each in (*picture.windows, *marked)])
        case pictures.MonthsPicture():
            return _months(picture.shares, picture.unit)
        case pictures.FishPicture():
            return _fish(picture)


def crossings(curves: tuple[pictures.Curve, ...]) -> tuple[float, ...]:
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


def crossing_words(curves: tuple[pictures.Curve, ...]) -> str:
    """`the lines cross about month 7`; empty when they do not."""
    months = crossings(curves)
    return f"the lines cross about month {wording.listed([f'{month:.0f}' for month in months])}" if months else ""


def window_words(window: pictures.Window, unit: str) -> str:
    """`the tank: 26 C`."""
    return f"{window.name}: {span(window, unit)}"


def span(window: pictures.Window, unit: str) -> str:
    """A range with its unit, in as many digits as a reader needs."""
    return wording.span(float(f"{window.low:.3g}"), float(f"{window.high:.3g}"), unit=unit)


def _curves(picture: pictures.CurvesPicture) -> str:
    if not picture.curves:
        return NOTHING
    courses = [_course(curve, picture.unit) for curve in picture.curves]
    marked = window_words(picture.marker, picture.unit) if picture.marker else ""
    return _sentence([*courses, f"in brackets, where {SPREAD_WORDS} lie", crossing_words(picture.curves), marked])


def _course(curve: pictures.Curve, unit: str) -> str:
    ends = dict.fromkeys((0, len(curve.months) - 1))
    values = [
        f"{_value(curve.middle[i], unit)} at month {curve.months[i]:g} "
        f"({wording.number(curve.low[i])} to {wording.number(curve.high[i])})"
        for i in ends
    ]
    return f"{curve.name}: {', '.join(values)}"


def _value(value: float, unit: str) -> str:
    return f"{wording.number(value)} {unit}".rstrip()


def _months(shares: tuple[float, ...], unit: str) -> str:
    if not shares:
        return NOTHING
    last, most = len(shares) - 1, shares.index(max(shares))
    said = {0: "", last: ""} | {most: "the most, "}
    return _sentence([f"{said[month]}{wording.share(shares[month])} {unit} at month {month}" for month in sorted(said)])


def _fish(fish: pictures.FishPicture) -> str:
    return (
        f"A grown {fish.name} of {wording.number(fish.total_length)} cm, {wording.number(fish.depth)} cm deep, to "
        f"scale; the outline is that of its form ({fish.form}), not a portrait."
    )


def _sentence(parts: list[str]) -> str:
    return f"{wording.opening('; '.join(part for part in parts if part))}." if parts else NOTHING
