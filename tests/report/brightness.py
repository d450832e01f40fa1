"""The colours of the page, and how well two colours can be told apart by their brightness."""

from __future__ import annotations

import re
from collections.abc import Mapping
from pathlib import Path

from coswim.report.writers import html

NAMED = re.compile(r"--([a-z0-9-]+): (#[0-9a-f]{6}|[0-9.]+);")
SCHEMES: Mapping[str, Mapping[str, str]] = {
    scheme: dict(NAMED.findall(line))
    for scheme, line in zip(
        ("light", "dark"),
        (line for line in Path(html.__file__).with_name("page.css").read_text().splitlines() if "--paper: " in line),
        strict=True,
    )
}
"""By scheme what the style sheet names its colours, and how much of a curve's colour its band shows."""
LUMINANCE_WEIGHTS = (0.2126, 0.7152, 0.0722)
LINEAR_BELOW = 0.03928
LINEAR_SLOPE = 12.92
OFFSET = 0.055
EXPONENT = 2.4
"""Of red, green and blue, and the sRGB curve. Source: W3C, WCAG 2.1 (2018), definition of relative luminance."""
GLARE = 0.05
"""Source: W3C, WCAG 2.1 (2018), definition of contrast ratio."""


def luminance(colour: str) -> float:
    """How bright a colour is, 0 (black) to 1 (white).

    >>> luminance("#ffffff"), luminance("#000000")
    (1.0, 0.0)
    """
    linear = (_linear(level / 255) for level in levels(colour))
    return sum(weight * value for weight, value in zip(LUMINANCE_WEIGHTS, linear, strict=True))


def contrast(one: str, other: str) -> float:
    """The contrast ratio of two colours, 1 (the same) to 21 (black on white), in either order."""
    dark, bright = sorted((luminance(one), luminance(other)))
    return (bright + GLARE) / (dark + GLARE)


def blend(over: str, under: str, opacity: float) -> str:
    """The colour seen where `over` is laid with an opacity of 0 to 1 upon `under`.

    >>> blend("#ffffff", "#000000", 0.2)
    '#333333'
    """
    mixed = (opacity * a + (1 - opacity) * b for a, b in zip(levels(over), levels(under), strict=True))
    return "#" + "".join(f"{round(level):02x}" for level in mixed)


def levels(colour: str) -> tuple[int, int, int]:
    """Red, green and blue of `#rrggbb`, 0 to 255; ValueError for anything else."""
    if len(colour) != len("#rrggbb") or not colour.startswith("#"):
        raise ValueError(f"colour {colour!r} is not #rrggbb")
    return int(colour[1:3], 16), int(colour[3:5], 16), int(colour[5:7], 16)


def _linear(level: float) -> float:
    if level <= LINEAR_BELOW:
        return level / LINEAR_SLOPE
    return float(((level + OFFSET) / (1 + OFFSET)) ** EXPONENT)
