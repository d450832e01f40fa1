"""Whole reports on the four examples, one a format: pinned, changed only on purpose and read in review.

`COSWIM_UPDATE_GOLDEN=1 python -m pytest tests/report/test_golden.py` writes them anew.
"""

from __future__ import annotations

import os
from collections.abc import Callable
from datetime import date
from functools import cache
from pathlib import Path
from typing import Any

import pytest
from tests.report.pinned import differing

from coswim.plans.posted import find_plan
from coswim.plans.reading import read_plan
from coswim.profiles.catalog import Catalog
from coswim.report import data
from coswim.report.screening_report import BOARD, FULL, POST, SHARED, compose, post
from coswim.report.writers import write
from coswim.screening import Screening, screen
from coswim.simulation.scene import Effort

GOLDEN = Path(__file__).parent / "golden"
EXAMPLES = sorted((Path(__file__).parents[2] / "examples").glob("*.yaml"))
DAY = date(2026, 1, 1)
FORMS = {
    "terminal.txt": ("terminal", FULL),
    "plain.txt": ("plain", SHARED),
    "post.bbcode": ("bbcode", POST),
    "md": ("markdown", SHARED),
    "html": ("html", SHARED),
}


@pytest.fixture(scope="module", params=EXAMPLES, ids=lambda path: path.stem)
def screened_example(
    request: pytest.FixtureRequest, screening_of: Callable[[Path], Screening]
) -> tuple[str, Screening]:
    path: Path = request.param
    return path.stem, screening_of(path)


def written(screening: Screening, catalog: Catalog, ending: str) -> str:
    if ending == "json":
        return data.write(screening)
    name, form = FORMS[ending]
    if form is POST:
        return post(screening, catalog, today=DAY, write=lambda document: write(document, name))
    return write(compose(screening, catalog, today=DAY, form=form), name)


@pytest.mark.parametrize("ending", [*FORMS, "json"])
def test_the_report_is_the_reviewed_one(screened_example: tuple[str, Screening], catalog: Catalog, ending: str) -> None:
    name, screening = screened_example
    golden = GOLDEN / f"{name}.{ending}"
    text = written(screening, catalog, ending)
    if os.environ.get("COSWIM_UPDATE_GOLDEN"):
        golden.parent.mkdir(exist_ok=True)
        golden.write_text(text, encoding="utf-8")
    assert differing(text, golden.read_text(encoding="utf-8")) == []


def test_a_post_fits_a_board(screened_example: tuple[str, Screening], catalog: Catalog) -> None:
    """common practice, no source: many boards end a post at 10,000 characters."""
    words = written(screened_example[1], catalog, "post.bbcode")
    assert len(words) <= BOARD


@pytest.fixture(scope="module")
def screened_post(catalog: Catalog) -> Callable[[str], dict[str, Any]]:
    """What a plan out of a post comes to, as data; the same text once, since most forms carry it letter by letter."""

    def run(text: str) -> dict[str, Any]:
        again = read_plan(text, "a post", catalog)
        again = again._replace(plan=again.plan.model_copy(update={"earlier": ()}))
        return data.as_data(screen(again, catalog, remedies=False))

    return cache(run)


@pytest.mark.parametrize("ending", [ending for ending, (_, form) in FORMS.items() if form.plan])
def test_a_posted_plan_gives_the_same_screening(
    screened_example: tuple[str, Screening],
    screened_post: Callable[[str], dict[str, Any]],
    catalog: Catalog,
    ending: str,
) -> None:
    _, screening = screened_example
    text = find_plan(written(screening, catalog, ending), "a post").strip("\n")
    assert screened_post(text)["proposals"] == [
        {**proposal, "remedies_searched": False, "best_change": None,
         "findings": [{**finding, "remedies": []} for finding in proposal["findings"]]}
        for proposal in data.as_data(screening)["proposals"]
    ]  # fmt: skip


def test_a_post_of_many_proposals_says_less_of_each(catalog: Catalog) -> None:
    fish = (
        "tinfoil barb",
        "Congo tetra",
        "oscar",
        "clown loach",
        "sailfin pleco",
        "freshwater angelfish",
        "bala shark",
        "tiger barb",
        "silver dollar",
        "convict cichlid",
    )
    plan = "tank: {size: 150 x 60 x 60 cm, temperature: 26 C, ph: 7, hardness: 6}\n"
    plan += "residents: [{species: saddled bichir, length: 38 cm}]\nproposals:\n"
    plan += "".join(f"  - {{name: {name}, add: [{{species: {name}, count: 5, length: 8 cm}}]}}\n" for name in fish)
    screening = screen(read_plan(plan, "plan.yaml", catalog), catalog, Effort(draws=100), remedies=False)
    full = write(compose(screening, catalog, today=DAY, form=POST), "bbcode")
    words = written(screening, catalog, "post.bbcode")
    assert len(full) > BOARD >= len(words)
    assert all(name in words for name in fish)
    again = read_plan(find_plan(words, "a post"), "a post", catalog).plan
    assert again.model_copy(update={"earlier": ()}) == screening.read.plan
