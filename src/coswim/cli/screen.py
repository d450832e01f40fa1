"""`coswim screen`: the main job.

The annotations are evaluated here, once; put off, each would be evaluated again whenever typer looks at one.
"""

import sys
from collections.abc import Iterator, Sequence
from functools import partial
from pathlib import Path
from typing import Annotated, Any, NamedTuple

import typer
from typer.core import TyperCommand

from coswim.cli import asking, completing, output
from coswim.cli.output import Profiles
from coswim.cli.reading import plan_from, refuse_the_plan
from coswim.cli.typed import JSON, TERMINAL, Draws, ForForum, Format, Months, Report, Seed, document_format
from coswim.plans.reading import ReadPlan, resolve
from coswim.plans.shorthand import ADD, OR, Fish, Shorthand
from coswim.profiles.catalog import Catalog
from coswim.report import screening_report
from coswim.report.writers import write_post
from coswim.screening import Screening
from coswim.screening import screen as screen_plan
from coswim.second_process import at_work
from coswim.simulation.scene import DRAWS, SEED, Effort
from coswim.text.printable import quoted, shortened
from coswim.text.problems import InputProblems
from coswim.verdict.risk import Level

REACHED = 3
FISH_TYPED = "coswim.fish_typed"
WORST_FIRST = tuple(Level)


class Command(TyperCommand):
    """The command, which remembers in which order the fish were typed."""

    def parse_args(self, ctx: Any, args: list[str]) -> list[str]:
        """What typer makes of the arguments."""
        ctx.meta[FISH_TYPED] = tuple(_fish_typed(args))
        return super().parse_args(ctx, args)


def _fish_typed(args: Sequence[str]) -> Iterator[Fish]:
    for number, word in enumerate(args):
        option, has_value, value = word.partition("=")
        if option in {ADD, OR} and (has_value or number + 1 < len(args)):
            yield Fish(option, value if has_value else args[number + 1])


_fish = partial(typer.Option, metavar="FISH", autocompletion=completing.fish)


def screen(
    ctx: typer.Context,
    plan: Annotated[
        str | None, typer.Argument(metavar="[PLAN]", help="The plan file, or - for standard input.")
    ] = None,
    tank: Annotated[str | None, typer.Option(metavar="SIZE", help='Instead of PLAN: "180x60x60 cm".')] = None,
    temperature: Annotated[str | None, typer.Option(metavar="T", help="26, 79 F or 24-27.")] = None,
    ph: Annotated[str | None, typer.Option("--ph", metavar="PH", help="7.0 or 6.8-7.2.")] = None,
    hardness: Annotated[str | None, typer.Option(metavar="GH", help="6 (dGH) or 110 ppm.")] = None,
    resident: Annotated[list[str] | None, _fish(help='"saddled bichir, 38 cm". Repeatable.')] = None,
    add: Annotated[  # noqa: ARG001 - read in the order typed
        list[str] | None, _fish(ADD, help='"8 tinfoil barb, 10 cm"; repeated: added together.')
    ] = None,
    alternative: Annotated[  # noqa: ARG001 - read in the order typed
        list[str] | None, _fish(OR, help="Starts an alternative; each is screened by itself.")
    ] = None,
    no_lid: Annotated[bool, typer.Option("--no-lid", help="The tank stands open.")] = False,
    full: Annotated[bool, typer.Option("--full", help="Everything: all findings, reasons and pictures.")] = False,
    only: Annotated[str | None, typer.Option(metavar="NAME", help="One proposal of the plan alone.")] = None,
    brief: Annotated[bool, typer.Option("--brief", help="One line for each proposal.")] = False,
    as_format: Format = None,
    report: Report = None,
    for_forum: ForForum = False,
    remedies: Annotated[bool, typer.Option("--remedies/--no-remedies", help="Search for changes that help.")] = True,
    draws: Draws = DRAWS,
    seed: Seed = SEED,
    months: Months = None,
    profiles: Profiles = None,
    fail_at: Annotated[
        Level | None, typer.Option("--fail-at", help="Exit with status 3 when a proposal's risk reaches this level.")
    ] = None,
) -> None:
    """Screen proposed fish against those in the tank.

    Example: coswim screen my-tank.yaml

    In the shop: coswim screen --tank "180x60x60 cm" --temperature 26 --ph 7 --hardness 6
    --resident "saddled bichir, 38 cm" --add "8 tinfoil barb, 10 cm" --or "12 Congo tetra"

    Without fish to add it checks the tank as it stands; without residents, a new tank.
    """
    shorthand = Shorthand(tank, temperature, ph, hardness, resident or (), ctx.meta[FISH_TYPED], no_lid)
    name = document_format(as_format, report, otherwise="bbcode" if for_forum else TERMINAL)
    wanted = AskedFor(name, report, for_forum=for_forum, brief=brief, full=full)
    _agree(plan, wanted)
    catalog = output.catalog_from(profiles, ask=asking.species if asking.is_possible() and plan != "-" else None)
    read = _only(_read(plan, shorthand, catalog), only)
    effort = Effort(draws=draws, seed=seed, months=months)
    progress = output.Progress(sys.stderr)
    screening = screen_plan(
        read,
        catalog,
        effort,
        remedies=remedies,
        pictures=wanted.shows_details,
        processes=at_work(),
        on_progress=progress,
    )
    progress.done()
    _render(screening, catalog, wanted)
    worst = [WORST_FIRST.index(one.risk.level) for one in screening.judged if one.risk]
    if fail_at and worst and min(worst) <= WORST_FIRST.index(fail_at):
        raise typer.Exit(REACHED)


class AskedFor(NamedTuple):
    """How the report is wanted."""

    name: str
    report: Path | None
    for_forum: bool
    brief: bool
    full: bool

    @property
    def is_one_screen(self) -> bool:
        """What fits a terminal is wanted, and nothing else was said."""
        return self.name == TERMINAL and self.report is None and not (self.full or self.brief or self.for_forum)

    @property
    def shows_details(self) -> bool:
        """It is a report with all findings, their reasons and pictures."""
        return self.name != JSON and not self.is_one_screen and self.form.details

    @property
    def form(self) -> screening_report.Form:
        """How much of it."""
        if self.for_forum:
            return screening_report.POST
        if self.brief:
            return screening_report.BRIEF
        return screening_report.FULL if self.name == TERMINAL else screening_report.SHARED


def _agree(plan: str | None, wanted: AskedFor) -> None:
    """Wrong usage where two options contradict each other, or the report would take the plan's place."""
    forms = {"--for-forum": wanted.for_forum, "--brief": wanted.brief, "--full": wanted.full}
    chosen = [option for option, is_wanted in forms.items() if is_wanted]
    if len(chosen) > 1:
        first, second, *_ = chosen
        raise typer.BadParameter(f"give {first} or {second}, not both: each is a form of its own", param_hint=second)
    if wanted.name == JSON and chosen:
        raise typer.BadParameter("does not go with json, which always holds everything", param_hint=chosen[0])
    if plan and wanted.report:
        refuse_the_plan(wanted.report, plan, "--report")


def _read(plan: str | None, shorthand: Shorthand, catalog: Catalog) -> ReadPlan:
    if plan and shorthand.is_used:
        raise typer.BadParameter("give a plan file or the one-line options, not both", param_hint="PLAN")
    if not plan and not shorthand.is_used:
        raise typer.BadParameter(
            "give a plan file, or --tank, --temperature and fish with --resident, --add or both", param_hint="PLAN"
        )
    if plan:
        return plan_from(plan, catalog)
    try:
        return resolve(shorthand.document(), catalog)
    except InputProblems as error:
        raise InputProblems(map(shorthand.placed, error.problems)) from None


def _only(read: ReadPlan, name: str | None) -> ReadPlan:
    """The plan with one of its proposals alone; the name may be a unique part of its name."""
    if name is None:
        return read
    names = [proposal.name for proposal in read.plan.proposals]
    found = [one for one in names if one == name] or [one for one in names if name.casefold() in one.casefold()]
    if len(found) != 1:
        which = "is no proposal" if not found else "could be several proposals"
        known = ", ".join(map(shortened, names)) or "none"
        raise typer.BadParameter(f"{quoted(name)} {which}; there are: {known}", param_hint="--only")
    alone = tuple(proposal for proposal in read.plan.proposals if proposal.name == found[0])
    return read._replace(plan=read.plan.model_copy(update={"proposals": alone}))


def _render(screening: Screening, catalog: Catalog, wanted: AskedFor) -> None:
    today = output.today()
    if wanted.name == JSON:
        from coswim.report import data  # not loaded for a report that is read

        output.deliver(data.write(screening), wanted.report)
    elif wanted.for_forum:
        write = partial(write_post, name=wanted.name)
        output.deliver(screening_report.post(screening, catalog, today=today, write=write), wanted.report)
    elif wanted.is_one_screen:
        output.show(screening_report.screen(screening, catalog, today=today))
    else:
        document = screening_report.compose(screening, catalog, today=today, form=wanted.form)
        output.render(document, wanted.name, wanted.report, paged=wanted.full)
