"""Curves hold the middle and the spread of the draws, and a finding's pictures wait until they are looked at."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
import pytest

from coswim.findings.pictures import SPREAD, Picture, curve
from coswim.screening import Screening

PLAN = """
    tank: {size: 150 x 60 x 60 cm, temperature: 25 C, ph: 7, hardness: 6 dGH}
    residents: [{species: oscar, length: 22 cm}]
    proposals: [{name: morsels, add: [{species: neon tetra, count: 10, length: 3 cm}]}]
"""


@pytest.mark.parametrize("draws", [1, 2, 10, 101])
def test_a_curve_is_the_quantiles_of_the_draws(draws: int) -> None:
    """Oracle: numpy.quantile."""
    values = np.random.default_rng(1).normal(size=(draws, 3))
    drawn = curve("length", np.array([0.0, 12.0, 24.0]), values)
    assert drawn.months == (0.0, 12.0, 24.0)
    for shown, wanted in zip((drawn.low, drawn.middle, drawn.high), np.quantile(values, SPREAD, axis=0), strict=True):
        assert shown == pytest.approx(wanted)


def test_pictures_are_drawn_only_when_they_are_asked_for(screened: Callable[..., Screening]) -> None:
    drawn: list[str] = []

    def draw() -> tuple[Picture, ...]:
        drawn.append("once")
        return (Picture("months", "it fits", "of draws", shares=(1.0, 0.5)),)

    found = screened(PLAN, draws=50).proposals[0].findings[0].found._replace(draw_pictures=draw)
    assert found.key
    assert drawn == []
    assert found.draw_pictures()
    assert drawn == ["once"]
