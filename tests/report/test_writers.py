"""What holds for every format: nothing private leaves, nothing hostile acts, and the plan reads back."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date
from html import unescape
from pathlib import Path

import pytest
from rich.cells import cell_len

from coswim.plans.plan import Plan
from coswim.plans.posted import find_plan
from coswim.plans.reading import read_plan
from coswim.profiles.catalog import Catalog
from coswim.report.document import (
    Document,
)
from coswim.report.screening_report import SHARED, compose
from coswim.report.writers import ENDINGS, FORMATS, format_of, terminal, write
from coswim.screening import Screening
from coswim.text.document import read_document
from coswim.text.printable import printable
from coswim.text.validation import validate

HOSTILE = {
    "html": "<script>alert(1)</script><img src=x onerror=alert(1)>&lt;b&gt;",
    "html end": "</code></pre></article><style>*{display:none}</style>",
    "bbcode": "[/code][url=http://example.invalid]x[/url][b]",
    "markdown": "**a** [x](javascript:x) ![x](http://example.invalid/x.png) | ` ``` # x",
    "rich": "[bold red]x[/bold red] [link=http://example.invalid]y[/link] :fish:",
    "ansi": "\x1b[31mred\x1b[0m \x1b]8;;http://example.invalid\x07x\x1b]8;;\x07 \x9b2J",
    "nul": "a\x00b\x07\x08\x7f",
    "direction": "\N{RIGHT-TO-LEFT OVERRIDE}dlot\N{POP DIRECTIONAL FORMATTING} \N{LEFT-TO-RIGHT ISOLATE}",
    "long word": "x" * 500,
    "newlines": "a\n\ntank:\r\n```\n[code]\x85b\N{LINE SEPARATOR}c",
    "fence": "~~~",
    "key": "tank: residents:",
    "wide": "金魚" * 60,
    "marks": "e" + "\N{COMBINING ACUTE ACCENT}" * 300,
    "surrogate": "a\udcffb",
}
TEXT_FORMATS = ("terminal", "plain", "bbcode", "markdown")


Written = Callable[[str, str], str]
Everything = Callable[[str], Document]


def body(written: str) -> list[str]:
    """The lines without those of the plan, which keeps what the name really is."""
    start = next(n for n, line in enumerate(written.splitlines()) if line.startswith("title:"))
    end = next(
        n for n, line in enumerate(written.splitlines()) if n > start and line.startswith(("~~~", "```", "[/code]"))
    )
    return written.splitlines()[:start] + written.splitlines()[end:]


@pytest.mark.parametrize("name", HOSTILE.values(), ids=HOSTILE)
@pytest.mark.parametrize("form", FORMATS)
def test_no_sign_in_a_report_acts_on_the_screen(form: str, name: str, written: Written) -> None:
    report = written(form, name)
    assert all(character == "\n" or printable(character) == character for character in report)
    report.encode("utf-8")


@pytest.mark.parametrize("name", HOSTILE.values(), ids=HOSTILE)
@pytest.mark.parametrize("form", FORMATS)
def test_the_plan_in_a_report_reads_back(
    form: str, name: str, written: Written, plan_named: Callable[[str], Plan]
) -> None:
    report = written(form, name)
    assert validate(read_document(find_plan(report, form), form), Plan) == plan_named(name)


@pytest.mark.parametrize("form", FORMATS)
def test_the_plan_is_found_in_a_report_among_other_words(
    form: str, written: Written, plan_named: Callable[[str], Plan]
) -> None:
    post = f"Hello all, this is what it says of my tank:\n\n{written(form, 'barb')}\nWhat would you do?\n"
    assert validate(read_document(find_plan(post, form), form), Plan) == plan_named("barb")


@pytest.mark.parametrize("name", HOSTILE.values(), ids=HOSTILE)
@pytest.mark.parametrize("form", TEXT_FORMATS)
def test_a_name_cannot_leave_its_line(form: str, name: str, written: Written) -> None:
    """A line break in a name is no more than a space."""
    tame = " ".join(printable(name).split())
    assert body(written(form, name)) == body(written(form, tame))


@pytest.mark.parametrize(("form", "width"), [("terminal", 80), ("plain", 78)])
@pytest.mark.parametrize("name", HOSTILE.values(), ids=HOSTILE)
def test_lines_have_a_longest_width(form: str, width: int, name: str, written: Written) -> None:
    """oracle: rich's cell widths. Code is kept as it is, whatever its width."""
    assert not [line for line in body(written(form, name)) if cell_len(line) > width]


@pytest.mark.parametrize("width", [60, 80, 120])
@pytest.mark.parametrize("name", [HOSTILE[key] for key in ("ansi", "rich", "nul")], ids=["ansi", "rich", "nul"])
def test_only_the_writer_styles_the_terminal(width: int, name: str, everything: Everything) -> None:
    coloured = terminal.write(everything(name), width=width, colour=True)
    for sequence in ("\x1b[0m", "\x1b[1m", "\x1b[2m", "\x1b[36m", "\x1b[1;36m"):
        coloured = coloured.replace(sequence, "")
    assert coloured == terminal.write(everything(name), width=width, colour=False)


@pytest.mark.parametrize("form", FORMATS)
def test_nothing_private_leaves(form: str, screened: Callable[..., Screening], catalog: Catalog) -> None:
    screening = screened(
        """\
        tank: {size: 180x60x60 cm, temperature: 26, ph: 7, hardness: 6}
        residents:
          - species: saddled bichir
            length: 38 cm
            private: {value: 987654 EUR, note: hand-raised by grandmother}
        proposals: [{name: barbs, add: [{species: tinfoil barb, count: 8, length: 10 cm, private: from-uncle}]}]
        private: [the key is under the doormat]
        """
    )
    report = write(compose(screening, catalog, today=date(2026, 1, 2), form=SHARED), form)
    for secret in ("private", "987654", "hand-raised", "grandmother", "uncle", "doormat"):
        assert secret not in report


@pytest.fixture(
    scope="module", params=sorted(Path(__file__).parents[2].glob("examples/*.yaml")), ids=lambda path: path.stem
)
def example(request: pytest.FixtureRequest, screened: Callable[..., Screening]) -> Screening:
    path: Path = request.param
    return screened(path.read_text(encoding="utf-8"), draws=60)


@pytest.mark.parametrize("form", FORMATS)
def test_a_shared_report_of_an_example_screens_the_same_plan(form: str, example: Screening, catalog: Catalog) -> None:
    report = write(compose(example, catalog, today=date(2026, 1, 2), form=SHARED), form)
    again = read_plan(find_plan(report, "post"), "post", catalog).plan
    plan = example.read.plan
    assert [(one.name, one.risk) for one in again.earlier] == [(one.name, one.risk_number) for one in example.proposals]
    assert again.model_dump(exclude={"earlier"}) == plan.model_dump(exclude={"earlier"})  # without private notes
    assert again.assumed() == plan.assumed()


def test_same_document_same_bytes(everything: Everything) -> None:
    for form in FORMATS:
        assert write(everything("barb"), form) == write(everything("barb"), form)


def test_the_words_are_in_every_format(everything: Everything) -> None:
    for form in FORMATS:
        assert "saddled bichir" in unescape(write(everything("saddled bichir"), form))


@pytest.mark.parametrize(
    ("file", "form"),
    [
        ("a.txt", "plain"),
        ("a.bbcode", "bbcode"),
        ("a.bb", "bbcode"),
        ("a.md", "markdown"),
        ("a.HTML", "html"),
        ("dir.x/a.htm", "html"),
        ("a.json", "json"),
        ("a.pdf", None),
        ("txt", None),
    ],
)
def test_format_of(file: str, form: str | None) -> None:
    assert format_of(Path(file)) == form


def test_every_ending_leads_to_a_format_or_to_the_data() -> None:
    assert set(ENDINGS.values()) <= {*FORMATS, "json"}
