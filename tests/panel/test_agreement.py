"""The pairings beside this file are whole; a few of each kind are screened, all of them by `agreement.py`."""

from __future__ import annotations

from collections import Counter

import pytest
from tests.panel.agreement import rows as rows_of

from coswim.plans.reading import read_plan
from coswim.profiles.catalog import Catalog


@pytest.mark.parametrize(
    ("panel", "bad", "good"),
    [
        ("general", 118, 81),
        ("feeding_first", 56, 71),
        ("feeding_second", 64, 88),
        ("feeding_development", 36, 50),
        ("feeding_fifth", 80, 80),
        ("feeding_sixth", 80, 80),
        ("feeding_seventh", 80, 80),
        ("feeding_eighth", 80, 80),
        ("feeding_ninth", 80, 80),
        ("peaceful", 41, 437),
        ("peaceful_fresh", 7, 150),
        ("peaceful_second", 27, 229),
        ("peaceful_third", 24, 127),
    ],
)
def test_every_pairing_of_a_panel_is_a_plan(catalog: Catalog, panel: str, bad: int, good: int) -> None:
    rows = list(rows_of(panel))
    assert Counter(row.is_bad for row in rows) == {True: bad, False: good}
    assert len({row.id for row in rows}) == len(rows)
    for row in rows:
        assert read_plan(row.plan, row.id, catalog).plan.proposals
        assert bool(row.trouble - {""}) is row.is_bad
