"""How much tank a fish needs: the published legal floor, and the laws of the rest."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from coswim.biology import space

SIDE = st.floats(10, 400)
LENGTH = st.floats(0.5, 200)


@pytest.mark.parametrize(
    ("groups", "litres"),
    [  # published: Swiss Animal Protection Ordinance SR 455.1, Annex 2, Table 8; sums derived
        pytest.param([(10, 3), (6, 6)], 42.0, id="10 of 3 cm and 6 of 6 cm"),
        pytest.param([(2, 12)], 24.0, id="2 of 12 cm"),
        pytest.param([(1, 25)], 43.75, id="one of 25 cm"),
        pytest.param([(1, 45)], 135.0, id="one of 45 cm"),
    ],
)
def test_legal_litres_by_number_and_length(groups: list[tuple[int, float]], litres: float) -> None:
    assert sum(float(space.legal_litres(length, count=count)) for count, length in groups) == litres


@pytest.mark.parametrize(
    ("length", "rate"),
    # published: the same table, L per cm up to and including 5, 10, 15, 20, 30, 40 cm, and above
    [(5, 0.5), (5.1, 0.75), (10, 0.75), (15, 1), (20, 1.25), (30, 1.75), (40, 2.25), (40.1, 3)],
)
def test_the_rate_steps_up_behind_each_length(length: float, rate: float) -> None:
    assert float(space.legal_litres(length, count=1)) == pytest.approx(rate * length)


def test_legal_box() -> None:
    """Published: the same table, 3 x 2 x 1 body lengths; the litres of the box derived."""
    assert space.legal_box(25) == (75, 50, 25)
    assert np.prod(space.legal_box(45)) / 1000 == pytest.approx(546.75)


@settings(max_examples=50, deadline=None)
@given(SIDE, SIDE, SIDE, st.floats(1, 3))
def test_a_longer_wider_or_higher_tank_holds_no_shorter_fish(
    length: float, width: float, height: float, more: float
) -> None:
    def held(*sides: float) -> float:
        return float(space.longest_fish(*sides, lengths=4, widths=1, heights=0.8))

    here = held(length, width, height)
    assert held(length * more, width, height) >= here
    assert held(length, width * more, height) >= here
    assert held(length, width, height * more) >= here
    assert space.longest_runner(length * more, run=20) >= space.longest_runner(length, run=20)


@settings(max_examples=50, deadline=None)
@given(LENGTH)
def test_the_longest_legal_fish_of_its_own_legal_box(length: float) -> None:
    sides = space.legal_box(length)
    held = space.longest_fish(
        *sides, lengths=space.LEGAL_LENGTHS, widths=space.LEGAL_WIDTHS, heights=space.LEGAL_HEIGHTS
    )
    assert float(held) == pytest.approx(length)


@settings(max_examples=50, deadline=None)
@given(LENGTH, st.integers(1, 50), st.integers(1, 50))
def test_more_fish_never_need_less(length: float, count: int, more: int) -> None:
    assert space.legal_litres(length, count=count + more) > space.legal_litres(length, count=count)


@settings(max_examples=50, deadline=None)
@given(LENGTH, st.floats(1.01, 3))
def test_a_longer_fish_holds_more_floor_and_a_site_less_than_ground(length: float, more: float) -> None:
    assert space.territory(length * more) > space.territory(length) > space.territory(length, share=0.25)
    assert space.territory(length, share=0.0) == 0


@pytest.mark.parametrize("bad", [0.0, -3.0, float("nan")])
def test_impossible_lengths_are_refused(bad: float) -> None:
    with pytest.raises(ValueError, match="above 0"):
        space.legal_litres(bad, count=1)
    with pytest.raises(ValueError, match="above 0"):
        space.legal_box(bad)
    with pytest.raises(ValueError, match="above 0"):
        space.longest_fish(bad, 30, 30, lengths=3, widths=2, heights=1)
    with pytest.raises(ValueError, match="above 0"):
        space.longest_runner(bad, run=20)
    with pytest.raises(ValueError, match="above 0"):
        space.territory(bad)
