"""Who judges, and in what order, is of no account."""

from __future__ import annotations

import json
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path

import pytest

from coswim.plans.reading import ReadPlan
from coswim.profiles.catalog import Catalog
from coswim.report.shortlist_data import as_data
from coswim.second_process import CAN_PART
from coswim.shortlist import workers
from coswim.shortlist.bench import Bench
from coswim.shortlist.making import Shortlist
from coswim.shortlist.wish import Wish
from coswim.shortlist.workers import Judge
from coswim.simulation.scene import Effort

TANK = """\
title: a small tank
tank: {size: 45 x 30 x 30 cm, temperature: 25 C, ph: 6.8, hardness: 5 dGH}
residents: [{species: Siamese fighting fish, length: 6 cm}]
horizon: 1 months
"""
CODE = """\
import sys
from coswim.plans.reading import read_plan
from coswim.profiles.catalog import BUILT_IN, Catalog
from coswim.report.shortlist_data import write
from coswim.shortlist import workers
from coswim.shortlist.making import shortlist
from coswim.shortlist.wish import Wish
from coswim.simulation.scene import Effort

if __name__ == "__main__":
    workers.WORTH_SHARING = 10
    catalog = Catalog((BUILT_IN,))
    read = read_plan(open(sys.argv[1], encoding="utf-8").read(), "plan.yaml", catalog)
    print(write(shortlist(read, catalog, Wish(family="Cyprinidae"), Effort(draws=50), processes=int(sys.argv[2]))))
"""


@pytest.mark.parametrize("number", ["1", "2"])
def test_two_processes_say_what_one_says(number: str, tmp_path: Path, listed: Callable[..., Shortlist]) -> None:
    if number == "2" and not CAN_PART:
        pytest.skip("no process parts here")
    plan, code = tmp_path / "plan.yaml", tmp_path / "code.py"
    plan.write_text(TANK, encoding="utf-8")
    code.write_text(CODE, encoding="utf-8")
    ran = subprocess.run([sys.executable, code, plan, number], capture_output=True, text=True, check=False)
    assert ran.stderr == ""
    assert json.loads(ran.stdout) == as_data(listed(TANK, Wish(family="Cyprinidae"), draws=50))


def test_what_was_drawn_is_let_go_without_a_trace(
    monkeypatch: pytest.MonkeyPatch, plan_of: Callable[[str], ReadPlan], catalog: Catalog
) -> None:
    bench = Bench.of(plan_of(TANK), catalog, Effort(draws=50))
    names = [catalog.find(name) for name in ("ember tetra", "panda corydoras", "zebrafish", "chili rasbora")]
    kept = [judged for each in names for judged in Judge(bench, Wish())([each])]
    monkeypatch.setattr(workers, "FORGET_AFTER", 2)
    judge, before = Judge(bench, Wish()), bench.alone.scene.draws.kept
    assert [judged for each in names for judged in judge([each])] == kept
    assert bench.alone.scene.draws.kept == before
