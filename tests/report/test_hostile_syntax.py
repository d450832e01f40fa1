"""Every format meets text that is hostile in its own syntax, and shows it instead of obeying it.

What a reader's program makes of a report is the same whether its names are hostile or harmless. A format
without a line in SYNTAX fails, and so does a line whose samples would break nothing.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from types import MappingProxyType
from typing import NamedTuple

import html5lib
import pytest
from markdown_it import MarkdownIt

from coswim.report.document import Document
from coswim.report.writers import FORMATS, write
from coswim.text.printable import printable


class Syntax(NamedTuple):
    """How a reader's program takes a report apart, and text that it would obey where nobody escapes it."""

    parts: Callable[[str], object]
    hostile: tuple[str, ...]


def lines_and_fences(report: str) -> object:
    """For text that is read as it is: how many lines, which of them open or close a block, and what a screen obeys."""
    lines = report.split("\n")
    return (
        len(lines),
        [n for n, line in enumerate(lines) if line.startswith("~~~")],
        re.findall(r"[^\n\S ]|\x1b", report),
    )


def bbcode_tags(report: str) -> object:
    """Oracle: a board takes for a tag what stands in brackets and begins with a letter or a sign of its own."""
    return re.findall(r"\[/?(?:\*|[a-zA-Z]+)[^\]\n]*\]", report)


def markdown_tokens(report: str) -> object:
    """Oracle: markdown-it-py with CommonMark's rules, tables and struck text."""
    tokens = MarkdownIt("commonmark").enable(["table", "strikethrough"]).parse(report)
    return [part.type for token in tokens for part in (token, *(token.children or ())) if part.type != "text"]


def html_elements(report: str) -> object:
    """Oracle: html5lib; the elements that there are and the attributes that they have."""
    tree = html5lib.HTMLParser().parse(report)
    return {element.tag for element in tree.iter()}, {name for element in tree.iter() for name in element.attrib}


SYNTAX: Mapping[str, Syntax] = MappingProxyType(
    {
        "terminal": Syntax(lines_and_fences, ("red \x1b[31m fish", "~~~ yaml", "a\r\n~~~ yaml\ntank: b")),
        "plain": Syntax(lines_and_fences, ("a\nb", "~~~ yaml", "a\x1b[2Jb")),
        "bbcode": Syntax(bbcode_tags, ("a [/code] b", "a [url=http://example.invalid]b[/url] c", "a [b]c[/b] d")),
        "markdown": Syntax(
            markdown_tokens,
            ("a *b* c", "a **b** c", "a `b` c", "a [b](x) c", "a ![b](x) c", "a <b>c</b> d", "a\n\n# b", "a ~~b~~ c"),
        ),
        "html": Syntax(
            html_elements,
            (
                "a <script>alert(1)</script> b",
                "a <img src=x onerror=y> b",
                "a\" onload='b' c' onclick=\"d",
                "a</title></style></pre><iframe></iframe>b",
            ),
        ),
    }
)
SAMPLES = [
    pytest.param(form, hostile, id=f"{form}-{n}")
    for form, own in SYNTAX.items()
    for n, hostile in enumerate(own.hostile)
]
Everything = Callable[[str], Document]


def harmless(hostile: str) -> str:
    """A text of the same shape without signs."""
    return re.sub(r"[^\w ]", "x", " ".join(printable(hostile).split()))


def test_every_format_has_hostile_text_of_its_own() -> None:
    assert set(SYNTAX) == set(FORMATS)
    assert all(syntax.hostile for syntax in SYNTAX.values())


@pytest.mark.parametrize(("form", "hostile"), SAMPLES)
def test_what_is_hostile_in_a_format_changes_nothing_in_it(form: str, hostile: str, everything: Everything) -> None:
    parts = SYNTAX[form].parts
    assert parts(write(everything(hostile), form)) == parts(write(everything(harmless(hostile)), form))


@pytest.mark.parametrize(("form", "hostile"), SAMPLES)
def test_it_would_change_a_report_of_a_writer_that_escapes_nothing(
    form: str, hostile: str, everything: Everything
) -> None:
    report = write(everything("harmless"), form)
    assert SYNTAX[form].parts(report.replace("harmless", hostile)) != SYNTAX[form].parts(report)
