"""Foods and diets: what is out of reach or not taken feeds nobody, and it is said."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

import numpy as np
import pytest
from tests.simulation.conftest import Stocked

from coswim.plans import plan
from coswim.profiles import scales
from coswim.screening import Screening
from coswim.simulation.foods import (
    ACCEPTS,
    FOODS,
    NOT,
    POORLY,
    SCAVENGES,
    WELL,
    Food,
    accepts,
    dishes,
    portions,
    preferences,
)
from coswim.simulation.tanks import Tanks
from coswim.simulation.waste import Waste


def test_every_food_of_a_plan_is_known() -> None:
    assert {*FOODS, plan.MIXED} == set(plan.FOODS)


def test_tables_name_only_foods_and_diets_that_there_are() -> None:
    assert set(ACCEPTS) | set(SCAVENGES) <= set(scales.DIET.words)
    assert all(set(taken) <= set(FOODS) for taken in ACCEPTS.values())


@pytest.mark.parametrize(
    ("diet", "food", "how"),
    [  # common practice, no source
        ("piscivore", "flakes", NOT),
        ("piscivore", "live", WELL),
        ("carnivore", "greens", NOT),
        ("carnivore", "sinking pellet", WELL),
        ("molluscivore", "flakes", NOT),
        ("algae", "greens", WELL),
        ("algae", "live", NOT),
        ("herbivore", "greens", WELL),
        ("omnivore", "greens", POORLY),
        ("plankton", "frozen", WELL),
    ],
)
def test_what_a_diet_accepts(stocked: Stocked, diet: str, food: str, how: float) -> None:
    (fish,) = stocked(["1 oscar, 20 cm"]).groups
    style = fish.profile.feeding_style
    assert style is not None
    profile = fish.profile.model_copy(update={"feeding_style": style.model_copy(update={"diet": diet})})
    assert accepts(replace(fish, profile=profile), food) == how


@pytest.mark.parametrize(
    ("food", "level"), [("floating pellet", "surface"), ("sinking pellet", "bottom"), ("frozen", "mid")]
)
def test_each_food_is_best_taken_at_its_level(stocked: Stocked, food: str, level: str) -> None:
    access = {
        word: FOODS[food].access(stocked([f"1 oscar, 20 cm, level: [{word}]"]).groups[0]) for word in scales.LEVEL.words
    }
    assert max(access, key=lambda word: access[word]) == level
    assert access[level] == 1


def test_a_fish_of_several_levels_is_no_full_bottom_feeder(stocked: Stocked) -> None:
    anywhere, below = (
        stocked([f"1 oscar, 20 cm, level: {levels}"]).groups[0] for levels in ("[mid, bottom]", "[bottom]")
    )
    assert FOODS["sinking pellet"].access(anywhere) < FOODS["sinking pellet"].access(below)


def test_food_goes_in_as_the_levels_need_it(stocked: Stocked) -> None:
    groups = stocked(["1 saddled bichir, 30 cm", "8 giant danio, 8 cm"]).groups
    plate = dishes(Tanks((groups,)), ("mixed",))
    assert [dish.food.name for dish in plate] == ["floating pellet", "sinking pellet"]
    bichir = next(i for i, group in enumerate(groups) if group.name == "saddled bichir")
    needs = np.ones((2, 1, 1))
    shares = portions(preferences(plate), needs)
    needs[bichir] = 3.0
    assert shares.sum() == pytest.approx(1)
    assert portions(preferences(plate), needs)[1] > shares[1]


def test_the_food_that_drifts_off_first_is_taken_first(stocked: Stocked) -> None:
    tanks = Tanks((stocked(["1 oscar, 20 cm"]).groups,))
    assert [dish.food.name for dish in dishes(tanks, ("sinking pellet", "frozen", "flakes"))] == [
        "flakes",
        "frozen",
        "sinking pellet",
    ]


def test_food_that_nobody_takes_is_still_in_the_water(stocked: Stocked) -> None:
    """It is wasted there, not uneaten in thin air: all that goes in ends as ammonia."""
    scene = stocked(["1 silver arowana, 40 cm, level: [surface]"], feeding="food: flakes, amount: 5 g a day")
    style = scene.groups[0].profile.feeding_style
    assert style is not None
    assert accepts(scene.groups[0], "flakes") < WELL
    assert np.all(Waste(scene).food == 5)


@pytest.mark.parametrize(
    ("fish", "food"),
    [
        ("{species: banded archerfish, length: 12 cm}", "greens"),
        ("{species: jaguar cichlid, length: 25 cm}", "flakes"),
        ("{species: fire eel, length: 40 cm}", "greens"),
        ("{species: ocellate river stingray, length: 30 cm}", "greens"),
    ],
)
def test_what_accepts_nothing_that_is_fed_is_never_called_reasonable(
    screened: Callable[..., Screening], fish: str, food: str
) -> None:
    text = f"""
    tank: {{size: 300 x 120 x 70 cm, temperature: 26 C, ph: 7, hardness: 6 dGH}}
    feeding: {{food: {food}}}
    residents: [{fish}]
    proposals: [{{add: [{{species: Megalechis thoracata, count: 3, length: 12 cm}}]}}]
    """
    screening = screened(text, draws=100)
    for judged in (screening.as_it_stands, *screening.proposals):
        of_meals = [one for one in judged.findings if one.found.hazard == "feeding-competition"]
        hungry = [one for one in of_meals if one.found.target.is_resident]
        assert hungry or any(one.found.hazard == "feeding-competition" for one in judged.unrated)
        assert judged.verdict.words != "reasonable"
        assert all("none of the food that is fed" in one.found.sentence for one in hungry)


def test_levels_are_named_as_foods_name_them() -> None:
    assert set(Food._fields) >= set(scales.LEVEL.words)
