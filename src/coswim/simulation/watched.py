"""A scene that notes what is read of the tank and of the feeding.

A hazard is a pure function of its scene. So when the fish are the same and everything it read of the
tank and the feeding is the same, its answer is the same, and it need not be asked again.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from operator import is_
from typing import Any, cast

from coswim.plans.plan import Tank
from coswim.simulation.scene import Scene

FREE = frozenset({"groups", "horizon", "draws", "months", "pairs", "targets", "pair_uniform", "tank", "temperature"})
"""Parts of a scene that depend on nothing but the fish, the draws and what is noted of the tank."""
FED = frozenset({"feeding", "course", "food_before"})


@dataclass
class Reads:
    """What has been read: values of the tank by name, the feeding, or something not known to be safe."""

    of_tank: set[str] = field(default_factory=set)
    feeding: bool = False
    unknown: bool = False

    def cannot_tell(self, one: Scene, other: Scene) -> bool:
        """All that was read is the same in both scenes."""
        if self.unknown or len(one.groups) != len(other.groups) or not all(map(is_, one.groups, other.groups)):
            return False
        if self.feeding and one.feeding != other.feeding:
            return False
        return all(getattr(one.tank, name) == getattr(other.tank, name) for name in self.of_tank)


class _WatchedTank:
    """Stands in for a tank and notes the names of the values that are asked for."""

    def __init__(self, tank: Tank, reads: Reads) -> None:
        self._tank, self._reads = tank, reads

    def __getattr__(self, name: str) -> Any:
        self._reads.of_tank.add(name)
        return getattr(self._tank, name)


class WatchedScene(Scene):
    """The same scene for one reader; `reads_of` tells what it read."""

    def __getattribute__(self, name: str) -> Any:
        if not name.startswith("_") and name not in FREE:
            reads = cast(_WatchedTank, super().__getattribute__("tank"))._reads
            reads.feeding |= name in FED
            reads.unknown |= name not in FED
        return super().__getattribute__(name)


def watched(scene: Scene) -> tuple[Scene, Reads]:
    """The scene to be handed to one reader, and the record of what it reads."""
    reads = Reads()
    tank = cast(Tank, _WatchedTank(scene.tank, reads))
    return WatchedScene(tank, scene.feeding, scene.groups, scene.horizon, scene.draws, scene.course), reads
