"""What the tests of all formats share: a document that says a name wherever a name can reach."""

from __future__ import annotations

from collections.abc import Callable
from functools import cache
from pathlib import Path

import pytest

from coswim.findings.pictures import (
    Bar,
    BarsPicture,
    Curve,
    CurvesPicture,
    FishPicture,
    MonthsPicture,
    Window,
    WindowsPicture,
)
from coswim.plans.plan import GroupEntry, Plan, Proposal, Tank
from coswim.plans.reading import read_plan
from coswim.plans.written import write_plan
from coswim.profiles.catalog import Catalog
from coswim.report.document import (
    Block,
    Bullets,
    Code,
    Document,
    Drawing,
    Facts,
    Paragraph,
    Section,
    Span,
    Table,
    quiet,
    strong,
    text,
)
from coswim.report.writers import write
from coswim.screening import Screening, screen
from coswim.text.quantities import Box, Range


@pytest.fixture(scope="session")
def screening_of(catalog: Catalog) -> Callable[[Path], Screening]:
    """A plan by its file, screened once with all draws for all tests of the reports."""
    return cache(lambda path: screen(read_plan(path.read_text(encoding="utf-8"), path.name, catalog), catalog))


def plan_named(name: str) -> Plan:
    words = " ".join(name.encode("utf-8", "replace").decode().split())
    tank = Tank(size=Box(60, 30, 30), temperature=Range(25, 25))
    group = GroupEntry(species=words, length=5.0)
    return Plan(title=words, tank=tank, residents=(group,), proposals=(Proposal(name=words, add=(group,)),))


def everything(name: str) -> Document:
    """A document that says `name` in every place that a name can reach, with a plan that holds it."""
    line = (strong(name), Span(" "), quiet(name), Span(name), Span(name, "code"))
    months = (0.0, 12.0)
    pictures = (
        BarsPicture(name, name, bars=(Bar(name, 0.5, name), Bar("b", 0.2))),
        WindowsPicture(name, "C", windows=(Window(name, 20, 25),), marker=Window(name, 24, 24)),
        CurvesPicture(name, "mm", curves=(Curve(name, months, (1.0, 1.0), (2.0, 3.0), (4.0, 4.0)),)),
        MonthsPicture(name, "", shares=(0.5, 0.1)),
        FishPicture(name, "elongated", 40.0, 35.0, 5.0),
    )
    inner: tuple[Block, ...] = (
        Paragraph(line),
        Bullets((line, text(name))),
        Facts(((name, line), ("b", text(name)))),
        Table((name, "b"), ((name, name), ("a", "b"))),
        *(Drawing(picture, name) for picture in pictures),
        Drawing(BarsPicture(name, "", ()), name),
    )
    section = Section(line, (Section(text(name), inner, "finding"), *inner), "proposal")
    return Document(name, (Paragraph(line), section, Code(write_plan(plan_named(name))), Paragraph(line)))


@pytest.fixture(scope="session", name="plan_named")
def _plan_named() -> Callable[[str], Plan]:
    """A plan whose every name is a given one."""
    return plan_named


@pytest.fixture(scope="session", name="everything")
def _everything() -> Callable[[str], Document]:
    """A document that says a name in every place that a name can reach, with a plan that holds it."""
    return everything


@pytest.fixture(scope="session")
def written() -> Callable[[str, str], str]:
    """That document in a format (first argument), written once for all tests."""
    return cache(lambda form, name: write(everything(name), form))
