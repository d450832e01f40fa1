"""The page as a browser shows it: nothing sticks out, is cut, covered or too faint, and nothing is fetched."""

from __future__ import annotations

import io
import re
import shutil
import unicodedata
from collections import Counter
from collections.abc import Callable, Iterator
from datetime import date
from pathlib import Path
from typing import Any

import pytest
import yaml
from tests.report.brightness import SCHEMES, contrast, levels

from coswim.findings.pictures import (
    Bar,
    BarsPicture,
    Curve,
    CurvesPicture,
    MonthsPicture,
    Picture,
    Window,
    WindowsPicture,
)
from coswim.profiles.catalog import Catalog
from coswim.report.document import Block, Bullets, Code, Document, Drawing, Paragraph, Section, Table, strong, text
from coswim.report.screening_report import SHARED, compose
from coswim.report.writers import html
from coswim.screening import Screening

playwright = pytest.importorskip("playwright.sync_api", reason="playwright, which drives Chromium, is not installed")
pypdf = pytest.importorskip("pypdf", reason="pypdf, which reads the printed page, is not installed")

CHROMIUM = next(filter(None, map(shutil.which, ("chromium", "chromium-browser", "google-chrome"))), None)
if CHROMIUM is None:
    pytest.skip("no Chromium on this machine to open pages with", allow_module_level=True)

QUIET_START = (
    *("--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run"),
    *("--disable-background-networking", "--disable-component-update", "--disable-sync"),
)
VIEWS = ((360, "light"), (800, "light"), (1280, "light"), (800, "dark"))
"""A phone, a tablet and a desk; the colours are the same at every width."""
PRINTED_WIDTH = 702
"""A4 less two margins of 12 mm at 96 px an inch: derived, (210 - 24) / 25.4 * 96 = 702.99."""
MARGIN = 34.0
"""derived: 12 mm in points, 12 / 25.4 * 72."""
POINTS_PER_PIXEL = 0.75
"""published: W3C, CSS Values and Units 3, absolute lengths: 1 px is 1/96 in, 1 pt is 1/72 in."""
AA_TEXT, AA_LARGE = 4.5, 3.0
"""published: W3C, WCAG 2.1 (2018), success criterion 1.4.3."""
LARGE, LARGE_BOLD, BOLD = 24.0, 18.66, 700
"""published: the same, definition of large scale: 18 pt, or 14 pt bold, in px."""

LOOK = """() => {
  const seen = {wide: document.documentElement.scrollWidth, room: innerWidth,
                outside: [], cut: [], covered: [], texts: [], drawings: document.querySelectorAll('svg').length};
  const name = e => `${e.tagName} ${e.getAttribute('class') || ''} ${e.textContent.slice(0, 40)}`;
  const behind = e => {
    for (; e; e = e.parentElement) {
      const colour = getComputedStyle(e).backgroundColor;
      if (colour !== 'rgba(0, 0, 0, 0)') return colour;
    }
    return 'rgb(255, 255, 255)';
  };
  const note = (e, words, style, colour) => seen.texts.push({
    words: words.slice(0, 40), colour, behind: behind(e),
    size: parseFloat(style.fontSize), weight: +style.fontWeight});
  for (const e of document.body.querySelectorAll('*')) {
    const box = e.getBoundingClientRect(), style = getComputedStyle(e);
    if (box.width && (box.left < -0.5 || box.right > innerWidth + 0.5)) seen.outside.push(name(e));
    if (e.scrollWidth > e.clientWidth + 1 && e.clientWidth && style.display !== 'inline' && !e.closest('svg'))
      seen.cut.push(name(e));
    if (!box.width) continue;
    for (const child of e.childNodes)
      if (child.nodeType === Node.TEXT_NODE && child.data.trim())
        note(e, child.data, style, e.closest('svg') ? style.fill : style.color);
    const before = getComputedStyle(e, '::before');
    if (before.content.startsWith('"')) note(e, before.content, before, before.color);
  }
  for (const svg of document.querySelectorAll('svg')) {
    const view = svg.viewBox.baseVal, boxes = [...svg.querySelectorAll('text')].map(e => [e, e.getBBox()]);
    for (const [e, b] of boxes)
      if (b.x < -0.5 || b.y < -0.5 || b.x + b.width > view.width + 0.5 || b.y + b.height > view.height + 0.5)
        seen.cut.push(name(e));
    const things = [...boxes, ...[...svg.querySelectorAll('.bar, .marker')].map(e => [e, e.getBBox()])];
    boxes.forEach(([e, a], i) => things.slice(i + 1).forEach(([f, b]) => {
      if (f.matches('.marker') && f.transform.baseVal.numberOfItems) {
        const m = f.transform.baseVal.getItem(0).matrix;
        b = {x: b.x + m.e, y: b.y + m.f, width: b.width, height: b.height};
      }
      const across = Math.min(a.x + a.width, b.x + b.width) - Math.max(a.x, b.x);
      const down = Math.min(a.y + a.height, b.y + b.height) - Math.max(a.y, b.y);
      if (across > 1 && down > 4) seen.covered.push([name(e), name(f), across, down]);
    }));
  }
  return seen;
}"""
"""What a reader would trip over. Lines of text may touch by their descenders (4 px)."""


PLAN = """
tank:
  size: 180 x 60 x 60 cm
  temperature: 23-24 C
  ph: 7.6
  hardness: 16 dGH
residents:
  - {species: Polypterus endlicherii, length: 38 cm}
  - {species: blue discus, length: 12 cm}
proposals:
  - name: eight tinfoil barbs
    add: [{species: tinfoil barb, count: 8, length: 10 cm}]
  - name: a suckermouth and an oscar
    add: [{species: sailfin pleco, count: 1, length: 12 cm}, {species: oscar, count: 1, length: 8 cm}]
"""
BAD = """<!doctype html><title>bad</title><body style="background: #fff; margin: 0">
<pre style="width: 500px">wide</pre>
<p style="width: 40px; overflow: hidden; white-space: nowrap">this is cut off</p>
<p style="color: #999">faint</p>
<svg width="300" viewBox="0 0 300 40"><text x="0" y="20">one over</text><text x="9" y="20">the other</text>
<text x="290" y="20">beyond</text></svg>
<img src="http://127.0.0.1:9/pixel.png" alt="">"""
LONG = "W" * 90
MIXED = "Ein Süßwasserfischname mit Überlänge 金魚の名前 🐠🐡🐟 " + "m" * 50


@pytest.fixture(scope="module")
def tab() -> Iterator[Any]:
    """An open tab of headless Chromium with an empty profile of its own."""
    with playwright.sync_playwright() as driver:
        browser = driver.chromium.launch(executable_path=CHROMIUM, args=QUIET_START)
        yield browser.new_page()
        browser.close()


@pytest.fixture(scope="module")
def pages(
    screened: Callable[..., Screening], catalog: Catalog, tmp_path_factory: pytest.TempPathFactory
) -> dict[str, Path]:
    """A real report and an awkward document, each as a file."""
    report = compose(screened(PLAN, draws=100), catalog, today=date(2026, 11, 25), form=SHARED)
    folder = tmp_path_factory.mktemp("pages")
    for name, document in (("report", report), ("awkward", _awkward())):
        (folder / f"{name}.html").write_text(html.write(document), encoding="utf-8")
    return {name: folder / f"{name}.html" for name in ("report", "awkward")}


def _awkward() -> Document:
    drawings = tuple(Drawing(picture, f"{LONG} {MIXED}") for picture in _awkward_pictures())
    tables = tuple(
        Table(
            tuple(f"column {i}" for i in range(columns)),
            ((*["words in a cell"] * (columns - 1), "12.5"), (*[LONG] * (columns - 1), "1,234.5")),
            frozenset({columns - 1}),
        )
        for columns in (1, 2, 4, 7, 12)
    )
    blocks: tuple[Block, ...] = (
        Paragraph((strong(LONG), *text(MIXED), *text(LONG, "quiet"), *text(LONG, "code"))),
        Bullets((text(LONG), text(MIXED))),
        *tables,
        *drawings,
        Code(f"a: {LONG * 3}\n  b: {MIXED}\n"),
    )
    inner = Section(text(LONG), (Section(text(MIXED), blocks, "finding"),), "finding")
    return Document(LONG, (*(Section(text(f"{LONG} {i}"), (), "proposal") for i in range(3)), inner))


def _awkward_pictures() -> tuple[Picture, ...]:
    names = (LONG, MIXED, "short", "four", "five")
    months = (0.0, 0.5, 13.0)
    many = tuple(Curve(name, months, (1.0, 2, 3), (i + 2.0, 3, i + 5), (4.0, 9, 1e4)) for i, name in enumerate(names))
    flat = Curve(LONG, months, (0.0, 0, 0), (0.0, 0, 0), (0.0, 0, 0))
    bars = (Bar(LONG, 1.0, LONG), Bar(MIXED, 0.0, MIXED), Bar("short", 0.004))
    windows = (Window(LONG, 1.25, 1200.5), Window(MIXED, 7, 7), Window("short", -3, 4))
    return (
        CurvesPicture(LONG, LONG, curves=many, marker=Window(LONG, 100.0, 200.0)),
        CurvesPicture("nothing happens", "", curves=(flat,), marker=Window("none", 0.0, 0.0)),
        CurvesPicture("crossing", "mm", curves=many[:2]),
        BarsPicture(MIXED, LONG, bars=bars),
        WindowsPicture(LONG, "mg/L CaCO3", windows=windows, marker=Window(LONG, 5.0, 80.0)),
        WindowsPicture("one value", "", windows=windows[1:2], marker=Window(MIXED, 7.0, 7.0)),
        MonthsPicture(MIXED, LONG, shares=(0.5, 0.0, 1.0)),
        MonthsPicture("ten years", "of draws", shares=tuple(i / 120 for i in range(121))),
        MonthsPicture("one month", "of draws", shares=(0.5,)),
    )


def _look(tab: Any, page: Path, width: int, *, scheme: str, media: str = "screen") -> dict[str, Any]:
    """What is seen on a page; `asked` is what it fetched or complained about beside itself."""
    asked: list[str] = []
    listeners = (
        ("request", lambda request: asked.append(request.url)),
        ("console", lambda message: asked.append(message.text)),
    )
    tab.set_viewport_size({"width": width, "height": 800})
    tab.emulate_media(media=media, color_scheme=scheme)
    for event, listener in listeners:
        tab.on(event, listener)
    tab.goto(page.as_uri())
    seen: dict[str, Any] = tab.evaluate(LOOK)
    for event, listener in listeners:
        tab.remove_listener(event, listener)
    return {**seen, "asked": [thing for thing in asked if thing != page.as_uri()]}


def _assert_readable(seen: dict[str, Any]) -> None:
    assert seen["wide"] <= seen["room"], "the page is wider than the window"
    assert not seen["outside"], "these stick out"
    assert not seen["cut"], "these are cut off"
    assert not seen["covered"], "these lie over each other"
    assert not [part for part in seen["texts"] if _is_faint(part)], "these are too faint"


def _is_faint(part: dict[str, Any]) -> bool:
    large = part["size"] >= LARGE or (part["size"] >= LARGE_BOLD and part["weight"] >= BOLD)
    return contrast(_hex(part["colour"]), _hex(part["behind"])) < (AA_LARGE if large else AA_TEXT)


def _hex(colour: str) -> str:
    levels = re.fullmatch(r"rgb\((\d+), (\d+), (\d+)\)", colour)
    assert levels, f"{colour} is not opaque"
    return "#" + "".join(f"{int(level):02x}" for level in levels.groups())


@pytest.mark.parametrize(("width", "scheme"), VIEWS)
@pytest.mark.parametrize("name", ["report", "awkward"])
def test_the_page_can_be_read(tab: Any, pages: dict[str, Path], name: str, width: int, scheme: str) -> None:
    """On a phone, a tablet and a desk, light and dark: nothing sticks out, is cut, covered or faint."""
    seen = _look(tab, pages[name], width, scheme=scheme)
    _assert_readable(seen)
    assert len(seen["texts"]) > 50
    assert seen["drawings"] >= 9
    assert seen["asked"] == []
    assert seen["texts"][0]["behind"] == _rgb(SCHEMES[scheme]["paper"])


@pytest.mark.parametrize("name", ["report", "awkward"])
def test_the_printed_page_can_be_read(tab: Any, pages: dict[str, Path], name: str) -> None:
    """On paper as wide as A4 the page is dark on light, whatever the screen had."""
    seen = _look(tab, pages[name], PRINTED_WIDTH, scheme="dark", media="print")
    _assert_readable(seen)
    assert {part["behind"] for part in seen["texts"]} == {"rgb(255, 255, 255)"}


def _rgb(colour: str) -> str:
    return f"rgb({', '.join(map(str, levels(colour)))})"


def test_a_bad_page_is_seen_to_be_bad(tab: Any, tmp_path: Path) -> None:
    """The look itself notices what is wide, cut, covered or faint, and what a page asks for."""
    (tmp_path / "bad.html").write_text(BAD, encoding="utf-8")
    seen = _look(tab, tmp_path / "bad.html", 360, scheme="light")
    assert seen["wide"] > seen["room"]
    assert [what.split()[0] for what in seen["outside"]] == ["PRE"]
    assert [what.split()[0] for what in seen["cut"]] == ["P", "text"]
    assert len(seen["covered"]) == 1
    assert [part["words"] for part in seen["texts"] if _is_faint(part)] == ["faint"]
    assert "http://127.0.0.1:9/pixel.png" in seen["asked"]


@pytest.mark.parametrize("name", ["report", "awkward"])
def test_the_pdf_holds_all_words(tab: Any, pages: dict[str, Path], name: str) -> None:
    """Printed to PDF, every word but those of second pictures is on a sheet, between its margins, and not shrunk."""
    tab.emulate_media(media="print")
    tab.goto(pages[name].as_uri())
    sheets = pypdf.PdfReader(io.BytesIO(tab.pdf(format="A4", prefer_css_page_size=True))).pages
    tab.evaluate("document.querySelectorAll('figure + figure').forEach(e => e.remove())")
    wanted = tab.evaluate("[...document.querySelectorAll('main > :not(nav)')].map(e => e.textContent).join(' ')")
    pieces: list[tuple[float, float]] = []
    found = "".join(sheet.extract_text(visitor_text=_noted_in(pieces)) for sheet in sheets)
    assert _letters(wanted) - _letters(found) == Counter()
    assert min(place for place, _ in pieces) > MARGIN - 1
    assert max(place for place, _ in pieces) < float(sheets[0].mediabox.width) - MARGIN
    assert pieces[0][1] == pytest.approx(POINTS_PER_PIXEL, rel=1e-3)


def test_two_proposals_print_on_four_pages(
    tab: Any, screened: Callable[..., Screening], catalog: Catalog, tmp_path: Path
) -> None:
    """The longest of the examples: a large fish of which much is to be said."""
    example = yaml.safe_load((Path(__file__).parents[2] / "examples" / "bichir.yaml").read_text(encoding="utf-8"))
    example["proposals"] = [example["proposals"][0], example["proposals"][-1]]
    screening = screened(yaml.safe_dump(example), draws=200, remedies=True)
    page = tmp_path / "page.html"
    page.write_text(html.write(compose(screening, catalog, today=date(2026, 11, 25), form=SHARED)), encoding="utf-8")
    tab.emulate_media(media="print")
    tab.goto(page.as_uri())
    assert len(pypdf.PdfReader(io.BytesIO(tab.pdf(format="A4", prefer_css_page_size=True))).pages) <= 4


def _noted_in(pieces: list[tuple[float, float]]) -> Callable[..., None]:
    """A visitor that notes where each piece of text begins on its sheet, in points, and how far it is scaled."""

    def visit(words: str, sheet: list[float], place: list[float], *_font: Any) -> None:
        if words.strip():
            pieces.append((place[4] * sheet[0] + place[5] * sheet[2] + sheet[4], sheet[0]))

    return visit


def _letters(words: str) -> Counter[str]:
    # sheets are set with ligatures, one sign for f and i; not every machine has a font for every script
    return Counter(sign for sign in unicodedata.normalize("NFKC", words) if sign.isascii() and not sign.isspace())


def test_the_policy_stops_what_slips_through(tab: Any, tmp_path: Path) -> None:
    """Were a script or an image ever let into the page, its own policy keeps them from running and fetching."""
    page = html.write(Document("title", ()))
    intruders = "<script>document.title = 'run'</script><img src='http://127.0.0.1:9/pixel.png'></main>"
    (tmp_path / "slipped.html").write_text(page.replace("</main>", intruders), encoding="utf-8")
    seen = _look(tab, tmp_path / "slipped.html", 360, scheme="light")
    assert tab.title() == "title"
    stopped = [said for said in seen["asked"] if "Content Security Policy" in said]
    assert len(stopped) == 2, "one for the script, one for the image"
