"""Nitrate under batches and a drip, held against hand-worked figures and a tank changed day by day."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from coswim.biology.water_change import FOREVER, Changes, before_change, share_that_holds

shares = st.floats(0, 1)
intervals = st.floats(0.5, 60)
drips = st.floats(0, 0.5)
gains = st.one_of(st.just(0.0), st.floats(0.01, 20))
inflows = st.floats(0, 40)


def settled(changes: Changes, gain: float, inflow: float) -> float:
    """Nitrate before a change in the long run."""
    return float(before_change(FOREVER, start=inflow, per_day=gain, inflow=inflow, changes=changes))


def test_batches_alone() -> None:
    """Derived: 20 mg/L a week, 25 % a week, new water 10: C + p d / f = 90 before and 70 after a change."""
    before = settled(Changes(0.25, every=7), 20 / 7, 10)
    assert before == pytest.approx(90)
    assert before * 0.75 + 10 * 0.25 == pytest.approx(70)


def test_changes_that_halve() -> None:
    """Derived: 10 of 360 L takes 25 changes, ln(1/2) / ln(350/360) = 24.6."""
    small = Changes(10 / 360, every=1)
    levels = [float(before_change(n, start=100, per_day=0, inflow=0, changes=small)) for n in (24, 25)]
    assert levels[0] > 50 > levels[1]


def test_a_drip_alone() -> None:
    """Derived: 20 % of the volume in a day leaves e^-0.2 = 0.8187; in the long run it holds C + p / q."""
    drip = Changes(0, every=1, drip=0.20)
    assert drip.left == pytest.approx(0.8187, abs=5e-5)
    assert settled(drip, 2, 5) == pytest.approx(5 + 2 / 0.20)


def changed_day_by_day(changes: Changes, gain: float, inflow: float, rounds: int, start: float) -> float:
    """The same tank in steps of a thousandth of the time between changes, before the last change."""
    level, step = start, changes.every / 1000
    for number in range(rounds):
        if number:
            level += changes.share * (inflow - level)
        for _ in range(1000):
            level += step * (gain - changes.drip * (level - inflow))
    return level


@pytest.mark.parametrize(
    ("changes", "rounds"),
    [(Changes(0.35, every=7), 6), (Changes(0.0, every=3, drip=0.1), 9), (Changes(0.4, every=5, drip=0.08), 7)],
    ids=["batches", "drip", "both"],
)
def test_a_tank_changed_day_by_day_comes_to_the_same(changes: Changes, rounds: int) -> None:
    """Oracle: mass balance stepped. The formula starts just before a change, the tank just after one."""
    start, gain, inflow = 30.0, 1.5, 5.0
    after = start + changes.share * (inflow - start)
    exact = before_change(rounds * changes.every, start=start, per_day=gain, inflow=inflow, changes=changes)
    assert float(exact) == pytest.approx(changed_day_by_day(changes, gain, inflow, rounds, after), rel=2e-3)


@pytest.mark.parametrize(("days", "left"), [(0.0, 100.0), (3.5, 87.5), (7.0, 75.0), (10.5, 65.625), (14.0, 56.25)])
def test_between_two_changes_it_lies_on_a_straight_line(days: float, left: float) -> None:
    """Derived: a quarter goes every week, so half way to the first change an eighth, to the second 75 - 75/8."""
    weekly = Changes(0.25, every=7)
    assert float(before_change(days, start=100, per_day=0, inflow=0, changes=weekly)) == pytest.approx(left)


@pytest.mark.parametrize(
    ("changes", "days"),
    [(Changes(0.35, every=7), 84), (Changes(0.0, every=3, drip=0.1), 30), (Changes(0.05, every=2), 20)],
)
def test_a_load_that_rises_in_a_straight_line(changes: Changes, days: int) -> None:
    """Oracle: mass balance stepped by round, the load of each round its own; within 3 % of what is gained."""
    first, last, level = 1.0, 3.0, 20.0
    for number in range(int(days / changes.every)):
        load = first + (last - first) * (number + 0.5) * changes.every / days
        level = float(before_change(changes.every, start=level, per_day=load, inflow=0, changes=changes))
    earlier = changes.weight_of_start(days)
    mean = earlier * first + (1 - earlier) * last
    exact = before_change(days, start=20.0, per_day=mean, inflow=0, changes=changes)
    assert float(exact) == pytest.approx(level, rel=0.03)


def test_the_weight_of_an_early_load_lies_between_none_and_half() -> None:
    """Derived: half without changes or in no time; nothing where all water is changed."""
    assert Changes(0.3, every=7).weight_of_start(0) == 0.5
    assert Changes(1.0, every=7).weight_of_start(30) == 0
    weights = [Changes(0.3, every=7).weight_of_start(days) for days in (1, 10, 100, 1e6)]
    assert weights == sorted(weights, reverse=True)
    assert 0 < weights[-1] < weights[0] < 0.5


def test_without_changes_nitrate_only_rises() -> None:
    """Derived: 10 + 30 days of 2 mg/L."""
    none = Changes(0, every=7)
    assert float(before_change(30, start=10, per_day=2, inflow=5, changes=none)) == pytest.approx(70)
    assert settled(none, 2, 5) == np.inf
    assert settled(none, 0, 5) == 5


@given(shares, shares, intervals, drips, gains, inflows, st.one_of(st.just(FOREVER), st.floats(0, 1000)))
@example(one=0.0, other=2.220446049250313e-16, every=1.5, drip=0.0, gain=1.0, inflow=0.0, days=0.5)
@settings(deadline=None, max_examples=150)
def test_a_larger_change_never_raises_nitrate(
    one: float, other: float, every: float, drip: float, gain: float, inflow: float, days: float
) -> None:
    small, large = sorted((one, other))
    levels = [
        float(before_change(days, start=inflow + 50, per_day=gain, inflow=inflow, changes=Changes(f, every, drip)))
        for f in (small, large)
    ]
    assert levels[1] <= levels[0] * (1 + 1e-6)


def test_a_drip_too_small_to_reckon_with_is_none() -> None:
    """Derived: 5e-324, the smallest number there is, times 2.75 days has a single digit left."""
    assert Changes(1.0, every=2.75, drip=5e-324).gathering_days == 2.75


@given(shares, intervals, drips, drips, gains, inflows)
@settings(deadline=None, max_examples=150)
def test_more_drip_never_raises_nitrate(
    share: float, every: float, one: float, other: float, gain: float, inflow: float
) -> None:
    less, more = sorted((one, other))
    assert settled(Changes(share, every, more), gain, inflow) <= settled(Changes(share, every, less), gain, inflow) * (
        1 + 1e-6
    )


@given(st.floats(1, 200), intervals, drips, gains, inflows)
@settings(deadline=None, max_examples=150)
def test_the_share_that_holds_a_target_holds_it_and_no_less_does(
    target: float, every: float, drip: float, gain: float, inflow: float
) -> None:
    share = float(share_that_holds(target, per_day=gain, inflow=inflow, every=every, drip=drip))
    if share <= 1:
        assert settled(Changes(share, every, drip), gain, inflow) <= max(target, inflow) * (1 + 1e-6)
    if share > 0.01 and gain > 0:
        assert settled(Changes(min(1.0, share * 0.98), every, drip), gain, inflow) > target


@pytest.mark.parametrize(("share", "every", "drip"), [(-0.1, 7, 0), (1.1, 7, 0), (0.5, 0, 0), (0.5, 7, -1)])
def test_impossible_changes_are_refused(share: float, every: float, drip: float) -> None:
    with pytest.raises(ValueError, match="share must be 0 to 1"):
        Changes(share, every, drip)


@pytest.mark.parametrize("drip", [101.5, 110.0, 1000.0])
def test_behind_a_drip_that_renews_all_by_itself_nothing_need_be_changed(drip: float) -> None:
    """Derived: e^(-q d) is next to nothing or nothing, so the drip alone holds the target."""
    assert float(share_that_holds(40, per_day=5, inflow=5, every=7, drip=drip)) == 0
