"""The race for a meal: hand-worked shares, a stepped meal as oracle, and its laws."""

from __future__ import annotations

from random import Random

import numpy as np
import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st
from numpy.typing import ArrayLike

from coswim.arrays import Floats
from coswim.biology import feeding

Eater = tuple[float, float, float]
eater = st.tuples(st.one_of(st.just(0.0), st.floats(0.01, 10)), st.floats(0, 5), st.floats(0, 3))
eaters = st.lists(eater, min_size=1, max_size=6)
foods = st.floats(0, 30)


def race(rates: ArrayLike, capacities: ArrayLike, *, food: ArrayLike, latencies: ArrayLike = 0.0) -> Floats:
    """The intakes, from numbers as they are written."""
    rate, capacity, latency, offered = (np.asarray(one, dtype=float) for one in (rates, capacities, latencies, food))
    rate, capacity, latency = np.broadcast_arrays(rate, capacity, latency)
    return feeding.intakes(rate, capacity, latency, offered)


def raced(group: list[Eater], food: float) -> Floats:
    """The intakes of (rate, capacity, latency) eaters."""
    rates, capacities, latencies = (list(column) for column in zip(*group, strict=True))
    return race(rates, capacities, food=food, latencies=latencies)


@pytest.mark.parametrize(
    ("food", "shares"),
    # derived: min(c, a tau) with rates 3, 1, 1 and capacities 2, 2, 2
    [(3, [1.8, 0.6, 0.6]), (5, [2, 1.5, 1.5]), (7, [2, 2, 2])],
)
def test_sharing_by_hand(food: float, shares: list[float]) -> None:
    assert race([3, 1, 1], [2, 2, 2], food=food).tolist() == pytest.approx(shares)


@pytest.mark.parametrize(
    ("latency", "intake"),
    # derived: 12 tau + (tau - t) = 3, so the slow fish has (3 - 12 t) / 13
    [(0, 0.2308), (0.1, 0.1385), (0.3, 0)],
)
def test_a_slow_fish_that_starts_late(latency: float, intake: float) -> None:
    shares = race([4, 4, 4, 1], [1, 1, 1, 3], food=3, latencies=[0, 0, 0, latency])
    assert shares[3] == pytest.approx(intake, abs=5e-5)


def test_a_bigger_meal_evens_the_shares() -> None:
    """Published sign: fast delivery evens shares, a trickle favours the quick (Hakoyama & Iguchi, amago salmon)."""
    trickle, plenty = race([3, 1, 1], [2, 2, 2], food=1), race([3, 1, 1], [2, 2, 2], food=5.5)
    assert trickle[0] / trickle.sum() == pytest.approx(0.6)  # derived: 3 of 5
    assert plenty[0] / plenty.sum() == pytest.approx(2 / 5.5)


def test_draws_and_months_are_raced_at_once() -> None:
    rates = np.array([[3.0, 1.0], [1.0, 1.0], [1.0, 1.0]])
    shares = race(rates, [[2], [2], [2]], food=[3.0, 3.0])
    assert shares.T.tolist() == [pytest.approx([1.8, 0.6, 0.6]), pytest.approx([1, 1, 1])]


def stepped(group: list[Eater], food: float, step: float = 0.0005, minutes: float = 12) -> Floats:
    """The same meal run in small steps of time."""
    rates, capacities, latencies = (np.array(column) for column in zip(*group, strict=True))
    had, left, time = np.zeros_like(rates), food, 0.0
    while left > 0 and time < minutes:
        bites = np.minimum(np.where(time >= latencies, rates * step, 0), capacities - had)
        bites *= min(1.0, left / bites.sum()) if bites.sum() > 0 else 0.0
        had, left, time = had + bites, left - bites.sum(), time + step
    return had


@pytest.mark.parametrize(
    ("group", "food"),
    [
        ([(3.0, 2.0, 0.0), (1.0, 2.0, 0.5), (2.0, 0.4, 1.0)], 3.0),
        ([(0.5, 4.0, 0.0), (6.0, 1.5, 0.3), (1.0, 0.2, 2.5)], 4.0),
        ([(1.0, 1.0, 2.0), (0.0, 2.0, 0.0)], 1.5),
    ],
)
def test_a_stepped_meal_comes_to_the_same(group: list[Eater], food: float) -> None:
    """Oracle: the race stepped by 0.03 s."""
    assert raced(group, food) == pytest.approx(stepped(group, food), abs=0.01)


@given(eaters, foods)
@settings(deadline=None, max_examples=60)
def test_shares_sum_to_the_food_eaten(group: list[Eater], food: float) -> None:
    shares = raced(group, food)
    stomachs = sum(capacity for rate, capacity, _ in group if rate > 0)
    assert shares.sum() == pytest.approx(min(food, stomachs), rel=1e-6, abs=1e-6)
    assert all(0 <= share <= capacity for share, (_, capacity, _) in zip(shares, group, strict=True))


@given(eaters, eater, foods)
@settings(deadline=None, max_examples=60)
def test_a_further_competitor_never_raises_anyones_intake(group: list[Eater], newcomer: Eater, food: float) -> None:
    before = raced(group, food)
    after = raced([*group, newcomer], food)[:-1]
    assert np.all(after <= before + 1e-6)


@given(eaters, foods, st.floats(0, 10))
@settings(deadline=None, max_examples=60)
def test_more_food_never_lowers_anyones_intake(group: list[Eater], food: float, more: float) -> None:
    assert np.all(raced(group, food + more) >= raced(group, food) - 1e-6)


@given(eaters, foods, st.randoms(use_true_random=False))
@example([(0.0, 0.0, 2.0), (1.0, 5e-323, 1.0)], 0.0, Random(1))  # noqa: S311 - next to nothing, which overflowed
@settings(deadline=None, max_examples=60)
def test_the_order_of_the_eaters_does_not_matter(group: list[Eater], food: float, random: Random) -> None:
    order = list(range(len(group)))
    random.shuffle(order)
    shares = raced(group, food)
    assert raced([group[i] for i in order], food) == pytest.approx(shares[order], abs=1e-6)
