"""`coswim shortlist`: which fish would do, at what size and in what number.

The annotations are evaluated here, once; put off, each would be evaluated again whenever typer looks at one.
"""

import os
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from datetime import date, datetime
from pathlib import Path
from time import monotonic
from typing import Annotated

import typer

from coswim.cli import output
from coswim.cli.output import Profiles
from coswim.cli.reading import plan_from, refuse_the_plan
from coswim.plans.plan import GroupEntry
from coswim.plans.reading import ReadPlan
from coswim.profiles import scales
from coswim.profiles.catalog import Catalog
from coswim.profiles.profile import Profile
from coswim.report import shortlist_report
from coswim.report.document import Document
from coswim.report.writers import FORMATS, format_of, write
from coswim.shortlist.instead import typed_group
from coswim.shortlist.making import Progress
from coswim.shortlist.making import shortlist as make_shortlist
from coswim.shortlist.why import why as find_why
from coswim.shortlist.wish import Wish
from coswim.simulation.scene import DRAWS, SEED, Effort
from coswim.text.quantities import FISH_LENGTH, QuantityError, Range

MOST_PROCESSES = 2
"""Processes that share the work, where the machine has as many cores."""
PATIENCE = 1.0
"""Seconds after which it is shown how far the work is."""
BAR = 24
JSON, TERMINAL = "json", "terminal"


def shortlist(
    plan: Annotated[str, typer.Argument(metavar="PLAN", help="The plan file, or - for standard input.")],
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
    as_format: Annotated[
        str | None, typer.Option("--as", metavar="FORMAT", help=f"Print as {', '.join((*FORMATS, JSON))}.")
    ] = None,
    report: Annotated[
        Path | None, typer.Option(metavar="FILE", help="Write to FILE; its ending says the format.")
    ] = None,
    for_forum: Annotated[
        bool, typer.Option("--for-forum", help="A post (bbcode unless --as) that others can paste and run.")
    ] = False,
    draws: Annotated[int, typer.Option(min=50, max=100_000, help="Simulated futures.")] = DRAWS,
    seed: Annotated[int, typer.Option(min=0, max=2**31, help="Start of the random numbers.")] = SEED,
    months: Annotated[
        int | None, typer.Option(min=1, max=240, help="Months to look ahead; overrides the plan.")
    ] = None,
    profiles: Profiles = None,
) -> None:
    """Rank the whole library as company for a tank.

    Each species is screened in the number and at the smallest length that are safe to buy.

    Example: coswim shortlist my-tank.yaml --level bottom --size "10 cm"
    """
    name = _format(as_format, report, for_forum=for_forum)
    if report:
        refuse_the_plan(report, plan, "--report")
    wish = Wish(
        text, family, _word(level, scales.LEVEL, "--level"), _size(size), _word(diet, scales.DIET, "--diet"), lively
    )
    catalog = output.catalog_from(profiles)
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
            instead=_instead(instead, catalog),
            processes=min(MOST_PROCESSES, os.cpu_count() or 1),
            on_progress=progress,
        )
    if name == JSON:
        from coswim.report import shortlist_data  # not loaded for a report that is read

        _deliver(shortlist_data.write(found), report)
        return
    form = shortlist_report.TERMINAL if name == TERMINAL else shortlist_report.SHARED
    if everything:
        form = form._replace(species=None, details=True)
    _render(shortlist_report.compose(found, today=_today(), form=form), name, report)


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

        _deliver(data.write(screening), report)
    else:
        _render(shortlist_report.compose_why(screening, today=_today()), name, report)


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


def _render(document: Document, name: str, report: Path | None) -> None:
    if name == TERMINAL and report is None:
        output.show(document)
    else:
        _deliver(write(document, name), report)


def _deliver(text: str, report: Path | None) -> None:
    if report is None:
        output.say(text)
        return
    from coswim.text.saving import write_whole

    write_whole(report, text.encode())
    output.say(f"Wrote {report}.")


def _format(as_format: str | None, report: Path | None, *, for_forum: bool) -> str:
    """The format wanted, or wrong usage."""
    named = as_format or (format_of(report) if report else None)
    if named is None and report:
        raise typer.BadParameter(f"the ending of {report.name!r} names no format; add --as", param_hint="--report")
    if named and named not in (*FORMATS, JSON):
        raise typer.BadParameter(f"{named!r} is not one of {', '.join((*FORMATS, JSON))}", param_hint="--as")
    return named or ("bbcode" if for_forum else TERMINAL)


def _word(typed: str, scale: scales.Scale, option: str) -> str:
    if typed and typed not in scale.words:
        raise typer.BadParameter(f"{typed!r} is not one of {', '.join(scale.words)}", param_hint=option)
    return typed


def _size(typed: str | None) -> Range | None:
    try:
        return FISH_LENGTH.parse_range(typed) if typed is not None else None
    except QuantityError as error:
        raise typer.BadParameter(str(error), param_hint="--size") from None


def _instead(typed: str | None, catalog: Catalog) -> tuple[Profile, GroupEntry] | None:
    try:
        return typed_group(typed, catalog) if typed is not None else None
    except QuantityError as error:
        raise typer.BadParameter(str(error), param_hint="--instead") from None


def _today() -> date:
    return datetime.now().astimezone().date()
