"""The way out of the installed command: all that was said is written, and a full or closed output is no crash."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
from pathlib import Path

import pytest

from coswim import __version__
from coswim.second_process import CAN_PART

EXAMPLE = str(Path(__file__).parents[2] / "examples" / "bichir.yaml")
FULL = Path("/dev/full")
CALLED = "import sys; from coswim.__main__ import run; sys.argv = ['coswim', *sys.argv[1:]]; run()"


def called(*arguments: str, before: str = "", stdout: int = subprocess.PIPE) -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        [sys.executable, "-c", before + CALLED, *arguments],
        stdout=stdout,
        stderr=subprocess.PIPE,
        text=True,
        encoding="utf-8",
        check=False,
    )


def test_everything_that_was_said_is_written() -> None:
    done = called("--version")
    assert (done.returncode, done.stdout, done.stderr) == (0, f"coswim {__version__}\n", "")


def test_wrong_usage_is_told_on_standard_error() -> None:
    done = called("nothing-of-the-kind")
    assert (done.returncode, done.stdout) == (2, "")
    assert "nothing-of-the-kind" in done.stderr


@pytest.mark.skipif(not FULL.exists(), reason="this system has no device that is always full")
def test_a_full_disk_is_told() -> None:
    with FULL.open("w") as full:
        done = called("--version", stdout=full.fileno())
    assert done.returncode == 1
    assert done.stderr == "coswim: the output cannot be written: No space left on device\n"


@pytest.mark.parametrize("closed", ["stdout", "stderr"])
def test_a_closed_output_wants_nothing(closed: str) -> None:
    done = called("--version", before=f"import sys; sys.{closed} = None; ")
    assert (done.returncode, done.stderr) == (0, "")


INTERRUPTED = (
    "import os, signal, sys; from importlib import abc\n"
    "signal.signal(signal.SIGINT, signal.default_int_handler)\n"
    "class Ring(abc.MetaPathFinder):\n"
    "    def find_spec(self, name, path=None, target=None):\n"
    "        if name == 'MODULE': os.kill(os.getpid(), signal.SIGINT)\n"
    "sys.meta_path.insert(0, Ring())\n"
)
"""Interrupts itself when a certain module is first wanted."""


@pytest.mark.parametrize(
    "module", ["coswim.cli.main", "typer", "pydantic", "numpy", "coswim.cli.screen", "coswim.hazards"]
)
def test_interrupted_at_any_time_it_ends_quietly(module: str) -> None:
    done = called("screen", EXAMPLE, before=INTERRUPTED.replace("MODULE", module))
    assert (done.stdout, done.stderr) == ("", "")
    assert done.returncode in {-signal.SIGINT, 130}


PARTING = (
    "import os, signal; part, parted = os.fork, []\n"
    "def parting():\n"
    "    process = part()\n"
    "    parted.append(process)\n"
    "    if process and len(parted) == NUMBER: os.kill(os.getpid(), signal.SIGINT)\n"
    "    return process\n"
    "os.fork = parting\n"
)
"""Interrupts itself when it has started so many processes."""


@pytest.mark.skipif(not CAN_PART or (os.cpu_count() or 1) < 2, reason="no process parts here")
@pytest.mark.parametrize(
    ("number", "status"), [("1", -signal.SIGINT), ("2", 130)], ids=["to parse the library", "to judge"]
)
def test_a_shortlist_that_is_interrupted_as_it_starts_a_process_ends_quietly(number: str, status: int) -> None:
    """By the interruption itself while packages load, and by itself later."""
    few = ("--draws", "50", "--months", "1")
    done = called("shortlist", EXAMPLE, *few, before=PARTING.replace("NUMBER", number))
    assert (done.stdout, done.stderr, done.returncode) == ("", "", status)


@pytest.mark.skipif(not CAN_PART or (os.cpu_count() or 1) < 2, reason="no process parts here")
def test_a_shortlist_whose_second_process_is_ended_says_so() -> None:
    ended = PARTING.replace("NUMBER", "2").replace("os.getpid(), signal.SIGINT", "process, signal.SIGKILL")
    done = called("shortlist", EXAMPLE, "--draws", "50", "--months", "1", before=ended)
    assert (done.stdout, done.returncode) == ("", 1)
    assert done.stderr == "coswim: a second process of coswim was ended by the system; run it again\n"


def test_a_shortlist_is_made_by_one_process_where_there_is_room_for_no_other() -> None:
    few = ("--draws", "50", "--months", "1")
    no_room = "import os\ndef part(): raise BlockingIOError(11, 'no room')\nos.fork = part\n"
    alone, shared = (called("shortlist", EXAMPLE, *few, before=before) for before in (no_room, ""))
    assert (alone.stdout, alone.stderr, alone.returncode) == (shared.stdout, "", 0)


def test_one_that_is_not_to_be_interrupted_is_not() -> None:
    """As the shell starts what runs in the background."""
    ignored = INTERRUPTED.replace("MODULE", "typer").replace("signal.default_int_handler", "signal.SIG_IGN")
    done = called("--version", before=ignored)
    assert (done.returncode, done.stderr) == (0, "")
