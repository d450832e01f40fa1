"""The shortlist from the command line: one screen, formats, reasons, posts that run again, interruption."""

from __future__ import annotations

import io
import json
import os
import signal
import subprocess
import sys
from pathlib import Path
from typing import Any

import jsonschema
import pytest

from coswim.cli import shortlist as command
from coswim.cli.main import main
from coswim.report.shortlist_data import schema
from coswim.report.writers import FORMATS

Captured = pytest.CaptureFixture[str]
QUICK = ("--draws", "50", "--months", "1")
FEW = ("--text", "Corydoras", *QUICK)
PLAN = """\
title: a {tank} & its *gouramis*
tank: {{size: 80 x 40 x 40 cm, temperature: 25 C, ph: 7.0, hardness: 6 dGH}}
residents: [{{species: honey gourami, count: 2, length: 4 cm, private: {{note: hush}}}}]
"""


@pytest.fixture
def plan(tmp_path: Path) -> str:
    path = tmp_path / "plan.yaml"
    path.write_text(PLAN.format(tank="small tank"), encoding="utf-8")
    return str(path)


@pytest.fixture
def typed(monkeypatch: pytest.MonkeyPatch) -> Any:
    """Sends text to standard input."""

    def send(text: str) -> None:
        monkeypatch.setattr(sys, "stdin", io.TextIOWrapper(io.BytesIO(text.encode()), encoding="utf-8"))

    return send


def test_ten_fill_one_screen(plan: str, capsys: Captured) -> None:
    """A terminal of 80 columns and 24 lines, with room for the prompt."""
    assert main(["shortlist", plan, "--size", "4.5 cm", *QUICK]) == 0
    out, err = capsys.readouterr()
    lines = out.splitlines()
    assert len(lines) <= 24
    assert max(map(len, lines)) <= 80
    assert sum("possible" in line or "reasonable" in line for line in lines) == 10
    assert "more: --all" in out.replace("\n", " ")
    assert err == ""


def test_all_shows_every_species_and_its_reason(plan: str, capsys: Captured) -> None:
    assert main(["shortlist", plan, *FEW, "--as", "json"]) == 0
    found = json.loads(capsys.readouterr().out)
    assert main(["shortlist", plan, *FEW, "--all"]) == 0
    out = " ".join(capsys.readouterr().out.split())
    for entry in found["entries"]:
        assert entry["add"][0]["name"] in out
    for one in found["excluded"]:
        assert one["name"] in out
    assert found["looked_at"] == len(found["entries"]) + len(found["excluded"])


@pytest.mark.parametrize("name", FORMATS)
def test_a_post_runs_again(name: str, plan: str, capsys: Captured, typed: Any) -> None:
    assert main(["shortlist", plan, *FEW, "--as", "json"]) == 0
    first = json.loads(capsys.readouterr().out)
    assert main(["shortlist", plan, *FEW, "--for-forum", "--as", name]) == 0
    post = capsys.readouterr().out
    assert "hush" not in post
    if name == "terminal":  # a screen is not pasted
        return
    assert "coswim shortlist -" in post
    typed(post)
    assert main(["shortlist", "-", *FEW, "--as", "json"]) == 0
    assert json.loads(capsys.readouterr().out) == first


def test_a_post_says_how_it_was_made(plan: str, capsys: Captured) -> None:
    asked = ("--text", "Corydoras", "--pairs", "--draws", "50", "--seed", "7", "--months", "1")
    assert main(["shortlist", plan, *asked, "--as", "plain"]) == 0
    out = " ".join(capsys.readouterr().out.split())
    assert 'coswim shortlist - --text "Corydoras" --pairs --draws 50 --seed 7 --months 1' in out


@pytest.mark.parametrize("asked", [(), ("--pairs",), ("--instead", "six panda corydoras")])
def test_the_data_keep_their_schema(plan: str, capsys: Captured, asked: tuple[str, ...]) -> None:
    assert main(["shortlist", plan, *FEW, *asked, "--as", "json"]) == 0
    jsonschema.Draft202012Validator(schema()).validate(json.loads(capsys.readouterr().out))


def test_the_schema_is_published(capsys: Captured) -> None:
    assert main(["plan", "schema", "--shortlist"]) == 0
    assert json.loads(capsys.readouterr().out) == schema()


def test_an_empty_tank(tmp_path: Path, capsys: Captured) -> None:
    plan = tmp_path / "empty.yaml"
    plan.write_text("tank: {size: 60 x 30 x 30 cm, temperature: 25 C, ph: 7, hardness: 6 dGH}\n", encoding="utf-8")
    assert main(["shortlist", str(plan), *FEW]) == 0
    assert "in an empty tank" in capsys.readouterr().out


@pytest.mark.parametrize(
    ("species", "said"),
    [
        ("oscar", ["1 oscar of 6 cm: change the plan first", "outgrows the tank", "use a tank of"]),
        ("panda corydoras", ["6 panda corydoras", "Nothing would have to change"]),
        ("neon tetra", ["What would have to change: ", "use a tank of"]),
    ],
)
def test_why(species: str, said: list[str], tmp_path: Path, capsys: Captured) -> None:
    plan = tmp_path / "plan.yaml"
    small = PLAN.format(tank="tank").replace(
        "80 x 40 x 40", "45 x 30 x 30" if species == "neon tetra" else "80 x 40 x 40"
    )
    plan.write_text(small, encoding="utf-8")
    assert main(["shortlist", str(plan), "--why", species, *QUICK]) == 0
    out = " ".join(capsys.readouterr().out.split())
    assert [words for words in said if words not in out] == []


def test_instead_says_what_was_wrong(capsys: Captured) -> None:
    example = str(Path(__file__).parents[2] / "examples" / "bichir.yaml")
    assert main(["shortlist", example, "--instead", "eight tinfoil barbs", *QUICK, "--text", "silver dollar"]) == 0
    out = " ".join(capsys.readouterr().out.split())
    assert "Instead of 8 tinfoil barbs of" in out
    assert "swallow the 8 tinfoil barbs" in out
    assert "silver dollar" in out


@pytest.mark.parametrize(
    ("arguments", "status", "message"),
    [
        (["--level", "top"], 2, "'top' is not one of surface, mid, bottom"),
        (["--diet", "meat"], 2, "'meat' is not one of algae"),
        (["--size", "huge"], 2, "huge"),
        (["--as", "pdf"], 2, "'pdf' is not one of"),
        (["--report", "list.doc"], 2, "names no format"),
        (["--why", "gribble"], 1, "no profile answers to 'gribble'"),
        (["--instead", "8 gribbles"], 1, "no profile answers to"),
        (["--instead", "0 oscar"], 2, "outside 1 to 1000"),
    ],
)
def test_mistakes(plan: str, capsys: Captured, arguments: list[str], status: int, message: str) -> None:
    assert main(["shortlist", plan, *FEW, *arguments]) == status
    out, err = capsys.readouterr()
    assert out == ""
    assert message in " ".join(err.replace("│", " ").split())


def test_a_report_is_written(plan: str, tmp_path: Path, capsys: Captured) -> None:
    report = tmp_path / "list.md"
    assert main(["shortlist", plan, *FEW, "--report", str(report)]) == 0
    assert "coswim shortlist -" in report.read_text(encoding="utf-8")
    assert capsys.readouterr().out == f"Wrote {report}.\n"


class Terminal(io.StringIO):
    """A terminal to which progress is shown."""

    def isatty(self) -> bool:
        return True


def test_an_interruption_leaves_the_terminal_clean(plan: str, monkeypatch: pytest.MonkeyPatch) -> None:
    shown = Terminal()

    def interrupted(*_: object, on_progress: Any, **__: object) -> None:
        on_progress("screening species", 120, 290)
        raise KeyboardInterrupt

    monkeypatch.setattr(command, "make_shortlist", interrupted)
    monkeypatch.setattr(command, "PATIENCE", -1.0)
    monkeypatch.setattr(sys, "stderr", shown)
    assert main(["shortlist", plan]) != 0
    said = shown.getvalue()
    assert "[#########...............] 120 of 290" in said
    assert said.rpartition("of 290")[2].startswith(" ...\r\x1b[K")
    assert "Traceback" not in said


INTERRUPTIBLE = """\
import signal, sys
signal.signal(signal.SIGINT, signal.default_int_handler)
from coswim.__main__ import run
sys.argv = ["coswim", *sys.argv[1:]]
run()
"""
"""The installed command, which tests that were started in the background would otherwise make deaf to control-C."""


@pytest.mark.skipif(sys.platform != "linux", reason="needs a pseudo-terminal and forked processes")
def test_control_c_ends_every_process_and_wipes_the_progress() -> None:
    """What a terminal does: the whole process group is interrupted, here while two processes screen."""
    example = str(Path(__file__).parents[2] / "examples" / "discus.yaml")
    ours, theirs = os.openpty()
    asked = ["shortlist", example, "--draws", "5000"]
    running = subprocess.Popen(
        [sys.executable, "-c", INTERRUPTIBLE, *asked], stdout=subprocess.PIPE, stderr=theirs, start_new_session=True
    )
    os.close(theirs)
    said = b""
    while b"screening species" not in said:
        said += os.read(ours, 4096)
    os.killpg(running.pid, signal.SIGINT)
    out, _ = running.communicate()
    said += os.read(ours, 4096)
    os.close(ours)
    assert (running.returncode, out) == (130, b"")
    assert said.endswith(b"\r\x1b[K")
    assert b"Traceback" not in said
    with pytest.raises(ProcessLookupError):
        os.killpg(running.pid, 0)
