"""The page is valid, complete and self-contained, and no text from a plan becomes markup."""

from __future__ import annotations

import re
from collections.abc import Callable
from datetime import date

import html5lib
import pytest

from coswim.findings.pictures import Bar, BarsPicture, Curve, CurvesPicture, MonthsPicture, Window, WindowsPicture
from coswim.profiles.catalog import Catalog
from coswim.report.document import (
    Block,
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
from coswim.report.screening_report import SHARED, compose
from coswim.report.writers import html
from coswim.screening import Screening

HTML = "{http://www.w3.org/1999/xhtml}"
SVG = "{http://www.w3.org/2000/svg}"
HOSTILE = (
    """</title></style></code></pre><script>alert(1)</script><img src=x onerror=y> "' onload='z' {{ 7 * 7 }} """
    """<!-- ]]> &lt; &#60; javascript:x https://example.org/x.png url(x) \x00\x07\x1b[2J\u202e\ufdd0\ud800 <b"""
)
PLAN = """
tank: {size: 180 x 60 x 60 cm, temperature: 23 C, ph: 7.6, hardness: 16 dGH}
residents: [{species: Polypterus endlicherii, length: 38 cm, private: {value: 180 EUR, note: hand-raised}}]
proposals: [{name: eight tinfoil barbs, add: [{species: tinfoil barb, count: 8, length: 10 cm}]}]
"""


def parsed(page: str) -> html5lib.HTMLParser:
    """The page read by a parser that refuses whatever breaks the HTML standard."""
    tree = html5lib.HTMLParser(strict=True).parse(page)
    assert tree is not None
    return tree


def page_of(*blocks: Block, title: str = "title") -> str:
    return html.write(Document(title, blocks))


def inside(page: str) -> str:
    """What the page holds after its heading."""
    return page.split("</h1>\n", 1)[1].split("</main>", 1)[0]


@pytest.mark.parametrize(
    ("block", "expected"),
    [
        (
            Paragraph((strong("high "), Span("and "), quiet("low "), Span("x = 1", "code"))),
            '<p><strong>high </strong>and <span class="quiet">low </span><code>x = 1</code></p>\n',
        ),
        (Bullets((text("one"), text("two"))), "<ul>\n<li>one</li>\n<li>two</li>\n</ul>\n"),
        (
            Code("tank:\n  ph: 7\n\n"),
            '<pre class="yaml"><code>tank:\n  ph: 7\n\n</code></pre>\n',
        ),
        (
            Table(("fish", "cm"), (("barb", "10"),), frozenset({1})),
            '<table class="few">\n'
            '<thead><tr><th scope="col">fish</th><th scope="col" class="number">cm</th></tr></thead>\n'
            '<tbody>\n<tr><th scope="row" data-label="fish">barb</th><td class="number" data-label="cm">10</td></tr>\n'
            "</tbody>\n</table>\n",
        ),
        (
            Section(text("barbs"), (Section(text("gape-fit"), (), "finding"),), "proposal"),
            '<section class="proposal" id="part-1">\n<h2>barbs</h2>\n'
            '<section class="finding">\n<h3>gape-fit</h3>\n</section>\n</section>\n',
        ),
    ],
    ids=["paragraph", "bullets", "code", "table", "sections"],
)
def test_blocks(block: Block, expected: str) -> None:
    """derived: each block in the element that HTML has for it."""
    assert inside(page_of(block)) == expected


def test_a_drawing_is_a_figure_with_its_title_and_its_alternative() -> None:
    picture = BarsPicture("pH and food", "of the food", bars=(Bar("barb", 1.0),))
    figure = parsed(page_of(Drawing(picture, "The barb eats all."))).find(f".//{HTML}figure")
    assert [child.tag for child in figure] == [f"{HTML}figcaption", f"{SVG}svg"]
    assert figure[0].text == "pH and food"
    assert (figure[1].get("role"), figure[1].get("aria-label")) == ("img", "The barb eats all.")


def test_a_drawing_without_data_leaves_its_alternative() -> None:
    page = page_of(Drawing(BarsPicture("food", "of the food", ()), "Nobody eats."))
    assert "<p>Nobody eats.</p>" in page
    assert "<svg" not in page


def test_drawings_in_a_row_stand_together() -> None:
    drawing = Drawing(BarsPicture("food", "", bars=(Bar("barb", 1.0),)), "all")
    tree = parsed(page_of(drawing, drawing, Paragraph(text("between")), drawing))
    groups = [len(group) for group in tree.iter(f"{HTML}div")]
    assert groups == [2, 1]


def test_deep_sections_keep_to_the_headings_there_are() -> None:
    section = Section(text("deepest"), ())
    for _ in range(7):
        section = Section(text("outer"), (section,))
    tree = parsed(page_of(section))
    levels = [element.tag.removeprefix(f"{HTML}h") for element in tree.iter() if re.search(r"}h\d$", element.tag)]
    assert levels == ["1", "2", "3", "4", "5", "6", "6", "6", "6"]


def test_a_page_of_many_parts_lists_them() -> None:
    """Every entry leads to a part, even when parts have the same name."""
    tree = parsed(page_of(*[Section(text("the same name"), ())] * 3))
    targets = [link.get("href").removeprefix("#") for link in tree.iter(f"{HTML}a")]
    assert targets == [part.get("id") for part in tree.iter(f"{HTML}section")] == ["part-1", "part-2", "part-3"]
    assert "<nav" not in page_of(*[Section(text("the same name"), ())] * 2)


@pytest.mark.parametrize(("columns", "name"), [(1, "few"), (2, "few"), (3, "some"), (7, "some"), (8, "many")])
def test_wide_tables_become_cards(columns: int, name: str) -> None:
    page = page_of(Table(("x",) * columns, (("y",) * columns,)))
    assert f'<table class="{name}">' in page


def test_the_head_says_what_a_browser_needs() -> None:
    page = page_of(title="my tank")
    assert page.startswith('<!doctype html>\n<html lang="en">\n<head>\n<meta charset="utf-8">\n')
    tree = parsed(page)
    assert tree.find(f".//{HTML}title").text == "my tank"
    named = {meta.get("name") or meta.get("http-equiv"): meta.get("content") for meta in tree.iter(f"{HTML}meta")}
    assert named["viewport"] == "width=device-width, initial-scale=1"
    assert named["color-scheme"] == "light dark"
    rules = dict(rule.split(" ", 1) for rule in named["Content-Security-Policy"].split("; "))
    assert rules == {
        "default-src": "'none'",
        "style-src": "'unsafe-inline'",
        "base-uri": "'none'",
        "form-action": "'none'",
    }


def test_a_report_is_valid_and_names_no_place_to_fetch_from(
    screened: Callable[..., Screening], catalog: Catalog
) -> None:
    report = compose(screened(PLAN, draws=60), catalog, today=date(2026, 11, 25), form=SHARED)
    page = html.write(report)
    tree = parsed(page)
    assert len(list(tree.iter(f"{SVG}svg"))) >= 3
    assert {element.tag.rsplit("}")[-1] for element in tree.iter()} & {
        "script",
        "link",
        "img",
        "iframe",
        "use",
    } == set()
    references = [
        value
        for element in tree.iter()
        for name, value in element.items()
        if name in ("src", "href", "action", "style")
    ]
    assert all(reference.startswith("#part-") for reference in references)
    assert re.findall(r"url\(|@import|src=|https?://\S+\.(?:js|css|png|woff2?)", page) == []
    assert "180 EUR" not in page
    assert "hand-raised" not in page


def test_the_same_document_gives_the_same_page() -> None:
    assert page_of(Paragraph(text("x"))) == page_of(Paragraph(text("x")))


def hostile_document() -> Document:
    """Every place that a text can take, filled with text that wants out."""
    line = (Span(HOSTILE), strong(HOSTILE), quiet(HOSTILE), Span(HOSTILE, "code"))
    curve = Curve(HOSTILE, (0.0, 1.0), (0.0, 0.0), (1.0, 1.0), (2.0, 2.0))
    pictures = (
        CurvesPicture(HOSTILE, HOSTILE, curves=(curve,), marker=Window(HOSTILE, 1.0, 2.0)),
        BarsPicture(HOSTILE, HOSTILE, bars=(Bar(HOSTILE, 0.5, HOSTILE),)),
        WindowsPicture(HOSTILE, HOSTILE, windows=(Window(HOSTILE, 1, 2),), marker=Window(HOSTILE, 1, 1)),
        MonthsPicture(HOSTILE, HOSTILE, shares=(0.5,)),
    )
    blocks: tuple[Block, ...] = (
        Paragraph(line),
        Bullets((line,)),
        Table((HOSTILE, HOSTILE), ((HOSTILE, HOSTILE),), frozenset({1})),
        Code(HOSTILE, language=HOSTILE),
        *(Drawing(picture, HOSTILE) for picture in pictures),
        Drawing(BarsPicture(HOSTILE, HOSTILE, ()), HOSTILE),
    )
    return Document(HOSTILE, (*blocks, *[Section(line, blocks, "proposal")] * 3))


def test_hostile_text_stays_text() -> None:
    """The page holds the elements that its harmless twin holds, no others, and no attribute is gained."""
    tree = parsed(html.write(hostile_document()))
    allowed = {f"{HTML}{tag}" for tag in _HTML_TAGS} | {f"{SVG}{tag}" for tag in _SVG_TAGS}
    assert {element.tag for element in tree.iter()} <= allowed
    assert {name for element in tree.iter() for name in element.attrib} <= _ATTRIBUTES
    assert "alert(1)" in "".join(tree.find(f".//{HTML}h1").itertext())
    assert "49" not in tree.find(f".//{HTML}h1").text, "a template in a name is not run"


_HTML_TAGS = (
    *("html", "head", "meta", "title", "style", "body", "main", "nav", "section", "div", "figure", "figcaption"),
    *("h1", "h2", "p", "ul", "li", "a", "strong", "span", "code", "pre", "table", "thead", "tbody", "tr", "th", "td"),
)
_SVG_TAGS = ("svg", "text", "path", "line", "circle", "rect")
_ATTRIBUTES = {
    *("lang", "charset", "http-equiv", "content", "name", "class", "id", "href", "scope", "data-label", "role"),
    *("aria-label", "viewBox", "d", "transform", "stroke-dasharray", "text-anchor", "width", "height"),
    *("x", "y", "x1", "x2", "y1", "y2", "cx", "cy", "r"),
}


def test_nothing_in_the_page_is_obeyed_by_a_screen() -> None:
    page = html.write(hostile_document())
    assert all(sign.isprintable() for sign in page if sign != "\n")
    assert page.encode("utf-8")
    assert "\ufdd0" not in page


def test_code_is_kept_letter_by_letter() -> None:
    plan = "\n  # <tank> & \"more\"\ntank: {ph: '7'}\n\n  end\n"
    code = parsed(page_of(Code(plan))).find(f".//{HTML}code")
    assert code.text == plan
