"""`coswim diary`: write down what the fish do, look at it, and have it judged.

The annotations are evaluated here, once; put off, each would be evaluated again whenever typer looks at one.
"""

from datetime import date
from pathlib import Path
from typing import Annotated, Any

import typer

from coswim.aftercare import grades
from coswim.aftercare.appending import append, diary_of
from coswim.aftercare.company import UnknownGroup, companies_of, company_of
from coswim.aftercare.diary import ATE, CHASED, Diary, DiaryEntry, parse_date
from coswim.aftercare.stream import read_diary
from coswim.aftercare.watched import watched
from coswim.cli import output
from coswim.cli.after_buying import Proposal_, proposal_of, screened_alone
from coswim.cli.output import Profiles
from coswim.cli.reading import plan_from
from coswim.cli.typed import value
from coswim.plans.plan import Proposal
from coswim.plans.reading import ReadPlan
from coswim.report import aftercare_report
from coswim.text.document import YamlDocument, read_bytes
from coswim.text.problems import InputProblems, Problem, whole_file
from coswim.text.validation import validate

TYPED = "command line"

app = typer.Typer(
    help="Write down what the fish do after buying, and have it judged.", no_args_is_help=True, rich_markup_mode=None
)

PlanFile = Annotated[Path, typer.Argument(metavar="PLAN", help="The plan file; its diary lies beside it.")]
On = Annotated[str | None, typer.Option("--on", metavar="DATE", help="The day; today where it is left out.")]


@app.command("add")
def add(
    plan: PlanFile,
    group: Annotated[str | None, typer.Option(metavar="FISH", help="Which fish, as the plan names them.")] = None,
    ate: Annotated[str | None, typer.Option(metavar="WORD", help=f"{', '.join(ATE)}.")] = None,
    chased: Annotated[str | None, typer.Option(metavar="WORD", help=f"It is chased: {', '.join(CHASED)}.")] = None,
    damage: Annotated[str | None, typer.Option(metavar="GRADE", help="0 to 3, see coswim explain damage.")] = None,
    place: Annotated[
        str | None, typer.Option(metavar="WORD", help=f"Of the damage: {', '.join(grades.PLACES)}.")
    ] = None,
    length: Annotated[str | None, typer.Option(metavar="L", help="Measured total length: 12 cm.")] = None,
    weight: Annotated[str | None, typer.Option(metavar="W", help="Of one fish: 40 g.")] = None,
    ammonia: Annotated[str | None, typer.Option(metavar="MG/L", help="Total ammonia, NH3 and NH4 together.")] = None,
    nitrite: Annotated[str | None, typer.Option(metavar="MG/L", help="NO2.")] = None,
    nitrate: Annotated[str | None, typer.Option(metavar="MG/L", help="NO3.")] = None,
    ph: Annotated[str | None, typer.Option("--ph", metavar="PH", help="Of the tank.")] = None,
    temperature: Annotated[str | None, typer.Option(metavar="T", help="Of the tank.")] = None,
    hardness: Annotated[str | None, typer.Option(metavar="GH", help="Of the tank.")] = None,
    note: Annotated[str | None, typer.Option(metavar="TEXT", help="Anything else.")] = None,
    on: On = None,
    profiles: Profiles = None,
) -> None:
    """Add what you saw to the diary beside the plan.

    Example: coswim diary add my-tank.yaml --group "saddled bichir" --ate no --damage 1 --place fins
    """
    hurt = {"grade": damage, "place": place}
    water = {
        "ammonia": ammonia, "nitrite": nitrite, "nitrate": nitrate, "ph": ph, "temperature": temperature,
        "hardness": hardness,
    }  # fmt: skip
    seen = {
        "date": on or output.today(), "group": group, "ate": ate, "chased": chased, "damage": _stated(hurt),
        "length": length, "weight": weight, "water": _stated(water), "note": note,
    }  # fmt: skip
    entry = validate(YamlDocument(TYPED, _stated(seen), None), DiaryEntry)
    _check_group(entry, plan_from(str(plan), output.catalog_from(profiles)))
    added = append(entry, diary_of(plan))
    if added.put_aside:
        output.complain(f"warning: the last entry of {added.path} was cut off; it was put aside in {added.put_aside}")
    output.say(f"Added to {added.path}.")


@app.command("show")
def show(plan: PlanFile, proposal: Proposal_ = None, profiles: Profiles = None) -> None:
    """Show the diary, with the poisonous part of the ammonia worked out.

    Example: coswim diary show my-tank.yaml
    """
    book = _diary(plan)
    read = plan_from(str(plan), output.catalog_from(profiles))
    company = company_of(read, _bought(read, proposal, book), start=_first_day(book))
    output.show(aftercare_report.diary(book, watched(book, company)))


@app.command("judge")
def judge(
    plan: PlanFile,
    on: On = None,
    start: Annotated[
        str | None, typer.Option("--start", metavar="DATE", help="The day they met; else the first entry's.")
    ] = None,
    proposal: Proposal_ = None,
    profiles: Profiles = None,
) -> None:
    """Judge the diary: carry on, act, or separate now.

    Example: coswim diary judge my-tank.yaml
    """
    from coswim.aftercare import way_out
    from coswim.aftercare.concerns import concerns_of
    from coswim.aftercare.learning import outlook
    from coswim.aftercare.stop_rule import judge as judge_diary
    from coswim.aftercare.stop_rules import stop_rules
    from coswim.aftercare.trends import trends

    book = _diary(plan)
    catalog = output.catalog_from(profiles)
    read = plan_from(str(plan), catalog)
    chosen = _bought(read, proposal, book)
    company = company_of(read, chosen, start=value(start, parse_date, "--start") if start else _first_day(book))
    seen = watched(book, company, on=value(on, parse_date, "--on") if on else output.today())
    screened = screened_alone(read, chosen, catalog)
    concerns = concerns_of(screened, company)
    output.show(
        aftercare_report.judgement(
            judge_diary(seen, stop_rules(company, concerns)),
            seen,
            screened,
            trends=trends(seen),
            outlook=outlook(read, seen, screened, catalog),
            ways_out=way_out.words(company, concerns),
            today=output.today(),
        )
    )


def _stated(values: dict[str, Any]) -> dict[str, Any] | None:
    """What was given; None where nothing was."""
    return {name: value for name, value in values.items() if value is not None} or None


def _bought(read: ReadPlan, name: str | None, book: Diary) -> Proposal | None:
    """The proposal that the diary is of: the named one, the only one, or the only one whose fish it speaks of."""
    if name is None and len(read.plan.proposals) > 1:
        groups = [entry.group for entry in book.entries if entry.group]
        fitting = [one.name for one in companies_of(read, start=_first_day(book)) if one.knows(groups)]
        name = fitting[0] if len(fitting) == 1 else None
    return proposal_of(read, name)


def _diary(plan: Path) -> Diary:
    path = diary_of(plan)
    if not path.exists():
        raise whole_file(str(path), f"is not there yet; begin with: coswim diary add {plan.name}")
    book = read_diary(read_bytes(path), path.name)
    if book.torn:
        output.complain(f"warning: {book.torn}; the next coswim diary add puts it aside")
    return book


def _first_day(book: Diary) -> date:
    return book.entries[0].date if book.entries else output.today()


def _check_group(entry: DiaryEntry, read: ReadPlan) -> None:
    """InputProblems where no proposal (nor the tank) has the group that an entry is of."""
    companies = companies_of(read, start=entry.date)
    if entry.group is None or any(company.knows([entry.group]) for company in companies):
        return
    try:
        companies[0].find(entry.group)
    except UnknownGroup as error:
        raise InputProblems([Problem(TYPED, 0, 0, "group", str(error.args[0]))]) from None
