"""A written plan is what the keeper stated, in the keeper's units, and reads back to the same plan."""

from __future__ import annotations

from textwrap import dedent

import hypothesis.strategies as st
import pytest
from hypothesis import given, settings

from coswim.plans.plan import Feeding, GroupEntry, History, Plan, Proposal, Tank, WaterChange
from coswim.plans.written import LONGEST, write_plan
from coswim.text import quantities as q
from coswim.text.document import read_document
from coswim.text.fields import LONGEST_TEXT
from coswim.text.quantities import Box, Range
from coswim.text.validation import validate

FULL = """\
title: company for a bichir
tank:
  size: 180 x 60 x 60 cm
  temperature: 24-27 C
  ph: 7.2
  hardness: 6 dGH
  lid: no
  hiding_places: 3
  water_change: {share: 35 %, every: 1 day, drip: 2.5 L/day}
  filter: young
feeding: {meals: 2 a day, food: frozen, at: dusk}
residents:
  - species: Polypterus endlicherii
    count: 1
    length: 38 cm
    history: {tankmates_tried: 2, hurt_by_tankmates: 1}
proposals:
  - name: eight barbs and a pleco
    add:
      - {species: tinfoil barb, count: 8, length: 10 cm}
      - {species: sailfin pleco, length: 12.5 cm}
horizon: 1 month
"""


def read(text: str) -> Plan:
    return validate(read_document(text, "plan.yaml"), Plan)


def test_canonical_text_comes_back_letter_by_letter() -> None:
    assert write_plan(read(FULL)) == FULL


def test_what_was_not_stated_stays_out_so_that_the_same_is_taken_for_granted() -> None:
    plan = read("tank: {size: 60x30x30 cm, temperature: 25}\nresidents: [{species: betta, length: 5}]\n")
    written = write_plan(plan)
    assert "filter" not in written
    assert read(written).assumed() == plan.assumed()


@pytest.mark.parametrize(
    "stated",
    [
        "size: 72 x 18 x 24 in",
        "temperature: 79 F",
        "temperature: 75-80 F",
        "hardness: 140 ppm",
        "water_change: {share: 100 %}",
        "water_change: {share: 7 %}",
        "water_change: {drip: 2 gal/day}",
        "water_change: {drip: 0.0001 L/day}",
    ],
)
def test_a_number_keeps_the_unit_in_which_it_is_round(stated: str) -> None:
    rest = "".join(f"  {key}: {value}\n" for key, value in REST.items() if not stated.startswith(key))
    written = write_plan(read(f"tank:\n  {stated}\n{rest}residents: [{{species: betta, length: 2 in}}]\n"))
    assert f"  {stated}\n" in written
    assert "{species: betta, length: 2 in}" in written


REST = {"size": "60 x 30 x 30 cm", "temperature": "25 C"}


def test_nothing_private_is_written() -> None:
    plan = read(
        dedent("""\
        tank: {size: 60x30x30 cm, temperature: 25}
        residents: [{species: betta, length: 5, private: {value: 180 EUR, note: hand-raised}}]
        private: [my street, my phone]
        """)
    )
    written = write_plan(plan)
    for secret in ("private", "180", "hand-raised", "street", "phone"):
        assert secret not in written


@pytest.mark.parametrize(
    "name",
    [
        "[/code] [b]x[/b]",
        "<script>alert(1)</script> &amp;",
        "```\n~~~",
        '"quoted" and \\ slashed',
        "\x1b[31mred\x00\x07",
        "\N{RIGHT-TO-LEFT OVERRIDE}drow",
        "yes",
        "- item",
        "key: value # no comment",
        "{a: 1}, *alias, &anchor, !tag, %dir, @at, | > ? '",
        "金魚 和金",
        "x" * LONGEST_TEXT,
        "long " * 90,
        "\N{RIGHT-TO-LEFT OVERRIDE}" * LONGEST_TEXT,
    ],
)
def test_any_text_reads_back_and_holds_nothing_that_a_format_could_take_for_its_own(name: str) -> None:
    plan = plan_named(name)
    written = write_plan(plan)
    assert read(written) == plan
    names = written.partition("tank:")[0] + written.partition("residents:")[2]
    assert not set("[]<>&`~") & set(names)
    assert all(line.isprintable() and len(line) <= LONGEST + 1 for line in written.splitlines())


def test_half_a_surrogate_pair_cannot_be_written_and_is_replaced() -> None:
    assert '"a\N{REPLACEMENT CHARACTER}b"' in write_plan(plan_named("a\udcffb"))


def plan_named(name: str) -> Plan:
    tank = Tank(size=Box(60, 30, 30), temperature=Range(25, 25))
    group = GroupEntry(species=name, length=5.0)
    return Plan(title=name, tank=tank, residents=(group,), proposals=(Proposal(name=name, add=(group,)),))


def within(quantity: q.Quantity) -> st.SearchStrategy[float]:
    """Numbers that fit into the text of a quantity."""
    return st.floats(quantity.low, quantity.high).map(lambda number: round(number, 20))


def spans(quantity: q.Quantity) -> st.SearchStrategy[Range]:
    return st.tuples(within(quantity), within(quantity)).map(lambda ends: Range(min(ends), max(ends)))


SIDES = st.lists(within(q.TANK_SIDE), min_size=3, max_size=3)
BOXES = SIDES.map(lambda sides: Box(max(sides[:2]), min(sides[:2]), sides[2]))
TEXTS = st.text(min_size=1, max_size=120).map(lambda text: " ".join(text.split())).filter(bool)
GROUPS = st.builds(
    GroupEntry,
    species=TEXTS,
    count=st.integers(1, 1000),
    length=within(q.FISH_LENGTH),
    history=st.none() | st.builds(History, tankmates_tried=st.integers(0, 1000)),
)
TANKS = st.builds(
    Tank,
    size=BOXES,
    temperature=spans(q.TEMPERATURE),
    ph=st.none() | spans(q.PH),
    hardness=st.none() | spans(q.HARDNESS),
    lid=st.booleans(),
    water_change=st.builds(
        WaterChange,
        share=within(q.SHARE),
        every=within(q.DURATION),
        drip=within(q.VOLUME_PER_DAY),
        nitrate_in=within(q.CONCENTRATION),
    ),
)
PLANS = st.builds(
    Plan,
    title=st.none() | TEXTS,
    tank=TANKS,
    feeding=st.builds(Feeding, meals=within(q.MEALS), places=st.integers(1, 20)),
    residents=st.lists(GROUPS, min_size=1, max_size=2).map(tuple),
    proposals=st.lists(st.builds(Proposal, name=TEXTS, add=st.tuples(GROUPS)), max_size=2).map(tuple),
    horizon=within(q.HORIZON),
)


@settings(deadline=None, max_examples=80)
@given(plan=PLANS)
def test_every_plan_reads_back_to_itself(plan: Plan) -> None:
    assert read(write_plan(plan)) == plan
