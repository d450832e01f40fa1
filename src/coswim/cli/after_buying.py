"""What the commands for the time after buying share: the proposal, days, quantities, formats."""

from __future__ import annotations

from datetime import date, datetime
from pathlib import Path
from typing import Annotated

import typer

from coswim.aftercare.diary import parse_date
from coswim.plans.plan import Proposal
from coswim.plans.reading import ReadPlan
from coswim.profiles.catalog import Catalog
from coswim.report.writers import FORMATS, format_of
from coswim.screening import Screened, screen
from coswim.text.near import did_you_mean
from coswim.text.printable import quoted
from coswim.text.quantities import Quantity, QuantityError

JSON = "json"

Proposal_ = Annotated[
    str | None,
    typer.Option("--proposal", metavar="NAME", help="Which of the plan's proposals; needed where it has several."),
]


def proposal_of(read: ReadPlan, name: str | None) -> Proposal | None:
    """The proposal that is meant: the named one, or the only one; None where the plan has none."""
    known = [proposal.name for proposal in read.plan.proposals]
    if name is None:
        if len(known) > 1:
            raise typer.BadParameter(f"the plan has several; name one of {', '.join(known)}", param_hint="--proposal")
        return read.plan.proposals[0] if known else None
    if name not in known:
        message = f"{quoted(name)} is not one of {', '.join(known) or 'none'}{did_you_mean(name, known)}"
        raise typer.BadParameter(message, param_hint="--proposal")
    return read.plan.proposals[known.index(name)]


def screened_alone(read: ReadPlan, proposal: Proposal | None, catalog: Catalog) -> Screened:
    """One proposal (or the tank as it stands) screened, without a search for remedies."""
    chosen = (proposal,) if proposal else ()
    screening = screen(read._replace(plan=read.plan.model_copy(update={"proposals": chosen})), catalog, remedies=False)
    return screening.proposals[0] if proposal else screening.as_it_stands


def day_of(text: str, option: str) -> date:
    """A day from the command line, or wrong usage."""
    try:
        return parse_date(text)
    except ValueError as error:
        raise typer.BadParameter(str(error), param_hint=option) from None


def quantity_of(text: str | None, kind: Quantity, option: str) -> float | None:
    """A quantity from the command line, or wrong usage."""
    try:
        return None if text is None else kind.parse(text)
    except QuantityError as error:
        raise typer.BadParameter(str(error), param_hint=option) from None


def document_format(as_format: str | None, report: Path | None) -> str:
    """The format wanted, or wrong usage."""
    known = (*FORMATS, JSON)
    if as_format and as_format not in known:
        raise typer.BadParameter(f"{quoted(as_format)} is not one of {', '.join(known)}", param_hint="--as")
    if as_format or report is None:
        return as_format or "terminal"
    found = format_of(report)
    if found is None:
        raise typer.BadParameter(
            f"the ending of {quoted(report.name)} names no format; add --as", param_hint="--report"
        )
    return found


def today() -> date:
    """The day it is; the clock is read here and nowhere below."""
    return datetime.now().astimezone().date()
