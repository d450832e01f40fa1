"""`coswim plan`: start a plan, check one, describe the format."""

from __future__ import annotations

import sys
from pathlib import Path
from typing import Annotated

import typer

from coswim.cli import asking, completing, output
from coswim.cli.output import Profiles
from coswim.cli.reading import plan_from
from coswim.cli.typed import PlanSource, one_of
from coswim.plans.plan import Plan
from coswim.plans.reading import read_plan
from coswim.plans.starter import STARTERS
from coswim.profiles.catalog import Catalog
from coswim.text import wording
from coswim.text.printable import json_text
from coswim.text.problems import whole_file
from coswim.text.saving import write_whole

app = typer.Typer(
    help="Start, check and describe plans.", no_args_is_help=True, add_completion=False, rich_markup_mode=None
)


@app.command("new")
def new(
    file: Annotated[
        Path | None, typer.Argument(metavar="[FILE]", help="Where to write it; else it is printed.")
    ] = None,
    like: Annotated[
        str, typer.Option(metavar="KIND", help=f"One of: {', '.join(STARTERS)}.", autocompletion=completing.starters)
    ] = "community",
    ask: Annotated[bool, typer.Option("--ask", help="Ask one question at a time, then screen the plan.")] = False,
    profiles: Profiles = None,
) -> None:
    """Write a commented plan to start from.

    Example: coswim plan new my-tank.yaml --like small
    """
    one_of(like, STARTERS, "--like")
    if file is not None and file.exists():
        raise whole_file(str(file), "is there already; name another file or move it away")
    if ask:
        _asked(file, output.catalog_from(profiles, ask=asking.species))
        return
    if file is None:
        output.say(STARTERS[like])
        return
    write_whole(file, STARTERS[like].encode(), new=True)
    output.say(f"Wrote {file}. Edit it, then: coswim screen {file}")


def _asked(file: Path | None, catalog: Catalog) -> None:
    """The plan from a keeper's answers: written where a file is named, and screened."""
    from coswim.cli import interview
    from coswim.plans.written import write_plan
    from coswim.report import screening_report
    from coswim.screening import screen

    made, units = interview.plan(catalog)
    text = write_plan(made, units=units)
    read = read_plan(text, file.name if file else "your tank", catalog)
    if file:
        write_whole(file, text.encode())
        output.say(f"Wrote {file}.\n")
    progress = output.Progress(sys.stderr)
    screening = screen(read, catalog, pictures=False, on_progress=progress)
    progress.done()
    output.show(screening_report.screen(screening, catalog, today=output.today()))


@app.command("check")
def check(plan: PlanSource, profiles: Profiles = None) -> None:
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
    for words in (*read.plan.assumed(), *read.assumed):
        output.say(f"  not stated, taken for granted: {words}")


@app.command("schema")
def schema(
    screening: Annotated[bool, typer.Option("--screening", help="The schema of `coswim screen --as json`.")] = False,
    shortlist: Annotated[bool, typer.Option("--shortlist", help="That of `coswim shortlist --as json`.")] = False,
) -> None:
    """Print the JSON Schema of plans or of what is found.

    Example: coswim plan schema > coswim-plan.schema.json
    """
    if screening:
        from coswim.report.data import schema as screening_schema

        output.say(json_text(screening_schema()))
    elif shortlist:
        from coswim.report.shortlist_data import schema as shortlist_schema

        output.say(json_text(shortlist_schema()))
    else:
        output.say(json_text(Plan.model_json_schema()))
