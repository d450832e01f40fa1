"""The ways in which it goes wrong, one file each. Registration is one import and one line below."""

from __future__ import annotations

from coswim.hazards import (
    aggression,
    escape,
    feeding_competition,
    gape_fit,
    injury,
    nipping,
    schooling,
    space,
    spine_choking,
    water_load,
    water_overlap,
)

HAZARDS = (
    gape_fit,
    spine_choking,
    feeding_competition,
    water_overlap,
    aggression,
    nipping,
    injury,
    schooling,
    space,
    water_load,
    escape,
)
