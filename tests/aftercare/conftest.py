"""What the tests of aftercare share: a company from a plan's text, and a diary from a few lines."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date
from textwrap import dedent
from typing import NamedTuple

import pytest

from coswim.aftercare.company import Company, company_of
from coswim.aftercare.concerns import Concern, concerns_of
from coswim.aftercare.stop_rule import Judgement, judge
from coswim.aftercare.stop_rules import stop_rules
from coswim.aftercare.stream import read_diary
from coswim.aftercare.watched import Watched, watched
from coswim.plans.reading import ReadPlan, read_plan
from coswim.profiles.catalog import Catalog
from coswim.screening import Screened, screen
from coswim.simulation.scene import Effort

START = date(2026, 1, 5)


class Bought(NamedTuple):
    """A company that was bought, with what the screening feared of it."""

    read: ReadPlan
    screened: Screened
    company: Company
    concerns: tuple[Concern, ...]

    def watched(self, entries: str, *, on: date | None = None) -> Watched:
        """A diary of theirs, one `{...}` on each line."""
        text = "".join(f"--- {line.strip()}\n" for line in entries.strip().splitlines())
        return watched(read_diary(text.encode(), "d.yaml"), self.company, on=on)

    def judge(self, entries: str, *, on: date | None = None) -> Judgement:
        """The judgement on that diary."""
        return judge(self.watched(entries, on=on), stop_rules(self.company, self.concerns))


@pytest.fixture(scope="session")
def bought(catalog: Catalog) -> Callable[..., Bought]:
    """Buy the first proposal of a plan given as text."""

    def run(text: str, *, start: date = START, draws: int = 50) -> Bought:
        read = read_plan(dedent(text), "plan.yaml", catalog)
        (screened, *_) = screen(read, catalog, Effort(draws=draws), remedies=False).proposals
        company = company_of(read, screened.proposal, start=start)
        return Bought(read, screened, company, concerns_of(screened, company))

    return run


@pytest.fixture(scope="session")
def bichir(bought: Callable[..., Bought]) -> Bought:
    """A bichir with new silver dollars."""
    return bought("""
        tank: {size: 180 x 60 x 60 cm, temperature: 26 C, ph: 7.0, hardness: 6 dGH}
        residents: [{species: saddled bichir, count: 1, length: 38 cm}]
        proposals: [{name: silver dollars, add: [{species: silver dollar, count: 6, length: 12 cm}]}]
    """)
