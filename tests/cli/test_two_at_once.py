"""Two processes that write one file at the same time: a report is whole, a diary loses nothing, an edit is alone."""

from __future__ import annotations

import json
import subprocess
import sys
import time
from pathlib import Path

import pytest

from coswim.aftercare.stream import read_diary

REPEATS = {"report": 30, "diary": 20}
PATIENCE = 120
PLAN = """\
title: TITLE
tank: {size: 120 x 50 x 50 cm, temperature: 25 C, ph: 7.0, hardness: 6 dGH}
residents: [{species: oscar, length: 20 cm}]
proposals: [{name: tetras, add: [{species: neon tetra, count: 8, length: 3 cm}]}]
"""
WRITER = """
import sys
from pathlib import Path
from coswim.cli import screen
from coswim.cli.main import main

kind, name, repeats = sys.argv[1], sys.argv[2], int(sys.argv[3])
known = {}
screened = screen.screen_plan  # once, so that the time goes into the writing
screen.screen_plan = lambda read, *rest, **more: known.setdefault(0, known.get(0) or screened(read, *rest, **more))


def report(file):
    return main(["screen", f"{name}.yaml", "--draws", "50", "--months", "1", "--no-remedies", "--report", file])


status = report(f"{name}.json") if kind == "report" else 0
print("ready", flush=True)
sys.stdin.readline()
for number in range(repeats):
    if kind == "report":
        status = status or report("report.json")
    else:
        status = status or main(["diary", "add", "one.yaml", "--group", "oscar", "--note", f"{name} {number}"])
sys.exit(status)
"""
WAITING_EDITOR = """
import sys, time
from pathlib import Path

draft = Path(sys.argv[1])
Path("open").touch()
while not Path("close").exists():
    time.sleep(0.01)
draft.write_text(draft.read_text(encoding="utf-8") + "# mine\\n", encoding="utf-8")
"""


@pytest.fixture
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.chdir(tmp_path)
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path / "data"))
    for name in ("VISUAL", "COSWIM_PROFILES"):
        monkeypatch.delenv(name, raising=False)
    for name, title in (("one", "one"), ("two", "two " * 10_000)):
        (tmp_path / f"{name}.yaml").write_text(PLAN.replace("TITLE", title[:190]), encoding="utf-8")
    return tmp_path


def started(*words: str) -> subprocess.Popen[str]:
    pipe = subprocess.PIPE
    return subprocess.Popen([sys.executable, *words], stdin=pipe, stdout=pipe, stderr=pipe, text=True)


def both_writing(kind: str) -> list[subprocess.Popen[str]]:
    """Two writers, both at work."""
    both = [started("-c", WRITER, kind, name, str(REPEATS[kind])) for name in ("one", "two")]
    for process in both:
        assert process.stdout
        assert "ready\n" in iter(process.stdout.readline, ""), process.communicate()
    for process in both:
        assert process.stdin
        print("go", file=process.stdin, flush=True)
    return both


def ended(process: subprocess.Popen[str]) -> tuple[int, str]:
    """Its status and what it complained of."""
    _, err = process.communicate(timeout=PATIENCE)
    return process.returncode, err


def test_a_report_that_two_write_is_at_any_moment_one_of_the_two(folder: Path) -> None:
    target, seen = folder / "report.json", set[bytes]()
    both = both_writing("report")
    while any(process.poll() is None for process in both):
        if target.exists():
            seen.add(target.read_bytes())
        time.sleep(0.002)
    assert [ended(process) for process in both] == [(0, ""), (0, "")]
    whole = {(folder / f"{name}.json").read_bytes() for name in ("one", "two")}
    assert len(whole) == 2
    assert {*seen, target.read_bytes()} <= whole
    assert json.loads(target.read_bytes())
    assert not [path for path in folder.iterdir() if path.name.startswith(".")]


def test_a_diary_that_two_write_holds_the_entries_of_both(folder: Path) -> None:
    both = both_writing("diary")
    assert [ended(process) for process in both] == [(0, ""), (0, "")]
    diary = read_diary((folder / "one.diary.yaml").read_bytes(), "one.diary.yaml")
    expected = [f"{name} {number}" for name in ("one", "two") for number in range(REPEATS["diary"])]
    assert sorted(entry.note or "" for entry in diary.entries) == sorted(expected)
    assert {path.name for path in folder.iterdir()} == {"one.yaml", "two.yaml", "one.diary.yaml"}


def test_a_profile_is_edited_by_one_at_a_time(folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    (folder / "editor.py").write_text(WAITING_EDITOR, encoding="utf-8")
    monkeypatch.setenv("EDITOR", f"{sys.executable} {folder / 'editor.py'}")
    edit = ("-m", "coswim", "profile", "edit", "zebra danio")
    first = started(*edit)
    while not (folder / "open").exists() and first.poll() is None:
        time.sleep(0.01)
    draft = folder / "data" / "coswim" / "drafts" / "danio-rerio.yaml"
    assert ended(started(*edit)) == (1, f"{draft}: is being edited by another coswim; finish that edit first\n")
    (folder / "close").touch()
    assert ended(first) == (0, "")
    own = folder / "data" / "coswim" / "species_profiles" / "danio-rerio.yaml"
    assert own.read_text(encoding="utf-8").count("# mine") == 1
    assert ended(started(*edit)) == (0, "")
    assert own.read_text(encoding="utf-8").count("# mine") == 2
    assert not draft.exists()
    assert {path.name for path in draft.parent.iterdir()} == {"profile.schema.json"}
