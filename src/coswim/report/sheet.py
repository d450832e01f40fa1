"""A sheet to draw on: it holds the SVG element and grows downwards as things are put on it."""

from __future__ import annotations

import unicodedata
import xml.etree.ElementTree as ET
from collections.abc import Iterator, Sequence

from coswim.report.axes import Axis, month_ticks
from coswim.text.printable import printable

WIDTH = 340.0
EDGE = 4.0
SIZE = 13.0
LINE = 17.0
DESCENT = 4.0
SWATCH = 36.0
GAP = 8.0
"""All in the unit of the drawing, about a pixel on a phone. The style sheet sets text in `SIZE`."""
DASHES = ("", "8 4", "2 3", "10 3 2 3")
MARKERS = (
    "M-3.5 0a3.5 3.5 0 1 0 7 0a3.5 3.5 0 1 0 -7 0z",
    "M-3.2 -3.2h6.4v6.4h-6.4z",
    "M0 -4.2l4 7h-8z",
    "M0 -4.6l4 4.6l-4 4.6l-4 -4.6z",
)
"""Disc, square, triangle, diamond: the second thing, after the dash, that tells one curve from another."""
NARROW, ORDINARY, CAPITAL, WIDE = 0.42, 0.66, 0.8, 1.02
"""Widths of letters, parts of the type size, no smaller than in the widest sans serif in common use.
Source: judgement, after the advance widths of DejaVu Sans."""
BEYOND_LATIN = 1.35
NARROW_LETTERS = frozenset("ijltfrI.,:;'|!()[]/- ")
WIDE_LETTERS = frozenset("mwMW@%œæŒÆ…—–")
LATIN_ENDS = "\u024f"


class Sheet:
    """A drawing in the making; `y` is how far down it has come."""

    def __init__(self, look: str, label: str) -> None:
        self.root = ET.Element("svg", {"class": f"drawing {look}", "role": "img", "aria-label": printable(label)})
        self.y = EDGE

    def add(self, tag: str, look: str, **values: float | str) -> ET.Element:
        """A shape with a look that the style sheet knows; `text_anchor` stands for `text-anchor`."""
        attributes = {name.replace("_", "-"): _written(value) for name, value in values.items()}
        return ET.SubElement(self.root, tag, {"class": look, **attributes})

    def words(self, words: str, x: float, y: float, *, look: str = "label", anchor: str = "start") -> None:
        """One line of text whose base line is at y."""
        self.add("text", look, x=x, y=y, text_anchor=anchor).text = printable(words)

    def lines(self, words: str, x: float = 0.0, *, width: float | None = None, look: str = "label") -> None:
        """Text below what is there, in as many lines as it needs."""
        for line in wrapped(words, WIDTH - x if width is None else width, SIZE):
            self.y += LINE
            self.words(line, x, self.y - DESCENT, look=look)

    def valued(self, words: str, value: str) -> None:
        """Text with a value at its right, beside the first of its lines."""
        top = self.y + LINE
        self.lines(words, width=WIDTH - text_width(value, SIZE) - GAP)
        self.words(value, WIDTH, top - DESCENT, look="label value", anchor="end")

    def key(self, words: str) -> float:
        """A line of the key; returns the height at which its sign goes."""
        middle = self.y + LINE / 2
        self.lines(words, SWATCH)
        return middle

    def line(self, look: str, start: tuple[float, float], end: tuple[float, float], *, dash: str = "") -> None:
        """A straight line from one place to another."""
        shape = self.add("line", look, x1=start[0], y1=start[1], x2=end[0], y2=end[1])
        if dash:
            shape.set("stroke-dasharray", dash)

    def marker(self, index: int, x: float, y: float) -> None:
        """The marker of the curve of that index."""
        shape = self.add("path", f"marker s{style(index)}", d=MARKERS[style(index)])
        shape.set("transform", f"translate({_written(x)} {_written(y)})")

    def scale(self, marks: Sequence[float], across: Axis, y: float) -> None:
        """Ticks with their numbers along an axis at y."""
        for mark in marks:
            self.line("axis", (across.at(mark), y), (across.at(mark), y + DESCENT))
            self.words(f"{mark:g}", across.at(mark), y + LINE, look="tick", anchor="middle")
        self.y = y + LINE

    def months(self, scale: Axis, y: float) -> None:
        """Ticks and numbers of the months under a plot whose foot is at y, and what they count."""
        self.scale(month_ticks(scale.low, scale.high), scale, y)
        self.y += LINE
        self.words("months from now", scale.end, self.y - DESCENT / 2, look="tick", anchor="end")

    def written(self) -> str:
        """The finished SVG element, for use within a page; empty when nothing was put on it."""
        if not len(self.root):
            return ""
        self.root.set("viewBox", f"0 0 {_written(WIDTH)} {_written(self.y + EDGE)}")
        return ET.tostring(self.root, encoding="unicode")


def style(index: int) -> int:
    """Which of the dashes, markers and colours the curve of that index has."""
    return index % len(DASHES)


def path(places: list[tuple[float, float]]) -> str:
    """The data of a path through places."""
    return "M" + "L".join(f"{_written(x)} {_written(y)}" for x, y in places)


def _written(value: float | str) -> str:
    return value if isinstance(value, str) else f"{round(value, 1):g}"


def text_width(words: str, size: float) -> float:
    """The width that a text needs at most, in the unit of its type size."""
    return size * sum(map(_letter_width, words))


def _letter_width(letter: str) -> float:
    if unicodedata.category(letter) in ("Mn", "Me"):
        return 0.0
    if letter in NARROW_LETTERS:
        return NARROW
    if letter in WIDE_LETTERS:
        return WIDE
    if letter > LATIN_ENDS:
        return BEYOND_LATIN
    return CAPITAL if letter.isupper() or unicodedata.category(letter)[0] == "S" else ORDINARY


def wrapped(words: str, width: float, size: float) -> tuple[str, ...]:
    """A text in lines no wider than `width`, broken between words, within a word only when it must be."""
    lines: list[str] = []
    line = ""
    for piece in (part for word in words.split() for part in _pieces(word, width, size)):
        longer = f"{line} {piece}".lstrip()
        if line and text_width(longer, size) > width:
            lines.append(line)
            line = piece
        else:
            line = longer
    return (*lines, line)


def _pieces(word: str, width: float, size: float) -> Iterator[str]:
    piece = ""
    for letter in word:
        if piece and text_width(piece + letter, size) > width:
            yield piece
            piece = ""
        piece += letter
    yield piece
