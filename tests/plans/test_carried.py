"""A post carries what the keeper's own profiles say otherwise, so that a stranger gets the same numbers."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date
from functools import cache
from pathlib import Path
from textwrap import dedent

import pytest

from coswim.plans.posted import find_plan
from coswim.plans.reading import read_plan
from coswim.profiles.catalog import BUILT_IN, Catalog
from coswim.report import data
from coswim.report.screening_report import SHARED, compose, post
from coswim.report.writers import FORMATS, write, write_post
from coswim.screening import Screening, screen
from coswim.simulation.scene import Effort
from coswim.text.problems import InputProblems

DAY = date(2026, 1, 1)
PLAN = dedent("""\
    tank: {size: 24 x 12 x 12 in, temperature: 77 F, ph: 7, hardness: 6 dGH}
    residents: [{species: betta, length: 2.2 in}]
    proposals: [{name: night fish, add: [{species: night betta, count: 2, length: 5 cm}]}]
    """)
FEW = Effort(draws=100)


@pytest.fixture(scope="module")
def own(tmp_path_factory: pytest.TempPathFactory) -> Catalog:
    """A keeper's library: an edited fighting fish with a private note and a source of its own, and a new species."""
    folder = tmp_path_factory.mktemp("own")
    text = next(BUILT_IN.glob("*/betta-splendens.yaml")).read_text(encoding="utf-8")
    edited = text.replace("mouth_gape: 0.06-0.082", "mouth_gape: 0.09-0.1").replace("jaw-rule", "my-ruler")
    edited = edited.replace("growth: 3-5\n", "").replace("  growth: common-practice\n", "")
    edited = edited.replace("notes:\n", "notes:\n  - The key is under the doormat.\n")
    (folder / "edited.yaml").write_text(edited, encoding="utf-8")
    new = text.replace("Betta splendens", "Betta novum").replace("[Siamese fighting fish,", "[night betta,")
    (folder / "new.yaml").write_text(new.replace(", betta, fighting fish]", "]"), encoding="utf-8")
    sources = "my-ruler: {kind: measured, citation: my own ruler}\n"
    (folder / "sources.yaml").write_text(sources, encoding="utf-8")
    return Catalog((BUILT_IN, folder))


@pytest.fixture(scope="module")
def mine(own: Catalog) -> Screening:
    return screen(read_plan(PLAN, "plan", own), own, FEW, remedies=False)


@pytest.fixture(scope="module")
def of_a_stranger(catalog: Catalog) -> Callable[[str], Screening]:
    """The same plan of a post once, since most forms carry it letter by letter."""
    return cache(lambda text: screen(read_plan(text, "a post", catalog), catalog, FEW, remedies=False))


@pytest.mark.parametrize("form", [*FORMATS, "post"])
def test_a_stranger_gets_the_same_numbers(
    form: str, own: Catalog, mine: Screening, of_a_stranger: Callable[[str], Screening]
) -> None:
    if form == "post":
        words = post(mine, own, today=DAY, write=lambda document: write_post(document, "bbcode"))
    else:
        words = write(compose(mine, own, today=DAY, form=SHARED), form)
    theirs = of_a_stranger(find_plan(words, "a post").strip("\n"))
    for told, again in zip(mine.proposals, theirs.proposals, strict=True):
        assert data._proposal(again) | {"was": None} == data._proposal(told)
    assert "doormat" not in words
    assert "my own ruler" not in find_plan(words, "a post")


def test_only_what_differs_is_carried(own: Catalog) -> None:
    carried = {one.scientific_name: one.blocks for one in read_plan(PLAN, "plan", own).own}
    assert carried["Betta splendens"] == {
        "scientific_name": "Betta splendens",
        "mouth_gape": "0.09-0.1",
        "sources": {"mouth_gape": "measured"},
        "unknown": ["growth"],
    }
    assert "notes" not in carried["Betta novum"]


def test_nothing_is_carried_of_the_built_in_library(catalog: Catalog) -> None:
    plan = PLAN.replace("night betta", "neon tetra").replace("5 cm", "3 cm")
    assert read_plan(plan, "plan", catalog).own == ()


def test_a_carried_profile_that_is_wrong_says_where(catalog: Catalog) -> None:
    plan = PLAN.replace("night betta", "neon tetra").replace("5 cm", "3 cm")
    plan += "profiles:\n  - scientific_name: Betta splendens\n    mouth_gape: 900\n"
    with pytest.raises(InputProblems) as caught:
        read_plan(plan, "plan", catalog)
    assert str(caught.value).startswith("plan:6:17: profiles[0].mouth_gape: '900' is outside 0.005 to 1.5")


def test_what_changed_is_said(catalog: Catalog) -> None:
    plan = dedent("""\
        tank: {size: 60 x 30 x 30 cm, temperature: 25 C, ph: 7, hardness: 6}
        residents: [{species: betta, length: 6 cm}]
        proposals:
          - {name: tetras, add: [{species: ember tetra, count: 10, length: 2 cm}]}
          - {name: other, add: [{species: ember tetra, count: 8, length: 2 cm}]}
        earlier: [{name: renamed, risk: 20}, {name: other, risk: 1}]
        """)
    screening = screen(read_plan(plan, "plan", catalog), catalog, FEW, remedies=False)
    assert [one.was for one in screening.proposals] == [20, 1]
    assert ", was 20)" in write(compose(screening, catalog, today=DAY), "plain")


def test_a_path_of_the_stranger_is_not_in_it(own: Catalog, mine: Screening) -> None:
    for folder in own.folders:
        assert str(Path(folder)) not in write(compose(mine, own, today=DAY, form=SHARED), "plain")
