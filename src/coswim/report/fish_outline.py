"""The outline of a fish from the side, of given length and depth, as fish of its body form look. It is no portrait."""

from __future__ import annotations

import math
from collections.abc import Mapping
from types import MappingProxyType
from typing import NamedTuple

from coswim.findings.pictures import FishPicture

FAN = 0.6
"""Height of the tail fin's end over the depth of the body, at least as high as the tail base. Source: judgement."""
LEAST_TAIL = 0.35
"""Its least height, over the length of the fin. Source: judgement."""
EYE_BEHIND, EYE_ABOVE = 0.09, 0.125
"""Place of the eye: behind the snout over the standard length, above the middle over the depth. Source: judgement."""


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
