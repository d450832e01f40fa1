"""A written plan is what the keeper stated, in the keeper's units, and reads back to the same plan."""

from __future__ import annotations

from textwrap import dedent

import hypothesis.strategies as st
import pytest
from hypothesis import given, settings

from coswim.plans.amount import AS_NEEDED, Amount
from coswim.plans.plan import (
    FILTERS,
    FOODS,
    FURNISHINGS,
    HOURS,
    MIXED,
    MOVES_IN,
    OUTCOMES,
    WATERS,
    Feeding,
    GroupEntry,
    LivedWith,
    Plan,
    Proposal,
    Tank,
    WaterChange,
)
from coswim.plans.this_fish import ThisFish
from coswim.plans.written import LONGEST, write_plan
from coswim.profiles import scales
from coswim.text import quantities as q
from coswim.text.document import read_document
from coswim.text.fields import LONGEST_TEXT
from coswim.text.quantities import Box, Range
from coswim.text.units import Units
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
  furnishing: hard roots and rocks
  current: strong
feeding:
  meals: 2 a day
  food: [frozen, sinking pellet]
  amount: 2 % of their weight a day
  at: dusk
  by_hand: [saddled bichir]
residents:
  - species: Polypterus endlicherii
    count: 1
    length: 38 cm
    this_fish: {mouth: 41 mm, level: [mid, bottom], pace: slow}
    lived_with:
      - species: ropefish
        count: 2
        length: 30 cm
        time: 8 months
        outcome: it chased them
      - {species: oscar, length: 9 cm, time: 3 weeks, outcome: fine}
proposals:
  - name: eight barbs and a pleco
    moves_in: together
    add:
      - {species: tinfoil barb, count: 8, length: 10 cm, males: 3}
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
        "temperature: 80 F",
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


def test_a_plan_in_fahrenheit_is_written_in_fahrenheit() -> None:
    plan = read("tank: {size: 60x30x30 cm, temperature: 79 F}\nresidents: [{species: betta, length: 5}]\n")
    assert "  temperature: 79 F\n" in write_plan(plan, units=Units(temperature="F"))


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


def some_of(words: tuple[str, ...]) -> st.SearchStrategy[tuple[str, ...]]:
    return st.lists(st.sampled_from(words), min_size=1, unique=True).map(tuple)


def perhaps(words: tuple[str, ...]) -> st.SearchStrategy[str | None]:
    return st.none() | st.sampled_from(words)


KNOWN_FISH = st.builds(
    ThisFish,
    mouth=st.none() | within(q.OPENING),
    depth=st.none() | within(q.OPENING),
    width=st.none() | within(q.OPENING),
    weight=st.none() | within(q.FISH_WEIGHT),
    adult_length=st.none() | spans(q.FISH_LENGTH),
    own_kind=perhaps(scales.TEMPERAMENT.words),
    other_fish=perhaps(scales.TEMPERAMENT.words),
    nips=perhaps(scales.NIPS.words),
    stamina=perhaps(scales.STAMINA.words),
    boldness=perhaps(scales.BOLDNESS.words),
    eats_fish=perhaps(scales.EATS_FISH.words),
    level=st.none() | some_of(scales.LEVEL.words),
    pace=perhaps(scales.PACE.words),
    active=perhaps(scales.ACTIVE.words),
    settling=perhaps(scales.SETTLING.words),
    features=st.none() | some_of(scales.FEATURES.words) | st.just(()),
)
RECORDS = st.builds(
    LivedWith,
    species=TEXTS,
    count=st.integers(1, 1000),
    length=within(q.FISH_LENGTH),
    time=within(q.STAY),
    outcome=st.sampled_from(OUTCOMES),
)
GROUPS = st.builds(
    GroupEntry,
    species=TEXTS,
    count=st.integers(1, 1000),
    length=st.none() | within(q.FISH_LENGTH),
    males=st.none() | st.integers(0, 1000),
    this_fish=st.none() | KNOWN_FISH,
    lived_with=st.lists(RECORDS, max_size=2).map(tuple),
)
AMOUNTS = (
    st.just(AS_NEEDED)
    | within(q.FOOD).map(lambda grams: Amount(grams=grams))
    | within(q.RATION).map(lambda part: Amount(part_of_weight=part))
)
FEEDINGS = st.builds(
    Feeding,
    meals=within(q.MEALS),
    food=st.just((MIXED,)) | some_of(tuple(food for food in FOODS if food != MIXED)),
    amount=AMOUNTS,
    places=st.integers(1, 20),
    at=st.sampled_from(HOURS),
    by_hand=st.lists(TEXTS, max_size=2).map(tuple),
)
TANKS = st.builds(
    Tank,
    size=BOXES,
    temperature=spans(q.TEMPERATURE),
    ph=st.none() | spans(q.PH),
    hardness=st.none() | spans(q.HARDNESS),
    salinity=st.sampled_from(WATERS),
    lid=st.booleans(),
    hiding_places=st.integers(0, 500),
    water_change=st.builds(
        WaterChange,
        share=within(q.SHARE),
        every=within(q.DURATION),
        drip=within(q.VOLUME_PER_DAY),
        nitrate_in=within(q.CONCENTRATION),
    ),
    filter=st.sampled_from(FILTERS),
    furnishing=st.sampled_from(FURNISHINGS),
    current=st.sampled_from(scales.CURRENT.words),
)
PROPOSALS = st.builds(Proposal, name=TEXTS, moves_in=st.sampled_from(MOVES_IN), add=st.tuples(GROUPS))
PLANS = st.builds(
    Plan,
    title=st.none() | TEXTS,
    tank=TANKS,
    feeding=FEEDINGS,
    residents=st.lists(GROUPS, max_size=2).map(tuple),
    proposals=st.lists(PROPOSALS, max_size=2).map(tuple),
    horizon=within(q.HORIZON),
)


@settings(deadline=None, max_examples=80)
@given(plan=PLANS)
def test_every_plan_reads_back_to_itself(plan: Plan) -> None:
    assert read(write_plan(plan)) == plan
