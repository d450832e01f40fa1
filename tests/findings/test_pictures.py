"""Curves hold the middle and the spread of the draws, and a finding's pictures wait until they are looked at."""

from __future__ import annotations

import gc
from collections.abc import Callable
from functools import partial
from types import FunctionType

import numpy as np
import pytest

from coswim.findings.finding import Found
from coswim.findings.pictures import SPREAD, MonthsPicture, Picture, curve
from coswim.hazards import gape_fit
from coswim.screening import Screening
from coswim.simulation.scene import Scene

PLAN = """
    tank: {size: 150 x 60 x 60 cm, temperature: 25 C, ph: 7, hardness: 6 dGH}
    residents: [{species: oscar, length: 22 cm}]
    proposals: [{name: morsels, add: [{species: neon tetra, count: 10, length: 3 cm}]}]
"""

FITS = MonthsPicture("it fits", "of draws", (1.0, 0.5))


@pytest.mark.parametrize("draws", [1, 2, 10, 101])
def test_a_curve_is_the_quantiles_of_the_draws(draws: int) -> None:
    """Oracle: numpy.quantile."""
    values = np.random.default_rng(1).normal(size=(draws, 3))
    drawn = curve("length", np.array([0.0, 12.0, 24.0]), values)
    assert drawn.months == (0.0, 12.0, 24.0)
    for shown, wanted in zip((drawn.low, drawn.middle, drawn.high), np.quantile(values, SPREAD, axis=0), strict=True):
        assert shown == pytest.approx(wanted)


def test_pictures_are_made_once_for_what_is_reported_and_never_for_a_change_that_is_tried(
    screened: Callable[..., Screening], monkeypatch: pytest.MonkeyPatch
) -> None:
    asked: list[Found] = []

    def pictures(_: Scene, found: Found) -> tuple[Picture, ...]:
        asked.append(found)
        return (FITS,)

    monkeypatch.setattr(gape_fit, "pictures", pictures)
    proposal = screened(PLAN, draws=50, remedies=True).proposals[0]
    mine = [finding for finding in proposal.findings if finding.found.hazard == "gape-fit"]
    assert proposal.remedies_searched
    assert [finding.pictures for finding in mine] == [(FITS,)] * len(asked)


def test_what_is_reported_is_data(screened: Callable[..., Screening]) -> None:
    """No scene is kept alive by a screening, and no function waits in it to be called."""
    waiting: list[object] = [screened(PLAN, draws=50, remedies=True)]
    seen: set[int] = set()
    while waiting:
        thing = waiting.pop()
        if id(thing) not in seen and not isinstance(thing, type):
            seen.add(id(thing))
            assert not isinstance(thing, Scene | FunctionType | partial), thing
            waiting += gc.get_referents(thing)
