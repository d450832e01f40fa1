"""Tab completes commands, species and topics in every shell, from the top command."""

from __future__ import annotations

import subprocess
import sys

import pytest

from coswim.cli.main import main

WORDS = [
    ("coswim ", "screen"),
    ("coswim scr", "screen"),
    ("coswim explain ga", "gape-fit"),
    ("coswim explain tr", "trust"),
    ("coswim profile show sadd", "saddled-bichir"),
    ("coswim profile new x --like neon", "neon-tetra"),
    ("coswim screen --add 8-tinf", "8-tinfoil-barb"),
    ("coswim plan new --like s", "single"),
    ("coswim screen --as mark", "markdown"),
]


def completed(shell: str, typed: str) -> str:
    """What the installed command answers a shell."""
    words = typed.split(" ")
    asked = {
        "bash": {"COMP_WORDS": typed, "COMP_CWORD": str(len(words) - 1)},
        "zsh": {"_TYPER_COMPLETE_ARGS": typed},
        "fish": {"_TYPER_COMPLETE_ARGS": typed, "_TYPER_COMPLETE_FISH_ACTION": "get-args"},
    }[shell]
    done = subprocess.run(
        [sys.executable, "-m", "coswim"],
        env={**asked, "_COSWIM_COMPLETE": f"complete_{shell}", "PYTHONPATH": ":".join(sys.path)},
        capture_output=True,
        text=True,
        check=False,
    )
    assert done.stderr == ""
    return done.stdout


@pytest.mark.parametrize(("typed", "word"), WORDS, ids=[typed for typed, _ in WORDS])
def test_bash(typed: str, word: str) -> None:
    assert word in completed("bash", typed).split("\n")


@pytest.mark.parametrize("shell", ["zsh", "fish"])
def test_other_shells(shell: str) -> None:
    assert "saddled-bichir" in completed(shell, "coswim profile show sadd")


@pytest.mark.parametrize("shell", ["bash", "zsh", "fish"])
def test_the_script_names_the_command(shell: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["completion", shell]) == 0
    out = capsys.readouterr().out
    assert f"_COSWIM_COMPLETE=complete_{shell}" in out


def test_another_shell_is_refused(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["completion", "zhs"]) == 2
    assert "did you mean 'zsh'?" in " ".join(capsys.readouterr().err.split())
