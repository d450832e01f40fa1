"""The pairings beside this file are whole; a few of each kind are screened, all of them by `agreement.py`."""

from __future__ import annotations

import importlib.util
import sys
from collections import Counter
from pathlib import Path

import pytest

from coswim.plans.reading import read_plan
from coswim.profiles.catalog import Catalog

SPEC = importlib.util.spec_from_file_location("agreement", Path(__file__).with_name("agreement.py"))
assert SPEC
assert SPEC.loader
agreement = sys.modules.setdefault("agreement", importlib.util.module_from_spec(SPEC))
SPEC.loader.exec_module(agreement)


@pytest.mark.parametrize(
    ("panel", "bad", "good"),
    [("general", 118, 81), ("feeding_first", 56, 71), ("feeding_second", 64, 88), ("feeding_development", 36, 50)],
)
def test_every_pairing_of_a_panel_is_a_plan(catalog: Catalog, panel: str, bad: int, good: int) -> None:
    rows = list(agreement.rows(panel))
    assert Counter(row.is_bad for row in rows) == {True: bad, False: good}
    assert len({row.id for row in rows}) == len(rows)
    for row in rows:
        assert read_plan(row.plan, row.id, catalog).plan.proposals
        assert bool(row.trouble - {""}) is row.is_bad
