"""Courses that are run side by side come out as each by itself."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest
from tests.simulation.conftest import Stocked

from coswim.plans.reading import read_plan
from coswim.profiles.catalog import Catalog
from coswim.simulation.course import run_together
from coswim.simulation.scene import Effort, Scene, build_scene

BIDS = ("6 tiger barb", "2 oscar", "8 bronze corydoras", "1 common pleco", "12 cardinal tetra", "3 silver arowana")
PLAN = """
tank: {{size: 150 x 60 x 60 cm, temperature: 26 C, ph: 7, hardness: 6 dGH}}
residents: [{{species: saddled bichir, length: 38 cm}}, {{species: bristlenose pleco, count: 2}}]
feeding: {{{feeding}}}
proposals:
{proposals}
"""


def scenes(catalog: Catalog, feeding: str, draws: int) -> list[Scene]:
    """Very different newcomers in one tank."""
    proposals = "".join(
        f"  - {{name: {species}, add: [{{species: {species}, count: {count}}}], moves_in: {moves_in}}}\n"
        for (count, species), moves_in in zip((bid.split(" ", 1) for bid in BIDS), ("last", "first") * 3, strict=True)
    )
    read = read_plan(PLAN.format(feeding=feeding, proposals=proposals), "plan.yaml", catalog)
    alone = build_scene(read, None, catalog, Effort(draws))
    return [build_scene(read, proposal, catalog, Effort(draws), like=alone) for proposal in read.plan.proposals]


@pytest.mark.parametrize(
    "feeding",
    ["", "food: [flakes, greens], at: night, meals: 3", "amount: 2 g a day", "by_hand: saddled bichir, places: 2"],
)
@pytest.mark.parametrize("draws", [50, 337])
def test_tanks_side_by_side_come_out_as_each_by_itself(catalog: Catalog, feeding: str, draws: int) -> None:
    """But for rounding: some releases of numpy work out the end of an array otherwise than its middle."""
    together, single = scenes(catalog, feeding, draws), scenes(catalog, feeding, draws)
    run_together(scene.course for scene in together)
    for one, other in zip(together, single, strict=True):
        for name in ("condition", "coverage", "ration_share", "intake", "price", "normal", "wanted", "given"):
            alone, beside = (getattr(scene.course, name) for scene in (other, one))
            assert np.allclose(beside, alone, rtol=1e-4, atol=1e-6), name


def test_what_cannot_sit_together_is_run_all_the_same(stocked: Stocked) -> None:
    """Another number of groups, other food, other months."""
    tanks: list[tuple[list[str], dict[str, Any]]] = [
        (["1 oscar, 20 cm"], {}),
        (["1 oscar, 20 cm", "6 tiger barb, 5 cm"], {}),
        (["1 oscar, 20 cm"], {"feeding": "food: flakes"}),
        (["1 oscar, 20 cm"], {"months": 6}),
    ]
    together = [stocked(fish, **rest) for fish, rest in tanks]
    run_together(scene.course for scene in together)
    for scene, (fish, rest) in zip(together, tanks, strict=True):
        assert np.array_equal(scene.course.condition, stocked(fish, **rest).course.condition)


def test_an_empty_tank_is_passed_over(catalog: Catalog) -> None:
    read = read_plan(PLAN.format(feeding="", proposals="  - {name: a, add: [{species: oscar}]}"), "plan.yaml", catalog)
    empty = read._replace(plan=read.plan.model_copy(update={"residents": ()}))
    run_together([build_scene(empty, None, catalog, Effort(50)).course])
