"""The keeper's own profiles: `coswim profile new` and `coswim profile edit`."""

from __future__ import annotations

import sys
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from coswim.cli import completing, output
from coswim.cli.output import Profiles
from coswim.profiles.catalog import Catalog, own_folder
from coswim.text import wording
from coswim.text.document import document_of
from coswim.text.printable import quoted
from coswim.text.problems import whole_file

if TYPE_CHECKING:
    from coswim.library.editing import Edit

Species = Annotated[
    str,
    typer.Argument(
        metavar="SPECIES", help="A scientific or common name, or a unique part.", autocompletion=completing.species
    ),
]
PROBLEM = 1


def new(
    species: Annotated[str, typer.Argument(metavar="NAME", help='The scientific name, e.g. "Danio kyathit".')],
    like: Annotated[
        str | None,
        typer.Option(metavar="SPECIES", help="Start from the values of this one.", autocompletion=completing.species),
    ] = None,
    to: Annotated[Path | None, typer.Option(metavar="FILE", help="Only write the template to FILE.")] = None,
    profiles: Profiles = None,
) -> None:
    """Add a species of your own.

    A commented template opens in your editor, filled from the species of its genus where the library has some. It joins
    your own profiles once it is sound.

    Example: coswim profile new "Danio kyathit" --like "zebra danio"
    """
    from coswim.library import editing
    from coswim.library.template import drafted, template
    from coswim.text.saving import write_whole

    catalog = output.catalog_from(profiles)
    known = catalog.entries.get(species)
    if known and to is None:
        raise whole_file(
            str(known.path), f"is the profile of {quoted(species)} already; coswim profile edit changes it"
        )
    relative = catalog.find(like) if like else None
    if relative:
        catalog.read(relative)
    draft = None if relative else drafted(species, catalog)
    text = template(species, draft=draft, like=document_of(relative.path) if relative else None)
    if to is None:
        command = editing.editor_command()
        with editing.alone(species, own_folder()):
            _edit(command, editing.begin_new(species, text, own_folder()), catalog)
        return
    write_whole(to, text.encode(), new=True)
    editing.write_schema(to.parent)
    filled = f" with values borrowed from {wording.listed(draft.lenders)}" if draft else ""
    output.say(f"Wrote {to}{filled}. Fill it in, then: coswim profile check {to}")


def edit(species: Species, profiles: Profiles = None) -> None:
    """Change a profile in your editor.

    One that is wrong is not saved; a built-in one stays as it is and is overridden by yours.

    Example: coswim profile edit "neon tetra"
    """
    from coswim.library import editing

    catalog = output.catalog_from(profiles)
    entry = catalog.find(species)
    command = editing.editor_command()
    with editing.alone(editing.species_of(entry), own_folder()):
        _edit(command, editing.begin_edit(entry, own_folder()), catalog)


def _edit(command: tuple[str, ...], started: Edit, catalog: Catalog) -> None:
    """Open the editor until the profile is sound or the keeper has had enough."""
    from coswim.library import editing

    if started.resumed:
        output.complain(f"Going on with an edit that was not finished: {started.draft} (delete it to start afresh).")
    while True:
        editing.open_editor(command, started)
        finished = editing.finish(started, catalog)
        for remark in finished.remarks:
            output.complain(str(remark))
        if finished.done:
            break
        if not _again():
            output.complain(f"Not saved. Your text is kept in {started.draft}; the same command goes on with it.")
            raise typer.Exit(PROBLEM)
    output.say(f"Saved {started.target}." if finished.saved else "Nothing changed, nothing saved.")


def _again() -> bool:
    if sys.stdin is None:  # closed by the caller
        return False
    try:
        return typer.confirm("Open the editor again?", default=True, err=True)
    except typer.Abort:  # nobody there to answer
        return False
