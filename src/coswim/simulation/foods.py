"""Foods: at which level of the water each can be taken, and for how long it is there."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType
from typing import NamedTuple

from coswim.profiles import scales
from coswim.simulation.group import Group

ALSO_ABOVE = 0.5
"""Feeding speed at the bottom of a fish that also feeds above it, over that of a bottom feeder. Source: judgement;
it comes down once the food above is gone, and the others have begun by then."""


class Food(NamedTuple):
    """How well a food is taken at each level (shares of full feeding speed) and the minutes that it is there."""

    surface: float
    mid: float
    bottom: float
    minutes: float

    def access(self, group: Group) -> float:
        """Share of full feeding speed of a group, at the best of its levels."""
        its_levels = levels(group)
        bottom = self.bottom * (ALSO_ABOVE if len(its_levels) > 1 else 1.0)
        by_level = {"surface": self.surface, "mid": self.mid, "bottom": bottom}
        return max(by_level[level] for level in its_levels)


FLOATING = Food(surface=1.0, mid=0.7, bottom=0.1, minutes=20.0)
SINKING = Food(surface=0.015, mid=0.03, bottom=1.0, minutes=120.0)
FOODS: Mapping[str, Food] = MappingProxyType(
    {
        "floating pellet": FLOATING,
        "sinking pellet": SINKING,
        "frozen": Food(surface=0.8, mid=1.0, bottom=0.5, minutes=40.0),
        "live": Food(surface=0.8, mid=1.0, bottom=0.5, minutes=60.0),
        "soft": Food(surface=0.1, mid=0.3, bottom=1.0, minutes=60.0),
    }
)
"""Source: judgement: floating food is taken above and drifts off; sinking food passes the upper levels in
seconds and lies below until it softens, where others than bottom feeders pick it up slowly. Mixed food,
the default, is floating food and sinking food, each as much as its level needs."""


def levels(group: Group) -> tuple[str, ...]:
    """Where a group feeds; anywhere where that is not known."""
    style = group.profile.feeding_style
    return style.level if style else scales.LEVEL.words
