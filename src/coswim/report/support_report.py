"""What the library rests on, as a document: sources, memory, or nothing."""

from __future__ import annotations

from collections.abc import Sequence

from coswim.library.evidence import CORE, Support, core_shares
from coswim.report.document import Document, Paragraph, Table, text
from coswim.text import wording


def rests_on(found: Sequence[Support], *, profiles: int) -> Document:
    """What the library rests on, block by block."""
    sourced, partly = core_shares(found)
    rows = tuple(
        (each.block, *(_share(count, profiles) for count in (each.sourced, each.partly, each.memory, each.missing)))
        for each in found
    )
    core = wording.listed(tuple(CORE))
    summary = (
        f"Of the blocks {core}, {wording.share(sourced)} rest on sources alone and {wording.share(partly)} at least "
        "in part; the rest is memory. For the water all three of temperature, pH and hardness must be sourced."
    )
    header = ("block", "sources alone", "partly memory", "memory alone", "not stated")
    return Document(
        f"What {wording.counted(profiles, 'profile')} rest on",
        (Table(header, rows, frozenset({1, 2, 3, 4})), Paragraph(text(summary))),
    )


def _share(count: int, whole: int) -> str:
    return wording.share(count / whole) if whole else "?"
