"""The narrowest margin: how far the tank is from the nearest end of what its fish want.

A reasonable proposal has nothing that goes wrong, so what is told is what would go wrong first. Compared are the
temperature, pH and hardness, each in steps that a keeper can measure, and the length of the tank in tenths of
the smallest sensible one.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from coswim.simulation.group import Group
from coswim.simulation.phrases import label, verb
from coswim.simulation.scene import Scene
from coswim.text import wording
from coswim.text.quantities import Range

STEPS = (("temperature", "C", 1.0), ("ph", "", 0.3), ("hardness", "dGH", 2.0))
"""What of the water is compared, its unit, and a step of it: what a usual thermometer or test kit tells apart.
Source: judgement."""
PART_OF_TANK = 0.1
"""A step of the tank's length, as a part of the smallest one. Source: judgement."""
NAMES = {"ph": "pH"}
EVEN = 0.005
"""Less than this is no gap: no thermometer or kit tells it. Source: judgement."""


class Margin(NamedTuple):
    """How many steps are left, and the sentence that says so."""

    steps: float
    words: str


def narrowest_margin(scene: Scene) -> str:
    """What would go wrong first, in words; empty where no range is known.

    An example: `26 C is 1 C below the most that the kuhli loaches want`.
    """
    found = min((*_water(scene), *_room(scene)), key=lambda margin: margin.steps, default=None)
    return found.words if found else ""


def _water(scene: Scene) -> Iterator[Margin]:
    for fish in scene.groups:
        for name, unit, step in STEPS:
            tank: Range | None = getattr(scene.tank, name)
            suits: Range | None = getattr(fish.profile.water_ranges, name, None)
            if tank is not None and suits is not None:
                for here, left, sides in (
                    (tank.high, suits.high - tank.high, ("below the most", "above the most")),
                    (tank.low, tank.low - suits.low, ("above the least", "below the least")),
                ):
                    yield Margin(left / step, _said(here, left, sides, name, unit, fish))


def _said(here: float, left: float, sides: tuple[str, str], name: str, unit: str, fish: Group) -> str:
    value = f"{here:g} {unit}" if unit else f"{NAMES[name]} {here:g}"
    wants = f"that {label(fish)} {verb(fish, 'wants', 'want')}"
    if abs(left) < EVEN:
        return f"{value} is the {sides[0].split()[-1]} {wants}"
    gap = f"{wording.number(abs(left))} {unit}".strip()
    return f"{value} is {gap} {sides[left < 0]} {wants}"


def _room(scene: Scene) -> Iterator[Margin]:
    length = scene.tank.size.length
    for fish in scene.groups:
        if wanted := fish.profile.smallest_tank:
            wants = verb(fish, "wants", "want")
            words = f"{length:g} cm of tank for {label(fish)}, which {wants} {wanted:g} cm when grown"
            yield Margin((length - wanted) / (PART_OF_TANK * wanted), words)
