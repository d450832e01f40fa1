"""The calendar and the diary from the command line: files, formats, status, and both streams."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from pathlib import Path

import icalendar
import pytest

from coswim.aftercare.diary import parse_date
from coswim.cli.main import main
from coswim.report.writers import FORMATS

Captured = pytest.CaptureFixture[str]
PLAN = """\
tank: {size: 150 x 60 x 60 cm, temperature: 26 C, ph: 6.8, hardness: 6 dGH}
residents: [{species: yoyo loach, count: 6, length: 11 cm}]
proposals: [{name: elephantnose, add: [{species: elephantnose fish, length: 16 cm}]}]
"""


@pytest.fixture
def plan(tmp_path: Path) -> str:
    path = tmp_path / "my-tank.yaml"
    path.write_text(PLAN, encoding="utf-8")
    return str(path)


def add(plan: str, *options: str) -> int:
    return main(["diary", "add", plan, *options])


@pytest.mark.parametrize("name", [*FORMATS, "json"])
def test_the_calendar_in_every_format(name: str, plan: str, capsys: Captured) -> None:
    assert main(["calendar", plan, "--start", "2026-01-05", "--as", name]) == 0
    out, err = capsys.readouterr()
    assert err == ""
    for words in ("2026-02-04", "Quarantine", "veterinarian", "Never release", "electri"):
        assert words in out
    if name == "json":
        data = json.loads(out)
        assert (data["schema"], data["moving_in"]) == (1, "2026-02-04")


def test_the_calendar_as_a_file_and_for_calendar_programs(plan: str, tmp_path: Path, capsys: Captured) -> None:
    page, steps = tmp_path / "steps.html", tmp_path / "steps.ics"
    assert main(["calendar", plan, "--start", "2026-01-05", "--report", str(page), "--ics", str(steps)]) == 0
    assert capsys.readouterr().out == f"Wrote {page}.\nWrote {steps}.\n"
    assert page.read_text(encoding="utf-8").startswith("<!doctype html>")
    assert len(icalendar.Calendar.from_ical(steps.read_bytes()).walk("VEVENT")) > 5


@pytest.mark.parametrize(
    ("options", "status", "message"),
    [
        (("--start", "5 January"), 2, "'5 January' is not a day; write year-month-day"),
        (("--start", "2026-01-05", "--added", "2026-01-04"), 2, "2026-01-04 is before --start 2026-01-05"),
        (("--start", "2026-01-05", "--proposal", "elephantnoise"), 2, "did you mean 'elephantnose'?"),
        (("--start", "2026-01-05", "--as", "pdf"), 2, "'pdf' is not one of terminal"),
        (("--start", "2026-01-05", "--their-ph", "sour"), 2, "'sour' is not a pH"),
    ],
)
def test_wrong_usage_of_the_calendar(
    options: tuple[str, ...], status: int, message: str, plan: str, capsys: Captured
) -> None:
    assert main(["calendar", plan, *options]) == status
    out, err = capsys.readouterr()
    assert out == ""
    assert message in " ".join(err.replace("│", " ").split())


def test_a_diary_from_the_first_entry_to_the_judgement(plan: str, capsys: Captured) -> None:
    assert add(plan, "--on", "2026-01-06", "--group", "elephantnose fish", "--ate", "some", "--weight", "40 g") == 0
    assert add(plan, "--on", "2026-01-12", "--group", "elephantnose fish", "--ate", "some", "--chased", "no") == 0
    assert add(plan, "--on", "2026-01-20", "--group", "elephantnose fish", "--ate", "no", "--note", "hides: thin") == 0
    assert add(plan, "--on", "2026-01-21", "--ammonia", "0.5 mg/L", "--ph", "7.4", "--temperature", "79 F") == 0
    assert add(plan, "--on", "2026-01-21", "--group", "yoyo loach", "--damage", "1", "--place", "barbel") == 0
    book = Path(plan).with_name("my-tank.diary.yaml")
    assert book.read_text(encoding="utf-8").splitlines()[0] == (
        "--- {date: 2026-01-06, group: elephantnose fish, ate: some, weight: 40 g}"
    )
    capsys.readouterr()

    assert main(["diary", "show", plan]) == 0
    out = " ".join(capsys.readouterr().out.split())
    assert "of it un-ionised 0.0075 mg/L" in out
    assert "“hides: thin”" in out

    assert main(["diary", "judge", plan, "--on", "2026-01-22"]) == 0
    out, err = capsys.readouterr()
    assert (out.splitlines()[0], err) == ("elephantnose: act", "")
    told = " ".join(out.split())
    for words in (
        "has not had one full meal in 15 days",
        "A divider",
        "Never release",
        "residual-current",
        "veterinarian",
    ):
        assert words in told


@pytest.mark.parametrize(
    ("options", "message"),
    [
        (("--ate", "no"), "command line: says ate but not of which fish; add group"),
        (
            ("--group", "oscar", "--ate", "no"),
            "command line: group: 'oscar' is no group of this plan; allowed: yoyo loach",
        ),
        (("--group", "yoyo loach", "--ate", "lots"), "command line: ate: 'lots' is not a word for eating"),
        (("--group", "yoyo loach", "--damage", "1"), "command line: damage.place: is missing"),
        (("--on", "soon", "--note", "x"), "command line: date: 'soon' is not a day"),
        ((), "command line: says nothing; add one of ate"),
    ],
)
def test_a_wrong_entry_is_told_and_not_written(
    options: tuple[str, ...], message: str, plan: str, capsys: Captured
) -> None:
    assert add(plan, *options) == 1
    out, err = capsys.readouterr()
    assert (out, err[: len(message)]) == ("", message)
    assert not Path(plan).with_name("my-tank.diary.yaml").exists()


def test_a_diary_that_is_not_there(plan: str, capsys: Captured) -> None:
    assert main(["diary", "judge", plan]) == 1
    assert "my-tank.diary.yaml: is not there yet; begin with: coswim diary add my-tank.yaml" in capsys.readouterr().err


def test_a_torn_entry_is_told_by_every_command(plan: str, capsys: Captured) -> None:
    book = Path(plan).with_name("my-tank.diary.yaml")
    book.write_text("--- {date: 2026-01-06, note: whole}\n--- {date: 2026-01-07, no", encoding="utf-8")
    assert main(["diary", "show", plan]) == 0
    out, err = capsys.readouterr()
    assert "whole" in out
    assert err.startswith("warning: my-tank.diary.yaml:2:1: the last entry was cut off")
    assert add(plan, "--note", "next", "--on", "2026-01-08") == 0
    assert "was cut off; it was put aside in" in capsys.readouterr().err
    assert book.with_name(book.name + ".torn").read_text(encoding="utf-8") == "--- {date: 2026-01-07, no\n"


def test_the_proposal_is_the_one_whose_fish_the_diary_speaks_of(tmp_path: Path, capsys: Captured) -> None:
    path = tmp_path / "p.yaml"
    tetras = "{name: tetras, add: [{species: neon tetra, count: 8, length: 3 cm}]}"
    path.write_text(PLAN.replace("proposals: [", f"proposals: [{tetras}, "), encoding="utf-8")
    assert add(str(path), "--group", "yoyo loach", "--ate", "yes", "--on", "2026-01-06") == 0
    assert main(["diary", "judge", str(path)]) == 2
    assert "the plan has several; name one of tetras, elephantnose" in capsys.readouterr().err
    path.write_text(path.read_text(encoding="utf-8").replace("name: tetras", f"name: {'x' * 300}"), encoding="utf-8")
    assert main(["diary", "judge", str(path)]) == 2
    assert len(capsys.readouterr().err) < 250
    path.write_text(path.read_text(encoding="utf-8").replace("x" * 300, "tetras"), encoding="utf-8")
    assert main(["diary", "judge", str(path), "--proposal", "tetras"]) == 0
    assert add(str(path), "--group", "elephantnose", "--ate", "yes", "--on", "2026-01-06") == 0
    capsys.readouterr()
    assert main(["diary", "judge", str(path)]) == 0
    assert capsys.readouterr().out.startswith("elephantnose: carry on")
    assert add(str(path), "--group", "oscar", "--ate", "yes") == 1


def test_a_plan_without_proposals_has_a_diary_too(tmp_path: Path, capsys: Captured) -> None:
    path = tmp_path / "p.yaml"
    path.write_text(PLAN[: PLAN.index("proposals")], encoding="utf-8")
    assert add(str(path), "--group", "yoyo loach", "--damage", "2", "--place", "eye", "--on", "2026-01-06") == 0
    capsys.readouterr()
    assert main(["diary", "judge", str(path)]) == 0
    assert capsys.readouterr().out.startswith("the tank as it stands: separate now")
    assert main(["calendar", str(path), "--start", "2026-01-05"]) == 1
    assert "names no proposals, so nothing moves in" in capsys.readouterr().err


def test_the_judgement_says_what_it_read_and_that_nobody_wrote_since(plan: str, capsys: Captured) -> None:
    assert add(plan, "--on", "2026-01-06", "--group", "elephantnose", "--chased", "often") == 0
    assert add(plan, "--on", "2026-01-07", "--note", "divider put in") == 0
    capsys.readouterr()
    assert main(["diary", "judge", plan, "--on", "2026-02-06"]) == 0
    told = " ".join(capsys.readouterr().out.split())
    assert "Carry on. No stop rule is met." in told
    assert (
        "They are parted since 2026-01-07, as read from “divider put in”; what was seen before no longer counts" in told
    )
    assert "Nothing has been written for 30 days." in told


def test_a_note_cannot_drive_the_terminal(plan: str, capsys: Captured) -> None:
    assert add(plan, "--note", "red\x1b[31m alert\nnext", "--on", "2026-01-08") == 0
    capsys.readouterr()
    assert main(["diary", "show", plan]) == 0
    assert "\x1b" not in capsys.readouterr().out


def test_the_installed_command_judges(plan: str) -> None:
    add(plan, "--on", "2026-01-06", "--group", "yoyo loach", "--damage", "3", "--place", "body")
    run = subprocess.run(
        [sys.executable, "-m", "coswim", "diary", "judge", plan, "--on", "2026-01-06"],
        capture_output=True, text=True, check=False, env={**os.environ, "COLUMNS": "80"},
    )  # fmt: skip
    assert (run.returncode, run.stderr) == (0, "")
    assert run.stdout.startswith("elephantnose: separate now\n")
    assert max(map(len, run.stdout.splitlines())) <= 80


@pytest.mark.parametrize(
    "words",
    [
        ("calendar", "--start", "2026-01-05", "--ics"),
        ("calendar", "--start", "2026-01-05", "--as", "html", "--report"),
        ("shortlist", "--as", "html", "--report"),
    ],
)
def test_nothing_that_is_written_takes_the_place_of_the_plan(
    words: tuple[str, ...], tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    plan = tmp_path / "tank.yaml"
    plan.write_text("precious", encoding="utf-8")
    assert main([words[0], str(plan), *words[1:], str(plan)]) == 2
    assert "is the plan itself; name another file" in " ".join(capsys.readouterr().err.split())
    assert plan.read_text(encoding="utf-8") == "precious"


@pytest.mark.parametrize("day", ["0001-01-01", "9999-12-31"])
def test_a_day_that_no_tank_sees_is_refused(day: str) -> None:
    with pytest.raises(ValueError, match="is outside the years 1900 to 2200"):
        parse_date(day)
