"""What a keeper has measured on this very fish; it stands for its species' value."""

from __future__ import annotations

from typing import NamedTuple

SPREAD = 0.05
"""Coefficient of variation of a measurement through the glass. Source: judgement."""


class Measured(NamedTuple):
    """Sizes of one fish at its present length; None where it was not measured."""

    mouth_mm: float | None = None
    depth_mm: float | None = None
    width_mm: float | None = None
    weight_g: float | None = None


UNMEASURED = Measured()
