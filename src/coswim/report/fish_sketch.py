"""A fish from the side, to scale, of given length and depth, as fish of its body form look. It is no portrait."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from types import MappingProxyType
from typing import NamedTuple

from coswim.findings.pictures import FishPicture
from coswim.report.document import Line, text
from coswim.report.drawing_parts import SHORTEST, Ink

FAN = 0.6
"""Height of the tail fin's end over the depth of the body, at least as high as the tail base. Source: judgement."""
LEAST_TAIL = 0.35
"""Its least height, over the length of the fin. Source: judgement."""
EYE_BEHIND, EYE_ABOVE = 0.09, 0.125
"""Place of the eye: behind the snout over the standard length, above the middle over the depth. Source: judgement."""
COLUMNS = 60
BAR_CM = 10.0
BAR_WORDS = f" {BAR_CM:g} cm"


class Outline(NamedTuple):
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
"""Source: judgement."""


def height(fish: FishPicture, x: float) -> float:
    """How high the fish is, x cm behind the snout, cm."""
    outline = OUTLINES[fish.form]
    along = x / fish.standard_length
    if along <= 1:
        return fish.depth * _fullness(outline, along)
    tail = fish.total_length - fish.standard_length
    base = fish.depth * outline.tail_base
    end = max(base, fish.depth * FAN, LEAST_TAIL * tail)
    return base + (end - base) * (x - fish.standard_length) / max(tail, 1e-9)


def notch(fish: FishPicture, x: float) -> float:
    """How wide the notch of the tail is, x cm behind the snout, cm."""
    tail = fish.total_length - fish.standard_length
    behind = (x - fish.standard_length) / tail if tail > 0 else 0.0
    inside = max(0.0, 2 * behind - 1)  # the notch reaches half way in
    return OUTLINES[fish.form].fork * inside * height(fish, x)


def _fullness(outline: Outline, along: float) -> float:
    """Height over greatest height, `along` from 0 (snout) to 1 (tail base)."""
    if along < outline.deepest:
        return math.pow(1 - (1 - along / outline.deepest) ** 2, outline.fore)
    behind = (along - outline.deepest) / (1 - outline.deepest)
    return outline.tail_base + (1 - outline.tail_base) * math.pow(1 - behind**2, outline.aft)


def sketch(fish: FishPicture, width: int, ink: Ink) -> Iterator[Line]:
    """The fish, facing left, above the bar; both in one scale, as large as fits 60 columns or the width.

    Two square dots share a character, one above the other.
    """
    columns = min(COLUMNS, width - len(BAR_WORDS))
    if columns < SHORTEST:
        return
    cm_per_dot = max(fish.total_length, BAR_CM) / columns
    dots = _dots(fish, cm_per_dot)
    for above, below in zip(dots[::2], dots[1::2], strict=True):
        signs = (ink.dots[upper + 2 * lower] for upper, lower in zip(above, below, strict=True))
        yield text("".join(signs).rstrip(), "ink")
    yield ()
    start, middle, end = tuple(ink.ruler)
    yield text(f"{start}{middle * (max(2, round(BAR_CM / cm_per_dot)) - 2)}{end}{BAR_WORDS}", "quiet")


def _dots(fish: FishPicture, cm_per_dot: float) -> list[list[bool]]:
    """Rows of dots from the top, an even number; the middle line runs between two of them."""
    places = [(column + 0.5) * cm_per_dot for column in range(max(2, round(fish.total_length / cm_per_dot)))]
    heights = [height(fish, x) / cm_per_dot / 2 for x in places]
    notches = [notch(fish, x) / cm_per_dot / 2 for x in places]
    forks = [min(gap, high - 1) for gap, high in zip(notches, heights, strict=True)]
    half = max(2, math.ceil(max(heights) - 0.5)) + 1 & ~1
    rows = [
        [fork <= abs(row - half + 0.5) < max(height, 0.51) for height, fork in zip(heights, forks, strict=True)]
        for row in range(2 * half)
    ]
    eye = round(EYE_BEHIND * fish.standard_length / cm_per_dot)
    above = half - 1 - round(2 * EYE_ABOVE * max(heights))
    if max(heights) > 2 and rows[above][eye]:
        rows[above][eye] = False
    return rows
