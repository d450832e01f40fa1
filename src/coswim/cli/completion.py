"""`coswim completion`: what a shell needs to complete commands, species and topics."""

from __future__ import annotations

from typing import Annotated

import typer

from coswim.cli import output
from coswim.cli.typed import one_of

SHELLS = ("bash", "zsh", "fish")


def completion(
    shell: Annotated[str, typer.Argument(metavar="SHELL", help=f"One of: {', '.join(SHELLS)}.")],
) -> None:
    """Print what makes Tab complete in your shell.

    Bash: add this line to ~/.bashrc: eval "$(coswim completion bash)"

    Zsh: add this line to ~/.zshrc, behind compinit: eval "$(coswim completion zsh)"

    Fish: coswim completion fish > ~/.config/fish/completions/coswim.fish

    Example: coswim completion bash
    """
    one_of(shell, SHELLS, "SHELL")
    from typer.completion import get_completion_script  # type: ignore[attr-defined]

    from coswim.cli.main import VARIABLE

    output.say(get_completion_script(prog_name="coswim", complete_var=VARIABLE, shell=shell))
