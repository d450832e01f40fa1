"""`coswim plan`: start a plan, check one, describe the format."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from coswim.cli import output
from coswim.cli.output import Profiles
from coswim.cli.reading import plan_from
from coswim.plans.plan import Plan
from coswim.plans.starter import STARTER
from coswim.text import wording
from coswim.text.printable import json_text
from coswim.text.saving import write_whole

app = typer.Typer(help="Start, check and describe plans.", no_args_is_help=True, rich_markup_mode=None)


@app.command("new")
def new(
    file: Annotated[
        Path | None, typer.Argument(metavar="[FILE]", help="Where to write it; else it is printed.")
    ] = None,
) -> None:
    """Write a commented plan to start from.

    Example: coswim plan new my-tank.yaml
    """
    if file is None:
        output.say(STARTER)
        return
    write_whole(file, STARTER.encode(), new=True)
    output.say(f"Wrote {file}. Edit it, then: coswim screen {file}")


@app.command("check")
def check(
    plan: Annotated[str, typer.Argument(metavar="PLAN", help="The plan file, or - for standard input.")],
    profiles: Profiles = None,
) -> None:
    """Check a plan and say what is wrong where.

    Example: coswim plan check my-tank.yaml
    """
    read = plan_from(plan, output.catalog_from(profiles))
    residents = sum(entry.count for entry in read.plan.residents)
    proposals = wording.counted(len(read.plan.proposals), "proposal")
    output.say(
        f"{plan}: fine: {read.plan.tank.litres:,.0f} L, {wording.counted(residents, 'resident')}, {proposals}, "
        f"{read.plan.horizon:g} months."
    )
    for words in read.plan.assumed():
        output.say(f"  not stated, taken for granted: {words}")


@app.command("schema")
def schema(
    screening: Annotated[bool, typer.Option("--screening", help="The schema of `coswim screen --as json`.")] = False,
) -> None:
    """Print the JSON Schema of plans (or of screenings) for editors and programs.

    Example: coswim plan schema > coswim-plan.schema.json
    """
    if screening:
        from coswim.report.data import schema as screening_schema

        output.say(json_text(screening_schema()))
    else:
        output.say(json_text(Plan.model_json_schema()))
