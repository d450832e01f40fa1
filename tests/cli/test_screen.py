"""The main job from the command line: files, standard input, the one-line form, formats, status."""

from __future__ import annotations

import io
import json
import re
import shlex
import sys
from pathlib import Path

import pytest

from coswim import __version__
from coswim.cli.main import main

ROOT = Path(__file__).parents[2]
QUICK = ("--no-remedies", "--draws", "100")
SHOP = (
    "screen", "--tank", "180x60x60 cm", "--temperature", "26", "--ph", "7.0", "--hardness", "6",
    "--resident", "saddled bichir, 38 cm", "--add", "8 tinfoil barb, 10 cm",
)  # fmt: skip

Captured = pytest.CaptureFixture[str]


@pytest.fixture
def example() -> str:
    return str(ROOT / "examples" / "bichir.yaml")


def test_the_verdict_stands_in_the_first_lines(example: str, capsys: Captured) -> None:
    assert main(["screen", example, *QUICK]) == 0
    out, err = capsys.readouterr()
    assert re.search(r"eight tinfoil barbs +do not stock", out[:600])
    assert err == ""


def test_the_one_line_form_gives_the_same_as_the_file(tmp_path: Path, capsys: Captured) -> None:
    plan = tmp_path / "plan.yaml"
    plan.write_text(
        "tank: {size: 180 x 60 x 60 cm, temperature: 26, ph: 7.0, hardness: 6}\n"
        "residents: [{species: saddled bichir, length: 38 cm}]\n"
        "proposals: [{add: [{species: tinfoil barb, count: 8, length: 10 cm}]}]\n",
        encoding="utf-8",
    )
    assert main([*SHOP, *QUICK, "--as", "json"]) == 0
    typed = json.loads(capsys.readouterr().out)
    assert main(["screen", str(plan), *QUICK, "--as", "json"]) == 0
    read = json.loads(capsys.readouterr().out)
    assert typed["proposals"] == read["proposals"]


def test_repeated_additions_are_one_proposal(capsys: Captured) -> None:
    assert main([*SHOP, "--add", "3 clown loach, 8 cm", *QUICK, "--as", "json"]) == 0
    (proposal,) = json.loads(capsys.readouterr().out)["proposals"]
    assert proposal["name"] == "8 tinfoil barbs of 10 cm and 3 clown loaches of 8 cm"


def test_or_starts_an_alternative_in_the_order_typed(capsys: Captured) -> None:
    more = ("--or", "12 Congo tetra, 5 cm", "--add", "1 clown loach", "--or=1 oscar, 8 cm")
    assert main([*SHOP, *more, *QUICK, "--as", "json"]) == 0
    names = [proposal["name"] for proposal in json.loads(capsys.readouterr().out)["proposals"]]
    assert names == [
        "8 tinfoil barbs of 10 cm",
        "12 Congo tetras of 5 cm and one clown loach of 6 cm",
        "one oscar of 8 cm",
    ]


def test_a_length_left_out_is_the_usual_one_and_that_is_said(capsys: Captured) -> None:
    assert main([*SHOP[:-1], "1 clown loach", *QUICK]) == 0
    said = " ".join(capsys.readouterr().out.split())
    assert "Length not stated, so as usually sold: 6 cm for the clown loach." in said


def test_a_tank_without_newcomers_is_checked_as_it_stands(capsys: Captured) -> None:
    assert main([*SHOP[:-2], *QUICK]) == 0
    assert "the tank as it stands: " in capsys.readouterr().out


def test_a_new_tank_has_no_residents(capsys: Captured) -> None:
    assert main([*SHOP[:9], "--add", "8 neon tetra, 3 cm", *QUICK]) == 0
    assert "No fish live there yet." in capsys.readouterr().out


@pytest.mark.parametrize(("typed", "status"), [("pleco", 0), ("one sailfin pleco", 0), ("t", 2), ("shark", 2)])
def test_only_one_proposal(example: str, typed: str, status: int, capsys: Captured) -> None:
    assert main(["screen", example, *QUICK, "--only", typed]) == status
    out, err = capsys.readouterr()
    assert ("eight" in out) is False
    assert status == 0 or "there are: eight tinfoil barbs, twelve Congo tetras, one sailfin pleco" in " ".join(
        err.split()
    )


def test_full_holds_the_reasons(example: str, capsys: Captured) -> None:
    assert main(["screen", example, *QUICK, "--full"]) == 0
    full = capsys.readouterr().out
    assert main(["screen", example, *QUICK]) == 0
    assert "Sources" in full
    assert len(full) > 2 * len(capsys.readouterr().out)


def test_standard_input(example: str, capsys: Captured, monkeypatch: pytest.MonkeyPatch) -> None:
    raw = io.BytesIO(Path(example).read_bytes())
    monkeypatch.setattr(sys, "stdin", io.TextIOWrapper(raw, encoding="utf-8"))
    assert main(["screen", "-", *QUICK]) == 0
    assert "eight tinfoil barbs: do not stock" in " ".join(capsys.readouterr().out.split())


@pytest.mark.parametrize(("level", "status"), [("high", 3), ("low", 3), (None, 0)])
def test_fail_at(example: str, level: str | None, status: int) -> None:
    assert main(["screen", example, *QUICK, *(["--fail-at", level] if level else [])]) == status


def test_fail_at_is_not_reached_by_a_good_plan() -> None:
    good = [*SHOP[:9], "--resident", "10 neon tetra, 3 cm", "--add", "6 panda corydoras, 4 cm"]
    assert main([*good, *QUICK, "--fail-at", "high"]) == 0


@pytest.mark.parametrize(
    ("arguments", "message"),
    [
        (["screen"], "give a plan file, or --tank"),
        (["screen", "x.yaml", "--tank", "1x1x1"], "give a plan file or the one-line options, not both"),
        (["screen", "x.yaml", "--as", "pdf"], "'pdf' is not one of terminal, plain, bbcode, markdown, html, json"),
        (["screen", "x.yaml", "--report", "x.doc"], "the ending of 'x.doc' names no format; add --as"),
        (["screen", "x.yaml", "--draws", "3"], "--draws"),
        (["screen", "x.yaml", "--fail-at", "awful"], "--fail-at"),
        (["screen", "x.yaml", "--for-forum", "--brief"], "give --for-forum or --brief, not both"),
        (["screen", "x.yaml", "--full", "--brief"], "give --brief or --full, not both"),
        (["screen", "x.yaml", "--brief", "--as", "json"], "--brief: does not go with json"),
        (["screen", "x.yaml", "--for-forum", "--as", "json"], "--for-forum: does not go with json"),
        (["screen", "x.yaml", "--brief", "--report", "x.json"], "--brief: does not go with json"),
        (["explain", "gapefit"], "did you mean 'gape-fit'?"),
        (["swim"], "swim"),
    ],
)
def test_wrong_usage_is_status_2(arguments: list[str], message: str, capsys: Captured) -> None:
    assert main(arguments) == 2
    out, err = capsys.readouterr()
    assert out == ""
    assert message in " ".join(err.split())


def test_a_group_that_cannot_be_read(capsys: Captured) -> None:
    assert main([*SHOP[:-1], ", 10 cm"]) == 1
    assert capsys.readouterr().err == (
        "--add: ', 10 cm' is not a group; write 'number species, length', e.g. '8 tinfoil barb, 10 cm'\n"
    )


@pytest.mark.parametrize(
    ("arguments", "problem"),
    [
        (("--add", "8 tinfoil barb, 0 cm"), "--add: in '8 tinfoil barb, 0 cm': '0 cm' is outside 0.5 to 500 cm"),
        (("--or", "tinfoil barbs"), "--or: in 'tinfoil barbs': count is missing; how many tinfoil barbs? (a number, e.g. 6)"),
        (("--temperature", "77"), "--temperature: '77' has no unit; 77 F? Write it with its unit"),
        (("--hardness", "140"), "--hardness: '140' has no unit; 140 ppm? Write it with its unit"),
        (("--tank", "24x12x12"), "--tank: '24x12x12' has no unit: in cm it holds 3.5 L, in inches 57 L; "
                                 "write 24x12x12 in or 24x12x12 cm"),
        (("--resident", "qqqq"), "--resident: in 'qqqq': no profile answers to 'qqqq'; `coswim profile list` shows all, "
                                 "`coswim profile new` starts one"),
    ],
    ids=["add", "or", "temperature", "hardness", "tank", "resident"],
)  # fmt: skip
def test_a_problem_on_the_command_line_names_its_option(
    arguments: tuple[str, str], problem: str, capsys: Captured
) -> None:
    assert main([*SHOP, *arguments]) == 1
    assert capsys.readouterr().err == f"{problem}\n"


@pytest.mark.parametrize("ending", ["txt", "bbcode", "md", "html", "json"])
def test_a_report_is_written_whole(example: str, ending: str, tmp_path: Path, capsys: Captured) -> None:
    target = tmp_path / f"report.{ending}"
    assert main(["screen", example, *QUICK, "--report", str(target)]) == 0
    assert capsys.readouterr().out == f"Wrote {target}.\n"
    assert "tinfoil" in target.read_text(encoding="utf-8")
    assert [path.name for path in tmp_path.iterdir()] == [target.name]


def test_a_report_never_takes_the_place_of_its_plan(
    example: str, tmp_path: Path, capsys: Captured, monkeypatch: pytest.MonkeyPatch
) -> None:
    plan, link = tmp_path / "q.yaml", tmp_path / "q.html"
    text = Path(example).read_bytes()
    plan.write_bytes(text)
    link.symlink_to(plan)
    with plan.open(encoding="utf-8") as stream:
        monkeypatch.setattr(sys, "stdin", stream)
        for source, report in ((plan, plan), (plan, link), (link, tmp_path / "." / "q.yaml"), ("-", plan)):
            assert main(["screen", str(source), *QUICK, "--report", str(report), "--as", "html"]) == 2
            assert "is the plan itself; name another file" in " ".join(capsys.readouterr().err.split())
    assert plan.read_bytes() == text


def test_standard_input_that_is_closed(capsys: Captured, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(sys, "stdin", None)
    assert main(["screen", "-", *QUICK]) == 1
    assert capsys.readouterr().err.startswith("standard input: is closed; give a plan file")


def test_too_many_draws_for_the_memory(example: str, capsys: Captured, monkeypatch: pytest.MonkeyPatch) -> None:
    def fail(*_args: object, **_kwargs: object) -> None:
        raise MemoryError

    monkeypatch.setattr("coswim.cli.screen.screen_plan", fail)
    assert main(["screen", example]) == 1
    assert "not enough memory" in capsys.readouterr().err


@pytest.mark.parametrize("arguments", [["screen"], ["explain", "risk"], ["profile", "show", "oscar"]], ids=" ".join)
def test_output_that_knows_only_ascii_is_drawn_in_ascii(
    arguments: list[str], example: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    raw = io.BytesIO()
    monkeypatch.setattr(sys, "stdout", io.TextIOWrapper(raw, encoding="ascii"))
    assert main([*arguments, *([example, *QUICK] if arguments == ["screen"] else [])]) == 0
    shown = raw.getvalue().decode("ascii")
    assert not re.search(r"[0-9]\?[0-9]|\?\?", shown)


@pytest.mark.parametrize("typed", ["Gape-Fit", "gape_fit", "GAPE FIT", "gape-fit"])
def test_a_topic_in_any_spelling_is_explained(typed: str, capsys: Captured) -> None:
    assert main(["explain", typed]) == 0
    assert capsys.readouterr().out.startswith("gape-fit\n")


def test_a_report_that_cannot_be_written(example: str, tmp_path: Path, capsys: Captured) -> None:
    target = tmp_path / "no" / "report.txt"
    assert main(["screen", example, *QUICK, "--report", str(target)]) == 1
    assert "cannot be written" in capsys.readouterr().err


def test_the_same_seed_gives_the_same_bytes(example: str, capsys: Captured) -> None:
    def run(*more: str) -> str:
        assert main(["screen", example, *QUICK, "--as", "json", *more]) == 0
        return capsys.readouterr().out

    assert run() == run()
    assert run() != run("--seed", "2")


def test_months_override_the_horizon(example: str, capsys: Captured) -> None:
    assert main(["screen", example, *QUICK, "--months", "6", "--as", "json"]) == 0
    assert json.loads(capsys.readouterr().out)["months"] == 6


def test_version(capsys: Captured) -> None:
    assert main(["--version"]) == 0
    assert capsys.readouterr().out == f"coswim {__version__}\n"


def test_an_unforeseen_error_asks_for_a_report(example: str, capsys: Captured, monkeypatch: pytest.MonkeyPatch) -> None:
    def fail(*_args: object, **_kwargs: object) -> None:
        raise RuntimeError("boom")

    monkeypatch.setattr("coswim.cli.screen.screen_plan", fail)
    assert main(["screen", example]) == 70
    err = capsys.readouterr().err
    assert "should not have happened (RuntimeError: boom)" in err
    assert "Traceback" not in err


HELP = [[], ["screen"], ["shortlist"], ["calendar"], ["diary"], *(["diary", name] for name in ("add", "show", "judge")), ["explain"], ["completion"], ["plan"], ["plan", "new"], ["plan", "check"], ["plan", "schema"], ["profile"],
        *(["profile", name] for name in ("list", "show", "new", "edit", "check", "diff", "schema"))]  # fmt: skip


@pytest.mark.parametrize("command", HELP, ids=" ".join)
def test_every_command_has_help_that_fits_80_columns(command: list[str], capsys: Captured) -> None:
    assert main([*command, "--help"]) == 0
    out = capsys.readouterr().out
    assert out.startswith(f"Usage: coswim {' '.join(command)}".rstrip())
    assert max(len(line) for line in out.splitlines()) <= 80
    assert "..." not in out.replace("[ARGS]...", "").replace("[PLACE]...", "")
    assert main([*command, "-h"]) == 0
    assert capsys.readouterr().out == out


def _shell_lines() -> list[str]:
    readme = (ROOT / "README.md").read_text(encoding="utf-8")
    blocks = re.findall(r"```sh\n(.*?)```", readme, flags=re.DOTALL)
    lines = "\n".join(blocks).replace("\\\n", " ").splitlines()
    return [line for line in lines if line.startswith("coswim ") and "edit" not in line.split()[:3]]


@pytest.mark.parametrize("line", _shell_lines())
def test_every_command_of_the_readme_runs(
    line: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: Captured
) -> None:
    monkeypatch.chdir(tmp_path)
    if not line.startswith("coswim plan new"):
        assert main(["plan", "new", "my-tank.yaml"]) == 0
        assert main(["diary", "add", "my-tank.yaml", "--group", "harlequin rasbora", "--ate", "yes"]) == 0
    arguments = shlex.split(line, comments=True)[1:]
    if ">" in arguments:
        arguments = arguments[: arguments.index(">")]
    if arguments[0] == "screen":
        arguments += QUICK
    if arguments[0] == "shortlist":
        arguments += ["--draws", "50", "--months", "1", "--text", "corydoras"]
    assert main(arguments) == 0
    assert capsys.readouterr().err == ""
