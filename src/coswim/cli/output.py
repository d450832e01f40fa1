"""Where a command's text goes: reports to standard output, problems to standard error."""

from __future__ import annotations

import os
import shlex
import shutil
import subprocess
import sys
from collections.abc import Callable
from dataclasses import replace
from datetime import date, datetime
from pathlib import Path
from typing import Annotated, TextIO

import typer

from coswim.profiles.catalog import Catalog
from coswim.profiles.names import Entry
from coswim.report.document import Document
from coswim.report.writers import terminal, write
from coswim.text.printable import json_in_ascii, one_line, printable

NARROWEST, WIDEST = 40, 120
PIPED = 80
NO_PAGER = ("cat", "")
SIGNS = "–•─│├┤┼█▀▄▁▇▼·"  # drawings and ranges are made of these
JSON_STARTS = ("{\n", "[\n")

Profiles = Annotated[
    list[Path] | None,
    typer.Option(
        "--profiles", metavar="DIR", help="Folder with own profiles; overrides the built-in ones. Repeatable."
    ),
]


def catalog_from(
    profiles: list[Path] | None, ask: Callable[[str, tuple[Entry, ...]], Entry | None] | None = None
) -> Catalog:
    """The built-in library with the keeper's own profiles and the folders named by hand.

    A profile of the keeper's that cannot take part is told: it would be missed without a word. `ask` is asked
    which species is meant by a name that leads to several.
    """
    catalog = replace(Catalog.standard(tuple(profiles or ())), ask=ask)
    for problem in catalog.left_out:
        complain(f"warning: this profile cannot be used: {problem}")
    return catalog


def show(document: Document, *, paged: bool = False) -> None:
    """Print a document for the terminal that is there: its width, and colour where it has any.

    A long one goes through the reader's pager, where there is a terminal and a pager.
    """
    width = min(WIDEST, max(NARROWEST, shutil.get_terminal_size((PIPED, 24)).columns))
    colour = sys.stdout.isatty() and not os.environ.get("NO_COLOR") and os.environ.get("TERM") != "dumb"
    text = terminal.write(document, width=width, colour=colour, ascii_only=not shows_signs())
    if not (paged and sys.stdout.isatty() and _went_through_pager(text)):
        # the writer has made every text printable; what is left to obey are its own colours
        _write(sys.stdout, text)


def _went_through_pager(text: str) -> bool:
    """The reader has seen the text in a pager: PAGER, else less; False where there is none, or it would not start."""
    command = shlex.split(os.environ.get("PAGER", "less"))
    program = shutil.which(command[0]) if command else None
    if program is None or command[0] in NO_PAGER:
        return False
    # colours are shown whatever else the reader has set; by default no pages where it fits one, the text left behind
    wanted = f"{os.environ['LESS']} -R" if "LESS" in os.environ else "FRX"
    environment = {**os.environ, "LESS": wanted}
    try:
        subprocess.run(  # noqa: S603 - the reader's own choice of program
            [program, *command[1:]], input=text.encode("utf-8", "replace"), env=environment, check=False
        )
    except OSError:
        return False
    return True


def shows_signs() -> bool:
    """Standard output can show the signs that drawings are made of; else they keep to ASCII."""
    try:
        SIGNS.encode(sys.stdout.encoding or "utf-8")
    except UnicodeEncodeError:
        return False
    return True


def say(text: str) -> None:
    """Print text, line by line without anything that a terminal would obey instead of show.

    JSON is the same data whatever the output can show.
    """
    if text.startswith(JSON_STARTS) and not (sys.stdout.encoding or "utf-8").lower().startswith("utf"):
        text = json_in_ascii(text)
    _write(sys.stdout, "\n".join(map(printable, text.removesuffix("\n").split("\n"))) + "\n")


def render(document: Document, name: str, file: Path | None = None, *, paged: bool = False) -> None:
    """Print a document in a format, or write it where a file is named."""
    if name == "terminal" and file is None:
        show(document, paged=paged)
    else:
        deliver(write(document, name), file)


def deliver(text: str, file: Path | None) -> None:
    """Print a text, or write it where a file is named."""
    if file is None:
        say(text)
    else:
        save(text.encode(), file)


def save(content: bytes, file: Path) -> None:
    """Write a file, and say so."""
    from coswim.text.saving import write_whole  # not loaded for what is printed

    write_whole(file, content)
    say(f"Wrote {file}.")


def today() -> date:
    """The day it is; the clock is read here and nowhere below."""
    return datetime.now().astimezone().date()


def complain(text: str) -> None:
    """Print a problem on one line of standard error."""
    _write(sys.stderr, printable(text) + "\n")


def _write(stream: TextIO, text: str) -> None:
    """Characters that the terminal cannot show are replaced, never a crash."""
    encoding = stream.encoding or "utf-8"
    stream.write(text.encode(encoding, "replace").decode(encoding))


class Progress:
    """Says what a long search is doing, on one line of a terminal; the search itself waits before it tells."""

    def __init__(self, stream: TextIO) -> None:
        self._stream = stream
        self._shown = False

    def __call__(self, words: str) -> None:
        """Say what is being done now."""
        if self._stream.isatty():
            self._shown = True
            self._stream.write(f"\r\x1b[K{one_line(words)} ...")
            self._stream.flush()

    def done(self) -> None:
        """Clear the line."""
        if self._shown:
            self._stream.write("\r\x1b[K")
            self._stream.flush()
