"""A post uses the tags that boards share, balanced, and leaves the breaking of lines to the board."""

from __future__ import annotations

import re

import hypothesis.strategies as st
import pytest
from hypothesis import given, settings

from coswim.findings.pictures import Bar, BarsPicture
from coswim.report.document import (
    Bullets,
    Code,
    Document,
    Drawing,
    Paragraph,
    Section,
    Span,
    Table,
    quiet,
    strong,
    text,
)
from coswim.report.writers import bbcode

TAG = re.compile(r"\[(/?)(\w+|\*)[^\[\]]*\]")
ALLOWED = {"b", "i", "u", "list", "*", "code"}
SAMPLE = Document(
    "company for a bichir",
    (
        Paragraph((strong("eight barbs: do not stock"), quiet(" (risk 20)"))),
        Bullets((text("It swallows them."), (quiet("Tested: "), Span("buy at 31 cm")))),
        Section(
            text("eight barbs"),
            (
                Section((strong("high"), Span(" gape-fit")), (Paragraph(text("Why.")),)),
                Table(("fish", "share"), (("barb [x]", "67 %"),), frozenset({1})),
                Drawing(BarsPicture("who eats", "", bars=(Bar("barb [/code]", 0.5),)), "Half."),
                Code('title: "\\x5Bb\\x5D"\nadd: [a, b]\n'),
            ),
        ),
    ),
)


def assert_balanced(post: str) -> None:
    """Every tag is closed in order; within code nothing but its end counts."""
    open_tags: list[str] = []
    for closes, name in TAG.findall(post):
        if open_tags[-1:] == ["code"] and (closes, name) != ("/", "code"):
            continue
        assert name in ALLOWED
        if closes:
            assert open_tags.pop() == name
        elif name != "*":
            open_tags.append(name)
    assert open_tags == []


def test_a_post() -> None:
    assert bbcode.write(SAMPLE) == (
        "[u][b]company for a bichir[/b][/u]\n"
        "\n"
        "[b]eight barbs: do not stock[/b] [i](risk 20)[/i]\n"
        "[list]\n"
        "[*]It swallows them.\n"
        "[*][i]Tested:[/i] buy at 31 cm\n"
        "[/list]\n"
        "\n"
        "[u][b]eight barbs[/b][/u]\n"
        "[b]high[/b] gape-fit\n"
        "Why.\n"
        "\n"
        "[code]\n"
        "fish      share\n"
        "────────  ─────\n"
        "barb (x)   67 %\n"
        "[/code]\n"
        "\n"
        "[code]\n"
        "who eats\n"
        "barb (/code)  ▇▇▇▇▇▇▇▇▇▇▇▇▇▇▇▇▇▇▇▇▇▇······················· 50 %\n"
        "[/code]\n"
        "\n"
        "[code]\n"
        'title: "\\x5Bb\\x5D"\n'
        "add: [a, b]\n"
        "[/code]\n"
    )
    assert_balanced(bbcode.write(SAMPLE))


def test_a_paragraph_is_one_line_however_long() -> None:
    words = "Short one. " + "A sentence that is far too long for one line of a post " * 3 + "ends. Last one."
    assert bbcode.write(Document("t", (Paragraph(text(words)),))).splitlines()[2:] == [words]


@pytest.mark.parametrize("end", ["[/code]", "[/CODE]", "[ /code ]", "[code]", "[CODE=x]"])
def test_code_cannot_end_its_block(end: str) -> None:
    post = bbcode.write(Document("t", (Code(f"a: 1 {end} b\n"),)))
    assert TAG.findall(post) == [("", "u"), ("", "b"), ("/", "b"), ("/", "u"), ("", "code"), ("/", "code")]


ROLES = st.sampled_from(["", "strong", "quiet", "code"])
SPANS = st.builds(
    Span, st.text(max_size=60) | st.sampled_from(["[/b]", "[url=x]", "[", "word " * 40, "x" * 300]), ROLES
)
LINES = st.lists(SPANS, max_size=6).map(tuple)


@settings(deadline=None, max_examples=80)
@given(line=LINES, name=st.text(max_size=120))
def test_any_text_leaves_the_post_balanced(line: tuple[Span, ...], name: str) -> None:
    bars = BarsPicture(name, "", bars=(Bar(name, 0.5, name),))
    inner = (Paragraph(line), Bullets((line, line)), Table((name, "b"), ((name, name),)), Drawing(bars, name))
    post = bbcode.write(Document(name, (Section(line, inner),)))
    assert_balanced(post)
