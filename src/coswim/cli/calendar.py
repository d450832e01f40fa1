"""`coswim calendar`: the dated steps after buying.

The annotations are evaluated here, once; put off, each would be evaluated again whenever typer looks at one.
"""

from datetime import date
from pathlib import Path
from typing import Annotated

import typer

from coswim.aftercare import way_out
from coswim.aftercare.calendar import make_calendar
from coswim.aftercare.company import company_of
from coswim.aftercare.concerns import concerns_of
from coswim.aftercare.diary import parse_date
from coswim.aftercare.stop_rules import stop_rules
from coswim.aftercare.two_waters import Water, differences
from coswim.cli import output
from coswim.cli.after_buying import Proposal_, proposal_of, screened_alone
from coswim.cli.output import Profiles
from coswim.cli.reading import plan_from, refuse_the_plan
from coswim.cli.typed import JSON, Format, PlanSource, Report, document_format, value, value_if_typed
from coswim.report import aftercare_report
from coswim.text import quantities as q
from coswim.text.problems import InputProblems, Problem


def calendar(
    plan: PlanSource,
    start: Annotated[str, typer.Option("--start", metavar="DATE", help="The day they come home: 2026-01-05.")],
    proposal: Proposal_ = None,
    added: Annotated[
        list[str] | None,
        typer.Option("--added", metavar="DATE", help="A day on which a fish joined the quarantine. Repeatable."),
    ] = None,
    their_temperature: Annotated[str | None, typer.Option(metavar="T", help="Of the water they come from.")] = None,
    their_ph: Annotated[str | None, typer.Option("--their-ph", metavar="PH", help="Likewise.")] = None,
    their_hardness: Annotated[str | None, typer.Option(metavar="GH", help="Likewise.")] = None,
    ics: Annotated[
        Path | None, typer.Option("--ics", metavar="FILE", help="Write it for calendar programs (iCalendar) too.")
    ] = None,
    as_format: Format = None,
    report: Report = None,
    profiles: Profiles = None,
) -> None:
    """Print the dated steps after buying, and when to stop.

    Example: coswim calendar my-tank.yaml --start 2026-01-05 --ics steps.ics
    """
    name = document_format(as_format, report)
    for target, option in ((report, "--report"), (ics, "--ics")):
        if target:
            refuse_the_plan(target, plan, option)
    catalog = output.catalog_from(profiles)
    read = plan_from(plan, catalog)
    chosen = proposal_of(read, proposal)
    if chosen is None:
        raise InputProblems([Problem(plan, 0, 0, "proposals", "names no proposals, so nothing moves in")])
    theirs = Water(
        value_if_typed(their_temperature, q.TEMPERATURE.parse, "--their-temperature"),
        value_if_typed(their_ph, q.PH.parse, "--their-ph"),
        value_if_typed(their_hardness, q.HARDNESS.parse, "--their-hardness"),
    )
    company = company_of(read, chosen, start=value(start, parse_date, "--start"))
    days = _additions(added, company.start)
    screened = screened_alone(read, chosen, catalog)
    concerns = concerns_of(screened, company)
    made = make_calendar(company, concerns, added=days, waters=tuple(differences(theirs, read.plan.tank)))
    rules, ways_out = stop_rules(company, concerns), way_out.words(company, concerns)
    if name == JSON:
        output.deliver(aftercare_report.calendar_data(made, screened, rules, ways_out), report)
    else:
        document = aftercare_report.calendar(made, screened, rules, ways_out, today=output.today())
        output.render(document, name, report)
    if ics:
        from coswim.aftercare.ics import write_ics  # only loaded when it is wanted

        output.save(write_ics(made), ics)


def _additions(added: list[str] | None, start: date) -> list[date]:
    days = [value(day, parse_date, "--added") for day in added or ()]
    for day in days:
        if day < start:
            raise typer.BadParameter(f"{day} is before --start {start}", param_hint="--added")
    return days
