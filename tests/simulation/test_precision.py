"""No number of a kind of its own slips in and makes all that it meets double, as precise and twice as slow."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from coswim.hazards import HAZARDS
from coswim.plans.reading import read_plan
from coswim.profiles.catalog import Catalog
from coswim.simulation.scene import Effort, build_scene
from coswim.simulation.sitting import Sitting

DRAWS = 70
EXAMPLES = Path(__file__).parents[2] / "examples"


def arrays(holder: object, name: str, seen: set[int]) -> Iterator[tuple[str, np.ndarray]]:
    """Every array that hangs on an object of the house, by the name under which it was found."""
    if id(holder) in seen:
        return
    seen.add(id(holder))
    if isinstance(holder, np.ndarray):
        yield name, holder
    elif isinstance(holder, tuple | list):
        for one in holder:
            yield from arrays(one, name, seen)
    elif isinstance(holder, dict):
        for key, one in holder.items():
            yield from arrays(one, f"{name}[{key}]", seen)
    elif type(holder).__module__.startswith("coswim."):
        for key, one in vars(holder).items() if hasattr(holder, "__dict__") else ():
            yield from arrays(one, f"{type(holder).__name__}.{key}", seen)


@pytest.mark.parametrize("plan", ["bichir", "discus", "fighter", "goldfish"])
def test_what_is_drawn_is_reckoned_with_in_single_precision(plan: str, catalog: Catalog) -> None:
    path = EXAMPLES / f"{plan}.yaml"
    read = read_plan(path.read_text(encoding="utf-8"), path.name, catalog)
    found = []
    for proposal in read.plan.proposals:
        scene = build_scene(read, proposal, catalog, Effort(DRAWS))
        findings = [list(hazard.find(scene)) for hazard in HAZARDS]
        moment = next(Sitting((replace(scene.course),)).moments())  # as it comes, before it is put with the others
        found += list(arrays([scene, findings, moment._asdict()], "scene", set()))
    drawn = [(name, array) for name, array in found if array.size >= DRAWS and array.dtype.kind == "f"]
    assert len(drawn) > 200
    assert {name for name, array in drawn if array.dtype == np.float64} == set()
