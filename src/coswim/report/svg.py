"""Pictures as inline SVG: curves with the spread of the draws, shares, ranges of water, months.

A drawing is as wide as a phone's column and grows a little on wider screens; its colours come from the
page's style sheet. Whatever colour tells is told by dash, marker or words too.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from types import MappingProxyType

from coswim.findings.pictures import Curve, Picture
from coswim.report import axes, picture_words
from coswim.report.axes import Scale
from coswim.report.sheet import DASHES, DESCENT, LINE, SIZE, SWATCH, WIDTH, Sheet, path, style
from coswim.text import wording

PLOT = 170.0
BAR = 12.0
GAP = 8.0
BETWEEN = 12.0
RING = 5.0
SLIT = 0.25
"""Part of a month's place left free between two columns."""
MOST_MARKERS = 6
HALF, WHOLE = 0.5, 1.0


def draw(picture: Picture, label: str) -> str:
    """The drawing of a picture as an SVG element for use within a page; empty when the picture holds no data.

    `label` is what those get who cannot see it. ValueError for an unknown kind and for curves with
    values that are not finite.
    """
    if picture.kind not in KINDS:
        raise ValueError(f"picture {picture.title!r}: kind {picture.kind!r} is none of {', '.join(KINDS)}")
    if not any((picture.curves, picture.bars, picture.windows, picture.shares)):
        return ""
    sheet = Sheet(picture.kind, label)
    KINDS[picture.kind](sheet, picture)
    return sheet.written()


def _curves(sheet: Sheet, picture: Picture) -> None:
    for index, curve in enumerate(picture.curves):
        middle = sheet.key(curve.name)
        sheet.line(f"curve s{style(index)}", (0, middle), (SWATCH - GAP, middle), dash=DASHES[style(index)])
        sheet.marker(index, (SWATCH - GAP) / 2, middle)
    if crossing := picture_words.crossing_words(picture.curves):
        sheet.add("circle", "ring", cx=(SWATCH - GAP) / 2, r=RING, cy=sheet.key(crossing))
    if marked := picture_words.marker_words(picture):
        half = GAP / 2 if _is_range(picture.marker) else 0.0
        middle = sheet.key(marked)
        _mark(sheet, (0, middle - half), (SWATCH - GAP, middle + half), lying=True)
    sheet.lines(f"lines: the middle of the draws; bands: {picture_words.spread_words()}", kind="tick")
    across, up = _frame(sheet, picture)
    for index, curve in enumerate(picture.curves):
        _band(sheet, index, curve, across, up)
    if picture.marker:
        bottom, top = map(up.at, picture.marker)
        _mark(sheet, (across.start, top), (across.end, bottom), lying=True)
    for index, curve in enumerate(picture.curves):
        _line(sheet, index, curve, across, up)
    for month in picture_words.crossings(picture.curves):
        _crossing(sheet, picture.curves[0], month, across, up)


def _frame(sheet: Sheet, picture: Picture) -> tuple[Scale, Scale]:
    """The axes of a plot of curves. Nought is always on them, lest a small change look large."""
    shown = [value for curve in picture.curves for value in (*curve.low, *curve.high)]
    values = [0.0, *shown, *(picture.marker or ())]
    if not all(map(math.isfinite, values)):
        raise ValueError(f"picture {picture.title!r}: a value is not finite")
    months = [month for curve in picture.curves for month in curve.months]
    return _plot(sheet, axes.ticks(min(values), max(values)), (min(months), max(months)), unit=picture.unit)


def _plot(
    sheet: Sheet, ticks: tuple[float, ...], months: tuple[float, float], *, unit: str, share: bool = False
) -> tuple[Scale, Scale]:
    """Lay a plot below what is there: unit, level lines with their values, the months. Gives its scales."""
    sheet.y += GAP
    if unit:
        sheet.lines(unit, kind="tick")
    values = [wording.share(tick) if share else f"{tick:g}" for tick in ticks]
    left = max(axes.text_width(value, SIZE) for value in values) + DESCENT
    top = sheet.y + GAP
    across = Scale(*months, left + GAP, WIDTH - max(GAP, axes.text_width(f"{months[1]:.0f}", SIZE) / 2))
    up = Scale(ticks[0], ticks[-1], top + PLOT, top)
    for tick, value in zip(ticks, values, strict=True):
        sheet.line("level", (left, up.at(tick)), (WIDTH, up.at(tick)))
        sheet.words(value, left - DESCENT, up.at(tick) + DESCENT, kind="tick", anchor="end")
    sheet.months(across, up.start)
    return across, up


def _places(curve: Curve, values: tuple[float, ...], across: Scale, up: Scale) -> list[tuple[float, float]]:
    return [(across.at(month), up.at(value)) for month, value in zip(curve.months, values, strict=True)]


def _band(sheet: Sheet, index: int, curve: Curve, across: Scale, up: Scale) -> None:
    high, low = (_places(curve, values, across, up) for values in (curve.high, curve.low))
    sheet.add("path", f"band s{style(index)}", d=path([*high, *reversed(low)]) + "z")
    for edge in (high, low):
        sheet.add("path", f"edge s{style(index)}", d=path(edge), stroke_dasharray=DASHES[style(index)] or "none")


def _line(sheet: Sheet, index: int, curve: Curve, across: Scale, up: Scale) -> None:
    places = _places(curve, curve.middle, across, up)
    sheet.add("path", f"curve s{style(index)}", d=path(places), stroke_dasharray=DASHES[style(index)] or "none")
    for place in places[:: max(1, math.ceil(len(places) / MOST_MARKERS))]:
        sheet.marker(index, *place)


def _crossing(sheet: Sheet, curve: Curve, month: float, across: Scale, up: Scale) -> None:
    """A ring where two lines cross, and a line down to the month."""
    after = next(i for i, given in enumerate(curve.months) if given >= month)
    ends = (curve.months[after - 1], curve.months[after])
    value = Scale(*ends, curve.middle[after - 1], curve.middle[after]).at(month)
    sheet.line("drop", (across.at(month), up.at(value)), (across.at(month), up.start))
    sheet.add("circle", "ring", cx=across.at(month), cy=up.at(value), r=RING)


def _bars(sheet: Sheet, picture: Picture) -> None:
    across = Scale(0.0, WHOLE, 0.0, WIDTH)
    for bar in picture.bars:
        value = wording.share(bar.value)
        top = sheet.y + LINE
        sheet.lines(bar.name, width=WIDTH - axes.text_width(value, SIZE) - GAP)
        sheet.words(value, WIDTH, top - DESCENT, kind="label value", anchor="end")
        sheet.add("rect", "track", x=0, y=sheet.y, width=WIDTH, height=BAR)
        sheet.add("rect", "bar s0", x=0, y=sheet.y, width=across.at(bar.value), height=BAR)
        sheet.y += BAR
        if bar.note:
            sheet.lines(bar.note, kind="tick")
        sheet.y += BETWEEN
    sheet.lines(f"full width: {wording.share(WHOLE)} {picture.unit}", kind="tick")


def _windows(sheet: Sheet, picture: Picture) -> None:
    values = [value for window in picture.windows for value in (window.low, window.high)] + list(picture.marker or ())
    ticks = axes.ticks(min(values), max(values))
    edge = max(axes.text_width(f"{tick:g}", SIZE) for tick in (ticks[0], ticks[-1])) / 2
    across = Scale(ticks[0], ticks[-1], edge, WIDTH - edge)
    if marked := picture_words.marker_words(picture):
        half, place = GAP if _is_range(picture.marker) else 0.0, (SWATCH - GAP) / 2
        middle = sheet.key(marked)
        _mark(sheet, (place - half, middle - GAP), (place + half, middle + GAP), lying=False)
        sheet.y += GAP
    for window in picture.windows:
        value = picture_words.span(window.low, window.high, unit=picture.unit)
        top = sheet.y + LINE
        sheet.lines(window.name, width=WIDTH - axes.text_width(value, SIZE) - GAP)
        sheet.words(value, WIDTH, top - DESCENT, kind="label value", anchor="end")
        _range(sheet, (window.low, window.high), picture.marker, across)
    _values(sheet, ticks, across)


def _range(sheet: Sheet, window: tuple[float, float], marker: tuple[float, float] | None, across: Scale) -> None:
    """One fish's range as a bar on the common scale, with what is marked laid over it."""
    low, high = map(across.at, window)
    top = sheet.y + DESCENT
    sheet.line("level", (across.start, top + BAR / 2), (across.end, top + BAR / 2))
    sheet.add("rect", "bar s0", x=low, y=top, width=max(high - low, 1.0), height=BAR)
    if marker:
        left, right = map(across.at, marker)
        _mark(sheet, (left, top - DESCENT), (right, top + BAR + DESCENT), lying=False)
    sheet.y = top + BAR + DESCENT + GAP


def _mark(sheet: Sheet, start: tuple[float, float], end: tuple[float, float], *, lying: bool) -> None:
    """What is marked: a box from corner to corner with lines at its two ends, or one line where they meet."""
    (left, top), (right, bottom) = start, end
    sheet.add("rect", "span", x=left, y=top, width=right - left, height=bottom - top)
    for kind in ("mark halo", "mark"):
        for place in dict.fromkeys((top, bottom) if lying else (left, right)):
            ends = ((left, place), (right, place)) if lying else ((place, top), (place, bottom))
            sheet.line(kind, *ends)


def _is_range(marker: tuple[float, float] | None) -> bool:
    return marker is not None and marker[0] < marker[1]


def _values(sheet: Sheet, ticks: tuple[float, ...], across: Scale) -> None:
    """The common scale at the foot of ranges."""
    sheet.line("axis", (across.start, sheet.y), (across.end, sheet.y))
    for tick in ticks:
        sheet.line("axis", (across.at(tick), sheet.y), (across.at(tick), sheet.y + DESCENT))
        sheet.words(f"{tick:g}", across.at(tick), sheet.y + LINE, kind="tick", anchor="middle")
    sheet.y += LINE


def _months(sheet: Sheet, picture: Picture) -> None:
    last = len(picture.shares) - 1
    across, up = _plot(sheet, (0.0, HALF, WHOLE), (-HALF, last + HALF), unit=f"share {picture.unit}", share=True)
    width = (across.end - across.start) / len(picture.shares)
    for month, value in enumerate(picture.shares):
        left, top = across.at(month) - width * (1 - SLIT) / 2, up.at(value)
        sheet.add("rect", "bar s0", x=left, y=top, width=width * (1 - SLIT), height=up.start - top)


KINDS: Mapping[str, Callable[[Sheet, Picture], None]] = MappingProxyType(
    {"curves": _curves, "bars": _bars, "windows": _windows, "months": _months}
)
