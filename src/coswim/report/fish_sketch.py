"""A fish from the side, drawn to scale with characters beside a bar of 10 cm.

Two square dots share a character, one above the other.
"""

from __future__ import annotations

import math
from collections.abc import Iterator

from coswim.findings.pictures import FishPicture
from coswim.report import fish_outline
from coswim.report.document import Line, text
from coswim.report.drawing_parts import SHORTEST, Ink

COLUMNS = 60
BAR_CM = 10.0
BAR_WORDS = f" {BAR_CM:g} cm"


def sketch(fish: FishPicture, width: int, ink: Ink) -> Iterator[Line]:
    """The fish, facing left, above the bar; both in one scale, as large as fits 60 columns or the width."""
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
    heights = [fish_outline.height(fish, x) / cm_per_dot / 2 for x in places]
    notches = [fish_outline.notch(fish, x) / cm_per_dot / 2 for x in places]
    forks = [min(gap, high - 1) for gap, high in zip(notches, heights, strict=True)]
    half = max(2, math.ceil(max(heights) - 0.5)) + 1 & ~1
    rows = [
        [fork <= abs(row - half + 0.5) < max(height, 0.51) for height, fork in zip(heights, forks, strict=True)]
        for row in range(2 * half)
    ]
    eye = round(fish_outline.EYE_BEHIND * fish.standard_length / cm_per_dot)
    above = half - 1 - round(2 * fish_outline.EYE_ABOVE * max(heights))
    if max(heights) > 2 and rows[above][eye]:
        rows[above][eye] = False
    return rows
