"""The width of a text is known."""

from __future__ import annotations

import pytest
from rich.cells import cell_len

from coswim.report.wrapping import cells
from coswim.report.writers.markdown import longest_run


@pytest.mark.parametrize("text", ["fish", "金魚", "Brönmark", "e\N{COMBINING ACUTE ACCENT}", "\N{FISH}", "├─┼▇·"])
def test_cells_agree_with_a_terminal_library(text: str) -> None:
    """oracle: rich's cell widths."""
    assert cells(text) == cell_len(text)


def test_longest_run() -> None:
    assert longest_run("` `` ``` x", "`") == 3
    assert longest_run("", "`") == 0
