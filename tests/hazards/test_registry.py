"""File, id, registry, test file and `explain` agree, and each explanation's two commands do what it says."""

from __future__ import annotations

import json
import re
import shlex
from inspect import cleandoc
from pathlib import Path

import pytest

from coswim import hazards
from coswim.cli.main import main
from coswim.explaining import TOPICS
from coswim.findings.hazard import Hazard
from coswim.hazards import HAZARDS

FOLDER = Path(hazards.__file__).parent
HEADS = ("How it is judged", "What it cannot see", "Triggers", "Does not", "Sources")
by_id = pytest.mark.parametrize("module", HAZARDS, ids=lambda module: module.ID)


def commands(module: Hazard) -> dict[str, list[str]]:
    """The two commands of a hazard's explanation, split into arguments."""
    found = {}
    for paragraph in cleandoc(module.__doc__ or "").split("\n\n"):
        match = re.match(r"(Triggers|Does not): coswim (.*)", " ".join(paragraph.split()))
        if match:
            found[match[1]] = shlex.split(match[2])
    return found


def test_every_hazard_file_is_registered_once() -> None:
    files = {path.stem for path in FOLDER.glob("*.py")} - {"__init__"}
    assert sorted(module.__name__.rpartition(".")[2] for module in HAZARDS) == sorted(files)


def test_the_readme_lists_every_hazard_in_the_order_of_the_registry() -> None:
    readme = (Path(__file__).parents[2] / "README.md").read_text(encoding="utf-8")
    table = readme.partition("| hazard | question |\n")[2].partition("\n\n")[0]
    assert re.findall(r"^\| ([a-z-]*[a-z]) \|", table, re.MULTILINE) == [hazard.ID for hazard in HAZARDS]


@by_id
def test_file_id_test_and_explanation_agree(module: Hazard) -> None:
    stem = module.__name__.rpartition(".")[2]
    assert stem.replace("_", "-") == module.ID
    assert (Path(__file__).parent / f"test_{stem}.py").exists()
    assert module.ID in TOPICS
    for head in HEADS:
        assert f"\n\n{head}: " in cleandoc(module.__doc__ or ""), head


@by_id
@pytest.mark.parametrize("lead", ["Triggers", "Does not"])
def test_the_commands_of_the_explanation_do_what_it_says(
    module: Hazard, lead: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main([*commands(module)[lead], "--as", "json", "--no-remedies", "--draws", "400"]) == 0
    findings = json.loads(capsys.readouterr().out)["proposals"][0]["findings"]
    mine = [finding["level"] for finding in findings if finding["hazard"] == module.ID]
    assert bool({"high", "serious"} & set(mine)) == (lead == "Triggers"), mine
