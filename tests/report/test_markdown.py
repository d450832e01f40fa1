"""Markdown says the same in a CommonMark renderer: the same tables, the same words, nothing injected.

oracle: markdown-it-py with its CommonMark rules and tables.
"""

from __future__ import annotations

import re

import hypothesis.strategies as st
import pytest
from hypothesis import given, settings
from markdown_it import MarkdownIt
from markdown_it.token import Token

from coswim.report.document import (
    Bullets,
    Code,
    Document,
    Paragraph,
    Section,
    Span,
    Table,
    quiet,
    strong,
    text,
)
from coswim.report.writers import markdown
from coswim.text.printable import printable

RENDERER = MarkdownIt("commonmark").enable(["table", "strikethrough"])
HARMLESS = {"text", "softbreak", "strong_open", "strong_close", "em_open", "em_close", "code_inline"}


def squeezed(words: str) -> str:
    return " ".join(printable(words).replace("@", "(at)").split())


def shown(token: Token) -> str:
    """The words of an inline token as a reader sees them."""
    assert {child.type for child in token.children or ()} <= HARMLESS
    return "".join(child.content for child in token.children or ())


def inlines(source: str) -> list[str]:
    return [shown(token) for token in RENDERER.parse(source) if token.type == "inline"]


def test_a_document() -> None:
    document = Document(
        "company for a bichir",
        (
            Paragraph((strong("eight barbs: do not stock"), quiet(" (risk 20)"))),
            Bullets((text("It swallows them in < 1 % of draws."), (quiet("Tested: "), Span("buy at 31 cm")))),
            Bullets((text("another list"),)),
            Section(
                text("eight barbs"),
                (
                    Section(
                        (strong("high"), Span(" gape-fit"), quiet(": remote")), (Paragraph(text("4.1 g of food.")),)
                    ),
                    Table(("fish", "share"), (("barb | x", "67 %"),), frozenset({1})),
                    Code("a: 1\n"),
                ),
            ),
        ),
    )
    assert markdown.write(document) == (
        "# company for a bichir\n"
        "\n"
        "**eight barbs: do not stock** *(risk 20)*\n"
        "\n"
        "- It swallows them in < 1 % of draws.\n"
        "- *Tested:* buy at 31 cm\n"
        "\n"
        "* another list\n"
        "\n"
        "## eight barbs\n"
        "\n"
        "### **high** gape-fit: *remote*\n"
        "\n"
        "4.1 g of food.\n"
        "\n"
        "| fish | share |\n"
        "| --- | ---: |\n"
        "| barb \\| x | 67 % |\n"
        "\n"
        "```yaml\n"
        "a: 1\n"
        "```\n"
    )


WORDS = st.text(max_size=40) | st.sampled_from(
    ["**", "*a*", "_", "[x](y)", "![x](y)", "<b>", "&amp;", "`", "```", "~~a~~", "# a", "1. a", "- a", "> a", "---",
     "|", "\\", "\\|", "===", "http://x.y", "www.x.y", "<http://x.y>", "[a]: b", "+", "a\\",
     "    code", "$x$", "<!-- x -->", "a@b.example", "mailto:a@b.example", "xmpp:a@b.example/c", "@name"]
)  # fmt: skip
SPANS = st.builds(Span, WORDS, st.sampled_from(["", "strong", "quiet"]))
LINES = st.lists(SPANS, min_size=1, max_size=5).map(tuple)


@settings(deadline=None, max_examples=100)
@given(header=st.lists(WORDS, min_size=1, max_size=4), data=st.data())
def test_tables_render_as_they_are(header: list[str], data: st.DataObject) -> None:
    rows = data.draw(st.lists(st.lists(WORDS, min_size=len(header), max_size=len(header)).map(tuple), max_size=3))
    table = Table(tuple(header), tuple(rows), frozenset({0}))
    tokens = RENDERER.parse(markdown.write(Document("t", (table,))))
    cells = [shown(tokens[i + 1]) for i, token in enumerate(tokens) if token.type in ("th_open", "td_open")]
    assert cells == [squeezed(cell) for row in (header, *rows) for cell in row]
    assert next(t.attrGet("style") for t in tokens if t.type == "th_open") == "text-align:right"


@settings(deadline=None, max_examples=120)
@given(line=LINES)
def test_any_text_is_shown_and_nothing_else(line: tuple[Span, ...]) -> None:
    words = squeezed("".join(printable(span.text) for span in line))
    document = Document("t", (Paragraph(line), Bullets((line,)), Section(line, (Paragraph(line),))))
    wanted = ["t", words, words, words, words]
    assert [squeezed(part) for part in inlines(markdown.write(document)) if part] == [part for part in wanted if part]
    blocks = {token.type for token in RENDERER.parse(markdown.write(document)) if token.level == 0}
    assert blocks <= {"heading_open", "heading_close", "paragraph_open", "paragraph_close", "bullet_list_open",
                      "bullet_list_close"}  # fmt: skip


@pytest.mark.parametrize("inside", ["```", "````\n```", "~~~", "a\n```yaml\nb"])
def test_code_stays_in_its_block(inside: str) -> None:
    tokens = RENDERER.parse(markdown.write(Document("t", (Code(inside), Paragraph(text("after"))))))
    fences = [token for token in tokens if token.type == "fence"]
    assert [(fence.info, fence.content) for fence in fences] == [("yaml", inside + "\n")]
    assert inlines(markdown.write(Document("t", (Code(inside), Paragraph(text("after"))))))[-1] == "after"


@pytest.mark.parametrize(
    "address",
    ["www.x.example", "WWW.x.example", "http://x.example", "https://x.example", "ftp://x.example", "a@b.example",
     "mailto:a@b.example", "xmpp:a@b.example/c", "<a@b.example>", "<http://x.example>"],
)  # fmt: skip
def test_no_address_is_left_that_a_board_would_turn_into_a_link(address: str) -> None:
    """published: GitHub Flavored Markdown 0.29, 6.9 Autolinks (extension): what an address has to begin with."""
    source = markdown.write(Document("t", (Paragraph(text(f"see {address} now")), Table((address,), ((address,),)))))
    assert not re.search(r"www\.|(?:https?|ftp)://|[\w.+-]@", source, re.IGNORECASE)
    assert "<a" not in RENDERER.render(source)


@pytest.mark.parametrize(
    ("line", "wanted"),
    [
        ((strong("bold"), Span(" plain")), "<strong>bold</strong> plain"),
        ((Span("a"), quiet(" b "), Span("c")), "a <em>b</em> c"),
        ((strong("a"), strong("b")), "<strong>a</strong>b"),
        ((Span("a`b", "code"),), "<code>a`b</code>"),
        ((strong("(x)"), Span("y")), "(x)y"),
        ((strong("\N{NO-BREAK SPACE}a"),), "<strong>a</strong>"),
    ],
)
def test_emphasis(line: tuple[Span, ...], wanted: str) -> None:
    assert f"<p>{wanted}</p>" in RENDERER.render(markdown.write(Document("t", (Paragraph(line),))))


def test_longest_run() -> None:
    assert markdown.longest_run("` `` ``` x", "`") == 3
    assert markdown.longest_run("", "`") == 0
