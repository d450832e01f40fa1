"""Pictures as inline SVG: curves with the spread of the draws, shares, ranges of water, months, a fish.

A drawing is as wide as a phone's column and grows a little on wider screens; its colours come from the
page's style sheet. Whatever colour tells is told by dash, marker or words too.
"""

from __future__ import annotations

import math

from coswim.findings import pictures
from coswim.report import fish_sketch, picture_words
from coswim.report.axes import Axis, ticks
from coswim.report.fish_sketch import BAR_CM, BAR_WORDS
from coswim.report.sheet import DASHES, DESCENT, GAP, SIZE, SWATCH, WIDTH, Sheet, path, style, text_width
from coswim.text import wording

PLOT = 170.0
BAR = 12.0
BETWEEN = 12.0
RING = 5.0
SLIT = 0.25
"""Part of a month's place left free between two columns."""
MOST_MARKERS = 6
OUTLINE_STEPS = 80
EYE = 1.5
HALF, WHOLE = 0.5, 1.0


def draw(picture: pictures.Picture, label: str) -> str:
    """The drawing of a picture as an SVG element for use within a page; empty when the picture holds no data.

    `label` is what those get who cannot see it. ValueError for curves with values that are not finite.
    """
    sheet = Sheet(type(picture).__name__.removesuffix("Picture").lower(), label)
    match picture:
        case pictures.CurvesPicture():
            _curves(sheet, picture)
        case pictures.BarsPicture():
            _bars(sheet, picture)
        case pictures.WindowsPicture():
            _windows(sheet, picture)
        case pictures.MonthsPicture():
            _months(sheet, picture)
        case pictures.FishPicture():
            _fish(sheet, picture)
    return sheet.written()


def _curves(sheet: Sheet, picture: pictures.CurvesPicture) -> None:
    if not picture.curves:
        return
    for index, curve in enumerate(picture.curves):
        middle = sheet.key(curve.name)
        sheet.line(f"curve s{style(index)}", (0, middle), (SWATCH - GAP, middle), dash=DASHES[style(index)])
        sheet.marker(index, (SWATCH - GAP) / 2, middle)
    if crossing := picture_words.crossing_words(picture.curves):
        sheet.add("circle", "ring", cx=(SWATCH - GAP) / 2, r=RING, cy=sheet.key(crossing))
    if picture.marker:
        half = GAP / 2 if picture.marker.low < picture.marker.high else 0.0
        middle = sheet.key(picture_words.window_words(picture.marker, picture.unit))
        _mark(sheet, (0, middle - half), (SWATCH - GAP, middle + half), lying=True)
    sheet.lines(f"lines: the middle of the futures; bands: {picture_words.SPREAD_WORDS}", look="tick")
    across, up = _frame(sheet, picture)
    for index, curve in enumerate(picture.curves):
        _band(sheet, index, curve, across, up)
    if picture.marker:
        bottom, top = up.at(picture.marker.low), up.at(picture.marker.high)
        _mark(sheet, (across.start, top), (across.end, bottom), lying=True)
    for index, curve in enumerate(picture.curves):
        _line(sheet, index, curve, across, up)
    for month in picture_words.crossings(picture.curves):
        _crossing(sheet, picture.curves[0], month, across, up)


def _frame(sheet: Sheet, picture: pictures.CurvesPicture) -> tuple[Axis, Axis]:
    """The axes of a plot of curves. Nought is always on them, lest a small change look large."""
    marked = [picture.marker.low, picture.marker.high] if picture.marker else []
    values = [0.0, *marked, *(value for curve in picture.curves for value in (*curve.low, *curve.high))]
    if not all(map(math.isfinite, values)):
        raise ValueError(f"picture {picture.title!r}: a value is not finite")
    months = [month for curve in picture.curves for month in curve.months]
    return _plot(sheet, ticks(min(values), max(values)), (min(months), max(months)), unit=picture.unit)


def _plot(
    sheet: Sheet, levels: tuple[float, ...], months: tuple[float, float], *, unit: str, share: bool = False
) -> tuple[Axis, Axis]:
    """Lay a plot below what is there: unit, level lines with their values, the months. Gives its scales."""
    sheet.y += GAP
    if unit:
        sheet.lines(unit, look="tick")
    values = [wording.share(level) if share else f"{level:g}" for level in levels]
    left = max(text_width(value, SIZE) for value in values) + DESCENT
    top = sheet.y + GAP
    across = Axis(*months, left + GAP, WIDTH - max(GAP, text_width(f"{months[1]:.0f}", SIZE) / 2))
    up = Axis(levels[0], levels[-1], top + PLOT, top)
    for level, value in zip(levels, values, strict=True):
        sheet.line("level", (left, up.at(level)), (WIDTH, up.at(level)))
        sheet.words(value, left - DESCENT, up.at(level) + DESCENT, look="tick", anchor="end")
    sheet.months(across, up.start)
    return across, up


def _places(curve: pictures.Curve, values: tuple[float, ...], across: Axis, up: Axis) -> list[tuple[float, float]]:
    return [(across.at(month), up.at(value)) for month, value in zip(curve.months, values, strict=True)]


def _band(sheet: Sheet, index: int, curve: pictures.Curve, across: Axis, up: Axis) -> None:
    high, low = (_places(curve, values, across, up) for values in (curve.high, curve.low))
    sheet.add("path", f"band s{style(index)}", d=path([*high, *reversed(low)]) + "z")
    for edge in (high, low):
        sheet.add("path", f"edge s{style(index)}", d=path(edge), stroke_dasharray=DASHES[style(index)] or "none")


def _line(sheet: Sheet, index: int, curve: pictures.Curve, across: Axis, up: Axis) -> None:
    places = _places(curve, curve.middle, across, up)
    sheet.add("path", f"curve s{style(index)}", d=path(places), stroke_dasharray=DASHES[style(index)] or "none")
    for place in places[:: max(1, math.ceil(len(places) / MOST_MARKERS))]:
        sheet.marker(index, *place)


def _crossing(sheet: Sheet, curve: pictures.Curve, month: float, across: Axis, up: Axis) -> None:
    """A ring where two lines cross, and a line down to the month."""
    after = next(i for i, given in enumerate(curve.months) if given >= month)
    ends = (curve.months[after - 1], curve.months[after])
    value = Axis(*ends, curve.middle[after - 1], curve.middle[after]).at(month)
    sheet.line("drop", (across.at(month), up.at(value)), (across.at(month), up.start))
    sheet.add("circle", "ring", cx=across.at(month), cy=up.at(value), r=RING)


def _bars(sheet: Sheet, picture: pictures.BarsPicture) -> None:
    if not picture.bars:
        return
    across = Axis(0.0, WHOLE, 0.0, WIDTH)
    for bar in picture.bars:
        sheet.valued(bar.name, wording.share(bar.value))
        sheet.add("rect", "track", x=0, y=sheet.y, width=WIDTH, height=BAR)
        sheet.add("rect", "bar s0", x=0, y=sheet.y, width=across.at(bar.value), height=BAR)
        sheet.y += BAR
        if bar.note:
            sheet.lines(bar.note, look="tick")
        sheet.y += BETWEEN
    sheet.lines(f"full width: {wording.share(WHOLE)} {picture.unit}", look="tick")


def _windows(sheet: Sheet, picture: pictures.WindowsPicture) -> None:
    if not picture.windows:
        return
    marker = picture.marker
    ranges = [*picture.windows, *([marker] if marker else [])]
    marks = ticks(min(each.low for each in ranges), max(each.high for each in ranges))
    edge = max(text_width(f"{mark:g}", SIZE) for mark in (marks[0], marks[-1])) / 2
    across = Axis(marks[0], marks[-1], edge, WIDTH - edge)
    if marker:
        half, place = GAP if marker.low < marker.high else 0.0, (SWATCH - GAP) / 2
        middle = sheet.key(picture_words.window_words(marker, picture.unit))
        _mark(sheet, (place - half, middle - GAP), (place + half, middle + GAP), lying=False)
        sheet.y += GAP
    for window in picture.windows:
        sheet.valued(window.name, picture_words.span(window, picture.unit))
        _range(sheet, window, marker, across)
    sheet.line("axis", (across.start, sheet.y), (across.end, sheet.y))
    sheet.scale(marks, across, sheet.y)


def _range(sheet: Sheet, window: pictures.Window, marker: pictures.Window | None, across: Axis) -> None:
    """One fish's range as a bar on the common scale, with what is marked laid over it."""
    low, high = across.at(window.low), across.at(window.high)
    top = sheet.y + DESCENT
    sheet.line("level", (across.start, top + BAR / 2), (across.end, top + BAR / 2))
    sheet.add("rect", "bar s0", x=low, y=top, width=max(high - low, 1.0), height=BAR)
    if marker:
        left, right = across.at(marker.low), across.at(marker.high)
        _mark(sheet, (left, top - DESCENT), (right, top + BAR + DESCENT), lying=False)
    sheet.y = top + BAR + DESCENT + GAP


def _mark(sheet: Sheet, start: tuple[float, float], end: tuple[float, float], *, lying: bool) -> None:
    """What is marked: a box from corner to corner with lines at its two ends, or one line where they meet."""
    (left, top), (right, bottom) = start, end
    sheet.add("rect", "span", x=left, y=top, width=right - left, height=bottom - top)
    for look in ("mark halo", "mark"):
        for place in dict.fromkeys((top, bottom) if lying else (left, right)):
            ends = ((left, place), (right, place)) if lying else ((place, top), (place, bottom))
            sheet.line(look, *ends)


def _months(sheet: Sheet, picture: pictures.MonthsPicture) -> None:
    if not picture.shares:
        return
    last = len(picture.shares) - 1
    across, up = _plot(sheet, (0.0, HALF, WHOLE), (-HALF, last + HALF), unit=f"share {picture.unit}", share=True)
    width = (across.end - across.start) / len(picture.shares)
    for month, value in enumerate(picture.shares):
        left, top = across.at(month) - width * (1 - SLIT) / 2, up.at(value)
        sheet.add("rect", "bar s0", x=left, y=top, width=width * (1 - SLIT), height=up.start - top)


def _fish(sheet: Sheet, fish: pictures.FishPicture) -> None:
    """The outline, facing left, above a bar of 10 cm in the same scale."""
    across = Axis(0.0, max(fish.total_length, BAR_CM), GAP, WIDTH - GAP)
    per_cm = across.at(1.0) - across.at(0.0)
    places = [fish.total_length * step / OUTLINE_STEPS for step in range(OUTLINE_STEPS + 1)]
    half = [(x, fish_sketch.height(fish, x) / 2) for x in places]
    fork = [(x, size / 2) for x in places if (size := fish_sketch.notch(fish, x)) > 0]
    highest = max(size for _, size in half) * per_cm
    middle = sheet.y + highest
    back, above, below, belly = (
        [(across.at(x), middle + side * size * per_cm) for x, size in edge]
        for edge, side in ((half, -1), (fork, -1), (fork, 1), (half, 1))
    )
    sheet.add("path", "bar s0", d=path([*back, *reversed(above), *below, *reversed(belly)]) + "z")
    eye = across.at(fish_sketch.EYE_BEHIND * fish.standard_length)
    sheet.add("circle", "ring", cx=eye, cy=middle - fish_sketch.EYE_ABOVE * fish.depth * per_cm, r=EYE)
    sheet.y = middle + highest + GAP
    sheet.line("axis", (across.start, sheet.y), (across.at(BAR_CM), sheet.y))
    sheet.lines(BAR_WORDS.strip(), across.start, look="tick")
