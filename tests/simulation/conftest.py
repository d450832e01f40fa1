"""What the tests of the simulation share: a stocked tank in a line."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Any

import pytest

from coswim.plans.reading import read_plan
from coswim.profiles.catalog import Catalog
from coswim.simulation.appetite import Appetites
from coswim.simulation.scene import Effort, Scene, build_scene
from coswim.simulation.tanks import Tanks

Stocked = Callable[..., Scene]


def entry(words: str) -> str:
    """`8 tinfoil barb, 10 cm` or `1 oscar, 20 cm, pace: slow` as a group of a plan."""
    fish, length, *known = words.split(", ")
    count, species = fish.split(" ", 1)
    this_fish = f", this_fish: {{{', '.join(known)}}}" if known else ""
    return f"{{species: {species}, count: {count}, length: {length}{this_fish}}}"


def appetites(scene: Scene) -> Appetites:
    """How the fish of a scene eat."""
    return Appetites(Tanks((scene.groups,)), scene.feeding.at, scene.tank.size.floor)


@pytest.fixture(scope="session")
def stocked(catalog: Catalog) -> Stocked:
    """A tank with residents and newcomers, fed as `feeding` says; `tank` adds to or replaces what it is."""

    def run(
        residents: Sequence[str], newcomers: Sequence[str] = (), *, feeding: str = "", draws: int = 100, **tank: Any
    ) -> Scene:
        kept = {"size": "180 x 60 x 60 cm", "temperature": "26 C", "ph": 7, "hardness": "6 dGH", **tank}
        months = kept.pop("months", 24)
        plan = f"""
tank: {{{", ".join(f"{key}: {value}" for key, value in kept.items())}}}
feeding: {{{feeding}}}
residents: [{", ".join(map(entry, residents))}]
proposals: [{f"{{name: p, add: [{', '.join(map(entry, newcomers))}]}}" if newcomers else ""}]
"""
        read = read_plan(plan, "plan.yaml", catalog)
        return build_scene(read, next(iter(read.plan.proposals), None), catalog, Effort(draws=draws, months=months))

    return run
