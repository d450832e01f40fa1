"""How each future goes on: hunger lowers weight, weight decides contests, contests cost food; and the laws of it."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from tests.simulation.conftest import Stocked

from coswim.arrays import Floats
from coswim.plans.reading import read_plan
from coswim.profiles.catalog import BUILT_IN, Catalog, profile_files
from coswim.simulation.course import Course
from coswim.simulation.scene import Effort, Scene, build_scene
from coswim.simulation.sitting import THINNEST

BICHIR, BARBS = "1 saddled bichir, 38 cm", "8 tinfoil barb, 10 cm"
CARRIED = "{share: 50 %, every: 2 days}"


def of(scene: Scene, name: str, part: str) -> Floats:
    """One group's part of the course, draws × times."""
    index = next(i for i, group in enumerate(scene.groups) if group.name == name)
    values: Floats = getattr(scene.course, part)[..., index]
    return values


def test_all_begin_well_fed_and_stay_so_in_good_company(stocked: Stocked) -> None:
    course = stocked(["6 bronze corydoras, 5 cm"], ["12 neon tetra, 3 cm"], size="100 x 40 x 40 cm").course
    assert np.all(course.condition[:, 0] == 1)
    assert np.mean(course.condition[:, course.steady].min(axis=(1, 2)) > 0.95) > 0.9  # newcomers thin while they settle


def test_a_slow_eater_thins_over_weeks_beside_quick_ones(stocked: Stocked) -> None:
    scene = stocked([BICHIR, BARBS.replace("10", "18")], feeding="amount: 6 g a day")
    weight = np.median(of(scene, "saddled bichir", "condition"), axis=0)
    assert np.all(np.diff(weight) <= 0)
    assert weight[4] > weight[-1]
    assert weight[-1] < 0.75
    assert np.median(of(scene, "tinfoil barb", "condition")[:, -1]) == 1


def test_an_unfed_fish_thins_by_the_published_loss(stocked: Stocked) -> None:
    """Derived from Aguilar 2017 and Hartman & Brandt 1995 at 26 C: 3 to 5 % in the first week at 50 to 200 g, 1.5 off."""
    scene = stocked(["1 oscar, 16 cm"], feeding="amount: 0.001 g a day, food: floating pellet")
    course = scene.course
    lost = 1 - np.median(course.condition[:, 1, 0])
    assert 0.02 < lost < 0.07
    assert np.all(course.condition >= THINNEST)


def test_the_tables_turn_where_the_loser_grows_thin(stocked: Stocked) -> None:
    course = stocked(["1 oscar, 24 cm"], ["1 jaguar cichlid, 22 cm"]).course
    oscar = next(i for i, group in enumerate(course.groups) if group.name == "oscar")
    course.condition[:, -1, oscar] *= 0.6
    wins = course.wins(oscar, 1 - oscar)
    assert np.all(wins[:, -1] < wins[:, 0])


def test_a_newcomer_eats_little_until_it_has_settled(stocked: Stocked) -> None:
    scene = stocked(["6 bronze corydoras, 5 cm"], ["1 fire eel, 40 cm"], size="240 x 80 x 60 cm")
    eaten = np.median(of(scene, "fire eel", "coverage"), axis=0)
    assert eaten[0] < 0.5
    assert eaten[0] < eaten[1] < eaten[4]
    assert eaten[4] > 1


def test_residents_that_all_live_there_have_nothing_to_settle(stocked: Stocked) -> None:
    assert np.all(of(stocked([BICHIR, BARBS]), "saddled bichir", "intake")[:, 0] > 0)


def test_food_needed_beside_gorging_fish_is_a_multiple_of_normal(stocked: Stocked) -> None:
    """Common practice: quick omnivores fed until a slow tankmate has eaten take a multiple of the normal food."""
    course = stocked([BICHIR], [BARBS], water_change=CARRIED).course
    assert 1.8 <= np.median(course.wanted[:, -1] / course.normal[:, -1]) <= 3


def test_the_price_keeps_the_weight(stocked: Stocked) -> None:
    """Fed so much more than normal, the loser keeps its weight where the price is finite and above 1."""
    course = stocked(["1 fire eel, 50 cm"], ["8 silver dollar, 12 cm"], water_change=CARRIED, draws=300).course
    loser = next(i for i, group in enumerate(course.groups) if group.is_resident)
    price = course.price[:, -1, loser]
    assert np.all(price >= 1)
    paid = np.isfinite(price) & (course.given[:, -1] >= price * course.normal[:, -1])
    assert paid.mean() > 0.3
    assert np.all(course.coverage[paid, -1, loser] >= 1 - 1e-6)
    unpaid = course.given[:, -1] < 0.999 * price * course.normal[:, -1]
    assert np.all(course.coverage[unpaid, -1, loser] < 1 + 1e-6)


def test_shares_add_up(stocked: Stocked) -> None:
    """Derived: of what is eaten, and of what is needed."""
    course = stocked([BICHIR], [BARBS]).course
    assert course.shares.sum(axis=-1) == pytest.approx(1)
    assert course.fair_shares.sum(axis=-1) == pytest.approx(1)


def test_nothing_is_eaten_that_was_not_given(stocked: Stocked) -> None:
    for food in ("mixed", "floating pellet", "sinking pellet", "frozen", "live", "soft", "[flakes, greens]"):
        course = stocked([BICHIR], [BARBS], feeding=f"food: {food}").course
        assert np.all(course.intake >= 0)
        assert np.all(course.intake.sum(axis=-1) <= course.given * (1 + 1e-6))


@pytest.mark.parametrize(
    ("worse", "better"),
    [
        ("food: floating pellet", "food: sinking pellet"),
        ("food: sinking pellet, at: day", "food: sinking pellet, at: night"),
        ("food: sinking pellet", "food: sinking pellet, by_hand: saddled bichir"),
    ],
)
def test_food_at_its_level_and_hour_and_from_tongs_helps_a_bottom_feeder_of_the_night(
    stocked: Stocked, worse: str, better: str
) -> None:
    """Common practice, no source."""
    less, more = (
        of(stocked([BICHIR, "8 tinfoil barb, 18 cm"], feeding=feeding), "saddled bichir", "coverage").mean()
        for feeding in (worse, better)
    )
    assert more > less


def test_many_small_meals_favour_the_quick(stocked: Stocked) -> None:
    """Published, sign: a trickle favours the dominant, fast delivery evens shares (Hakoyama & Iguchi, amago salmon)."""
    few, many = (
        of(
            stocked([BICHIR, "8 tinfoil barb, 18 cm"], feeding=f"meals: {meals} a day"), "saddled bichir", "shares"
        ).mean()
        for meals in (1, 4)
    )
    assert many < few


def test_the_weakest_of_a_rough_group_thins_first(stocked: Stocked) -> None:
    rough, mild = (
        stocked([f"10 convict cichlid, 9 cm, own_kind: {word}"], feeding="amount: 1 g a day").course.condition.mean()
        for word in ("aggressive", "peaceful")
    )
    assert rough < mild


def test_more_draws_keep_the_first_times_as_they_were(stocked: Stocked) -> None:
    """A longer horizon changes nothing before it: the course steps forward only."""
    short, long = (stocked([BICHIR], [BARBS], months=months).course for months in (12, 24))
    same = np.flatnonzero(np.isin(long.times, short.times))
    assert np.array_equal(short.condition[:, : len(same)], long.condition[:, same])


FISH = (  # species and a length at which it is sold or grown
    "giant danio, 8 cm",
    "tinfoil barb, 12 cm",
    "bronze corydoras, 5 cm",
    "saddled bichir, 30 cm",
    "discus, 12 cm",
    "clown loach, 10 cm",
    "oscar, 20 cm",
    "convict cichlid, 9 cm",
    "elephantnose fish, 16 cm",
    "neon tetra, 3 cm",
)
FOODS = ("flakes", "floating pellet", "sinking pellet", "frozen", "soft")
fish, food = st.sampled_from(FISH), st.sampled_from(FOODS)
counts, grams = st.integers(1, 8), st.sampled_from((0.3, 1.0, 3.0, 8.0))


def worst_off(course: Course) -> int:
    return int(np.argmin(course.coverage.mean(axis=(0, 1))))


@given(fish, counts, fish, counts, food, grams, st.integers(1, 8))
@settings(deadline=None, max_examples=15)
def test_more_of_a_competitor_never_raises_what_another_gets(
    stocked: Stocked, one: str, few: int, rival: str, count: int, food: str, grams: float, more: int
) -> None:
    """At a stated amount, of two kinds, what is eaten and what is found. A third may gain where a chaser is kept busy."""
    assume(one != rival)
    how = f"food: {food}, amount: {grams} g a day"
    name = stocked([f"{few} {one}"], draws=1).groups[0].name
    before, after = (
        of(stocked([f"{few} {one}", f"{number} {rival}"], feeding=how, draws=40), name, "coverage")[:, 0]
        for number in (count, count + more)
    )
    assert np.all(after <= before * (1 + 1e-6))


@given(fish, counts, fish, counts, food, grams, st.floats(1, 3))
@settings(deadline=None, max_examples=15)
def test_more_food_never_lowers_a_meal_nor_the_mean_weight_of_anyone(
    stocked: Stocked, one: str, few: int, other: str, count: int, food: str, grams: float, times: float
) -> None:
    """Draw by draw at the first meal; over months heavier rivals may turn a single future."""
    assume(one != other)
    less, more = (
        stocked(
            [f"{few} {one}", f"{count} {other}"], feeding=f"food: {food}, amount: {amount:.6g} g a day", draws=40
        ).course
        for amount in (grams, grams * times)
    )
    assert np.all(more.intake[:, 0] >= less.intake[:, 0] * (1 - 1e-6))
    assert np.all(more.condition.mean(axis=0) >= less.condition.mean(axis=0) - 1e-3)


@given(fish, counts, fish, counts, food)
@settings(deadline=None, max_examples=15)
def test_hand_feeding_never_makes_the_losers_course_worse(
    stocked: Stocked, one: str, few: int, other: str, count: int, food: str
) -> None:
    assume(one != other)
    groups = [f"{few} {one}", f"{count} {other}"]
    plain = stocked(groups, feeding=f"food: {food}", draws=40).course
    loser = worst_off(plain)
    by_hand = stocked(groups, feeding=f'food: {food}, by_hand: "{plain.groups[loser].name}"', draws=40).course
    assert np.all(by_hand.condition[..., loser] >= plain.condition[..., loser] - 1e-6)


@given(fish, counts, fish, counts, food)
@settings(deadline=None, max_examples=15)
def test_its_own_hour_never_makes_the_losers_course_worse(
    stocked: Stocked, one: str, few: int, other: str, count: int, food: str
) -> None:
    """In the mean of the draws and to one percent, where the hour is not the rival's too: it lets others in as well."""
    assume(one != other)
    groups = [f"{few} {one}", f"{count} {other}"]
    plain = stocked(groups, feeding=f"food: {food}", draws=40).course
    loser = worst_off(plain)
    styles = [group.profile.feeding_style for group in plain.groups]
    hours = [style.active if style else "day" for style in styles]
    assume(hours[loser] != hours[1 - loser])
    better = stocked(groups, feeding=f"food: {food}, at: {hours[loser]}", draws=40).course
    assert better.condition[..., loser].mean() >= plain.condition[..., loser].mean() - 0.01


@given(fish, counts, fish, counts, food)
@settings(deadline=None, max_examples=15)
def test_a_second_place_never_makes_the_losers_course_much_worse(
    stocked: Stocked, one: str, few: int, other: str, count: int, food: str
) -> None:
    """In the mean of the draws and to 2 %: it frees others too, who may be quicker at it."""
    assume(one != other)
    groups = [f"{few} {one}", f"{count} {other}"]
    plain = stocked(groups, feeding=f"food: {food}", draws=40).course
    loser = worst_off(plain)
    better = stocked(groups, feeding=f"food: {food}, places: 2", draws=40).course
    assert better.condition[..., loser].mean() >= plain.condition[..., loser].mean() - 0.02


@given(fish, counts, fish, counts, food, grams)
@settings(deadline=None, max_examples=15)
def test_condition_never_rises_on_less_than_maintenance(
    stocked: Stocked, one: str, few: int, other: str, count: int, food: str, grams: float
) -> None:
    assume(one != other)
    course = stocked(
        [f"{few} {one}", f"{count} {other}"], feeding=f"food: {food}, amount: {grams} g a day", draws=40
    ).course
    rises = np.diff(course.condition, axis=1) > 0
    assert np.all(course.coverage[:, :-1][rises] > 1)


def test_a_tiny_fish_that_grows_beyond_bounds_does_so_without_overflow(tmp_path: Path) -> None:
    """A keeper may write any growth; what it adds to the weight in a week is then beyond all numbers."""
    known = next(path for path in profile_files(BUILT_IN) if path.name == "hyphessobrycon-amandae.yaml")
    giant = {"adult_length": "400-500 cm", "growth": "10-20", "smallest_tank": "60 cm"}
    lines = [line for line in known.read_text(encoding="utf-8").splitlines() if line.split(":")[0] not in giant]
    text = "\n".join([*(f"{key}: {value}" for key, value in giant.items()), *lines])
    (tmp_path / known.name).write_text(
        text.replace("body:\n", "body:\n  weight: {a: 0.0001, b: 2}\n"), encoding="utf-8"
    )
    plan = "tank: {size: 60 x 30 x 30 cm, temperature: 25 C, ph: 6.5, hardness: 5 dGH}\n"
    plan += "residents: [{species: ember tetra, count: 8, length: 1 cm}]\n"
    catalog = Catalog((BUILT_IN, tmp_path))
    course = build_scene(read_plan(plan, "plan.yaml", catalog), None, catalog, Effort(50)).course
    assert np.all(course.condition[:, 1] == 1)
