"""What is asked about a plan before it is screened."""

from __future__ import annotations

import pytest

from coswim.plans.reading import read_plan
from coswim.plans.written import write_plan
from coswim.profiles.catalog import BUILT_IN, Catalog
from coswim.text.problems import InputProblems

PLAN = """\
tank:
  size: 60 x 30 x 30 cm
  temperature: 25 C
residents:
  - species: neon tetra
    count: 8
    length: 3 cm
"""


@pytest.mark.parametrize(
    ("wrong", "problem"),
    [
        (PLAN.replace("25 C", "77"), "3:16: tank.temperature: '77' has no unit; 77 F? Write it with its unit"),
        (PLAN.replace("60 x 30 x 30 cm", "24 x 12 x 12"), "2:9: tank.size: '24 x 12 x 12' has no unit: in cm it holds"),
        (PLAN.replace("30 cm", "30 in").replace("3 cm", "3"),
         "7:13: residents[0].length: '3' has no unit, and the tank is in inches; write 3 in or 3 cm"),
        (PLAN.replace("neon tetra\n    count: 8", "neon tetras"),
         "residents[0].count: is missing; how many neon tetras? (a number, e.g. 6)"),
        ("\n".join(line.strip() for line in PLAN.splitlines()) + "\n",
         "2:1: size: stands at the left edge; was the indentation lost when it was pasted?"),
    ],
    ids=["fahrenheit", "inches", "a bare length among inches", "a plural without a number", "no indentation"],
)  # fmt: skip
def test_what_may_be_meant_otherwise_is_asked_about(wrong: str, problem: str, catalog: Catalog) -> None:
    with pytest.raises(InputProblems) as caught:
        read_plan(wrong, "plan", catalog)
    assert problem in str(caught.value)
    assert len(caught.value.problems) == 1


def test_a_discus_is_no_plural(catalog: Catalog) -> None:
    assert read_plan(PLAN.replace("neon tetra\n    count: 8", "discus"), "plan", catalog).plan.residents[0].count == 1


def test_a_name_that_was_chosen_is_written_in_full() -> None:
    asking = Catalog((BUILT_IN,), ask=lambda _, candidates: candidates[0])
    read = read_plan(PLAN.replace("neon tetra", "angel"), "plan", asking)
    written = write_plan(read.plan)
    assert "angel\n" not in written
    assert read_plan(written, "again", Catalog((BUILT_IN,))).profiles.keys() <= read.profiles.keys()


@pytest.mark.parametrize("stated", ["24 x 12 x 12 in", "60 x 30 x 30 cm"])
def test_the_units_are_those_of_the_tank(stated: str, catalog: Catalog) -> None:
    read = read_plan(PLAN.replace("60 x 30 x 30 cm", stated), "plan", catalog)
    assert read.units.length == stated.split()[-1]
    assert f"size: {stated}" in write_plan(read.plan, units=read.units)
