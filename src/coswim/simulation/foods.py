"""Foods: at which level of the water each can be taken, for how long, and which diets accept it.

Constants whose source is judgement were tuned on the pairings of tests/panel/ on which keepers agree, all at once.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from functools import partial
from types import MappingProxyType
from typing import NamedTuple

import numpy as np

from coswim.arrays import Floats
from coswim.profiles import scales
from coswim.simulation.group import Group
from coswim.simulation.tanks import Tanks

LEAST = 1e-9
ALSO_ABOVE = 0.3
"""Feeding speed at the bottom of a fish that feeds mostly above it, over that of a bottom feeder. Source: judgement;
it comes down once the food above is gone, and the others have begun by then."""


class Food(NamedTuple):
    """How well a food is taken at each level (shares of full feeding speed) and the minutes that it is there.

    `spilled` is what of it falls to the bottom unseen, over other foods.
    """

    name: str
    surface: float
    mid: float
    bottom: float
    minutes: float
    spilled: float = 1.0

    def access(self, group: Group) -> float:
        """Share of full feeding speed of a group, at the best of its levels."""
        its_levels = levels(group)
        bottom = self.bottom * (1.0 if its_levels[0] == "bottom" else ALSO_ABOVE)
        by_level = {"surface": self.surface, "mid": self.mid, "bottom": bottom}
        return max(by_level[level] for level in its_levels)


DRIFTS = 0.7
"""What of food that floats is spilled, over that of other food: crumbs of it drift off as well. Source: judgement."""
FLOATING = Food("floating pellet", surface=1.0, mid=0.85, bottom=0.1, minutes=20.0, spilled=DRIFTS)
SINKING = Food("sinking pellet", surface=0.1, mid=0.35, bottom=1.0, minutes=120.0)
FOODS: Mapping[str, Food] = MappingProxyType(
    {
        food.name: food
        for food in (
            Food("flakes", surface=1.0, mid=0.9, bottom=0.3, minutes=20.0, spilled=DRIFTS),
            FLOATING,
            SINKING,
            Food("frozen", surface=0.8, mid=1.0, bottom=0.5, minutes=40.0),
            Food("live", surface=0.8, mid=1.0, bottom=0.5, minutes=60.0),
            Food("soft", surface=0.1, mid=0.3, bottom=1.0, minutes=60.0),
            Food("greens", surface=0.4, mid=0.7, bottom=1.0, minutes=240.0),
        )
    }
)
"""Source: judgement: floating food is taken above and drifts off; sinking food is taken as it passes the upper levels
and lies below until it softens, where others than bottom feeders dive for it. Mixed food, the default, is floating
food and sinking food, each as much as its level needs, of a kind that every fish accepts."""
CRUMBS = Food("crumbs", surface=0.0, mid=0.05, bottom=1.0, minutes=480.0)
"""What the day's feeders spill and leave; it lies at the bottom through the night. Source: judgement."""
WELL, POORLY, NOT = 1.0, 0.4, 0.0
ACCEPTS: Mapping[str, Mapping[str, float]] = MappingProxyType(
    {
        "algae": MappingProxyType({"frozen": POORLY, "live": NOT}),
        "herbivore": MappingProxyType({"live": POORLY}),
        "omnivore": MappingProxyType({"greens": POORLY}),
        "plankton": MappingProxyType({"sinking pellet": POORLY, "soft": POORLY, "greens": NOT}),
        "insectivore": MappingProxyType({"sinking pellet": POORLY, "soft": POORLY, "greens": NOT}),
        "molluscivore": MappingProxyType(
            {"flakes": NOT, "floating pellet": POORLY, "sinking pellet": POORLY, "greens": NOT}
        ),
        "carnivore": MappingProxyType({"flakes": POORLY, "soft": POORLY, "greens": NOT}),
        "piscivore": MappingProxyType(
            {"flakes": NOT, "floating pellet": POORLY, "sinking pellet": POORLY, "soft": NOT, "greens": NOT}
        ),
    }
)
"""How readily a diet takes a food, 0 to 1; a food that is not listed is taken well. Source: common practice, no
source; how much slower a food is eaten that is taken poorly is judgement."""

SCAVENGES: Mapping[str, float] = MappingProxyType(
    {"insectivore": 0.3, "plankton": 0.2, "piscivore": 0.2, "carnivore": 0.15, "molluscivore": 0.6}
)
"""How readily a diet takes crumbs that have lain for hours; the others take them well. Source: common practice, no
source, for the order."""


def levels(group: Group) -> tuple[str, ...]:
    """Where a group feeds; anywhere where that is not known."""
    style = group.profile.feeding_style
    return style.level if style else scales.LEVEL.words


def accepts(group: Group, food: str) -> float:
    """How readily a group takes a food that is fed by itself, 0 to 1; well where its diet is not known."""
    style = group.profile.feeding_style
    return ACCEPTS[style.diet].get(food, WELL) if style else WELL


def scavenges(group: Group) -> float:
    """How readily a group takes what has lain for hours, 0 to 1."""
    style = group.profile.feeding_style
    return SCAVENGES.get(style.diet, WELL) if style else WELL


class Dish(NamedTuple):
    """One food of the meal: how fast each group eats it over full speed, and how readily, shape (groups, tanks, 1)."""

    food: Food
    access: Floats
    accepted: Floats


def dishes(tanks: Tanks, foods: Sequence[str]) -> tuple[Dish, ...]:
    """The foods of a meal in the order in which they are taken: those that drift off first."""
    if foods == ("mixed",):
        return tuple(_dish(food, tanks, tanks.number(lambda _: WELL)) for food in (FLOATING, SINKING))
    found = sorted((FOODS[name] for name in foods), key=lambda food: (food.minutes, food.name))
    return tuple(_dish(food, tanks, tanks.number(partial(accepts, food=food.name))) for food in found)


def _dish(food: Food, tanks: Tanks, accepted: Floats) -> Dish:
    return Dish(food, tanks.number(food.access) * accepted, accepted)


def preferences(dishes: Sequence[Dish]) -> Floats:
    """The part of what each group needs that is given as each dish: most of what it reaches best.

    Returns shares, dishes × groups × tanks.
    """
    reach = np.stack([dish.access for dish in dishes]) ** 2
    total = reach.sum(axis=0)
    return np.where(total > 0, reach / np.where(total > 0, total, 1.0), 1 / len(dishes))[..., 0]


def portions(preferences: Floats, wanted: Floats) -> Floats:
    """The part of the food that goes in as each dish: as much as those need that reach it best.

    Parameters: wanted, what each group needs, groups × tanks × draws. Returns shares, dishes × tanks × draws.
    """
    share = np.stack([preferences[..., tank] @ wanted[:, tank] for tank in range(wanted.shape[1])], axis=1)
    return np.asarray(share / np.maximum(share.sum(axis=0), LEAST))
