"""`coswim screen`: the main job.

The annotations are evaluated here, once; put off, each would be evaluated again whenever typer looks at one.
"""

import os
import sys
from datetime import datetime
from pathlib import Path
from typing import Annotated

import typer

from coswim.cli import output
from coswim.cli.output import Profiles
from coswim.cli.reading import STANDARD_INPUT, plan_from
from coswim.plans.reading import ReadPlan, resolve
from coswim.plans.shorthand import Shorthand
from coswim.profiles.catalog import Catalog
from coswim.report import screening_report
from coswim.report.writers import FORMATS, format_of, write
from coswim.screening import Screening
from coswim.screening import screen as screen_plan
from coswim.simulation.scene import DRAWS, SEED, Effort
from coswim.text.printable import quoted
from coswim.text.problems import InputProblems, Problem
from coswim.verdict.risk import Level

REACHED = 3
WORST_FIRST = tuple(Level)


def screen(
    plan: Annotated[
        str | None, typer.Argument(metavar="[PLAN]", help="The plan file, or - for standard input.")
    ] = None,
    tank: Annotated[str | None, typer.Option(metavar="SIZE", help='Instead of PLAN: "180x60x60 cm".')] = None,
    temperature: Annotated[str | None, typer.Option(metavar="T", help="26, 79 F or 24-27.")] = None,
    ph: Annotated[str | None, typer.Option("--ph", metavar="PH", help="7.0 or 6.8-7.2.")] = None,
    hardness: Annotated[str | None, typer.Option(metavar="GH", help="6 (dGH) or 110 ppm.")] = None,
    resident: Annotated[
        list[str] | None, typer.Option(metavar="FISH", help='"saddled bichir, 38 cm". Repeatable.')
    ] = None,
    add: Annotated[
        list[str] | None, typer.Option(metavar="FISH", help='"8 tinfoil barb, 10 cm"; repeated: added together.')
    ] = None,
    no_lid: Annotated[bool, typer.Option("--no-lid", help="The tank stands open.")] = False,
    as_format: Annotated[
        str | None, typer.Option("--as", metavar="FORMAT", help=f"Print as {', '.join((*FORMATS, 'json'))}.")
    ] = None,
    report: Annotated[
        Path | None, typer.Option(metavar="FILE", help="Write the report to FILE; its ending says the format.")
    ] = None,
    for_forum: Annotated[
        bool, typer.Option("--for-forum", help="A short post (bbcode unless --as) that others can paste and run.")
    ] = False,
    brief: Annotated[bool, typer.Option("--brief", help="Only the verdicts and the worst findings.")] = False,
    remedies: Annotated[bool, typer.Option("--remedies/--no-remedies", help="Search for changes that help.")] = True,
    draws: Annotated[int, typer.Option(min=50, max=100_000, help="Simulated futures.")] = DRAWS,
    seed: Annotated[int, typer.Option(min=0, max=2**31, help="Start of the random numbers.")] = SEED,
    months: Annotated[
        int | None, typer.Option(min=1, max=240, help="Months to look ahead; overrides the plan.")
    ] = None,
    profiles: Profiles = None,
    fail_at: Annotated[
        Level | None, typer.Option("--fail-at", help="Exit with status 3 when a proposal's risk reaches this level.")
    ] = None,
) -> None:
    """Screen every proposal of a plan against the fish already in the tank.

    Example: coswim screen my-tank.yaml

    In the shop: coswim screen --tank "180x60x60 cm" --temperature 26 --ph 7 --hardness 6
    --resident "saddled bichir, 38 cm" --add "8 tinfoil barb, 10 cm"
    """
    shorthand = Shorthand(tank, temperature, ph, hardness, resident or (), add or (), no_lid=no_lid)
    name = _format(as_format, report, for_forum=for_forum)
    _agree(name, plan, report, for_forum=for_forum, brief=brief)
    catalog = output.catalog_from(profiles)
    read = _read(plan, shorthand, catalog)
    effort = Effort(draws=draws, seed=seed, months=months)
    progress = output.Progress(sys.stderr)
    screening = screen_plan(read, catalog, effort, remedies=remedies, on_progress=progress)
    progress.done()
    _render(screening, catalog, name=name, report=report, form=_form(name, for_forum=for_forum, brief=brief))
    if fail_at and _reaches(screening, fail_at):
        raise typer.Exit(REACHED)


def _format(as_format: str | None, report: Path | None, *, for_forum: bool) -> str:
    """The format wanted, or wrong usage."""
    if as_format and as_format not in (*FORMATS, "json"):
        raise typer.BadParameter(
            f"{quoted(as_format)} is not one of {', '.join((*FORMATS, 'json'))}", param_hint="--as"
        )
    if as_format:
        return as_format
    if report:
        found = format_of(report)
        if found is None:
            raise typer.BadParameter(
                f"the ending of {quoted(report.name)} names no format; add --as", param_hint="--report"
            )
        return found
    return "bbcode" if for_forum else "terminal"


def _agree(name: str, plan: str | None, report: Path | None, *, for_forum: bool, brief: bool) -> None:
    """Wrong usage where two options contradict each other, or the report would take the plan's place."""
    if for_forum and brief:
        raise typer.BadParameter(
            "give --for-forum or --brief, not both: each is a form of its own", param_hint="--brief"
        )
    if name == "json" and (for_forum or brief):
        option = "--for-forum" if for_forum else "--brief"
        raise typer.BadParameter("does not go with json, which always holds everything", param_hint=option)
    if plan and report and _is_source(report, plan):
        raise typer.BadParameter(f"{quoted(str(report))} is the plan itself; name another file", param_hint="--report")


def _is_source(report: Path, plan: str) -> bool:
    """The report would be written over the file from which the plan is read, under whatever name."""
    try:
        source = os.fstat(sys.stdin.fileno()) if plan == STANDARD_INPUT and sys.stdin else Path(plan).stat()
        return report.is_file() and os.path.samestat(source, report.stat())
    except OSError:  # one of them is not there, or the input is no file
        return False


def _read(plan: str | None, shorthand: Shorthand, catalog: Catalog) -> ReadPlan:
    if plan and shorthand.is_used:
        raise typer.BadParameter("give a plan file or the one-line options, not both", param_hint="PLAN")
    if not plan and not shorthand.is_used:
        raise typer.BadParameter("give a plan file, or --tank, --temperature, --resident and --add", param_hint="PLAN")
    read = plan_from(plan, catalog) if plan else resolve(shorthand.document(), catalog)
    if not read.plan.proposals:
        message = "names no proposals, so there is nothing to screen; add a list of name and add (see coswim plan new)"
        raise InputProblems([Problem(plan or "command line", 0, 0, "proposals", message)])
    return read


def _form(name: str, *, for_forum: bool, brief: bool) -> screening_report.Form:
    if for_forum:
        return screening_report.POST
    if brief:
        return screening_report.BRIEF
    return screening_report.TERMINAL if name == "terminal" else screening_report.SHARED


def _render(
    screening: Screening, catalog: Catalog, *, name: str, report: Path | None, form: screening_report.Form
) -> None:
    if name == "json":
        from coswim.report import data  # not loaded for a report that is read

        text = data.write(screening)
    else:
        today = datetime.now().astimezone().date()
        if form is screening_report.POST:
            text = screening_report.post(screening, catalog, today=today, write=lambda made: write(made, name))
        else:
            document = screening_report.compose(screening, catalog, today=today, form=form)
            if name == "terminal" and report is None:
                output.show(document)
                return
            text = write(document, name)
    if report is None:
        output.say(text)
    else:
        from coswim.text.saving import write_whole

        write_whole(report, text.encode())
        output.say(f"Wrote {report}.")


def _reaches(screening: Screening, fail_at: Level) -> bool:
    levels = [proposal.risk.level for proposal in screening.proposals if proposal.risk]
    return any(WORST_FIRST.index(level) <= WORST_FIRST.index(fail_at) for level in levels)
