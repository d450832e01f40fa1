"""The layout shared by the terminal and plain text: headings, indents, lists, and code letter by letter."""

from __future__ import annotations

from coswim.findings.pictures import MonthsPicture
from coswim.report.document import (
    Bullets,
    Code,
    Document,
    Drawing,
    Paragraph,
    Section,
    Span,
    Table,
    plain,
    quiet,
    strong,
    text,
)
from coswim.report.layout import Page, lay_out

SAMPLE = Document(
    "company for a bichir",
    (
        Paragraph((strong("eight barbs: do not stock"), quiet(" (risk 20)"))),
        Bullets((text("It swallows them – until month 6."), text("Then no more."))),
        Section(
            text("eight barbs"),
            (
                Section(
                    (strong("high"), Span(" gape-fit")),
                    (
                        Paragraph(text("Why.")),
                        Drawing(MonthsPicture("fits", "", shares=(1.0, 0.0)), "Fits at first."),
                        Drawing(MonthsPicture("?", "", ()), "A cloud."),
                        Code("a: 1\n" + "b" * 50 + "\n"),
                    ),
                    "finding",
                ),
                Table(("a", "b"), (("1", "2"),)),
            ),
            "proposal",
        ),
    ),
)


def laid_out(width: int, *, ascii_only: bool = False) -> str:
    return "\n".join(plain(line).rstrip() for line in lay_out(SAMPLE, Page(width, ascii_only)))


def test_a_document_in_forty_columns() -> None:
    assert laid_out(40) == (
        "company for a bichir\n"
        "════════════════════\n"
        "\n"
        "eight barbs: do not stock (risk 20)\n"
        "• It swallows them – until month 6.\n"
        "• Then no more.\n"
        "\n"
        "eight barbs\n"
        "───────────\n"
        "high gape-fit\n"
        "  Why.\n"
        "\n"
        "  fits\n"
        "  100 % ▇▇·· 0 %\n"
        "  month 0\n"
        "\n"
        "  A cloud.\n"
        "\n"
        "~~~ yaml\n"
        "a: 1\n" + "b" * 50 + "\n"
        "~~~\n"
        "\n"
        "a  b\n"
        "─  ─\n"
        "1  2"
    )


def test_the_same_in_ascii() -> None:
    shown = laid_out(40, ascii_only=True)
    assert shown.isascii()
    assert "- It swallows them - until month 6.\n" in shown
    assert "company for a bichir\n====================\n" in shown


def test_headings_have_their_role_unless_they_carry_strong_words() -> None:
    lines = list(lay_out(SAMPLE, Page(40)))
    assert lines[0] == text("company for a bichir", "title")
    assert text("eight barbs", "heading") in lines
    assert (strong("high"), Span(" gape-fit")) in lines


def test_text_cannot_open_a_code_block() -> None:
    lines = lay_out(Document("~~~", (Paragraph(text("``` yaml")),)), Page(40))
    assert not any(plain(line).lstrip().startswith(("~~~", "```")) for line in lines)
