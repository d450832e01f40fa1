"""A document as one HTML page: it needs no network and no script, reads on a phone and prints.

The look (`page.css`) is ink on paper with one accent. No colour means good or bad, and none carries meaning alone:
curves differ by dash and by marker, levels are words. Text in `ink`, `quiet` or `accent` stands on `paper` or `panel`;
`rule` only divides; the series are the colours of curves, bars and bands, of which a band shows a part.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from importlib.resources import files
from itertools import groupby
from types import MappingProxyType
from typing import TYPE_CHECKING

from coswim.report import svg
from coswim.report.document import Block, Bullets, Code, Document, Drawing, Facts, Paragraph, Section, Table
from coswim.text import wording
from coswim.text.printable import REPLACEMENT, printable

if TYPE_CHECKING:
    from jinja2 import Environment
    from markupsafe import Markup

NAMES = MappingProxyType(
    {
        Paragraph: "paragraph",
        Bullets: "bullets",
        Facts: "facts",
        Table: "table",
        Drawing: "drawing",
        Code: "code",
        Section: "section",
    }
)
DEEPEST_HEADING = 6
LONG_WORD = 16
"""Letters from which a word may be broken within a table, so that it cannot widen its column."""
FEW_COLUMNS, MANY_COLUMNS = 2, 8
NONCHARACTERS = re.compile("[\ufdd0-\ufdef\ufffe\uffff]")
"""What HTML forbids beyond the control characters."""


def write(document: Document) -> str:
    """The page. Signs that a screen would obey instead of show become a replacement sign."""
    parts = [block for block in document.blocks if isinstance(block, Section)]
    page = _environment().get_template("page.html.j2").render(document=document, parts=parts, styles=_kept("page.css"))
    return "\n".join(map(printable, NONCHARACTERS.sub(REPLACEMENT, page).split("\n"))) + "\n"


def _environment() -> Environment:
    # half of a command's start-up time, and only this format needs it
    from jinja2 import Environment, FunctionLoader, StrictUndefined

    environment = Environment(
        loader=FunctionLoader(_kept), autoescape=True, undefined=StrictUndefined, trim_blocks=True, lstrip_blocks=True
    )
    environment.filters["name"] = lambda block: NAMES[type(block)]
    environment.filters["runs"] = _runs
    environment.filters["classes"] = _classes
    environment.filters["capitalised"] = wording.opening
    environment.filters["columns"] = _columns
    environment.filters["heading"] = lambda depth: f"h{min(depth, DEEPEST_HEADING)}"
    environment.filters["drawn"] = _drawn
    return environment


def _drawn(drawing: Drawing) -> Markup:
    from markupsafe import Markup

    # ElementTree has escaped every text and attribute
    return Markup(svg.draw(drawing.picture, drawing.alternative))  # noqa: S704


def _kept(name: str) -> str:
    """A file kept beside this module."""
    return files("coswim.report.writers").joinpath(name).read_text(encoding="utf-8")


def _runs(blocks: tuple[Block, ...]) -> Iterator[tuple[bool, list[Block]]]:
    """The blocks with drawings that follow each other taken together, so that they can stand side by side."""
    return ((drawn, list(run)) for drawn, run in groupby(blocks, key=lambda block: isinstance(block, Drawing)))


def _classes(table: Table, column: int, words: str) -> Markup:
    """The class attribute of a cell: a number stands right, a very long word may be broken."""
    from markupsafe import Markup

    long = any(len(word) > LONG_WORD for word in words.split())
    names = ["number"] * (column in table.numeric) + ["long"] * long
    return Markup(' class="{}"').format(" ".join(names)) if names else Markup()


def _columns(table: Table) -> str:
    """How a table behaves when there is little room: few columns stay, more become one card a row."""
    if len(table.header) <= FEW_COLUMNS:
        return "few"
    return "some" if len(table.header) < MANY_COLUMNS else "many"
