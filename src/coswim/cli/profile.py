"""`coswim profile`: look the library up, add to it, correct it, check it."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from coswim.cli import output
from coswim.cli.output import Profiles
from coswim.cli.profile_edit import PROBLEM, Species, edit, new
from coswim.cli.typed import ALL_FORMATS, FORMAT_HELP, JSON, TERMINAL, one_of, value_if_typed
from coswim.library.listing import Listed, Wanted, glances
from coswim.profiles.catalog import Catalog
from coswim.report import profile_data, profile_report
from coswim.text import wording
from coswim.text.quantities import FISH_LENGTH, TEMPERATURE

app = typer.Typer(
    help="Look up, add, correct and check species profiles.",
    no_args_is_help=True,
    add_completion=False,
    rich_markup_mode=None,
)

TABLE = "table"


@app.command("list")
def list_(
    words: Annotated[str, typer.Argument(metavar="TEXT", help="Words of a name or family.")] = "",
    family: Annotated[str, typer.Option(metavar="NAME", help="Scientific family, or its beginning.")] = "",
    length: Annotated[
        str | None, typer.Option(metavar="L", help='Grown length: "4-8 cm"; one length is the most.')
    ] = None,
    temperature: Annotated[str | None, typer.Option(metavar="T", help="Lives at 26, 79 F, or all of 22-25.")] = None,
    group: Annotated[int | None, typer.Option(metavar="N", min=0, help="Content in a group of N, or in less.")] = None,
    sources: Annotated[bool, typer.Option("--sources", help="Show instead what those found rest on.")] = False,
    as_format: Annotated[str, typer.Option("--as", metavar="FORMAT", help="Print as table or json.")] = TABLE,
    profiles: Profiles = None,
) -> None:
    """List the species that coswim knows.

    All of them, or those that you look for.

    Example: coswim profile list tetra --temperature 24 --length "4 cm"
    """
    one_of(as_format, (TABLE, JSON), "--as")
    wanted = Wanted(
        words,
        family,
        value_if_typed(length, FISH_LENGTH.parse_range, "--length"),
        value_if_typed(temperature, TEMPERATURE.parse_range, "--temperature"),
        group,
    )
    catalog = output.catalog_from(profiles)
    known = glances(catalog)
    found = tuple(each for each in known if wanted.fits(each))
    if sources:
        _list_sources(found, catalog, as_format)
    elif as_format == JSON:
        output.say(profile_data.species(found))
    else:
        output.show(profile_report.table(found, whole=len(known)))


@app.command("show")
def show(
    species: Species,
    as_format: Annotated[str, typer.Option("--as", metavar="FORMAT", help=FORMAT_HELP)] = TERMINAL,
    profiles: Profiles = None,
) -> None:
    """Show one species on a page.

    Body to scale, figures, habits in words, water, sources.

    Example: coswim profile show "saddled bichir"
    """
    from coswim.report.profile_page import Subject, page

    one_of(as_format, ALL_FORMATS, "--as")
    catalog = output.catalog_from(profiles)
    entry = catalog.find(species)
    profile = catalog.completed(entry)
    if as_format == JSON:
        output.say(profile_data.profile(profile))
        return
    kept_in = "" if entry.built_in else str(entry.path)
    output.render(page(Subject(profile, catalog.bibliography, glances(catalog), kept_in)), as_format)


app.command("new")(new)
app.command("edit")(edit)


@app.command("check")
def check(
    places: Annotated[
        list[str] | None, typer.Argument(metavar="PLACE", help="Files, folders or species; else all.")
    ] = None,
    strict: Annotated[bool, typer.Option("--strict", help="Exit with status 1 on a warning too.")] = False,
    explained: Annotated[bool, typer.Option("--explained", help="Show the warnings that notes explain.")] = False,
    profiles: Profiles = None,
) -> None:
    """Check profiles for mistakes and oddities.

    Form, ranges, sources, names, and whether the figures fit each other and those of the relatives.
    A warning is answered by a note that begins with the block's name: "body.width: a disc, so it is wide."

    Example: coswim profile check my-fish.yaml
    """
    from coswim.library import checking

    # a check of everything tells by itself what cannot be used
    catalog = output.catalog_from(profiles) if places else Catalog.standard(tuple(profiles or ()))
    where = [_place(place, catalog) for place in places or ()]
    checked = checking.check(where, catalog) if where else checking.check_all(catalog)
    for remark in (*checked.problems, *checked.warnings, *(checked.explained if explained else ())):
        output.complain(str(remark))
    output.say(
        f"{wording.counted(checked.profiles, 'profile')}: {wording.counted(len(checked.problems), 'problem')}, "
        f"{wording.counted(len(checked.warnings), 'warning')}, {len(checked.explained)} explained by a note."
    )
    if checked.problems or (strict and checked.warnings):
        raise typer.Exit(PROBLEM)


@app.command("diff")
def diff(
    species: Annotated[str | None, typer.Argument(metavar="SPECIES", help="One species; else all of yours.")] = None,
    profiles: Profiles = None,
) -> None:
    """Show what your own profiles change.

    Example: coswim profile diff "neon tetra"
    """
    from coswim.library.comparison import overrides

    catalog = output.catalog_from(profiles)
    wanted = catalog.find(species).scientific_name if species else None
    found = tuple(each for each in overrides(catalog) if wanted in (None, each.own.scientific_name))
    if not found:
        said = f"{wanted} is not overridden" if wanted else "No built-in profile is overridden"
        output.say(f"{said} by one of your own.")
        return
    places = {each.own.scientific_name: str(each.own.path) for each in found}
    output.show(profile_report.differences(found, places))


@app.command("schema")
def schema() -> None:
    """Print the JSON Schema of profiles, for editors.

    Example: coswim profile schema > profile.schema.json
    """
    from coswim.library.schema import schema_text

    output.say(schema_text())


def _list_sources(found: tuple[Listed, ...], catalog: Catalog, as_format: str) -> None:
    from coswim.library.evidence import support
    from coswim.report.support_report import rests_on

    kept = support((catalog.read(each.entry) for each in found), catalog.bibliography)
    if as_format == JSON:
        output.say(profile_data.support(kept))
    else:
        output.show(rests_on(kept, profiles=len(found)))


def _place(typed: str, catalog: Catalog) -> Path:
    """A file or folder; else the file of the species so called."""
    path = Path(typed)
    looks_like_path = path.exists() or path.suffix in {".yaml", ".yml"} or len(path.parts) > 1
    return path if looks_like_path else catalog.find(typed).path
