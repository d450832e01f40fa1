"""Lines are filled to a width without losing a word or a role."""

from __future__ import annotations

import hypothesis.strategies as st
import pytest
from hypothesis import given, settings
from rich.cells import cell_len

from coswim.report.document import Line, Span, plain, text
from coswim.report.wrapping import cells, fill
from coswim.text.printable import printable


def lines(line: Line, width: int, **indents: str) -> list[str]:
    return [plain(part) for part in fill(line, width, **indents)]


@pytest.mark.parametrize("text", ["fish", "金魚", "Brönmark", "e\N{COMBINING ACUTE ACCENT}", "\N{FISH}", "├─┼▇·"])
def test_cells_agree_with_a_terminal_library(text: str) -> None:
    """oracle: rich's cell widths."""
    assert cells(text) == cell_len(text)


def test_following_lines_hang() -> None:
    assert lines(text("one two three"), 9, first="- ", hanging="  ") == ["- one two", "  three"]


@pytest.mark.parametrize(
    ("words", "width", "wanted"),
    [
        ("it fits in < 1 % of draws", 13, ["it fits in", "< 1 % of", "draws"]),
        ("buy it at 28 cm or longer", 12, ["buy it at", "28 cm or", "longer"]),
        ("one oscar of 9 in.", 15, ["one oscar of", "9 in."]),
        ("keep it in 80 gal", 14, ["keep it in", "80 gal"]),
        ("28 cmx", 4, ["28", "cmx"]),
        ("abcdefghij", 4, ["abcd", "efgh", "ij"]),
        ("金魚金魚", 5, ["金魚", "金魚"]),
        ("", 10, [""]),
        ("  a \n  b ", 10, ["a b"]),
    ],
    ids=["share", "unit", "inches", "gallons", "no unit", "long word", "wide letters", "nothing", "white space"],
)
def test_where_lines_break(words: str, width: int, wanted: list[str]) -> None:
    assert lines(text(words), width) == wanted


def test_roles_stay_with_their_words() -> None:
    line = (Span("high", "strong"), Span(": "), Span("remote or so", "quiet"))
    assert fill(line, 12) == [
        (Span("high", "strong"), Span(": "), Span("remote", "quiet")),
        (Span("or so", "quiet"),),
    ]


def test_words_of_several_spans_are_not_torn() -> None:
    assert lines((Span("the gape"), Span("-fit"), Span(", again")), 9) == ["the", "gape-fit,", "again"]


LINES = st.lists(st.builds(Span, st.text(max_size=30).map(printable), st.sampled_from(["", "strong", "quiet"]))).map(
    tuple
)


@settings(deadline=None, max_examples=100)
@given(line=LINES, width=st.integers(4, 60))
def test_nothing_is_lost_and_no_line_is_too_long(line: Line, width: int) -> None:
    filled = lines(line, width, first="- ", hanging="  ")
    assert "".join("".join(filled).removeprefix("-").split()) == "".join(plain(line).split())
    assert all(cells(part) <= width for part in filled)
