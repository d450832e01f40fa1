"""A fish from the side, drawn to scale with characters beside a bar of 10 cm.

The length, the standard length and the greatest depth are the profile's; the outline between them is
that of the body form and no portrait. Two square dots share a character, one above the other.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from types import MappingProxyType

COLUMNS = 60
BAR_CM = 10.0
FAN = 0.6
"""Height of the tail fin's end over the depth of the body, at least as high as the tail base."""
LEAST_TAIL = 0.35
DOTS = " ▀▄█"
PLAIN_DOTS = " '.#"
BAR_SIGNS, PLAIN_BAR_SIGNS = "├─┤", "|-|"


@dataclass(frozen=True)
class Outline:
    """Where a body form is deepest, how full it is before and behind, how high its tail base and how deep its fork."""

    deepest: float
    fore: float
    aft: float
    tail_base: float
    fork: float


OUTLINES: Mapping[str, Outline] = MappingProxyType(
    {
        "eel-like": Outline(0.3, 0.3, 0.5, 0.4, 0.0),
        "elongated": Outline(0.4, 0.4, 0.7, 0.5, 0.0),
        "fusiform": Outline(0.4, 0.6, 1.1, 0.35, 0.6),
        "short-deep": Outline(0.45, 0.7, 0.8, 0.2, 0.35),
    }
)
"""Judgement: what such fish look like."""


@dataclass(frozen=True)
class Shape:
    """What the sketch needs of a fish; lengths in cm."""

    form: str
    total_length: float
    standard_length: float
    depth: float


def sketch(shape: Shape, *, ascii_only: bool = False) -> str:
    """The fish, facing left, above the bar; both in one scale, as large as fits 60 columns."""
    cm_per_dot = max(shape.total_length, BAR_CM) / COLUMNS
    dots = _dots(shape, cm_per_dot)
    rows = [_row(pair, PLAIN_DOTS if ascii_only else DOTS) for pair in zip(dots[::2], dots[1::2], strict=True)]
    return "\n".join((*rows, "", _bar(cm_per_dot, PLAIN_BAR_SIGNS if ascii_only else BAR_SIGNS)))


def _dots(shape: Shape, cm_per_dot: float) -> list[list[bool]]:
    """Rows of dots from the top, an even number; the middle line runs between two of them."""
    places = [(column + 0.5) * cm_per_dot for column in range(max(2, round(shape.total_length / cm_per_dot)))]
    heights = [_height(shape, x) / cm_per_dot / 2 for x in places]
    forks = [min(_fork(shape, x) / cm_per_dot / 2, high - 1) for x, high in zip(places, heights, strict=True)]
    half = max(2, math.ceil(max(heights) - 0.5)) + 1 & ~1
    rows = [
        [fork <= abs(row - half + 0.5) < max(height, 0.51) for height, fork in zip(heights, forks, strict=True)]
        for row in range(2 * half)
    ]
    eye = round(0.09 * shape.standard_length / cm_per_dot)
    above = half - 1 - round(max(heights) / 4)
    if max(heights) > 2 and rows[above][eye]:
        rows[above][eye] = False
    return rows


def _height(shape: Shape, x: float) -> float:
    """How high the fish is, x cm behind the snout."""
    outline = OUTLINES[shape.form]
    along = x / shape.standard_length
    if along <= 1:
        return shape.depth * _fullness(outline, along)
    base = shape.depth * outline.tail_base
    end = max(base, shape.depth * FAN, LEAST_TAIL * (shape.total_length - shape.standard_length))
    return base + (end - base) * (x - shape.standard_length) / max(shape.total_length - shape.standard_length, 1e-9)


def _fork(shape: Shape, x: float) -> float:
    """How wide the notch of the tail is, x cm behind the snout."""
    tail = shape.total_length - shape.standard_length
    behind = (x - shape.standard_length) / tail if tail > 0 else 0.0
    inside = max(0.0, 2 * behind - 1)  # the notch reaches half way in
    return OUTLINES[shape.form].fork * inside * _height(shape, x)


def _fullness(outline: Outline, along: float) -> float:
    """Height over greatest height, `along` from 0 (snout) to 1 (tail base)."""
    if along < outline.deepest:
        return math.pow(1 - (1 - along / outline.deepest) ** 2, outline.fore)
    behind = (along - outline.deepest) / (1 - outline.deepest)
    return outline.tail_base + (1 - outline.tail_base) * math.pow(1 - behind**2, outline.aft)


def _row(pair: Sequence[Sequence[bool]], signs: str) -> str:
    return "".join(signs[above + 2 * below] for above, below in zip(*pair, strict=True)).rstrip()


def _bar(cm_per_dot: float, signs: str) -> str:
    start, middle, end = signs[0], signs[1], signs[2]
    length = max(2, round(BAR_CM / cm_per_dot))
    return f"{start}{middle * (length - 2)}{end} {BAR_CM:g} cm"
