"""Colour supports the words of the terminal report and never changes them."""

from __future__ import annotations

import re

import pytest
from rich.text import Text

from coswim.findings.pictures import Bar, BarsPicture
from coswim.report.document import Bullets, Document, Drawing, Paragraph, Section, quiet, strong, text
from coswim.report.writers import terminal

SAMPLE = Document(
    "a tank",
    (
        Paragraph((strong("do not stock"), quiet(" (risk 20)"))),
        Section(text("eight barbs"), (Bullets((text("[bold red]not markup[/] :fish:"),)),)),
        Drawing(BarsPicture("who eats", "", bars=(Bar("barb \x1b[31m", 0.5),)), "Half."),
    ),
)
SGR = re.compile(r"\x1b\[[0-9;]*m")


@pytest.mark.parametrize("width", [60, 80, 120])
def test_without_colour_the_layout_is_the_same(width: int) -> None:
    coloured = terminal.write(SAMPLE, width=width, colour=True)
    assert SGR.sub("", coloured) == terminal.write(SAMPLE, width=width, colour=False)


def test_no_colour_is_no_escape_sequence() -> None:
    assert "\x1b" not in terminal.write(SAMPLE, width=80, colour=False)


def test_every_style_ends_on_its_line() -> None:
    for line in terminal.write(SAMPLE, width=80, colour=True).splitlines():
        codes = SGR.findall(line)
        assert codes[1::2] == ["\x1b[0m"] * (len(codes) // 2)
        assert len(codes) % 2 == 0


def test_roles_are_styled() -> None:
    """oracle: rich reads the sequences."""
    shown = Text.from_ansi(terminal.write(SAMPLE, width=80, colour=True))
    styled = {shown.plain[span.start : span.end]: str(span.style) for span in shown.spans}
    assert styled["a tank"] == "bold"
    assert styled["do not stock"] == "bold"
    assert styled["(risk 20)"] == "dim"
    assert styled["eight barbs"] == "bold color(6)"  # cyan, in the 16 colours of the reader's theme


def test_markup_and_control_signs_are_shown_not_obeyed() -> None:
    shown = terminal.write(SAMPLE, width=80, colour=True)
    assert "[bold red]not markup[/] :fish:" in shown
    assert "\x1b[31m" not in shown
