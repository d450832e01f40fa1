"""All fish of a tank against its water."""

from __future__ import annotations

import pytest
from tests.simulation.conftest import Stocked

from coswim.simulation.stock import Stock


@pytest.mark.parametrize(
    ("fish", "bulk"),
    # judgement, in the order of the weights by form: Froese, Thorson & Reyes 2014
    [("1 blue discus, 13 cm", 1.5), ("1 rosy barb, 8 cm", 1.0), ("1 saddled bichir, 38 cm", 0.8), ("1 fire eel, 40 cm", 0.6)],
)  # fmt: skip
def test_a_deep_fish_takes_more_water_than_a_slim_one_of_its_length(stocked: Stocked, fish: str, bulk: float) -> None:
    stock = Stock(stocked([fish]))
    assert stock.grown == pytest.approx(bulk * stock.legal)
    assert stock.share_of(stock.scene.groups[0]) == pytest.approx(1)
