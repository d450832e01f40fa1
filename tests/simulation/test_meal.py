"""One meal: hand-worked shares go through it, nothing is eaten that was not offered, and its laws."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from tests.simulation.conftest import Stocked

from coswim.arrays import Floats
from coswim.simulation.foods import DRIFTS, FOODS, Dish, Food
from coswim.simulation.group import Group
from coswim.simulation.meal import MESSY, LaidTable, Meal
from coswim.simulation.tanks import Tanks

ANYWHERE = Food("anywhere", surface=1.0, mid=1.0, bottom=1.0, minutes=1e6)


@pytest.fixture(scope="module")
def fish(stocked: Stocked) -> tuple[Group, ...]:
    kinds = ("1 oscar, 20 cm", "1 discus, 12 cm", "1 clown loach, 12 cm", "1 bronze corydoras, 5 cm")
    groups = {group.name: group for group in stocked(kinds, draws=1).groups}
    return tuple(groups[name] for name in ("oscar", "blue discus", "clown loach", "bronze corydoras"))


def each(values: object, size: int) -> Floats:
    """For each group of one tank in one future, shape (groups, 1, 1)."""
    return np.array(np.broadcast_to(np.asarray(values, dtype=float), size)).reshape(size, 1, 1)


def food(*amounts: float) -> Floats:
    """What goes in as each dish, shape (dishes, 1, 1)."""
    return each(amounts, len(amounts))


def meal(
    fish: tuple[Group, ...],
    rates: list[float],
    capacities: list[float],
    *,
    hesitation: object = 0.0,
    foods: tuple[Food, ...] = (ANYWHERE,),
    spilled: float = 0.0,
    nearby: float = 0.0,
    time_left: object = 1.0,
    by_hand: object = 0.0,
    weights: object = 0.0,
) -> Meal:
    """A meal of the first so many fish in one future, at which nobody is choosy about the level."""
    size = len(rates)
    tanks, ones = Tanks((fish[:size],)), each(1, size)
    table = LaidTable(
        tanks,
        tuple(Dish(kind, tanks.number(kind.access), ones) for kind in foods),
        hesitation=each(hesitation, size),
        awake=ones,
        greed=ones,
        spilled=np.array([spilled]),
        nearby=np.array([nearby]),
    )
    full = each(capacities, size)
    return Meal(
        table,
        each(rates, size),
        full,
        each(time_left, size),
        by_hand=each(by_hand, size),
        rations=full,
        weights=each(weights, size),
    )


@pytest.mark.parametrize(
    ("grams", "shares"),
    # derived: min(c, a tau) with rates 3, 1, 1 and capacities 2, 2, 2
    [(3, [1.8, 0.6, 0.6]), (5, [2, 1.5, 1.5]), (7, [2, 2, 2])],
)
def test_sharing_by_hand(fish: tuple[Group, ...], grams: float, shares: list[float]) -> None:
    served = meal(fish, [3, 1, 1], [2, 2, 2]).served(food(grams))
    assert served.eaten.ravel().tolist() == pytest.approx(shares)


@pytest.mark.parametrize(
    ("latency", "intake"),
    # derived: 12 tau + (tau - t) = 3, so the slow fish has (3 - 12 t) / 13
    [(0, 0.2308), (0.1, 0.1385), (0.3, 0)],
)
def test_a_slow_fish_that_starts_late(fish: tuple[Group, ...], latency: float, intake: float) -> None:
    served = meal(fish, [4, 4, 4, 1], [1, 1, 1, 3], hesitation=[0, 0, 0, latency]).served(food(3.0))
    assert served.eaten[3, 0, 0] == pytest.approx(intake, abs=5e-5)


def test_what_is_spilled_is_found_at_the_bottom(fish: tuple[Group, ...]) -> None:
    """Derived: 7 % of 10 g fall, a tenth but for what drifts off; the bottom feeders are not full of what floats."""
    floating = (FOODS["floating pellet"],)
    served = meal(fish, [5, 5, 1, 1], [4.5, 4.5, 5, 5], foods=floating, spilled=0.1).served(food(10.0))
    assert served.crumbs.sum() == pytest.approx(10 * 0.1 * DRIFTS)
    assert served.crumbs[2:].sum() > 0.7 * DRIFTS
    assert served.left.item() == pytest.approx(0.0, abs=1e-6)


def test_large_fish_spill_more_than_small_ones(fish: tuple[Group, ...]) -> None:
    """Derived: a tenth, and at 900 g (1 + 0.9 x 0.9) tenths; common practice, that large cichlids lose much food."""
    small, large = (
        meal(fish, [5], [20], spilled=0.1, weights=weight).served(food(10.0)).of_dish[0].item()
        for weight in (0.0, 900.0)
    )
    assert small == pytest.approx(9)
    assert large == pytest.approx(10 * (1 - 0.1 * (1 + MESSY * 0.9)))


def test_nobody_eats_at_night_what_it_refuses_by_day(fish: tuple[Group, ...]) -> None:
    table = meal(fish, [1, 1, 1, 1], [1, 1, 1, 1]).table
    refused = [Dish(dish.food, dish.access * 0, dish.accepted * each([1, 1, 1, 0], 4)) for dish in table.dishes]
    assert table.finds_crumbs[3] > 0
    assert replace(table, dishes=tuple(refused)).finds_crumbs[3] == 0


def test_what_comes_down_nearby_is_eaten_before_the_quick_are_there(fish: tuple[Group, ...]) -> None:
    """Derived: a fifth of 3 g is shared by capacity; of the 2.4 g left the slow one has a hundredth."""
    served = meal(fish, [99, 1], [5, 5], nearby=0.2).served(food(3.0))
    assert served.eaten.ravel().tolist() == pytest.approx([0.3 + 2.376, 0.3 + 0.024])


def test_what_is_given_by_hand_is_not_raced_for(fish: tuple[Group, ...]) -> None:
    served = meal(fish, [9, 1], [5, 2], by_hand=[0, 2]).served(food(4.0))
    assert served.eaten.ravel().tolist() == pytest.approx([4, 0])  # the second is full already


def test_what_a_group_is_short_of_feeds_it(fish: tuple[Group, ...]) -> None:
    """Derived: rates 9 and 1 of 5 g: 1 g for the slow one takes 9 of 10 g, so 5 more."""
    hungry = meal(fish, [9, 1], [20, 2])
    amounts = food(5.0)
    more, _ = hungry.short_of(amounts, hungry.served(amounts), each([0, 1], 2))
    assert more.ravel().tolist() == pytest.approx([0, 5])
    assert hungry.served(amounts + more[1:]).eaten[1, 0, 0] == pytest.approx(1)


def test_no_amount_is_enough_for_a_fish_that_cannot_eat_so_much(fish: tuple[Group, ...]) -> None:
    short = ANYWHERE._replace(minutes=1.0)
    slow = meal(fish, [9, 1], [20, 2], foods=(short,))
    amounts = food(5.0)
    more, _ = slow.short_of(amounts, slow.served(amounts), each([0, 1.5], 2))
    assert more[1, 0, 0] == np.inf


rates = st.lists(st.floats(0.01, 5), min_size=4, max_size=4)
stomachs = st.lists(st.floats(0, 5), min_size=4, max_size=4)
times = st.lists(st.floats(0.05, 1), min_size=4, max_size=4)
foods = st.lists(st.sampled_from(sorted(FOODS)), min_size=1, max_size=2, unique=True).map(
    lambda names: tuple(sorted((FOODS[name] for name in names), key=lambda food: food.minutes))
)
amounts = st.tuples(st.floats(0, 12), st.floats(0, 12))
parts = st.floats(0, 0.3)


def offered(foods: tuple[Food, ...], grams: tuple[float, float]) -> Floats:
    return food(*grams[: len(foods)])


@given(rates, stomachs, times, foods, amounts, parts, parts)
@settings(deadline=None, max_examples=60)
def test_food_is_eaten_or_left(
    fish: tuple[Group, ...],
    rates: list[float],
    stomachs: list[float],
    times: list[float],
    foods: tuple[Food, ...],
    grams: tuple[float, float],
    spilled: float,
    nearby: float,
) -> None:
    """Derived: what is eaten and what lies at the bottom is never more than went in, and nobody is more than full."""
    given_ = offered(foods, grams)
    served = meal(fish, rates, stomachs, foods=foods, time_left=times, spilled=spilled, nearby=nearby).served(given_)
    assert np.all(served.eaten >= -1e-6)
    assert np.all(served.eaten <= each(stomachs, 4) + 1e-6)
    assert served.eaten.sum() + served.left.item() <= given_.sum() + 1e-6


@given(rates, stomachs, times, foods, amounts, parts, parts, st.floats(0, 10), st.integers(0, 1))
@settings(deadline=None, max_examples=80)
def test_more_food_never_lowers_a_meal(
    fish: tuple[Group, ...],
    rates: list[float],
    stomachs: list[float],
    times: list[float],
    foods: tuple[Food, ...],
    grams: tuple[float, float],
    spilled: float,
    nearby: float,
    more: float,
    which: int,
) -> None:
    raced = meal(fish, rates, stomachs, foods=foods, time_left=times, spilled=spilled, nearby=nearby)
    raised = offered(foods, grams)
    before = raced.served(raised).eaten
    raised[min(which, len(foods) - 1)] += more
    assert np.all(raced.served(raised).eaten >= before - 1e-6)


@given(rates, stomachs, times, foods, amounts, parts, parts, st.floats(1, 5))
@settings(deadline=None, max_examples=80)
def test_more_of_a_competitor_never_raises_another_meal(
    fish: tuple[Group, ...],
    rates: list[float],
    stomachs: list[float],
    times: list[float],
    foods: tuple[Food, ...],
    grams: tuple[float, float],
    spilled: float,
    nearby: float,
    times_as_many: float,
) -> None:
    """At the same amounts of the same foods, and where nobody is busy chasing the more of them."""

    def others(count: float) -> Floats:
        raced = meal(
            fish,
            [*rates[:3], rates[3] * count],
            [*stomachs[:3], stomachs[3] * count],
            foods=foods,
            time_left=times,
            spilled=spilled,
            nearby=nearby,
        )
        return raced.served(offered(foods, grams)).eaten[:3]

    assert np.all(others(times_as_many) <= others(1.0) + 1e-6)
