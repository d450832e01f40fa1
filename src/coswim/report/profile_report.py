"""The library as documents: the list, and what the keeper's own profiles change."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from coswim.library.comparison import Override
from coswim.library.listing import Listed
from coswim.report.document import Block, Document, Paragraph, Section, Table, quiet, text
from coswim.text import wording
from coswim.text.quantities import Range

UNKNOWN = "?"
WIDEST_NAME = 23
"""The longest name with which a line of the list stays whole at 80 columns; the best known within it is shown."""


def table(found: Sequence[Listed], *, whole: int) -> Document:
    """The species found, a line each."""
    own = any(not each.entry.built_in for each in found)
    rows = tuple(_row(each) for each in found)
    blocks: list[Block] = []
    if rows:
        blocks.append(Table(("species", "scientific name", "cm", "°C", "group"), rows, frozenset({2, 3, 4})))
    if own:
        blocks.append(Paragraph((quiet("* your own profile"),)))
    count = wording.counted(whole, "species", "species")
    return Document(count if len(found) == whole else f"{len(found)} of {count}", tuple(blocks))


def _row(each: Listed) -> tuple[str, ...]:
    entry = each.entry
    fitting = [name for name in entry.common_names if len(name) <= WIDEST_NAME]
    name = next(iter((*fitting, *entry.common_names)), UNKNOWN)
    group = UNKNOWN if each.smallest_group is None else str(each.smallest_group)
    mark = "" if entry.built_in else " *"
    return (f"{name}{mark}", entry.scientific_name, _short(each.adult_length), _short(each.temperature), group)


def differences(found: Sequence[Override], places: Mapping[str, str]) -> Document:
    """What the keeper's own profiles change; `places` says where each lies."""
    sections = tuple(_difference(override, places[override.own.scientific_name]) for override in found)
    return Document("Your own profiles against the built-in ones", sections)


def _difference(override: Override, place: str) -> Section:
    rows = tuple((change.trait, change.built_in or "-", change.own or "-") for change in override.changes())
    said: Block = Table(("trait", "built-in", "yours"), rows) if rows else Paragraph(text("No trait differs."))
    return Section(text(override.own.scientific_name), (Paragraph((quiet(place),)), said))


def _short(found: Range | None) -> str:
    return wording.span(found.low, found.high) if found else UNKNOWN
