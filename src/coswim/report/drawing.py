"""Pictures as lines of text: bars, months, small curves, ranges and a fish, in block characters or in ASCII.

Heights and lengths start at zero, so that twice as much ink is twice as much. The numbers stand beside
the ink; nothing has to be read off it. Ink has the role 'ink', scales are 'quiet'.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator

from coswim.findings import pictures
from coswim.report import drawing_parts as parts
from coswim.report.document import Line, Span, text
from coswim.report.fish_sketch import sketch
from coswim.report.wrapping import cells, fill
from coswim.text import wording
from coswim.text.printable import one_line

SPREAD_NOTE = "(80 of 100)"


def draw(
    picture: pictures.Picture, width: int, *, ascii_only: bool = False, words: Callable[[str], str] = one_line
) -> tuple[Line, ...]:
    """The picture under its title, no wider than `width`; nothing where it has no data or too little room.

    `words` makes names safe for the format.
    """
    title, lines = _drawn(_with(words, picture), parts.SIGNS if ascii_only else parts.BLOCKS, width)
    drawn = tuple(lines)
    return (*(fill(text(title, "strong"), width) if title else ()), *drawn) if drawn else ()


def _with(words: Callable[[str], str], picture: pictures.Picture) -> pictures.Picture:
    """The picture with its texts made safe."""

    def window(given: pictures.Window) -> pictures.Window:
        return given._replace(name=words(given.name))

    match picture:
        case pictures.CurvesPicture(title, unit, curves, marker):
            safe = tuple(curve._replace(name=words(curve.name)) for curve in curves)
            return pictures.CurvesPicture(words(title), words(unit), safe, marker and window(marker))
        case pictures.BarsPicture(title, unit, bars):
            return pictures.BarsPicture(
                words(title),
                words(unit),
                tuple(pictures.Bar(words(bar.name), bar.value, words(bar.note)) for bar in bars),
            )
        case pictures.WindowsPicture(title, unit, windows, marker):
            return pictures.WindowsPicture(
                words(title), words(unit), tuple(map(window, windows)), marker and window(marker)
            )
        case pictures.MonthsPicture(title, unit, shares):
            return pictures.MonthsPicture(words(title), words(unit), shares)
        case pictures.FishPicture():
            return picture


def _drawn(picture: pictures.Picture, ink: parts.Ink, width: int) -> tuple[str, Iterator[Line]]:
    """The title and the lines below it."""
    match picture:
        case pictures.CurvesPicture():
            return _with_unit(picture), _curves(picture, width, ink)
        case pictures.BarsPicture():
            return picture.title, _bars(picture.bars, width, ink)
        case pictures.WindowsPicture():
            return _with_unit(picture), _windows(picture, width, ink)
        case pictures.MonthsPicture():
            return picture.title, _months(picture.shares, width, ink)
        case pictures.FishPicture():
            return "", sketch(picture, width, ink)


def _with_unit(picture: pictures.CurvesPicture | pictures.WindowsPicture) -> str:
    return f"{picture.title} ({picture.unit})" if picture.unit else picture.title


def _months(shares: tuple[float, ...], width: int, ink: parts.Ink) -> Iterator[Line]:
    """Bars over the months with the first and the last share beside them."""
    if not shares:
        return
    first, last = wording.share(shares[0]), wording.share(shares[-1])
    left = max(cells(first), len(parts.MonthColumns.NAME))
    scale = parts.MonthColumns.fitting(len(shares) - 1, width - left - 2 - len(last))
    if scale.is_too_short:
        return
    rows = parts.columns([max(shares[m] for m in months) for months in scale.spans()], ink)
    for number, row in enumerate(rows, start=1):
        is_base = number == len(rows)
        yield (Span(f"{first if is_base else '':>{left}} "), Span(row, "ink"), Span(f" {last}" if is_base else ""))
    yield text(f"{parts.MonthColumns.NAME:>{left}} {scale.labels()}", "quiet")


def _curves(picture: pictures.CurvesPicture, width: int, ink: parts.Ink) -> Iterator[Line]:
    """A row for each curve, all on one scale from zero, with its first and last value."""
    curves, marker = [curve for curve in picture.curves if curve.months], picture.marker
    if not curves:
        return
    last_month = int(max(curve.months[-1] for curve in curves))
    names = parts.named([curve.name for curve in curves] + ([marker.name] if marker else []), width)
    firsts = [wording.number(curve.middle[0]) for curve in curves]
    lasts = [_last(curve, ink) for curve in curves]
    left = max(map(cells, (*firsts, parts.MonthColumns.NAME)))
    before = names.width + len(parts.GAP) + left + 1
    scale = parts.MonthColumns.fitting(last_month, width - before - 1 - max(map(cells, (*lasts, SPREAD_NOTE))))
    if scale.is_too_short:
        return
    top = max(marker.high if marker else 0.0, *(value for curve in curves for value in curve.middle))
    for index, curve in enumerate(curves):
        drawn = parts.columns([value / top if top > 0 else 0.0 for value in scale.values(curve)], ink)
        if index and ink.rows > 1:
            yield ()
        for row in drawn[:-1]:
            yield (Span(" " * before), Span(row, "ink"))
        yield from names.beside(
            index, (Span(f"{firsts[index]:>{left}} "), Span(drawn[-1], "ink"), Span(f" {lasts[index]}"))
        )
    if marker:
        yield from names.beside(len(curves), text(f"{' ' * left} {_span(marker, picture.unit, ink)}", "quiet"))
    yield text(f"{parts.MonthColumns.NAME:>{before - 1}} {scale.labels()} {SPREAD_NOTE}", "quiet")


def _last(curve: pictures.Curve, ink: parts.Ink) -> str:
    low, middle, high = (wording.number(values[-1]) for values in (curve.low, curve.middle, curve.high))
    return f"{middle} ({low}{ink.dash}{high})"


def _bars(bars: tuple[pictures.Bar, ...], width: int, ink: parts.Ink) -> Iterator[Line]:
    """A bar of the whole for each share, with its percent and its note."""
    if not bars:
        return
    names = parts.named([bar.name for bar in bars], width)
    shares = [wording.share(bar.value) for bar in bars]
    numbers = max(map(cells, shares))
    notes = max(cells(bar.note) for bar in bars)
    room = width - names.width - len(parts.GAP) - 1 - numbers
    beside = bool(notes) and room - notes - len(parts.GAP) >= parts.SHORTEST
    room -= notes + len(parts.GAP) if beside else 0
    if room < parts.SHORTEST:
        return
    for index, bar in enumerate(bars):
        drawn = parts.length_of(bar.value, min(room, ink.longest), ink)
        rest = ink.rest * (min(room, ink.longest) - len(drawn))
        note = f"{parts.GAP}{bar.note}" if beside and bar.note else ""
        line = (Span(drawn, "ink"), Span(rest, "quiet"), Span(f" {shares[index]:>{numbers}}{note}"))
        yield from names.beside(index, line)
        if bar.note and not beside:
            margin = " " * (names.width + len(parts.GAP))
            yield from fill(text(bar.note), width, first=margin, hanging=margin)


def _windows(picture: pictures.WindowsPicture, width: int, ink: parts.Ink) -> Iterator[Line]:
    """A line for each range over one scale; what is marked runs through all of them."""
    if not picture.windows:
        return
    marker = picture.marker
    ranges = [*picture.windows, *([marker] if marker else [])]
    words = [_span(each, picture.unit, ink) for each in ranges]
    names = parts.named([each.name for each in ranges], width)
    room = min(ink.longest, width - names.width - 2 * len(parts.GAP) - max(map(cells, words)))
    if room < parts.SHORTEST:
        return
    line = parts.NumberLine(min(each.low for each in ranges), max(each.high for each in ranges), room)
    marked = {line.column(marker.low), line.column(marker.high)} if marker else set()
    if marker:
        points = "".join(ink.points_down if at in marked else " " for at in range(room))
        yield from names.beside(len(ranges) - 1, (Span(points, "strong"), Span(f"{parts.GAP}{words[-1]}")))
    for index, window in enumerate(picture.windows):
        low, high = line.column(window.low), line.column(window.high)
        track = "".join(ink.range_sign(at, low, high, marked=at in marked) for at in range(room))
        yield from names.beside(index, (Span(track, "ink"), Span(f"{parts.GAP}{words[index]}")))
    yield text(f"{' ' * (names.width + len(parts.GAP))}{line.labels()}".rstrip(), "quiet")


def _span(shown: pictures.Window, unit: str, ink: parts.Ink) -> str:
    return wording.span(shown.low, shown.high, unit=unit).replace("–", ink.dash)
