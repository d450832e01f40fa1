"""Pictures as lines of text: bars, month scales, small curves and ranges, in block characters or in ASCII.

Heights and lengths start at zero, so that twice as much ink is twice as much. The numbers stand beside
the ink; nothing has to be read off it. Ink has the role 'ink', scales are 'quiet'.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator

from coswim.findings.pictures import Curve, Picture
from coswim.report.document import Line, Span, text
from coswim.report.drawing_parts import BLOCKS, SHORTEST, SIGNS, Ink, MonthScale, columns, length_of, named, ticks
from coswim.report.escaping import cells
from coswim.report.wrapping import fill
from coswim.text import wording
from coswim.text.printable import one_line

GAP = "  "
SPREAD_NOTE = "(80 % of draws)"


def draw(
    picture: Picture, width: int, *, ascii_only: bool = False, words: Callable[[str], str] = one_line
) -> tuple[Line, ...]:
    """The picture under its title, no wider than `width`; nothing where it has no data or too little room.

    `words` makes names safe for the format.
    """
    drawers = {"months": _months, "bars": _bars, "windows": _windows, "curves": _curves}
    ink = SIGNS if ascii_only else BLOCKS
    drawer = drawers.get(picture.kind)
    safe = _with(words, picture)
    lines = tuple(drawer(safe, width, ink)) if drawer else ()
    return (*fill(_title(safe), width), *lines) if lines else ()


def _with(words: Callable[[str], str], picture: Picture) -> Picture:
    return picture._replace(
        title=words(picture.title),
        unit=words(picture.unit),
        marker_name=words(picture.marker_name),
        curves=tuple(Curve(words(c.name), c.months, c.low, c.middle, c.high) for c in picture.curves),
        bars=tuple(bar._replace(name=words(bar.name), note=words(bar.note)) for bar in picture.bars),
        windows=tuple(window._replace(name=words(window.name)) for window in picture.windows),
    )


def _title(picture: Picture) -> Line:
    states_unit = picture.unit and picture.kind in ("curves", "windows")
    return text(f"{picture.title} ({picture.unit})" if states_unit else picture.title, "strong")


def _months(picture: Picture, width: int, ink: Ink) -> Iterator[Line]:
    """Bars over the months with the first and the last share beside them."""
    if not picture.shares:
        return
    first, last = wording.share(picture.shares[0]), wording.share(picture.shares[-1])
    left = max(cells(first), len(MonthScale.NAME))
    scale = MonthScale.fitting(len(picture.shares) - 1, width - left - 2 - len(last))
    if scale.is_too_short:
        return
    rows = columns([max(picture.shares[m] for m in months) for months in scale.spans()], ink)
    for number, row in enumerate(rows, start=1):
        is_base = number == len(rows)
        yield (Span(f"{first if is_base else '':>{left}} "), Span(row, "ink"), Span(f" {last}" if is_base else ""))
    yield text(f"{MonthScale.NAME:>{left}} {scale.labels()}", "quiet")


def _curves(picture: Picture, width: int, ink: Ink) -> Iterator[Line]:
    """A row for each curve, all on one scale from zero, with its first and last value."""
    curves = [curve for curve in picture.curves if curve.months]
    if not curves:
        return
    last_month = int(max(curve.months[-1] for curve in curves))
    names = named([curve.name for curve in curves] + [picture.marker_name] * bool(picture.marker), width)
    firsts = [wording.number(curve.middle[0]) for curve in curves]
    lasts = [_last(curve, ink) for curve in curves]
    left = max(map(cells, (*firsts, MonthScale.NAME)))
    before = names.width + len(GAP) + left + 1
    scale = MonthScale.fitting(last_month, width - before - 1 - max(map(cells, (*lasts, SPREAD_NOTE))))
    if scale.is_too_short:
        return
    limit = picture.marker[1] if picture.marker else 0.0
    top = max(limit, *(value for curve in curves for value in curve.middle))
    for index, curve in enumerate(curves):
        drawn = columns([value / top if top > 0 else 0.0 for value in scale.values(curve)], ink)
        if index and ink.rows > 1:
            yield ()
        for row in drawn[:-1]:
            yield (Span(" " * before), Span(row, "ink"))
        yield from names.beside(
            index, (Span(f"{firsts[index]:>{left}} "), Span(drawn[-1], "ink"), Span(f" {lasts[index]}"))
        )
    if picture.marker:
        low, high = picture.marker
        yield from names.beside(len(curves), text(f"{' ' * left} {_span(low, high, picture, ink)}", "quiet"))
    yield text(f"{MonthScale.NAME:>{before - 1}} {scale.labels()} {SPREAD_NOTE}", "quiet")


def _last(curve: Curve, ink: Ink) -> str:
    low, middle, high = (wording.number(values[-1]) for values in (curve.low, curve.middle, curve.high))
    return f"{middle} ({low}{ink.dash}{high})"


def _bars(picture: Picture, width: int, ink: Ink) -> Iterator[Line]:
    """A bar of the whole for each share, with its percent and its note."""
    if not picture.bars:
        return
    names = named([bar.name for bar in picture.bars], width)
    shares = [wording.share(bar.value) for bar in picture.bars]
    numbers = max(map(cells, shares))
    notes = max(cells(bar.note) for bar in picture.bars)
    room = width - names.width - len(GAP) - 1 - numbers
    beside = bool(notes) and room - notes - len(GAP) >= SHORTEST
    room -= notes + len(GAP) if beside else 0
    if room < SHORTEST:
        return
    for index, bar in enumerate(picture.bars):
        drawn = length_of(bar.value, min(room, ink.longest), ink)
        rest = ink.rest * (min(room, ink.longest) - len(drawn))
        note = f"{GAP}{bar.note}" if beside and bar.note else ""
        line = (Span(drawn, "ink"), Span(rest, "quiet"), Span(f" {shares[index]:>{numbers}}{note}"))
        yield from names.beside(index, line)
        if bar.note and not beside:
            margin = " " * (names.width + len(GAP))
            yield from fill(text(bar.note), width, first=margin, hanging=margin)


def _windows(picture: Picture, width: int, ink: Ink) -> Iterator[Line]:
    """A line for each range over one scale; the tank's value runs through all of them."""
    if not picture.windows:
        return
    ends = [(window.low, window.high) for window in picture.windows]
    if picture.marker:
        ends.append(picture.marker)
    words = [_span(low, high, picture, ink) for low, high in ends]
    names = named([window.name for window in picture.windows] + [picture.marker_name] * bool(picture.marker), width)
    room = min(ink.longest, width - names.width - 2 * len(GAP) - max(map(cells, words)))
    if room < SHORTEST:
        return
    scale = ticks(min(low for low, _ in ends), max(high for _, high in ends), room)
    marked = {scale.column(value) for value in picture.marker or ()}
    if picture.marker:
        tank = "".join(ink.points_down if at in marked else " " for at in range(room))
        yield from names.beside(len(ends) - 1, (Span(tank, "strong"), Span(f"{GAP}{words[-1]}")))
    for index, window in enumerate(picture.windows):
        low, high = scale.column(window.low), scale.column(window.high)
        track = "".join(ink.range_sign(at, low, high, marked=at in marked) for at in range(room))
        yield from names.beside(index, (Span(track, "ink"), Span(f"{GAP}{words[index]}")))
    yield text(f"{' ' * (names.width + len(GAP))}{scale.labels()}".rstrip(), "quiet")


def _span(low: float, high: float, picture: Picture, ink: Ink) -> str:
    return wording.span(low, high, unit=picture.unit).replace("–", ink.dash)
