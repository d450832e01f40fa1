"""Where coswim runs changes nothing of what it says: the same bytes in every surrounding, and no harm on bad disks."""

from __future__ import annotations

import json
import os
import shutil
import subprocess
import sys
from collections.abc import Mapping
from functools import cache
from pathlib import Path

import pytest

from coswim.aftercare.stream import read_diary
from coswim.cli.main import main

EXAMPLE = Path(__file__).parents[2] / "examples" / "fighter.yaml"
QUICK = ("--draws", "50", "--no-remedies")
SCREEN = ("screen", "-", *QUICK, "--as", "json")
LIBRARIES = dict.fromkeys(("OMP_NUM_THREADS", "OPENBLAS_NUM_THREADS", "MKL_NUM_THREADS"), "4")
HOMES = ("HOME", "USERPROFILE", "XDG_DATA_HOME", "XDG_CONFIG_HOME", "XDG_CACHE_HOME")


def command(*words: str) -> list[str]:
    return [sys.executable, "-m", "coswim", *words]


def ran(*words: str, **changes: str | None) -> subprocess.CompletedProcess[bytes]:
    """The command in a process of its own, without a terminal; None takes a variable away."""
    surroundings = {**os.environ, "PYTHONPATH": os.pathsep.join(sys.path), **changes}
    env = {name: value for name, value in surroundings.items() if value is not None}
    return subprocess.run(command(*words), input=EXAMPLE.read_bytes(), capture_output=True, check=False, env=env)


@cache
def at_home() -> bytes:
    return ran(*SCREEN).stdout


SURROUNDINGS: Mapping[str, Mapping[str, str | None]] = {
    "no home": dict.fromkeys(HOMES),
    "a dumb terminal without colour": {"TERM": "dumb", "NO_COLOR": "1"},
    "no terminal at all": {"TERM": None, "COLUMNS": None, "LINES": None},
    "colour asked for": {"FORCE_COLOR": "1", "CLICOLOR_FORCE": "1"},
    "the C locale": {"LC_ALL": "C", "LANG": None},
    "a locale that is not there": {"LC_ALL": "tlh_QO.UTF-8"},
    "many threads": LIBRARIES,
    "one hash seed": {"PYTHONHASHSEED": "1"},
    "another": {"PYTHONHASHSEED": "4242"},
    "another time zone": {"TZ": "Pacific/Kiritimati"},
}


@pytest.mark.parametrize("changes", SURROUNDINGS.values(), ids=SURROUNDINGS)
def test_the_same_bytes_in_every_surrounding(changes: Mapping[str, str | None]) -> None:
    done = ran(*SCREEN, **changes)
    assert (done.returncode, done.stderr) == (0, b"")
    assert done.stdout == at_home()


def test_an_output_that_knows_only_ascii_gets_the_same_data() -> None:
    done = ran(*SCREEN, LC_ALL="C", PYTHONUTF8="0", PYTHONCOERCECLOCALE="0")
    assert done.stdout.isascii()
    assert not at_home().isascii()
    assert json.loads(done.stdout) == json.loads(at_home())


FORMS = {
    "line ends of Windows": lambda text: text.replace(b"\n", b"\r\n"),
    "line ends of an old Mac": lambda text: text.replace(b"\n", b"\r"),
    "a byte-order mark": lambda text: b"\xef\xbb\xbf" + text,
    "both": lambda text: b"\xef\xbb\xbf" + text.replace(b"\n", b"\r\n"),
    "no line end at the end": lambda text: text.rstrip(b"\n"),
}


@pytest.mark.parametrize("form", FORMS)
def test_the_same_plan_in_every_form(form: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    said = []
    for content in (EXAMPLE.read_bytes(), FORMS[form](EXAMPLE.read_bytes())):
        (tmp_path / "tank.yaml").write_bytes(content)
        assert main(["screen", str(tmp_path / "tank.yaml"), *QUICK, "--as", "json"]) == 0
        said.append(capsys.readouterr())
    assert said[0] == said[1]


@pytest.mark.parametrize("folder", ["my tanks (old)", "Aquarium größer 金魚", "-rf", "a'b\"c$d"])
def test_paths_may_hold_anything(folder: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    home = tmp_path / folder
    home.mkdir()
    plan, report = home / "my tank.yaml", home / "bericht ñ.html"
    shutil.copy(EXAMPLE, plan)
    assert main(["screen", str(plan), *QUICK, "--report", str(report)]) == 0
    assert "</html>" in report.read_text(encoding="utf-8")
    assert main(["diary", "add", str(plan), "--note", "fine", "--on", "2026-01-05"]) == 0
    assert {path.name for path in home.iterdir()} == {plan.name, report.name, "my tank.diary.yaml"}
    assert capsys.readouterr().err == ""


@pytest.mark.parametrize(
    "words", [("screen", str(EXAMPLE), *QUICK), ("profile", "show", "oscar"), ("explain", "gape-fit")]
)
def test_nothing_runs_over_the_edge_of_a_narrow_terminal(
    words: tuple[str, ...], capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("COLUMNS", "40")
    assert main(list(words)) == 0
    lines = capsys.readouterr().out.splitlines()
    assert max(len(line) for line in lines if not line.startswith("coswim ")) <= 40  # commands are there to be copied


def test_the_order_in_which_a_folder_is_read_changes_nothing(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    """File systems list a folder in any order."""
    for name in ("b", "a", "c"):
        text = f"scientific_name: Fictus {name}us\ncommon_names: [{name} fish, same fish]\nfamily: Fictidae\n"
        (tmp_path / f"fictus-{name}us.yaml").write_text(f"{text}adult_length: 8-10 cm\nbody: {{form: fusiform}}\n")
    said, listed = [], Path.rglob
    for order in (sorted, lambda paths: sorted(paths, reverse=True)):
        monkeypatch.setattr(Path, "rglob", lambda folder, pattern, order=order: order(listed(folder, pattern)))
        for words in (("list",), ("show", "same fish"), ("check", str(tmp_path))):
            folder = () if words[0] == "check" else ("--profiles", str(tmp_path))
            said.append((main(["profile", *words, *folder]), capsys.readouterr()))
    assert said[:3] == said[3:]


NAMESPACE = ("unshare", "--user", "--map-root-user")


def namespace(*kinds: str) -> list[str]:
    """A command in front of another, which then has a network or file systems of its own; skips where that is not allowed."""
    words = [*NAMESPACE, *kinds]
    if not shutil.which("unshare") or subprocess.run([*words, "true"], capture_output=True, check=False).returncode:
        pytest.skip(f"this system does not allow {' '.join(words)}")
    return words


OFFLINE = f"""
from coswim.cli.main import main
for words in ("screen {EXAMPLE} {" ".join(QUICK)}", "profile list", "explain risk", "shortlist --help", "plan schema"):
    print(words, main(words.split()), flush=True)
"""


def test_no_network_is_needed() -> None:
    """In a network of its own without a single route every command says the same."""
    script = "ip -o link 2>/dev/null | grep -qv ' lo:' && exit 9; exec \"$@\""
    usual = [sys.executable, "-c", OFFLINE]
    apart = [*namespace("--net"), "sh", "-c", script, "sh", *usual]
    env = {**os.environ, "PYTHONPATH": os.pathsep.join(sys.path)}
    alone, at_home = (subprocess.run(each, capture_output=True, check=False, env=env) for each in (apart, usual))
    assert alone.returncode == 0
    assert alone.stdout.count(b" 0\n") >= 5
    assert (alone.stdout, alone.stderr) == (at_home.stdout, at_home.stderr)


DISK = """
mount -t tmpfs -o size=64k small "$1" && cp "$2" "$1/tank.yaml" || exit 9
cd "$1" && exec "$PYTHON" -c "$FILLING" "$1" "$3"
"""
FILLING = """
import os, shutil, subprocess, sys
from contextlib import redirect_stdout
from io import StringIO
from pathlib import Path
from coswim.cli.main import main

def coswim(*words):
    status = main(words)
    print(*words[:2], end=f": {status}\\n", flush=True)
    return status

def full():
    with open("ballast", "ab", buffering=0) as ballast:
        try:
            while ballast.write(bytes(512)):
                pass
        except OSError:
            pass

disk, kept = map(Path, sys.argv[1:])
coswim("diary", "add", "tank.yaml", "--on", "2026-01-05", "--note", "first")
Path("report.html").write_text("precious\\n")
Path("ballast").write_bytes(bytes(40000))
coswim("screen", "tank.yaml", "--draws", "50", "--no-remedies", "--report", "report.html")
full()
coswim("profile", "new", "Danio novus", "--to", "new.yaml")
number = 0
with redirect_stdout(StringIO()):
    while number < 10 and coswim("diary", "add", "tank.yaml", "--on", "2026-01-06", "--note", "x" * 450) == 0:
        number += 1
print("the diary was refused" if number < 10 else "the disk is not full", flush=True)
(kept / "number").write_text(str(number))
shutil.copy("tank.diary.yaml", kept / "diary")
shutil.copy("report.html", kept / "report")
Path("ballast").unlink()
coswim("diary", "add", "tank.yaml", "--on", "2026-01-07", "--note", "last")
subprocess.run(["mount", "-o", "remount,ro", str(disk)], check=True)
coswim("screen", "tank.yaml", "--draws", "50", "--no-remedies", "--report", "report.html")
coswim("diary", "add", "tank.yaml", "--note", "x")
print(*sorted(os.listdir()), sep="\\n", flush=True)
"""
SAID = """\
Added to tank.diary.yaml.
diary add: 0
screen tank.yaml: 1
profile new: 1
the diary was refused
Added to tank.diary.yaml.
diary add: 0
screen tank.yaml: 1
diary add: 1
report.html
tank.diary.yaml
tank.yaml
"""


def test_full_and_read_only_disks_lose_nothing(tmp_path: Path) -> None:
    disk, kept = tmp_path / "disk", tmp_path / "kept"
    disk.mkdir()
    kept.mkdir()
    env = {**os.environ, "PYTHONPATH": os.pathsep.join(sys.path), "PYTHON": sys.executable, "FILLING": FILLING}
    words = [*namespace("--mount"), "sh", "-c", DISK, "sh", str(disk), str(EXAMPLE), str(kept)]
    done = subprocess.run(words, capture_output=True, check=False, env=env, text=True)
    if done.returncode == 9:
        pytest.skip("this system does not allow a small disk to be mounted")
    assert done.stdout == SAID, done.stderr
    assert done.stderr.count("No space left on device") >= 3
    assert "report.html: is read-only" in done.stderr
    assert "tank.diary.yaml: cannot be written: Read-only file system" in done.stderr
    assert (kept / "report").read_text() == "precious\n"
    entries = read_diary((kept / "diary").read_bytes(), "diary").entries
    assert len(entries) == 1 + int((kept / "number").read_text()) > 1
