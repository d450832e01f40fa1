"""Where fish get out of sight: hiding places that the keeper counts, and what the furnishing adds."""

from __future__ import annotations

from coswim.simulation.group import Group
from coswim.simulation.scene import Scene

SHELTER = 0.4
"""Most that a hiding place for every target takes off the attacks on a fish that uses it. Source:
judgement; half of the pairs of a cichlid were calmer with furnishing (Kadry & Barreto), two of four
species were not (Nijman & Heuts 2011)."""
FLOOR_PER_PLACE = 3000.0
"""Floor with furnishing on which one fish more gets out of sight, cm2. Source: judgement; that is little, since the
keeper counts the good places."""
BARE, PLANTS, HARD = "bare", "soft plants", "hard roots and rocks"
UPROOTS = frozenset({"digger", "plant-eater"})
AT_HOME = frozenset({"still", "local"})


def places(scene: Scene, fish: Group) -> float:
    """Hiding places in the tank for a fish of this kind; none for one that swims in the open without rest."""
    if fish.profile.swimming == "open-water":
        return 0.0
    kind = scene.tank.furnishing
    helps = (kind == PLANTS and not uprooters(scene)) or (kind == HARD and uses_hard_cover(fish))
    return scene.tank.hiding_places + (scene.tank.size.floor / FLOOR_PER_PLACE if helps else 0.0)


def uprooters(scene: Scene) -> tuple[Group, ...]:
    """The fish that leave no plants standing."""
    return tuple(fish for fish in scene.groups if UPROOTS & {*fish.profile.features})


def is_useless(scene: Scene) -> bool:
    """The tank has roots and rocks, and none of its fish lives among them."""
    return scene.tank.furnishing == HARD and not any(uses_hard_cover(fish) for fish in scene.groups)


def uses_hard_cover(fish: Group) -> bool:
    """Roots and rocks are its home: it lives on the bottom, stays around one place, or holds one."""
    style, temperament = fish.profile.feeding_style, fish.profile.temperament
    if fish.profile.swimming == "open-water":
        return False
    lives_below = style is not None and "bottom" in style.level
    holds = temperament is not None and temperament.territory in {"site", "ground"}
    return lives_below or holds or fish.profile.swimming in AT_HOME
