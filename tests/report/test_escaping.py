"""What must not reach a reader's screen is replaced, and the width of the rest is known."""

from __future__ import annotations

import pytest
from rich.cells import cell_len

from coswim.report.escaping import REPLACEMENT, cells, longest_run, printable, printable_lines


@pytest.mark.parametrize(
    ("text", "shown"),
    [
        ("saddled bichir", "saddled bichir"),
        ("26 °C, ≤ 8 dGH, Brönmark", "26 °C, ≤ 8 dGH, Brönmark"),
        ("a\x1b[31mb", f"a{REPLACEMENT}[31mb"),
        ("a\x9b31mb", f"a{REPLACEMENT}31mb"),
        ("a\x00b\x07c\x7f", f"a{REPLACEMENT}b{REPLACEMENT}c{REPLACEMENT}"),
        ("a\r\nb\tc\x85d\N{LINE SEPARATOR}e", "a  b c d e"),
        ("a\N{RIGHT-TO-LEFT OVERRIDE}b\N{RIGHT-TO-LEFT ISOLATE}c", f"a{REPLACEMENT}b{REPLACEMENT}c"),
        ("a\udcffb", f"a{REPLACEMENT}b"),
        ("fish\N{TAG LATIN SMALL LETTER A}", f"fish{REPLACEMENT}"),
        ("\N{MAN}\N{ZERO WIDTH JOINER}\N{FISH}", "\N{MAN}\N{ZERO WIDTH JOINER}\N{FISH}"),
    ],
    ids=["plain", "signs", "escape", "C1", "controls", "breaks", "direction", "surrogate", "tag", "joiner"],
)
def test_printable(text: str, shown: str) -> None:
    assert printable(text) == shown


def test_printable_lines_keep_their_line_breaks() -> None:
    assert printable_lines("a\r\n  b\x1b\n\nc\n") == ["a", f"  b{REPLACEMENT}", "", "c"]


@pytest.mark.parametrize("text", ["fish", "金魚", "Brönmark", "e\N{COMBINING ACUTE ACCENT}", "\N{FISH}", "├─┼▇·"])
def test_cells_agree_with_a_terminal_library(text: str) -> None:
    """oracle: rich's cell widths."""
    assert cells(text) == cell_len(text)


def test_longest_run() -> None:
    assert longest_run("` `` ``` x", "`") == 3
    assert longest_run("", "`") == 0
