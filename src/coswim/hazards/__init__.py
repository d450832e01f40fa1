"""The ways in which it goes wrong, one file each. Registration is one import and one line below."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

from coswim.findings.hazard import Hazard
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

HAZARDS: tuple[Hazard, ...] = (
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
BY_ID: Mapping[str, Hazard] = MappingProxyType({hazard.ID: hazard for hazard in HAZARDS})
