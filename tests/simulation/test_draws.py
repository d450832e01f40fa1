"""Random numbers: the law they follow, and that each depends on its key alone."""

from __future__ import annotations

from statistics import NormalDist
from zlib import crc32

import numpy as np
import pytest

from coswim.arrays import REAL
from coswim.simulation.draws import Draws

DRAWS = 4000


@pytest.mark.parametrize("key", [("fish", "gape"), ("fish", "growth"), ("tank", "ph")])
def test_uniform_numbers_lie_one_in_each_stratum(key: tuple[str, ...]) -> None:
    drawn = Draws(1, DRAWS).uniform(*key)
    strata = np.sort(drawn) * DRAWS - np.arange(DRAWS)
    assert (strata >= -1e-3).all()  # single precision
    assert (strata <= 1 + 1e-3).all()


def test_no_even_number_is_1_however_many_are_drawn() -> None:
    """Of so many the largest would be rounded to it now and then; here it would."""
    assert Draws(1, 100_000).uniform("fish", "88").max() < 1


def test_normal_numbers_follow_the_normal_law() -> None:
    """Oracle: statistics.NormalDist. The largest gap between the two laws stays below 1.63 / root n, the 1 %
    point of the Kolmogorov-Smirnov test."""
    drawn = np.sort(Draws(1, DRAWS).normal("fish", "pace"))
    law = np.array([NormalDist().cdf(float(value)) for value in drawn])
    ranks = np.arange(DRAWS + 1) / DRAWS
    gap = max(np.abs(law - ranks[1:]).max(), np.abs(law - ranks[:-1]).max())
    assert gap < 1.63 / np.sqrt(DRAWS)


def test_numbers_of_two_keys_have_nothing_in_common() -> None:
    """Derived: the correlation of n independent pairs scatters by 1 / root n."""
    draws = Draws(1, DRAWS)
    drawn = [draws.uniform("fish", trait) for trait in ("gape", "growth", "depth")] + [draws.normal("fish", "gape")]
    others = np.asarray(np.corrcoef(drawn))[np.triu_indices(len(drawn), 1)]
    assert np.abs(others).max() < 4 / np.sqrt(DRAWS)


def test_a_number_depends_on_seed_and_key_and_not_on_what_was_asked_before() -> None:
    draws, again = Draws(1, 100), Draws(1, 100)
    again.uniform("something", "else")
    np.testing.assert_array_equal(draws.uniform("fish", "gape"), again.uniform("fish", "gape"))
    assert not np.array_equal(draws.uniform("fish", "gape"), Draws(2, 100).uniform("fish", "gape"))


def test_what_was_drawn_cannot_be_written_to() -> None:
    with pytest.raises(ValueError, match="read-only"):
        Draws(1, 10).uniform("fish", "gape")[0] = 0.5


@pytest.mark.parametrize("seed", [0, 1, 2**31, 2**32 - 1, 2**32, 2**70 + 3])
def test_the_seed_and_the_key_seed_numpy_as_a_list_of_both(seed: int) -> None:
    """As numpy documents it, a list is the seed that its numbers make word by word."""
    generator = np.random.Generator(np.random.PCG64([seed, crc32(b"oscar|depth")]))
    assert Draws(seed, 50).normal("oscar", "depth").tolist() == generator.standard_normal(50).astype(REAL).tolist()
