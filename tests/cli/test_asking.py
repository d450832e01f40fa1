"""A plan from answers to one question at a time, and plans to start from."""

from __future__ import annotations

import io
import sys
from pathlib import Path

import pytest

from coswim.cli.main import main
from coswim.plans.reading import read_plan
from coswim.plans.starter import STARTERS
from coswim.profiles.catalog import Catalog
from coswim.screening import screen
from coswim.simulation.scene import Effort

ANSWERS = ("24 x 12 x 12", "24 x 12 x 12 in", "770 F", "77 F", "7", "8", "betta", "1", "2.2 in", "",
           "ember tetra", "eight", "8", "", "")  # fmt: skip


def test_a_plan_from_answers(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    """Wrong answers are said and asked again; the units of the answers are those of the plan."""
    monkeypatch.setattr(sys, "stdin", io.StringIO("\n".join(ANSWERS) + "\n"))
    target = tmp_path / "asked.yaml"
    assert main(["plan", "new", str(target), "--ask"]) == 0
    out, err = capsys.readouterr()
    assert "write the unit too" in err
    assert "is outside 0 to 45 C" in err
    assert "'eight' is not a whole number" in err
    assert target.read_text(encoding="utf-8").startswith("tank:\n  size: 24 x 12 x 12 in\n  temperature: 77 F\n")
    assert "24 x 12 x 12 in (15 gal), 77 F" in out
    assert "8 ember tetras" in out


@pytest.mark.parametrize("kind", STARTERS)
def test_a_plan_to_start_from_screens_as_it_is(kind: str, catalog: Catalog) -> None:
    screening = screen(read_plan(STARTERS[kind], kind, catalog), catalog, Effort(draws=60), remedies=False)
    assert len(screening.proposals) == 2
    assert max(map(len, STARTERS[kind].splitlines())) <= 120


def test_an_unknown_kind_of_plan_is_refused(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["plan", "new", "--like", "smal"]) == 2
    assert "did you mean 'small'?" in " ".join(capsys.readouterr().err.split())


def test_explain_without_a_topic_lists_them(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["explain"]) == 0
    out = capsys.readouterr().out
    assert all(topic in out for topic in ("gape-fit", "escape", "plan", "scales", "trust"))
    assert main(["explain", "plan"]) == 0
    assert "hiding_places" in capsys.readouterr().out
