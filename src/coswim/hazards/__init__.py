"""The ways in which it goes wrong, one file each. Registration is one import and one line below."""

from __future__ import annotations

from coswim.hazards import feeding_competition, gape_fit, water_overlap

HAZARDS = (
    gape_fit,
    feeding_competition,
    water_overlap,
)
