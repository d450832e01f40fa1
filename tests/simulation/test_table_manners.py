"""Time lost at the meal: by who keeps away, by who chases, by who is timid."""

from __future__ import annotations

from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from tests.simulation.conftest import Stocked

from coswim.arrays import Floats
from coswim.simulation.course import Course
from coswim.simulation.scene import Scene
from coswim.simulation.table_manners import TableManners
from coswim.simulation.tanks import Tanks

CHASER = "1 oscar, 25 cm, other_fish: aggressive"


def left_at_first(course: Course, places: int, at: str) -> Floats:
    """The part of the meal that each group has for eating, once all have settled, groups × tanks × draws."""
    manners = TableManners(Tanks((course.groups,)), places, at)
    return manners.time_left(course.lengths[:, :1].T, well_fed(course), settled(course))


def well_fed(course: Course) -> Floats:
    """None has lost weight."""
    return np.ones((len(course.groups), 1, course.keeper.draws.number))


def settled(course: Course) -> Floats:
    """All have lived there for long."""
    return np.ones((len(course.groups), 1, 1))


def time_left(scene: Scene, name: str, *, places: int = 1, at: str = "day") -> float:
    """The mean part of the meal that a group has for eating, once all have settled."""
    course = scene.course
    left = left_at_first(course, places, at)
    return float(left[next(i for i, group in enumerate(course.groups) if group.name == name)].mean())


def test_a_chaser_loses_more_time_the_more_rivals_there_are(stocked: Stocked) -> None:
    """Published, sign: beyond few rivals a despot defends at a loss (Grant 1993, memory)."""
    left = [
        time_left(stocked([CHASER], [f"{count} tinfoil barb, 15 cm"] if count else []), "oscar")
        for count in (0, 1, 4, 12)
    ]
    assert all(more > less for more, less in pairwise(left))
    assert left[0] == pytest.approx(1)
    assert left[-1] < 0.8


def test_a_chaser_loses_more_time_the_quicker_its_rivals_are(stocked: Stocked) -> None:
    left = [
        time_left(stocked([CHASER], [f"6 tinfoil barb, 15 cm, pace: {pace}"]), "oscar")
        for pace in ("still", "slow", "steady", "fast", "frantic")
    ]
    assert all(more > less for more, less in pairwise(left))


def test_a_mild_fish_chases_nobody(stocked: Stocked) -> None:
    mild = time_left(stocked(["1 oscar, 25 cm, other_fish: peaceful"], ["8 tinfoil barb, 15 cm"]), "oscar")
    assert mild > time_left(stocked([CHASER], ["8 tinfoil barb, 15 cm"]), "oscar") + 0.2


def test_a_chaser_loses_less_time_at_several_places_and_in_the_dark(stocked: Stocked) -> None:
    tank = stocked([CHASER, "8 tinfoil barb, 15 cm"])
    here = time_left(tank, "oscar")
    assert here < time_left(tank, "oscar", places=2) < time_left(tank, "oscar", places=3)
    assert here < time_left(tank, "oscar", at="dusk") < time_left(tank, "oscar", at="night")


def test_a_fish_keeps_away_from_a_larger_pushy_one_and_less_at_several_places(stocked: Stocked) -> None:
    """Published, sign: a fixed place favours the dominant fish (Grand & Grant 1994, Anim. Behav.)."""
    tank = stocked(["1 severum, 12 cm"], ["2 jaguar cichlid, 25 cm"])
    assert time_left(tank, "severum") < 0.8
    assert time_left(tank, "severum") < time_left(tank, "severum", places=2)
    alone = stocked(["1 severum, 12 cm"])
    assert time_left(alone, "severum") == 1


def test_a_thin_fish_gives_way_sooner(stocked: Stocked) -> None:
    course = stocked(["1 severum, 18 cm"], ["1 jaguar cichlid, 18 cm"]).course
    manners = TableManners(Tanks((course.groups,)), 1, "day")
    lengths, fed, stay = course.lengths[:, :1].T, well_fed(course), settled(course)
    severum = next(i for i, group in enumerate(course.groups) if group.name == "severum")
    before = manners.time_left(lengths, fed, stay)[severum]
    fed[severum] = 0.7
    assert np.all(manners.time_left(lengths, fed, stay)[severum] < before)


@pytest.mark.parametrize("crowd", ["12 giant danio, 8 cm", "8 tinfoil barb, 12 cm"])
def test_a_timid_fish_hangs_back_from_the_bustle_of_bold_ones(stocked: Stocked, crowd: str) -> None:
    """Common practice, no source."""
    left = [
        time_left(stocked([f"2 discus, 12 cm, boldness: {word}"], [crowd]), "blue discus")
        for word in ("timid", "ordinary", "bold")
    ]
    assert left[0] < left[1] < left[2]
    assert left[0] < 0.6


def test_timid_fish_do_not_keep_each_other_from_the_food(stocked: Stocked) -> None:
    timid = time_left(
        stocked(["2 discus, 12 cm, boldness: timid"], ["12 cardinal tetra, 3 cm, boldness: timid"]), "blue discus"
    )
    bold = time_left(
        stocked(["2 discus, 12 cm, boldness: timid"], ["12 cardinal tetra, 3 cm, boldness: bold"]), "blue discus"
    )
    assert timid > bold


@pytest.mark.parametrize(
    ("quieter", "louder"),
    [
        ("6 yoyo loach, 6 cm", "6 yoyo loach, 12 cm"),
        ("2 yoyo loach, 9 cm", "8 yoyo loach, 9 cm"),
        ("6 yoyo loach, 9 cm, boldness: timid", "6 yoyo loach, 9 cm, boldness: bold"),
        ("6 yoyo loach, 9 cm, pace: steady", "6 yoyo loach, 9 cm, pace: frantic"),
        ("6 yoyo loach, 9 cm, other_fish: peaceful", "6 yoyo loach, 9 cm, other_fish: territorial"),
        ("6 yoyo loach, 9 cm, level: surface", "6 yoyo loach, 9 cm, level: mid"),
    ],
)
def test_longer_more_bolder_quicker_and_rougher_fish_leave_less_time(
    stocked: Stocked, quieter: str, louder: str
) -> None:
    """Common practice, no source: small bottom fish fare badly beside large, bold ones."""
    small = "8 kuhli loach, 7 cm, other_fish: peaceful"
    more, less = (time_left(stocked([small], [others]), "kuhli loach") for others in (quieter, louder))
    assert less < more


@pytest.mark.parametrize(
    ("sooner", "later"),
    [
        ("pace: slow", "pace: fast"),
        ("boldness: timid", "boldness: bold"),
    ],
)
def test_who_stands_less_bustle_loses_more_time(stocked: Stocked, sooner: str, later: str) -> None:
    """Common practice, no source: the slow and the timid go short first."""
    less, more = (
        time_left(stocked([f"4 pearl gourami, 9 cm, {word}"], ["10 zebrafish, 4 cm"]), "pearl gourami")
        for word in (sooner, later)
    )
    assert less < more


def test_a_timid_fish_stands_more_bustle_in_a_shoal_of_its_own(stocked: Stocked) -> None:
    """Common practice, no source."""
    few, many = (
        time_left(stocked([f"{count} ember tetra, 2 cm, boldness: timid"], ["6 zebrafish, 4 cm"]), "ember tetra")
        for count in (2, 20)
    )
    assert few < many < 1


@pytest.mark.parametrize(
    ("sooner", "later"),
    [
        ("2 bristlenose pleco, 13 cm", "2 dwarf petricola, 13 cm, boldness: timid"),
        ("2 bristlenose pleco, 13 cm", "2 bristlenose pleco, 13 cm, level: [mid]"),
        ("2 bristlenose pleco, 13 cm", "1 bristlenose pleco, 13 cm"),
        ("1 suckermouth pleco, 30 cm", "1 bristlenose pleco, 10 cm"),
    ],
)
@pytest.mark.parametrize("shy", ["3 twig catfish, 15 cm", "5 zebra pleco, 7 cm"])
def test_a_grazer_that_lies_on_the_food_keeps_the_shy_ones_from_it(
    stocked: Stocked, shy: str, sooner: str, later: str
) -> None:
    """Common practice, no source: large plecos sit on the food, and twig catfish or zebra plecos get none."""
    name = shy.split(" ", 1)[1].split(",")[0]
    less, more = (time_left(stocked([shy], [other], draws=5), name) for other in (sooner, later))
    assert less < more


def test_who_neither_grazes_nor_feeds_in_the_dark_eats_beside_a_pleco(stocked: Stocked) -> None:
    """Common practice, no source: corydoras do well beside bristlenoses."""
    assert time_left(stocked(["6 bronze corydoras, 6 cm"], ["1 bristlenose pleco, 12 cm"]), "bronze corydoras") > 0.9


KINDS = ("giant danio, 8 cm", "oscar, 20 cm", "convict cichlid, 9 cm", "discus, 12 cm", "saddled bichir, 30 cm")


@given(st.sampled_from(KINDS), st.sampled_from(KINDS), st.integers(1, 10), st.integers(1, 6), st.integers(1, 6))
@settings(deadline=None, max_examples=25)
def test_a_further_place_never_takes_time_from_anyone(
    stocked: Stocked, one: str, other: str, count: int, few: int, many: int
) -> None:
    course = stocked([f"2 {one}", f"{count} {other}"], draws=20).course
    fewer, more = sorted((few, many))
    left = [left_at_first(course, places, "day") for places in (fewer, more)]
    assert np.all((left[0] >= 0) & (left[0] <= left[1] + 1e-6) & (left[1] <= 1))
