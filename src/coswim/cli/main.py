"""The `coswim` command and its one way out."""

from __future__ import annotations

import os
import sys
from collections.abc import Mapping, Sequence
from importlib import import_module
from io import StringIO
from types import MappingProxyType
from typing import Annotated, Any

import typer
from typer.core import TyperGroup

from coswim import __version__
from coswim.cli import output
from coswim.cli.ahead import WHOLE_LIBRARY, Ahead
from coswim.profiles.catalog import BUILT_IN, UnknownSpecies
from coswim.text.problems import InputProblems

PROBLEM, WRONG_USAGE, UNFORESEEN, INTERRUPTED = 1, 2, 70, 130
USAGE_ERROR: type[Exception] = typer.BadParameter.__bases__[0]
"""Of the parser below typer, which is a package of its own or a part of typer, by its version."""
VARIABLE = "_COSWIM_COMPLETE"
"""By which a shell asks for completions, see `coswim completion`."""

AHEAD = "coswim.ahead"
"""Under which a command that reads the whole library finds it parsed."""

COMMANDS: Mapping[str, str] = MappingProxyType(
    {
        name: f"coswim.cli.{name}"
        for name in ("screen", "shortlist", "calendar", "diary", "explain", "profile", "plan", "completion")
    }
)


class OnDemand(TyperGroup):
    """A command's module is loaded when that command is wanted, so that none waits for the others."""

    def list_commands(self, ctx: Any) -> list[str]:  # noqa: ARG002 - typer calls it so
        """Every command, in the order of the help."""
        return list(COMMANDS)

    def resolve_command(self, ctx: Any, args: list[str]) -> Any:
        """The command that is wanted; what it will have to read is being parsed meanwhile."""
        if args[0] == WHOLE_LIBRARY:
            ctx.meta[AHEAD] = ctx.obj or Ahead(BUILT_IN)
            ctx.call_on_close(ctx.meta[AHEAD].close)
        return super().resolve_command(ctx, args)

    def get_command(self, ctx: Any, cmd_name: str) -> Any:  # noqa: ARG002 - typer calls it so
        """The command called so: its module's `app`, or the one function named like the module."""
        if cmd_name not in COMMANDS:
            return None
        module = import_module(COMMANDS[cmd_name])
        single = typer.Typer(add_completion=False, rich_markup_mode=None)
        if not hasattr(module, "app"):
            single.command(cmd_name, cls=getattr(module, "Command", None))(getattr(module, cmd_name))
        found = typer.main.get_command(getattr(module, "app", single))
        found.name = cmd_name
        return found


app = typer.Typer(
    name="coswim",
    cls=OnDemand,
    add_completion=False,
    no_args_is_help=True,
    rich_markup_mode=None,
    context_settings={"help_option_names": ["-h", "--help"]},
    pretty_exceptions_enable=False,
    help="Tells, before you buy, whether proposed tankmates can share an aquarium with the fish already living there.",
    epilog="Start with: coswim plan new --ask",
)


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


def main(argv: Sequence[str] | None = None, *, ahead: Ahead | None = None) -> int:
    """Run the command, with the library that was begun to be parsed for it; returns its status.

    0 done, 1 a problem in the input, 2 wrong usage, 3 `--fail-at` reached, 70 a mistake of coswim, 130 interrupted.
    """
    try:
        status = _called(argv, ahead)
        sys.stdout.flush()
    except InputProblems as error:
        for problem in error.problems:
            output.complain(str(problem))
        return PROBLEM
    except UnknownSpecies as error:
        output.complain(str(error.args[0]))
        return PROBLEM
    except KeyboardInterrupt:
        return INTERRUPTED
    except BrokenPipeError:  # the reader has seen enough
        return PROBLEM
    except MemoryError:
        output.complain("coswim: there is not enough memory for so much at once; ask for fewer --draws or --months")
        return PROBLEM
    except ChildProcessError as error:
        output.complain(f"coswim: {error}; run it again")
        return PROBLEM
    except OSError as error:
        output.complain(f"coswim: {error.filename or 'the output cannot be written'}: {error.strerror or error}")
        return PROBLEM
    except Exception as error:
        output.complain(
            f"coswim: this should not have happened ({type(error).__name__}: {error}); please report it with the "
            "command and the file, without private notes."
        )
        return UNFORESEEN
    return status


def _called(argv: Sequence[str] | None, ahead: Ahead | None) -> int:
    if VARIABLE in os.environ:  # a shell asks what might come next
        from typer.completion import completion_init  # type: ignore[attr-defined]

        completion_init()
    command, arguments = typer.main.get_command(app), None if argv is None else list(argv)
    try:
        status = command(args=arguments, prog_name="coswim", standalone_mode=False, obj=ahead)
    except USAGE_ERROR as error:
        shown = StringIO()
        error.show(shown)  # type: ignore[attr-defined]
        for line in shown.getvalue().splitlines():
            output.complain(line)
        return WRONG_USAGE
    except typer.Abort:
        return INTERRUPTED
    except SystemExit as stop:
        return stop.code if isinstance(stop.code, int) else 0 if stop.code is None else PROBLEM
    return status if isinstance(status, int) else 0
