"""Plans at the very ends of what is allowed are screened, not refused by a formula further in."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from coswim.profiles.catalog import BUILT_IN, Catalog
from coswim.screening import Screening

Screen = Callable[..., Screening]
SPECIES = sorted(Catalog((BUILT_IN,)).entries)


@pytest.mark.parametrize("temperature", ["0", "45", "0-45"])
@pytest.mark.parametrize("water", ["ph: 3, hardness: 0", "ph: 11, hardness: 100 dGH"])
def test_the_ends_of_every_range(screened: Screen, temperature: str, water: str) -> None:
    """Swings once carried 45 C over the end of the ammonia formula."""
    plan = f"""
    tank: {{size: 10 x 10 x 10 cm, temperature: {temperature}, {water}, filter: new, lid: no, hiding_places: 0,
            water_change: {{share: 0, every: 365, nitrate_in: 1000}}}}
    feeding: {{meals: 0.1, food: floating pellet, at: night}}
    residents: [{{species: goldfish, count: 1000, length: 0.5 cm}}]
    proposals: [{{name: p, add: [{{species: redtail catfish, count: 1, length: 120 cm}}]}}]
    horizon: 1 month
    """
    assert screened(plan, draws=50).proposals[0].findings


@settings(max_examples=15, deadline=None)
@given(st.sampled_from(SPECIES), st.sampled_from(SPECIES), st.integers(1, 60), st.floats(0, 45), st.floats(3, 11))
def test_any_two_species_can_be_screened(
    screened: Screen, one: str, other: str, count: int, temperature: float, ph: float
) -> None:
    plan = f"""
    tank: {{size: 80 x 35 x 40 cm, temperature: {temperature:.2f}, ph: {ph:.2f}, hardness: 8}}
    residents: [{{species: {one}, length: 2.5 cm}}]
    proposals: [{{name: p, add: [{{species: {other}, count: {count}, length: 2.5 cm}}]}}]
    """
    assert screened(plan, draws=50).proposals[0].verdict
