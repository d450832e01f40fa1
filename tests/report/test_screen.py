"""The default screen: pinned at three widths, within its lines, with the verdict where a reader's screen ends.

`COSWIM_UPDATE_GOLDEN=1 python -m pytest tests/report/test_screen.py` writes the screens, the one in the README
and the picture of the page anew; read the difference.
"""

from __future__ import annotations

import hashlib
import os
import re
import shutil
from collections.abc import Callable
from datetime import date
from functools import cache
from pathlib import Path

import pytest
from tests.report.pinned import differing, without_figures

from coswim.plans.posted import find_plan
from coswim.plans.reading import ReadPlan, read_plan, resolve
from coswim.plans.shorthand import ADD, OR, Fish, Shorthand
from coswim.profiles.catalog import Catalog
from coswim.report.decision import in_short
from coswim.report.screening_report import BRIEF, FULL, POST, SHARED, compose, post, screen
from coswim.report.writers import terminal, write, write_post
from coswim.screening import Screening
from coswim.screening import screen as screen_plan
from coswim.simulation.scene import Effort
from coswim.text.units import in_units
from coswim.verdict.assessment import LABELS

ROOT = Path(__file__).parents[2]
GOLDEN = Path(__file__).parent / "golden"
PLANS = [*sorted((ROOT / "examples").glob("*.yaml")), *sorted((Path(__file__).parent / "scenarios").glob("*.yaml"))]
SHOP = "shop"
NAMES = [*(path.stem for path in PLANS), SHOP]
WIDTHS = (40, 80, 120)
DAY = date(2026, 1, 1)
HEIGHT = 24
LARGE, FEW = "six-and-six", Effort(draws=100, months=6)
UPDATE = bool(os.environ.get("COSWIM_UPDATE_GOLDEN"))
PICTURE = ROOT / "examples" / "bichir.png"
LONGEST_POST, MOST_CHARACTERS = 60, 4000

Screened = Callable[[str], Screening]


def plan_called(name: str, catalog: Catalog) -> ReadPlan:
    """An example or scenario, or one line typed in a shop."""
    if name == SHOP:
        fish = (Fish(ADD, "8 tinfoil barbs, 10 cm"), Fish(OR, "one oscar"), Fish(ADD, "6 silver dollar"))
        line = Shorthand("180x60x60 cm", "26", "7.0", "6", ["saddled bichir, 38 cm"], fish)
        return resolve(line.document(), catalog)
    path = file_called(name)
    return read_plan(path.read_text(encoding="utf-8"), path.name, catalog)


def file_called(name: str) -> Path:
    return next(path for path in PLANS if path.stem == name)


@pytest.fixture(scope="module")
def screening(catalog: Catalog, screening_of: Callable[[Path], Screening]) -> Screened:
    """A plan by its name, screened once; with few futures where there are many proposals."""

    def run(name: str) -> Screening:
        if name not in {SHOP, LARGE}:
            return screening_of(file_called(name))
        return screen_plan(plan_called(name, catalog), catalog, FEW if name == LARGE else None)

    return cache(run)


def lines_of(screening: Screening, catalog: Catalog, width: int = 80) -> list[str]:
    return terminal.write(screen(screening, catalog, today=DAY), width=width).splitlines()


@pytest.mark.parametrize("width", WIDTHS)
@pytest.mark.parametrize("name", NAMES)
def test_the_screen_is_the_reviewed_one(name: str, width: int, screening: Screened, catalog: Catalog) -> None:
    golden = GOLDEN / f"{name}.screen.{width}.txt"
    text = "\n".join(lines_of(screening(name), catalog, width)) + "\n"
    if UPDATE:
        golden.write_text(text, encoding="utf-8")
    assert differing(text, golden.read_text(encoding="utf-8")) == []
    assert max(map(len, text.splitlines())) <= width


@pytest.mark.parametrize("name", NAMES)
def test_it_keeps_to_its_lines(name: str, screening: Screened, catalog: Catalog) -> None:
    """24 lines for one proposal; 10, and 8 for each, for several."""
    asked = len(screening(name).judged)
    assert len(lines_of(screening(name), catalog)) <= (HEIGHT if asked == 1 else 10 + 8 * asked)


@pytest.mark.parametrize("plan", NAMES)
def test_every_verdict_stands_on_the_last_page(plan: str, screening: Screened, catalog: Catalog) -> None:
    """What is left of 24 lines when the prompt has come back, which takes one."""
    page = " ".join(" ".join(lines_of(screening(plan), catalog)[-(HEIGHT - 1) :]).split())
    for one in screening(plan).judged:
        verdict = (
            one.verdict.words.removeprefix("possible, ").removesuffix(" the plan first").removesuffix(" be judged")
        )
        name = in_units(in_short(one.name), screening(plan).read.units)
        assert re.search(rf"{re.escape(name)}.*?: .*?{verdict.split(',')[0]}", page), one.name


@pytest.mark.parametrize("name", NAMES)
@pytest.mark.parametrize("width", WIDTHS)
def test_nothing_breaks_within_a_word(name: str, width: int, screening: Screened, catalog: Catalog) -> None:
    """The words of a narrow screen are those of a wide one."""
    wide = set(" ".join(lines_of(screening(name), catalog, 400)).split())
    rows = [line for line in lines_of(screening(name), catalog, width) if "─" not in line]
    assert {word.rstrip(":") for word in " ".join(rows).split()} <= {word.rstrip(":") for word in wide}


@pytest.mark.parametrize("plan", NAMES)
def test_brief_is_a_line_for_each(plan: str, screening: Screened, catalog: Catalog) -> None:
    text = terminal.write(compose(screening(plan), catalog, today=DAY, form=BRIEF), width=400)
    for one in screening(plan).judged:
        name = in_units(one.name, screening(plan).read.units)[:50]
        (line,) = (line for line in text.splitlines() if line.startswith(f"• {name}"))
        assert one.verdict.words in line
        assert one.verdict.on_edge in line


def test_what_cannot_be_judged_says_what_to_find_out_in_every_form(screening: Screened, catalog: Catalog) -> None:
    for form in (BRIEF, FULL, SHARED):
        text = " ".join(terminal.write(compose(screening("not-judged"), catalog, today=DAY, form=form)).split())
        assert "cannot be judged" in text
        assert "does not state the tank's pH" in text


def test_a_reasonable_one_says_what_was_checked_and_what_is_narrowest(screening: Screened, catalog: Catalog) -> None:
    text = " ".join(lines_of(screening("reasonable"), catalog))
    assert "nothing of note in 1,000 futures" in " ".join(text.split())
    assert " narrowest " in text


@pytest.mark.parametrize("plan", NAMES)
def test_possible_with_care_ends_with_what_comes_after_buying(plan: str, screening: Screened, catalog: Catalog) -> None:
    """The order of moving in, what to watch and when to stop: on the screen, in the report and in the post."""
    for one in screening(plan).proposals:
        alone = screening(plan)._replace(proposals=(one,))
        forms = (
            terminal.write(screen(alone, catalog, today=DAY), width=400),
            terminal.write(compose(alone, catalog, today=DAY, form=FULL), width=400),
            post(alone, catalog, today=DAY, write=lambda document: write_post(document, "plain")),
        )
        for words in forms:
            rows = [words.find(start) for start in ("fter 30 days of quarantine", "art them the same day when")]
            if one.verdict.words == "possible, with care":
                assert 0 < rows[0] < words.index(in_units(one.watch[0][1:], alone.read.units)) < rows[1]
            else:
                assert rows == [-1, -1]


def test_what_comes_after_buying_is_drawn_together_where_there_is_little_room(
    screening: Screened, catalog: Catalog
) -> None:
    several = " ".join(" ".join(lines_of(screening("fighter"), catalog)).split())
    assert several.count("After 30 days of quarantine, in the evening, with the lights out; see who hides") == 1
    assert "part them the same day when" in several


def test_a_plan_in_inches_is_answered_in_inches(screening: Screened, catalog: Catalog) -> None:
    text = write(compose(screening("inches"), catalog, today=DAY, form=FULL), "plain")
    assert not re.findall(r"\d (?:cm|mm|C|L|dGH)\b", text)
    assert "48 x 24 x 24 in (120 gal), 77 F, pH 7.4, 140 ppm" in text


def test_every_hazard_has_a_word() -> None:
    from coswim.hazards import BY_ID

    assert set(LABELS) == set(BY_ID)


@pytest.mark.parametrize("form", ["bbcode", "plain", "markdown"])
@pytest.mark.parametrize("name", NAMES)
def test_a_post_is_short_and_ends_with_the_plan(form: str, name: str, screening: Screened, catalog: Catalog) -> None:
    only = screening(name)._replace(proposals=screening(name).proposals[:1])
    words = post(only, catalog, today=DAY, write=lambda document: write_post(document, form))
    assert len(words.splitlines()) < LONGEST_POST
    assert len(words) < MOST_CHARACTERS
    assert words.rstrip().endswith(("[/code]", "~~~", "```"))
    assert find_plan(words, "post")


@pytest.mark.parametrize("form", ["bbcode", "plain"])
def test_a_paragraph_of_a_post_is_one_line(form: str, screening: Screened, catalog: Catalog) -> None:
    words = post(screening("bichir"), catalog, today=DAY, write=lambda document: write_post(document, form))
    lines = re.sub(r"\[code\].*?\[/code\]|~~~ yaml.*?~~~", "", words, flags=re.DOTALL).splitlines()
    document = compose(screening("bichir"), catalog, today=DAY, form=POST)
    assert any(len(line) > 100 for line in lines)
    assert len([line for line in lines if line.startswith("170 x 60 x 60 cm")]) == 1
    assert document.title in lines[0]


def test_the_readme_shows_the_screen_of_its_example(screening: Screened, catalog: Catalog) -> None:
    readme = ROOT / "README.md"
    shown = "\n".join(lines_of(screening("bichir"), catalog))
    start, end = "<!-- its screen -->\n```text\n", "\n```\n"
    before, _, rest = readme.read_text(encoding="utf-8").partition(start)
    _, _, after = rest.partition(end)
    if UPDATE:
        readme.write_text(before + start + shown + end + after, encoding="utf-8")
    assert start + shown + end in readme.read_text(encoding="utf-8")


def test_the_picture_of_the_page_is_of_the_page_as_it_is(screening: Screened, catalog: Catalog) -> None:
    """The picture carries the digest of the page that it shows, figures apart."""
    page = write(compose(screening("bichir"), catalog, today=DAY, form=SHARED), "html")
    digest = hashlib.sha256(without_figures(page).encode()).hexdigest()
    if UPDATE and shutil.which("chromium"):
        PICTURE.write_bytes(with_digest(photographed(page), digest))
    assert digest.encode() in PICTURE.read_bytes()
    assert f"examples/{PICTURE.name}" in (ROOT / "README.md").read_text(encoding="utf-8")


def photographed(page: str) -> bytes:
    """The top of the page as Chromium shows it."""
    playwright = pytest.importorskip("playwright.sync_api")
    with playwright.sync_playwright() as player:
        browser = player.chromium.launch(
            executable_path=shutil.which("chromium"),
            args=["--no-sandbox", "--disable-gpu", "--disable-background-networking"],
        )
        shown = browser.new_page(viewport={"width": 900, "height": 640}, color_scheme="light")
        shown.set_content(page)
        picture: bytes = shown.screenshot()
        browser.close()
    return picture


def with_digest(picture: bytes, digest: str) -> bytes:
    """The PNG with a text of its own before its end: published, PNG (ISO/IEC 15948), chunk layout."""
    import zlib

    data = b"tEXtpage\x00" + digest.encode()
    chunk = (len(data) - 4).to_bytes(4, "big") + data + zlib.crc32(data).to_bytes(4, "big")
    end = picture.rindex(b"IEND") - 4
    return picture[:end] + chunk + picture[end:]
