"""Quantiles of the draws are numpy's, and the fullest months are those of at least half the highest share."""

from __future__ import annotations

import numpy as np
import pytest

from coswim.simulation.quantiles import fullest, median, middle, quantiles

SHARES = (0.0, 0.1, 0.37, 0.5, 0.9, 1.0)


@pytest.mark.parametrize("shape", [(1,), (2,), (7,), (200,), (50, 3), (50, 3, 2)])
def test_quantiles_are_those_of_numpy(shape: tuple[int, ...]) -> None:
    """Oracle: numpy.quantile and numpy.median."""
    values = np.random.default_rng(1).normal(size=shape)
    for found, share in zip(quantiles(values, SHARES), SHARES, strict=True):
        assert found == pytest.approx(np.quantile(values, share, axis=0))
    assert median(values) == pytest.approx(np.median(values, axis=0))


def test_what_never_ends_stays_so() -> None:
    """Derived: of three draws that never end and one that does, the middle never ends."""
    assert middle([np.inf, 1.0, np.inf, np.inf]) == np.inf


@pytest.mark.parametrize(
    ("shares", "window"),
    # derived: half of the highest share is 0.4, 0.5, 0 and 0.2
    [((0.1, 0.4, 0.8, 0.3), (1, 2)), ((1.0, 0.2, 0.6), (0, 2)), ((0.0, 0.0), (0, 1)), ((0.4,), (0, 0))],
)
def test_the_fullest_months(shares: tuple[float, ...], window: tuple[int, int]) -> None:
    assert fullest(np.array(shares)) == window
