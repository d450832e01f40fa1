"""Where fish get out of sight, and what a dash against the glass costs."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from coswim.simulation import shelter
from coswim.simulation.dashing import Dash
from coswim.simulation.scene import Scene


@pytest.mark.parametrize(("furnishing", "places"), [("bare", 3), ("soft plants", 5), ("hard roots and rocks", 5)])
def test_furnishing_adds_a_place_on_each_patch_of_floor(
    simulated: Callable[..., Scene], furnishing: str, places: float
) -> None:
    """Derived: three places, and 6,000 cm2 of floor with one more on each 3,000 for a fish of the bottom."""
    scene = simulated(f"""
        tank: {{size: 120 x 50 x 50 cm, temperature: 25 C, hiding_places: 3, furnishing: {furnishing}}}
        residents: [{{species: bronze corydoras, count: 6, length: 5 cm}}]
    """)
    assert shelter.places(scene, scene.groups[0]) == places


@pytest.mark.parametrize(("features", "lost"), [("[]", 0.1), ("[protruding-eyes]", 0.4)])
def test_a_part_of_the_blows_costs_an_eye(simulated: Callable[..., Scene], features: str, lost: float) -> None:
    """Judgement, see LOSES_EYE: of a single fish so many blows, and four times as many where the eyes stand out."""
    scene = simulated(
        f"""
        tank: {{size: 80 x 40 x 40 cm, temperature: 25 C, furnishing: hard roots and rocks}}
        residents: [{{species: bala shark, length: 28 cm, this_fish: {{features: {features}}}}}]
        """,
        draws=4000,
    )
    dash = Dash(scene, scene.groups[0], "open-water")
    assert dash.blinded.mean() / dash.hurt.mean() == pytest.approx(lost, abs=0.03)
