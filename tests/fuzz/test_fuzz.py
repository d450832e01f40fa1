"""A small part of the fuzzing and of the kills; `python tests/fuzz/run.py` and `python tests/fuzz/kills.py` are the long ones."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest
from inputs import USED, case
from judge import Case, apart, ending
from seeds import PLANS, POSTS, PROFILES, SMALL_DIARY, SMALL_PLAN, SMALL_PROFILE

INPUTS, PORTION = 40, 10
SLACK = 10.0
"""Here only what hangs is wrong, since a busy machine is slow; what is slow is found by the long run."""


@pytest.mark.parametrize("first", range(0, INPUTS, PORTION))
def test_odd_and_extreme_inputs_end_as_documented(first: int, tmp_path: Path) -> None:
    with apart(tmp_path / "data"):
        ended = {
            number: ending(case(0, number), tmp_path / "work", slack=SLACK).faults
            for number in range(first, first + PORTION)
        }
    wrong = {number: faults for number, faults in ended.items() if faults}
    assert wrong == {}


@pytest.mark.parametrize(
    ("words", "files"),
    [
        *((("plan", "check", "tank.yaml"), {"tank.yaml": plan.encode()}) for plan in (*PLANS, *POSTS)),
        *((("profile", "check", "p"), {"p/fictus-exemplaris.yaml": profile.encode()}) for profile in PROFILES),
        (("diary", "show", "tank.yaml"), {"tank.yaml": SMALL_PLAN.encode(), "tank.diary.yaml": SMALL_DIARY.encode()}),
        (("calendar", "tank.yaml", "--start", "2026-11-26"), {"tank.yaml": SMALL_PLAN.encode()}),
        (("plan", "check", "used.yaml", "--profiles", "p"), {"used.yaml": USED, "p/mine.yaml": SMALL_PROFILE.encode()}),
    ],
)  # fmt: skip
def test_what_odd_inputs_grow_from_is_sound(words: tuple[str, ...], files: dict[str, bytes], tmp_path: Path) -> None:
    """Else nothing beyond the reading would be tried."""
    with apart(tmp_path / "data"):
        assert ending(Case(words, files, must_do=True), tmp_path / "work", slack=SLACK) == (0, ())


def test_an_input_is_made_from_its_number_alone() -> None:
    assert [case(5, number) for number in range(30)] == [case(5, number) for number in range(30)]


def test_the_judge_sees_what_is_wrong(tmp_path: Path) -> None:
    with apart(tmp_path / "data"):
        unsound = Case(("plan", "check", "tank.yaml"), {"tank.yaml": b"tank: 1"}, must_do=True)
        assert ending(unsound, tmp_path / "work").faults[0].startswith("status 1")
        unasked = Case(("plan", "new", "tank.yaml"), {"a": b""})
        assert ending(unasked, tmp_path / "work") == (0, ("left tank.yaml",))
        nothing_to_write = Case(("profile", "list", "oscar", "--family", ""), {})
        assert ending(nothing_to_write, tmp_path / "work") == (0, ())


@pytest.mark.skipif(
    not hasattr(os, "fork"), reason="this system cannot fork, and only a fork is quick enough to be killed"
)
def test_writers_killed_at_random_moments_leave_every_file_whole() -> None:
    script = Path(__file__).with_name("kills.py")
    run = subprocess.run([sys.executable, script, "--kills", "24"], capture_output=True, text=True, check=False)
    assert (run.returncode, run.stderr) == (0, "")
    assert run.stdout.count(": 6 kills") == 4
