"""Diaries of keepers, invented, with the judgement that a careful keeper gives. Common practice, no source."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date, timedelta
from pathlib import Path
from typing import Any

import pytest
import yaml

from coswim.aftercare.stop_rule import Decision, judge
from coswim.aftercare.stop_rules import stop_rules
from coswim.aftercare.stream import read_diary
from coswim.aftercare.watched import watched

CASES: list[dict[str, Any]] = yaml.load(
    (Path(__file__).parent / "diaries.yaml").read_text(encoding="utf-8"),
    Loader=yaml.BaseLoader,  # noqa: S506
)


def company_of_case(case: dict[str, Any], bought: Callable[..., Any]) -> Any:
    plan = {
        "tank": case["tank"],
        "residents": case["residents"],
        "proposals": [{"name": "newcomers", "add": case["newcomers"]}],
    }
    return bought(yaml.safe_dump(plan), start=date.fromisoformat(case["start"]))


def diary_of_case(case: dict[str, Any]) -> bytes:
    return "".join("---\n" + yaml.safe_dump(entry, sort_keys=False) for entry in case["entries"]).encode()


def test_there_are_enough_diaries_of_every_judgement() -> None:
    assert len(CASES) >= 30
    assert {case["judgement"] for case in CASES} == set(map(str, Decision))


@pytest.mark.parametrize("case", CASES, ids=[case["id"] for case in CASES])
def test_the_judgement_is_a_careful_keepers(case: dict[str, Any], bought: Callable[..., Any]) -> None:
    theirs = company_of_case(case, bought)
    seen = watched(read_diary(diary_of_case(case), "diary.yaml"), theirs.company)
    found = judge(seen, stop_rules(theirs.company, theirs.concerns))
    assert str(found.decision) == case["judgement"], (case["why"], found.decided)


@pytest.mark.parametrize("name", ["elephantnose", "peacock-eel"])
def test_a_slow_starvation_over_eight_weeks_is_caught_by_week_three(name: str, bought: Callable[..., Any]) -> None:
    case = next(case for case in CASES if case["id"] == f"slow-starvation-{name}-eight-weeks")
    theirs = company_of_case(case, bought)
    book = read_diary(diary_of_case(case), "diary.yaml")
    rules = stop_rules(theirs.company, theirs.concerns)
    decisions = {
        weeks: judge(watched(book, theirs.company, on=theirs.company.start + timedelta(weeks=weeks)), rules).decision
        for weeks in (1, 3, 8)
    }
    assert decisions == {1: Decision.CARRY_ON, 3: Decision.ACT, 8: Decision.SEPARATE}
