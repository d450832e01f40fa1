"""A document with its figures in the units in which the plan was written."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial

from coswim.findings.pictures import Curve, CurvesPicture, Picture, Window, WindowsPicture
from coswim.report import document as doc
from coswim.report.document import Block, Line
from coswim.report.picture_words import described
from coswim.text.units import HOUSE, Units, in_units, scale_of


def for_keeper(document: doc.Document, units: Units) -> doc.Document:
    """The document in a keeper's units; code stays letter by letter."""
    if units == HOUSE:
        return document
    return doc.Document(in_units(document.title, units), tuple(_block(block, units) for block in document.blocks))


def _block(block: Block, units: Units) -> Block:
    match block:
        case doc.Paragraph(line):
            return doc.Paragraph(_line(line, units))
        case doc.Bullets(items):
            return doc.Bullets(tuple(_line(item, units) for item in items))
        case doc.Facts(rows):
            return doc.Facts(tuple((label, _line(said, units)) for label, said in rows))
        case doc.Table():
            return block.said(partial(in_units, units=units))
        case doc.Drawing(picture, _):
            drawn = _picture(picture, units)
            return doc.Drawing(drawn, in_units(described(drawn), units))
        case doc.Section(title, inner, role):
            return doc.Section(_line(title, units), tuple(_block(one, units) for one in inner), role)
    return block


def _line(line: Line, units: Units) -> Line:
    return tuple(span._replace(text=in_units(span.text, units)) for span in line)


def _picture(picture: Picture, units: Units) -> Picture:
    """Curves and ranges of a unit that this keeper does not use."""
    if not isinstance(picture, CurvesPicture | WindowsPicture) or (scale := scale_of(picture.unit, units)) is None:
        return picture

    def to(value: float) -> float:
        return value * scale.factor + scale.offset

    marker = _window(picture.marker, to) if picture.marker else None
    if isinstance(picture, CurvesPicture):
        return picture._replace(unit=scale.unit, curves=tuple(_curve(c, to) for c in picture.curves), marker=marker)
    windows = tuple(_window(window, to) for window in picture.windows)
    return picture._replace(unit=scale.unit, windows=windows, marker=marker)


def _window(window: Window, to: Callable[[float], float]) -> Window:
    return window._replace(low=to(window.low), high=to(window.high))


def _curve(curve: Curve, to: Callable[[float], float]) -> Curve:
    low, middle, high = (tuple(map(to, values)) for values in (curve.low, curve.middle, curve.high))
    return curve._replace(low=low, middle=middle, high=high)
