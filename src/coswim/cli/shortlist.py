"""`coswim shortlist`: which fish would do, at what size and in what number.

The annotations are evaluated here, once; put off, each would be evaluated again whenever typer looks at one.
"""

import sys
from collections.abc import Iterator
from contextlib import contextmanager
from functools import partial
from pathlib import Path
from time import monotonic
from typing import Annotated

import typer

from coswim.cli import output
from coswim.cli.main import AHEAD
from coswim.cli.output import Profiles
from coswim.cli.reading import plan_from, refuse_the_plan
from coswim.cli.typed import (
    JSON,
    TERMINAL,
    Draws,
    ForForum,
    Format,
    Months,
    PlanSource,
    Report,
    Seed,
    document_format,
    one_of,
    value_if_typed,
)
from coswim.plans.reading import ReadPlan
from coswim.profiles import scales
from coswim.profiles.catalog import Catalog
from coswim.report import shortlist_report
from coswim.second_process import at_work
from coswim.shortlist.instead import typed_group
from coswim.shortlist.making import Progress
from coswim.shortlist.making import shortlist as make_shortlist
from coswim.shortlist.why import why as find_why
from coswim.shortlist.wish import Wish
from coswim.simulation.scene import DRAWS, SEED, Effort
from coswim.text.quantities import FISH_LENGTH

PATIENCE = 1.0
"""Seconds after which it is shown how far the work is."""
BAR = 24


def shortlist(
    ctx: typer.Context,
    plan: PlanSource,
    text: Annotated[str, typer.Option(metavar="WORDS", help="Words of a name or family.")] = "",
    family: Annotated[str, typer.Option(metavar="NAME", help="Scientific family, or its beginning.")] = "",
    level: Annotated[str, typer.Option(metavar="LEVEL", help="surface, mid or bottom.")] = "",
    size: Annotated[str | None, typer.Option(metavar="L", help='Grown: "4-8 cm"; one length is the most.')] = None,
    diet: Annotated[str, typer.Option(metavar="DIET", help=f"{', '.join(scales.DIET.words)}.")] = "",
    lively: Annotated[bool, typer.Option("--lively", help="Only quick fish that roam and like it lively.")] = False,
    instead: Annotated[
        str | None, typer.Option(metavar="FISH", help='Others for the same job: "eight tinfoil barbs".')
    ] = None,
    pairs: Annotated[bool, typer.Option("--pairs", help="Also screen the best two by two.")] = False,
    everything: Annotated[bool, typer.Option("--all", help="Show all of them, and all of the others.")] = False,
    why: Annotated[str | None, typer.Option(metavar="SPECIES", help="Why a species would (not) do.")] = None,
    as_format: Format = None,
    report: Report = None,
    for_forum: ForForum = False,
    draws: Draws = DRAWS,
    seed: Seed = SEED,
    months: Months = None,
    profiles: Profiles = None,
) -> None:
    """Rank the whole library as company for a tank.

    Each species is screened in the number and at the smallest length that are safe to buy.

    Example: coswim shortlist my-tank.yaml --level bottom --size "10 cm"
    """
    name = document_format(as_format, report, otherwise="bbcode" if for_forum else TERMINAL)
    if report:
        refuse_the_plan(report, plan, "--report")
    wish = Wish(
        text,
        family,
        one_of(level, scales.LEVEL.words, "--level") if level else "",
        value_if_typed(size, FISH_LENGTH.parse_range, "--size"),
        one_of(diet, scales.DIET.words, "--diet") if diet else "",
        lively,
    )
    catalog = output.catalog_from(profiles)
    if not why:
        catalog.take(ctx.meta[AHEAD].parsed())
    read = plan_from(plan, catalog, may_be_empty=True)
    effort = Effort(draws=draws, seed=seed, months=months)
    if why:
        _tell_why(read, catalog, why, effort, name=name, report=report)
        return
    with _progress() as progress:
        found = make_shortlist(
            read,
            catalog,
            wish,
            effort,
            with_pairs=pairs,
            instead=value_if_typed(instead, partial(typed_group, catalog=catalog), "--instead"),
            processes=at_work(),
            on_progress=progress,
        )
    if name == JSON:
        from coswim.report import shortlist_data  # not loaded for a report that is read

        output.deliver(shortlist_data.write(found), report)
        return
    form = shortlist_report.TERMINAL if name == TERMINAL else shortlist_report.SHARED
    if everything:
        form = form._replace(species=None, details=True)
    output.render(shortlist_report.compose(found, today=output.today(), form=form), name, report)


def _tell_why(
    read: ReadPlan, catalog: Catalog, species: str, effort: Effort, *, name: str, report: Path | None
) -> None:
    progress = output.Progress(sys.stderr)
    try:
        screening = find_why(read, catalog, species, effort, on_progress=progress)
    finally:
        progress.done()
    if name == JSON:
        from coswim.report import data  # not loaded for a report that is read

        output.deliver(data.write(screening), report)
    else:
        output.render(shortlist_report.compose_why(screening, today=output.today()), name, report)


@contextmanager
def _progress() -> Iterator[Progress]:
    """A bar that is shown after the first second, and is gone whatever happens."""
    line, start = output.Progress(sys.stderr), monotonic()

    def tell(words: str, done: int, whole: int) -> None:
        if monotonic() - start > PATIENCE:
            full = BAR * done // max(1, whole)
            line(f"{words} [{'#' * full}{'.' * (BAR - full)}] {done} of {whole}")

    try:
        yield tell
    finally:
        line.done()
