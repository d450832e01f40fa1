"""How much each group needs, can take and how fast; what it finds; how it settles; who is the weakest."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from tests.simulation.conftest import Stocked, appetites

from coswim.biology import energy
from coswim.profiles import scales
from coswim.simulation.appetite import LIVELY, at_its_hour
from coswim.simulation.scene import Scene

BOTTOM_OF_NIGHT = "1 saddled bichir, 38 cm"


def index(scene: Scene, name: str) -> int:
    return next(i for i, group in enumerate(scene.groups) if group.name == name)


@pytest.mark.parametrize("fish", ["6 giant danio, 3 cm", "6 bala shark, 5 cm", "6 tiger barb, 2 cm"])
def test_the_first_month_of_a_small_fast_growing_fish(stocked: Stocked, fish: str) -> None:
    """Published as a check figure, derived: ration 2.5 to 3.5 times maintenance, growth at 5.8 kJ/g over 60 % of
    usable energy.
    """
    course = stocked([fish], size="300 x 100 x 80 cm").course
    month = course.times <= 1
    ration = np.median(course.needs[:, month, 0] / course.maintained[:, month, 0])
    assert 2.5 <= ration <= 3.5


def test_the_ration_is_maintenance_of_a_lively_fish_and_growth(stocked: Stocked) -> None:
    """Derived: a fish that grows no more needs what keeps it, as lively as it is, whatever its weight."""
    course = stocked(["1 oscar, 35 cm, adult_length: 35-35 cm"]).course
    assert course.needs == pytest.approx(LIVELY * course.maintained)


def test_a_day_of_food_is_eaten_in_the_minutes_of_its_pace(stocked: Stocked) -> None:
    """Derived: the scale's minutes for a fish of 10 g, longer for a larger one by weight^0.15."""
    scene = stocked(["8 tinfoil barb, 10 cm, pace: steady"])
    eats = appetites(scene)
    small, large = (eats.rate(np.ones((1, 1, 100)), np.full((1, 1, 100), grams)) for grams in (10.0, 320.0))
    assert np.median(1 / small) == pytest.approx(scales.PACE.number("steady"), rel=0.05)
    assert np.median(small / large) == pytest.approx(32**0.15)


def test_kinds_that_feed_in_a_frenzy_take_more(stocked: Stocked) -> None:
    """Within the spread of the published models (Deslauriers et al. 2017): 1.2 to 9 times maintenance."""
    most = []
    for pace in ("still", "slow", "steady", "fast", "frantic"):
        eats = appetites(stocked([f"1 oscar, 30 cm, pace: {pace}"]))
        most.append(float(np.median(eats.most(np.ones((1, 1, 100)), np.ones((1, 1, 100)), 4))))
    assert most == sorted(most)
    assert 1.2 < most[0] < most[-1] < 9.0
    assert float(energy.most_eaten(1.0, place=0.5)) == pytest.approx(most[2], rel=0.05)


def test_a_single_meal_does_not_hold_a_days_most(stocked: Stocked) -> None:
    eats = appetites(stocked(["1 oscar, 30 cm"]))
    one, two, many = (eats.most(np.ones((1, 1, 100)), np.zeros((1, 1, 100)), meals) for meals in (1, 2, 8))
    assert np.all(one < two)
    assert np.all(two < many)


@pytest.mark.parametrize(("active", "at"), [("day", "night"), ("dusk", "night"), ("night", "day")])
def test_a_fish_eats_fastest_at_its_own_hour(stocked: Stocked, active: str, at: str) -> None:
    (fish,) = stocked([f"1 oscar, 20 cm, active: {active}"]).groups
    assert at_its_hour(fish, active) == 1
    assert at_its_hour(fish, at) < 1


def test_what_grows_in_the_tank_is_shared_by_the_grazers(stocked: Stocked) -> None:
    few, many = (stocked([f"{count} bristlenose pleco, 10 cm"], size="100 x 40 x 40 cm") for count in (1, 12))

    def grazed(scene: Scene) -> float:
        eats = appetites(scene)
        return float(np.median(eats.grazed(eats.maintenance(scene.course.well_fed[:, :1].T))))

    assert 0 < grazed(many) < grazed(few) <= 0.65


def test_only_small_fish_live_off_what_they_pick_up(stocked: Stocked) -> None:
    eats = appetites(stocked(["1 oscar, 20 cm"]))
    tiny, large = (float(eats.picked(np.array([grams]))[0]) for grams in (0.2, 300.0))
    assert tiny > 0.15
    assert large < 0.01


@pytest.mark.parametrize(("word", "days"), [("quick", 2), ("ordinary", 6), ("slow", 18)])
def test_a_newcomer_settles_in_the_time_of_its_word(stocked: Stocked, word: str, days: int) -> None:
    """Derived: from half to one and a half times the scale's days; common practice: a week or more for large hunters."""
    scene = stocked(["1 bronze corydoras, 5 cm"], [f"1 oscar, 20 cm, settling: {word}"])
    eats, newcomer = appetites(scene), index(scene, "oscar")
    assert np.all(eats.settled(0, 0.5 * days)[newcomer] <= max(0.5, 1 / days))  # half way at its quickest
    assert np.median(eats.settled(0, days)[newcomer]) == pytest.approx(0.5, abs=0.03)  # a ramp up to its word
    assert eats.settled(1.5 * days, 3 * days)[newcomer] == pytest.approx(1)
    assert np.all(eats.settled(0, 7)[1 - newcomer] == 1)  # who lives there eats


def test_the_weakest_of_a_group_falls_behind_the_more_the_rougher_and_larger_it_is(stocked: Stocked) -> None:
    """Published, that shares within a group are unequal: 0 to 22 % where 5 % were even (Carter et al., J. Mar. Biol.
    Assoc. UK)."""

    def behind(fish: str) -> float:
        return float(appetites(stocked([fish])).unequal.mean())

    assert behind("1 convict cichlid, 9 cm") == 0
    assert 0 < behind("3 convict cichlid, 9 cm") < behind("12 convict cichlid, 9 cm") < 0.6
    assert behind("8 convict cichlid, 9 cm, own_kind: peaceful") < behind(
        "8 convict cichlid, 9 cm, own_kind: aggressive"
    )


@given(st.floats(0.05, 1), st.floats(0.05, 1))
@settings(deadline=None, max_examples=20)
def test_the_weakest_gets_more_where_all_get_more_and_as_much_where_all_are_full(
    stocked: Stocked, one: float, other: float
) -> None:
    eats = appetites(stocked(["8 convict cichlid, 9 cm, own_kind: aggressive"], draws=20))
    most = np.ones((1, 1, 20))
    less, more = (np.full((1, 1, 20), share) for share in sorted((one, other)))
    worst = eats.of_weakest
    assert np.all(worst(less, most) <= worst(more, most))
    assert np.all(worst(less, most) <= less)
    assert worst(most, most) == pytest.approx(most)
    assert eats.wanted_of_weakest(worst(less, most), most) == pytest.approx(less)


def test_grams_for_a_group_are_grams_for_one_times_its_fish(stocked: Stocked) -> None:
    scene = stocked(["6 tiger barb, 5 cm"])
    one = appetites(scene).maintenance(scene.course.well_fed[:, :1].T)
    group = scene.course.maintained[:, :1].T
    assert group == pytest.approx(6 * one)
