"""The `coswim` command and its one way out."""

from __future__ import annotations

import sys
from collections.abc import Sequence
from typing import Annotated

import typer

from coswim import __version__
from coswim.cli import explain, output, plan, profile, screen
from coswim.profiles.catalog import UnknownSpecies
from coswim.text.problems import InputProblems

PROBLEM, UNFORESEEN = 1, 70

app = typer.Typer(
    name="coswim",
    add_completion=False,
    no_args_is_help=True,
    rich_markup_mode=None,
    pretty_exceptions_enable=False,
    help="Tells, before you buy, whether proposed tankmates can share an aquarium with the fish already living there.",
    epilog="Start with: coswim plan new > my-tank.yaml; edit it; coswim screen my-tank.yaml",
)
app.command("screen")(screen.screen)
app.command("explain")(explain.explain)
app.add_typer(profile.app, name="profile")
app.add_typer(plan.app, name="plan")


def _version(wanted: bool) -> None:
    if wanted:
        output.say(f"coswim {__version__}")
        raise typer.Exit


@app.callback()
def _root(
    version: Annotated[
        bool, typer.Option("--version", callback=_version, is_eager=True, help="Print the version and stop.")
    ] = False,
) -> None:
    pass


def main(argv: Sequence[str] | None = None) -> int:
    """Run the command; returns 0 done, 1 a problem in the input, 2 wrong usage, 3 `--fail-at` reached."""
    try:
        typer.main.get_command(app)(args=None if argv is None else list(argv), prog_name="coswim")
    except SystemExit as stop:
        return stop.code if isinstance(stop.code, int) else 0 if stop.code is None else PROBLEM
    except InputProblems as error:
        output.complain(output.problems_text(error))
        return PROBLEM
    except UnknownSpecies as error:
        output.complain(str(error.args[0]))
        return PROBLEM
    except Exception as error:
        output.complain(
            f"coswim: this should not have happened ({type(error).__name__}: {error}); please report it with the "
            "command and the file, without private notes."
        )
        return UNFORESEEN
    return 0


def run() -> None:
    """The installed script."""
    sys.exit(main())
