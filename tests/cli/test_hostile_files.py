"""Files of strangers: what stands in them moves no terminal, leaves no folder, fakes no line and floods no screen."""

from __future__ import annotations

import json
import os
import sys
import unicodedata
from collections.abc import Callable
from pathlib import Path
from time import process_time

import pytest

from coswim.cli.main import main
from coswim.text.printable import UNPRINTABLE
from coswim.text.problems import MOST_SHOWN

Run = Callable[..., tuple[int, str, str]]
ATTACK = "\\e]0;owned\\a\\e[2J\\x9b31m\\u202e\\u2066\\r\\nall is fine\\x85"
"""As YAML writes it: a title, a cleared screen, colour, two changes of direction, a line that fakes success."""
PLAN = """\
tank: {size: 120 x 50 x 50 cm, temperature: 25 C, ph: 7.0, hardness: 6 dGH}
residents: [{species: oscar, length: 20 cm}]
proposals: [{name: tetras, add: [{species: neon tetra, count: 8, length: 3 cm}]}]
"""
PROFILE = """\
scientific_name: Fictus exemplaris
common_names: [example fish]
family: Fictidae
adult_length: 8-10 cm
body: {form: fusiform, depth: 0.25-0.3}
sources: {adult_length: memory, body: memory}
"""


@pytest.fixture
def run(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> Run:
    """Run a command in an empty folder, with an editor that changes nothing: its status and what it says."""
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path / "data"))
    monkeypatch.setenv("EDITOR", f"{sys.executable} -c pass")
    monkeypatch.delenv("VISUAL", raising=False)
    monkeypatch.delenv("COSWIM_PROFILES", raising=False)
    monkeypatch.chdir(tmp_path)

    def go(*words: str) -> tuple[int, str, str]:
        status = main(list(words))
        said = capsys.readouterr()
        return status, said.out, said.err

    return go


def obeyed(text: str) -> set[str]:
    """The signs in a text that a terminal would obey instead of show."""
    return {sign for sign in text if unicodedata.category(sign) in UNPRINTABLE} - {"\n", "\N{ZERO WIDTH JOINER}"}


BAD_PLANS = {
    "key": f'"{ATTACK}": 1\n{PLAN}',
    "key within": PLAN.replace("ph: 7.0", f'"{ATTACK}": 7.0'),
    "key twice": f'"{ATTACK}": 1\n"{ATTACK}": 2\n{PLAN}',
    "value": PLAN.replace("25 C", f'"25 {ATTACK}"'),
    "unit": PLAN.replace("20 cm", f'"20 {ATTACK}"'),
    "word": PLAN.replace("hardness: 6 dGH", f'filter: "{ATTACK}"'),
    "species": PLAN.replace("species: oscar", f'species: "{ATTACK}"'),
    "proposal twice": PLAN + f'title: "{ATTACK}"\n'
    + PLAN.splitlines()[2].replace("proposals: [", "x: [") .replace("tetras", "t"),
    "name twice": PLAN.replace("[{name: tetras", f'[{{name: "{ATTACK}", add: [{{species: guppy, length: 3}}]}}, {{name: "{ATTACK}"'),
    "tag": PLAN.replace("species: oscar", "species: !<%1b%5b2J> oscar"),
    "anchor": PLAN.replace("species: oscar", "species: *\u202eowned"),
    "post": "```\n" + PLAN.replace("ph: 7.0", f'"{ATTACK}": 7.0') + "```\n",
}  # fmt: skip


@pytest.mark.parametrize("text", BAD_PLANS.values(), ids=list(BAD_PLANS))
def test_a_problem_is_one_line_and_moves_no_terminal(text: str, run: Run) -> None:
    Path("tank.yaml").write_text(text, encoding="utf-8")
    status, out, err = run("screen", "tank.yaml")
    assert (status, out) == (1, "")
    assert not obeyed(err)
    assert all(line.startswith("tank.yaml:") for line in err.splitlines())


@pytest.mark.parametrize("style", ["terminal", "plain", "bbcode", "markdown", "html", "json"])
def test_a_report_moves_no_terminal(style: str, run: Run) -> None:
    text = PLAN.replace("name: tetras", f'name: "{ATTACK}"') + f'title: "{ATTACK}"\n'
    Path("tank.yaml").write_text(text, encoding="utf-8")
    status, out, _ = run("screen", "tank.yaml", "--as", style, "--no-remedies", "--draws", "50")
    assert status == 0
    assert not obeyed(out)
    assert style != "json" or "\x1b]0;owned\a" in json.loads(out)["plan"]


def test_names_of_profiles_and_files_move_no_terminal(run: Run, tmp_path: Path) -> None:
    """Choices, doubled species, the warnings of a check, and the list."""
    folder = tmp_path / "odd\x1b[2J\nname"
    folder.mkdir()
    for number in (1, 2):
        named = PROFILE.replace("example fish", f'"{ATTACK} fish"').replace("exemplaris", f"exemplaris{'x' * number}")
        (folder / f"a{number}\x1b[31m.yaml").write_text(named, encoding="utf-8")
    (folder / "b.yaml").write_text(f'scientific_name: "{ATTACK}"\n', encoding="utf-8")
    (folder / "c.yaml").write_text(f'scientific_name: "{ATTACK}"\n', encoding="utf-8")
    for words in (("list",), ("show", "all is fine fish"), ("show", "owned"), ("check", str(folder)), ("diff",)):
        _, out, err = run("profile", *words, "--profiles", str(folder))
        assert out + err
        assert not obeyed(out + err)


@pytest.mark.parametrize(
    "name", ["../../x", "/etc/x", "..", "Fictus ../../x", "Fictus x\\n", "Fictus x\\0", "Fictus " + "x" * 300]
)
def test_a_name_that_is_a_path_leads_nowhere(name: str, run: Run, tmp_path: Path) -> None:
    folder = tmp_path / "theirs"
    folder.mkdir()
    path = folder / "x.yaml"
    path.write_text(f'{PROFILE}cautions: ["{ATTACK}"]\n'.replace("Fictus exemplaris", f'"{name}"'), encoding="utf-8")
    before = path.read_bytes(), sorted(tmp_path.rglob("*"))
    status, _, err = run("profile", "edit", "example fish", "--profiles", str(folder))
    assert status == 1
    assert "is not a scientific name; write genus and epithet" in err
    assert "correct it in the file first" in err
    assert run("profile", "new", name)[0] == 1
    assert (path.read_bytes(), sorted(tmp_path.rglob("*"))) == before


def test_a_file_of_the_keepers_is_not_taken_for_coswims(run: Run, tmp_path: Path) -> None:
    """A schema or a profile's file that something else wrote stays as it is."""
    own = tmp_path / "data" / "coswim" / "species_profiles"
    for folder in (tmp_path, own, own.parent / "drafts"):
        folder.mkdir(parents=True, exist_ok=True)
        (folder / "profile.schema.json").write_text("{}", encoding="utf-8")
    (own / "danio-kyathit.yaml").write_text("scientific_name: Fictus exemplaris\n", encoding="utf-8")
    assert run("profile", "new", "Danio kyathit", "--to", "mine.yaml")[0] == 0
    assert run("profile", "edit", "neon tetra")[0] == 0
    status, _, err = run("profile", "new", "Danio kyathit")
    assert status == 1
    assert "is there already and is not the profile of this species" in err
    assert (own / "danio-kyathit.yaml").read_text(encoding="utf-8") == "scientific_name: Fictus exemplaris\n"
    schemas = [path.read_text(encoding="utf-8") for path in tmp_path.rglob("profile.schema.json")]
    assert schemas == ["{}", "{}", "{}"]


def test_a_schema_that_coswim_wrote_is_kept_up_to_date(run: Run, tmp_path: Path) -> None:
    path = tmp_path / "profile.schema.json"
    assert run("profile", "new", "Danio kyathit", "--to", "one.yaml")[0] == 0
    text = path.read_text(encoding="utf-8")
    path.write_text(text.replace("Osphronemidae", "Fictidae"), encoding="utf-8")
    assert run("profile", "new", "Danio kyathit", "--to", "two.yaml")[0] == 0
    assert path.read_text(encoding="utf-8") == text


def test_a_schema_is_not_written_through_a_link(run: Run, tmp_path: Path) -> None:
    (tmp_path / "profile.schema.json").symlink_to(tmp_path / "elsewhere.json")
    assert run("profile", "new", "Danio kyathit", "--to", "one.yaml")[0] == 0
    assert not (tmp_path / "elsewhere.json").exists()


def test_a_template_copies_no_control_signs(run: Run, tmp_path: Path) -> None:
    folder = tmp_path / "theirs"
    folder.mkdir()
    text = PROFILE.replace("Fictidae", f'"{ATTACK}"') + f'cautions: ["{ATTACK}"]\n'
    (folder / "fictus-exemplaris.yaml").write_text(text, encoding="utf-8")
    status, _, _ = run(
        "profile", "new", "Fictus alter", "--like", "example fish", "--to", "new.yaml", "--profiles", str(folder)
    )
    assert status == 0
    assert not obeyed((tmp_path / "new.yaml").read_text(encoding="utf-8"))


def test_a_pipe_among_profiles_is_told_and_not_waited_for(run: Run, tmp_path: Path) -> None:
    folder = tmp_path / "theirs"
    folder.mkdir()
    for name in ("fictus-exemplaris.yaml", "sources.yaml", "profile.schema.json"):
        os.mkfifo(folder / name)
    (folder / "zero.yaml").symlink_to("/dev/zero")
    (folder / "loop.yaml").symlink_to("loop.yaml")
    status, _, err = run("profile", "list", "--profiles", str(folder))
    assert status == 0
    assert f"{folder}/fictus-exemplaris.yaml: is no file but a pipe or device" in err
    assert f"{folder}/zero.yaml: is no file but a pipe or device" in err
    assert f"{folder}/loop.yaml: cannot be read: " in err
    status, _, err = run("profile", "edit", "fictus exemplaris", "--profiles", str(folder))
    assert (status, err.splitlines()[-1]) == (1, f"{folder}/fictus-exemplaris.yaml: is no file but a pipe or device")
    assert run("profile", "check", str(folder))[0] == 1
    assert run("profile", "new", "Danio kyathit", "--to", f"{folder}/new.yaml")[0] == 0


LONG = "x" * 5000
FLOODS = {
    "long values": f"a: &a '{LONG}'\n" + "".join(f"k{n}: {{temperature: *a, size: *a, x: *a}}\n" for n in range(500)),
    "long values where numbers belong": "tank: &t {size: &l '" + LONG + "', temperature: *l, ph: *l}\nresidents: "
    + "[" + ", ".join(["{species: *l, count: *l, length: *l}"] * 60) + "]\nproposals: ["
    + ", ".join(["{name: *l, add: [{species: *l, count: *l, length: *l}]}"] * 100) + "]\n",
    "long keys": "".join(f"{LONG[:200]}{n}: 1\n" for n in range(3000)) + PLAN,
    "keys twice": f"'{LONG}': 1\n" * 100 + PLAN,
    "lists for values": PLAN.replace("25 C", "[" + "x, " * 60_000 + "]"),
    "unknown fish": "tank: {size: 120 x 50 x 50 cm, temperature: 25}\nresidents: [{species: oscar, length: 20}]\nproposals: ["
    + ", ".join(f"{{name: p{n}, add: [" + ", ".join(f"{{species: neon tetr{n} {m}, length: 3}}" for m in range(50)) + "]}" for n in range(100)) + "]\n",
    "wide": PLAN + "".join(f"unknown{n}: 1\n" for n in range(40_000)),
    "aliases": f"a0: &a0 ['{LONG}', '{LONG}']\n" + "".join(f"a{n}: &a{n} [*a{n - 1}, *a{n - 1}]\n" for n in range(1, 14)) + "tank: *a13\nresidents: *a13\n",
}  # fmt: skip


@pytest.mark.parametrize("text", FLOODS.values(), ids=list(FLOODS))
def test_a_flood_of_problems_is_told_in_a_few_short_lines(text: str, run: Run) -> None:
    Path("tank.yaml").write_text(text, encoding="utf-8")
    status, out, err = run("screen", "tank.yaml")
    assert (status, out) == (1, "")
    lines = err.splitlines()
    assert len(lines) <= MOST_SHOWN + 1
    assert all(len(line) < 600 for line in lines)
    assert len(lines) <= MOST_SHOWN or "more problem" in lines[-1]


def test_what_was_not_told_is_counted(run: Run) -> None:
    Path("tank.yaml").write_text(PLAN + "".join(f"unknown{n}: 1\n" for n in range(30)), encoding="utf-8")
    _, _, err = run("screen", "tank.yaml")
    lines = err.splitlines()
    assert len(lines) == MOST_SHOWN + 1
    assert lines[0].startswith("tank.yaml:4:1: unknown0: unknown key 'unknown0'")
    assert lines[-1] == "tank.yaml:24:1: and 10 more problems from here on"


def test_names_that_are_no_text_for_this_machine(run: Run) -> None:
    """A file name that is not UTF-8, in every format, and as a report's."""
    name = os.fsdecode(b"tank\xff.yaml")
    try:
        Path(name).write_text(PLAN, encoding="utf-8")
    except OSError:
        pytest.skip("this file system takes UTF-8 names only")
    for style in ("terminal", "plain", "bbcode", "markdown", "html", "json"):
        report = os.fsdecode(b"report\xff." + style.encode())
        status, _, err = run("screen", name, "--draws", "50", "--no-remedies", "--as", style, "--report", report)
        assert (status, err) == (0, "")
        assert Path(report).read_text(encoding="utf-8")
    assert run("plan", "check", name)[0] == 0
    assert run("profile", "check", name)[0] == 1
    assert run("explain", name)[0] == 2


@pytest.mark.parametrize("words", [("screen", "NAME"), ("plan", "check", "NAME"), ("plan", "new", "NAME"), ("profile", "check", "NAME"),
                                   ("profile", "new", "Danio kyathit", "--to", "NAME"), ("screen", "tank.yaml", "--profiles", "NAME"),
                                   ("screen", "tank.yaml", "--as", "plain", "--report", "NAME")])  # fmt: skip
@pytest.mark.parametrize(
    ("name", "why"), [("x" * 300 + ".yaml", "File name too long"), ("loop.yaml", "symbolic links")]
)
def test_a_name_too_long_and_a_link_to_itself_are_told(words: tuple[str, ...], name: str, why: str, run: Run) -> None:
    Path("tank.yaml").write_text(PLAN, encoding="utf-8")
    Path("loop.yaml").symlink_to("loop.yaml")
    status, _, err = run(*(name if word == "NAME" else word for word in words))
    assert status == 1
    assert name in err
    assert why in err or "is there already" in err or "is not a folder" in err


@pytest.mark.parametrize(
    ("sound", "bare"),
    [
        ("temperature: 25 C", "temperature: 26"),
        ("hardness: 6 dGH", "hardness: 99"),
        ("cm, length: 20 cm", "in, length: 9"),
    ],
)
def test_a_number_of_thousands_of_digits_without_a_unit_is_not_repeated(sound: str, bare: str, run: Run) -> None:
    plan = PLAN.replace("size: 120 x 50 x 50 cm", "size: 48 x 20 x 20 in") if sound.startswith("cm") else PLAN
    was, number = sound.removeprefix("cm, "), bare.removeprefix("in, ") + "9" * 2000
    assert was in plan
    Path("tank.yaml").write_text(plan.replace(was, number), encoding="utf-8")
    status, _, err = run("plan", "check", "tank.yaml")
    assert (status, "has no unit" in err) == (1, True)
    assert max(map(len, err.splitlines())) < 400


def test_a_name_of_thousands_of_letters_is_told_by_its_two_ends(run: Run) -> None:
    status, _, err = run("plan", "check", f"first{'x' * 3000}last.yaml")
    assert (status, len(err)) == (1, 400 + len("...: cannot be read: File name too long\n"))
    assert err.startswith("firstxxx")
    assert err.endswith("xxxlast.yaml: cannot be read: File name too long\n")


@pytest.mark.parametrize(
    "text", ["--- {}\n" * 140_000, "--- {date: 2026-01-05, note: a}\n" * 30_000, "---\n" * 250_000, f'--- {{"{ATTACK}": 1}}\n' * 300]
)  # fmt: skip
def test_a_diary_of_any_length_is_read_or_refused_at_once(text: str, run: Run) -> None:
    Path("tank.yaml").write_text(PLAN, encoding="utf-8")
    Path("tank.diary.yaml").write_text(text, encoding="utf-8")
    start = process_time()
    _, out, err = run("diary", "show", "tank.yaml")
    assert process_time() - start < 2
    assert not obeyed(out + err)
    assert len(err.splitlines()) <= MOST_SHOWN + 1


def test_a_diary_that_is_a_pipe_or_read_only_is_neither_read_nor_written(run: Run) -> None:
    Path("tank.yaml").write_text(PLAN, encoding="utf-8")
    add = ("diary", "add", "tank.yaml", "--group", "oscar", "--ate", "yes")
    os.mkfifo("tank.diary.yaml")
    for words in (add, ("diary", "show", "tank.yaml"), ("diary", "judge", "tank.yaml")):
        status, _, err = run(*words)
        assert (status, "is no file but a pipe or device" in err) == (1, True)
    Path("tank.diary.yaml").unlink()
    Path("tank.diary.yaml").write_text("", encoding="utf-8")
    Path("tank.diary.yaml").chmod(0o444)
    status, _, err = run(*add)
    assert (status, "tank.diary.yaml: is read-only" in err) == (1, True)


def test_what_was_cut_off_is_not_put_aside_through_a_link(run: Run, tmp_path: Path) -> None:
    Path("tank.yaml").write_text(PLAN, encoding="utf-8")
    Path("tank.diary.yaml").write_text("--- {& evil &", encoding="utf-8")
    Path("tank.diary.yaml.torn").symlink_to(tmp_path / "elsewhere")
    status, _, err = run("diary", "add", "tank.yaml", "--group", "oscar", "--ate", "yes")
    assert (status, "cannot be written" in err) == (1, True)
    assert not (tmp_path / "elsewhere").exists()
    assert Path("tank.diary.yaml").read_text(encoding="utf-8") == "--- {& evil &"
