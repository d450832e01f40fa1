"""What the commands for the time after buying share: the proposal, and its screening."""

from __future__ import annotations

from typing import Annotated

import typer

from coswim.cli.typed import one_of
from coswim.plans.plan import Proposal
from coswim.plans.reading import ReadPlan
from coswim.profiles.catalog import Catalog
from coswim.screening import Screened, screen
from coswim.text.printable import shortened

Proposal_ = Annotated[
    str | None,
    typer.Option("--proposal", metavar="NAME", help="Which of the plan's proposals; needed where it has several."),
]


def proposal_of(read: ReadPlan, name: str | None) -> Proposal | None:
    """The proposal that is meant: the named one, or the only one; None where the plan has none."""
    known = [proposal.name for proposal in read.plan.proposals]
    if name is None:
        if len(known) > 1:
            names = ", ".join(map(shortened, known))
            raise typer.BadParameter(f"the plan has several; name one of {names}", param_hint="--proposal")
        return read.plan.proposals[0] if known else None
    return read.plan.proposals[known.index(one_of(name, known, "--proposal"))]


def screened_alone(read: ReadPlan, proposal: Proposal | None, catalog: Catalog) -> Screened:
    """One proposal (or the tank as it stands) screened, without a search for remedies."""
    chosen = (proposal,) if proposal else ()
    alone = read._replace(plan=read.plan.model_copy(update={"proposals": chosen}))
    screening = screen(alone, catalog, remedies=False, pictures=False)
    return screening.proposals[0] if proposal else screening.as_it_stands
