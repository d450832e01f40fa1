"""A table as aligned lines: numbers to the right, long cells wrapped, and records where columns do not fit."""

from __future__ import annotations

from collections.abc import Iterator

from coswim.report.document import Line, Span, Table, plain, text
from coswim.report.wrapping import cells, fill

GAP = "  "
NARROWEST = 8
"""Columns below this width are no longer readable when wrapped. Source: judgement."""


def table_lines(table: Table, width: int, *, ascii_only: bool = False) -> Iterator[Line]:
    """The table within `width` columns; each row becomes a record of its own where that is too narrow."""
    widths = _widths(table, width)
    if widths is None:
        yield from _records(table, width)
        return
    yield from _row(table.header, widths, table.numeric, "heading")
    yield text(GAP.join(("-" if ascii_only else "─") * size for size in widths), "quiet")
    wraps = any(cells(cell) > size for row in table.rows for cell, size in zip(row, widths, strict=True))
    for number, row in enumerate(table.rows):
        if number and wraps:
            yield ()
        yield from _row(row, widths, table.numeric, "")


def _widths(table: Table, width: int) -> list[int] | None:
    """The natural widths, the widest columns narrowed until all fit; None when they cannot."""
    widths = [max(1, *(cells(cell) for cell in column)) for column in zip(table.header, *table.rows, strict=True)]
    excess = sum(widths) + len(GAP) * (len(widths) - 1) - width
    while excess > 0:
        widest = max(range(len(widths)), key=widths.__getitem__)
        if widths[widest] <= NARROWEST:
            return None
        widths[widest] -= 1
        excess -= 1
    return widths


def _row(row: tuple[str, ...], widths: list[int], numeric: frozenset[int], role: str) -> Iterator[Line]:
    wrapped = [[plain(line) for line in fill(text(cell), size)] for cell, size in zip(row, widths, strict=True)]
    for number in range(max(map(len, wrapped))):
        shown = [lines[number] if number < len(lines) else "" for lines in wrapped]
        aligned = (
            _aligned(cell, size, to_right=i in numeric)
            for i, (cell, size) in enumerate(zip(shown, widths, strict=True))
        )
        yield text(GAP.join(aligned).rstrip(), role)


def _aligned(cell: str, size: int, *, to_right: bool) -> str:
    padding = " " * (size - cells(cell))
    return padding + cell if to_right else cell + padding


def _records(table: Table, width: int) -> Iterator[Line]:
    for number, row in enumerate(table.rows):
        if number:
            yield ()
        for header, cell in zip(table.header, row, strict=True):
            yield from fill((Span(f"{header}: ", "heading"), Span(cell)), width, hanging=GAP)
