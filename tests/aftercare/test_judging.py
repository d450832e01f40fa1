"""Rule by rule: what meets a rule, what just does not, and what clears it again. Common practice, no source."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date
from typing import Any

import pytest

from coswim.aftercare.diary import WaterTest
from coswim.aftercare.feeding_rules import fasts
from coswim.aftercare.stop_rule import Decision
from coswim.aftercare.stop_rules import stop_rules
from coswim.aftercare.water_rules import un_ionised
from coswim.biology import energy
from coswim.library.portrait import weight_at
from coswim.text.problems import InputProblems

CASES = {
    "one full meal ends a fast": (
        "carry on",
        """{date: 2026-01-06, group: bichir, ate: no}
           {date: 2026-01-15, group: bichir, ate: no}
           {date: 2026-01-16, group: bichir, ate: yes}""",
    ),
    "a large fish may refuse for nine days": (
        "carry on",
        "{date: 2026-01-06, group: bichir, ate: no}\n{date: 2026-01-14, group: bichir, ate: no}",
    ),
    "but not for ten": (
        "act",
        "{date: 2026-01-06, group: bichir, ate: no}\n{date: 2026-01-15, group: bichir, ate: no}",
    ),
    "nor at all for three weeks": (
        "separate now",
        "{date: 2026-01-06, group: bichir, ate: no}\n{date: 2026-01-27, group: bichir, ate: no}",
    ),
    "a tenth lighter": (
        "act",
        "{date: 2026-01-06, group: bichir, weight: 400 g}\n{date: 2026-02-06, group: bichir, weight: 360 g}",
    ),
    "less than a tenth while eating": (
        "carry on",
        "{date: 2026-01-06, group: bichir, weight: 400 g}\n{date: 2026-02-06, group: bichir, weight: 364 g, ate: yes}",
    ),
    "a fish that grew and kept its weight is lighter": (  # derived: (40/38)^3 = 1.166, 1 - 1/1.166 = 14 %
        "act",
        "{date: 2026-01-06, group: bichir, weight: 400 g, length: 38 cm}\n"
        "{date: 2026-04-06, group: bichir, weight: 400 g, length: 40 cm}",
    ),
    "a fifth lighter": (
        "separate now",
        "{date: 2026-01-06, group: bichir, weight: 400 g}\n{date: 2026-02-06, group: bichir, weight: 320 g, ate: no}",
    ),
    "grade 3 on a fin": ("separate now", "{date: 2026-01-06, group: silver dollar, damage: {grade: 3, place: tail}}"),
    "a wound that has closed": (
        "carry on",
        "{date: 2026-01-06, group: silver dollar, damage: {grade: 2, place: body}}\n"
        "{date: 2026-01-20, group: silver dollar, damage: {grade: 0, place: body}}",
    ),
    "another place looked at closes nothing": (
        "separate now",
        "{date: 2026-01-06, group: silver dollar, damage: {grade: 2, place: body}}\n"
        "{date: 2026-01-20, group: silver dollar, damage: {grade: 0, place: fins}}",
    ),
    "parted and mending": (
        "act",
        "{date: 2026-01-06, group: silver dollar, damage: {grade: 2, place: body}, chased: often}\n"
        "{date: 2026-01-06, note: divider put in}\n"
        "{date: 2026-01-20, group: silver dollar, damage: {grade: 1, place: body}, ate: yes}",
    ),
    "thinking of a divider parts nobody": (
        "separate now",
        "{date: 2026-01-06, group: silver dollar, damage: {grade: 2, place: body}}\n"
        "{date: 2026-01-07, note: should put in a divider}",
    ),
    "chased often for a week": (
        "separate now",
        """{date: 2026-01-06, group: silver dollar, chased: often, ate: yes}
           {date: 2026-01-09, group: silver dollar, chased: often, ate: yes}
           {date: 2026-01-12, group: silver dollar, chased: often, ate: yes}""",
    ),
    "un-ionised ammonia decides, and it is under the limit": (  # derived: pKa 9.216 at 26 C, 4.6 % at pH 7.9, 0.041 mg/L
        "carry on",
        "{date: 2026-01-06, water: {ammonia: 0.9 mg/L, ph: 7.9, temperature: 26 C}}",
    ),
    "and over it in warmer water": (  # derived: pKa 9.140, 5.4 %, of 0.95 mg/L 0.052
        "act",
        "{date: 2026-01-06, water: {ammonia: 0.95 mg/L, ph: 7.9, temperature: 28.5 C}}",
    ),
    "a clean test clears an older one": (
        "carry on",
        "{date: 2026-01-06, water: {ammonia: 2, nitrite: 1}}\n{date: 2026-01-09, water: {ammonia: 0, nitrite: 0}}",
    ),
    "a heater that fails": ("act", "{date: 2026-01-06, water: {temperature: 22 C}}"),
    "bad water puts nobody apart": ("act", "{date: 2026-01-06, water: {ammonia: 8, ph: 8.2, nitrite: 5}}"),
    "one counted too few beside a hunter that is full": (
        "separate now",
        "{date: 2026-01-06, group: bichir, note: \"round belly, counted five dollars of six\"}",
    ),
    "all counted again": (
        "carry on",
        '{date: 2026-01-06, note: "counted five dollars"}\n{date: 2026-01-07, note: "counted six dollars"}',
    ),
    "a dead fish": ("act", "{date: 2026-01-06, group: silver dollar, note: one dead this morning}"),
    "a dead fish that was hunted": (
        "separate now",
        "{date: 2026-01-06, group: silver dollar, chased: often}\n"
        "{date: 2026-01-08, group: silver dollar, note: one dead this morning}",
    ),
    "bichirs gulp air by nature": ("carry on", "{date: 2026-01-06, note: the bichir comes up to gulp air}"),
    "silver dollars do not": ("act", "{date: 2026-01-06, note: the dollars gulp for air}"),
    "nothing written": ("carry on", ""),
}  # fmt: skip


@pytest.mark.parametrize(("decision", "entries"), CASES.values(), ids=CASES.keys())
def test_a_judgement(decision: str, entries: str, bichir: Any) -> None:
    assert str(bichir.judge(entries).decision) == decision


@pytest.mark.parametrize(
    ("ph", "temperature", "part"),
    [(8.0, 24, 0.050), (8.4, 30, 0.168)],  # published: UF/IFAS FA-16, table after Emerson et al. 1975
)
def test_the_poisonous_part_of_the_ammonia(ph: float, temperature: float, part: float, bichir: Any) -> None:
    test = WaterTest(ammonia=2.0, ph=ph, temperature=temperature)
    assert un_ionised(test, bichir.company) == pytest.approx(2.0 * part, rel=0.01)


def test_what_a_test_does_not_state_is_the_plans(bichir: Any) -> None:
    assert un_ionised(WaterTest(ammonia=2.0), bichir.company) == un_ionised(
        WaterTest(ammonia=2.0, ph=7.0, temperature=26), bichir.company
    )


def test_the_observation_that_decided_is_named_with_its_line(bichir: Any) -> None:
    found = bichir.judge(
        "{date: 2026-01-06, group: bichir, ate: yes}\n"
        "{date: 2026-01-07, group: silver dollar, damage: {grade: 2, place: eye}}"
    )
    (ruling,) = found.decided
    assert ruling.met.words == "the 6 silver dollars: damage of grade 2 on eye"
    assert (ruling.met.noted.line, ruling.met.noted.date) == (2, date(2026, 1, 7))
    assert ruling.rule.do.startswith("Put the divider in")


def test_what_is_written_after_the_day_takes_no_part(bichir: Any) -> None:
    entries = "{date: 2026-01-06, group: bichir, ate: yes}\n{date: 2026-02-07, group: bichir, damage: {grade: 3, place: body}}"
    assert bichir.judge(entries, on=date(2026, 1, 10)).decision is Decision.CARRY_ON
    assert bichir.judge(entries, on=date(2026, 1, 20)).silent_days == 14
    assert bichir.judge(entries).decision is Decision.SEPARATE


def test_a_group_that_the_plan_lacks_is_a_problem_with_its_line(bichir: Any) -> None:
    with pytest.raises(InputProblems) as caught:
        bichir.judge("{date: 2026-01-06, note: x}\n{date: 2026-01-06, group: bichr, ate: yes}")
    assert str(caught.value) == (
        "d.yaml:2:1: group: 'bichr' is no group of this plan; allowed: saddled bichir, silver dollar"
    )


def test_two_groups_of_one_kind_are_told_apart(bought: Callable[..., Any]) -> None:
    theirs = bought("""
        tank: {size: 180 x 60 x 60 cm, temperature: 26 C}
        residents: [{species: silver dollar, count: 4, length: 14 cm}]
        proposals: [{name: more, add: [{species: silver dollar, count: 2, length: 8 cm}]}]
    """)
    with pytest.raises(InputProblems, match="'silver dollar' could be resident silver dollar or new silver dollar"):
        theirs.judge("{date: 2026-01-06, group: silver dollar, ate: no}")
    assert theirs.company.find("new silver dollar").number == 2


def test_the_worst_finding_decides_which_rules_come_first(bought: Callable[..., Any]) -> None:
    theirs = bought("""
        tank: {size: 150 x 60 x 60 cm, temperature: 26 C, ph: 6.8, hardness: 6 dGH}
        residents: [{species: pike cichlid, length: 22 cm}]
        proposals: [{name: tetras, add: [{species: neon tetra, count: 10, length: 2.5 cm}]}]
    """)
    first = stop_rules(theirs.company, theirs.concerns)[0]
    assert first.topic in ("eaten", "missing", "dead")
    assert "swallow" in first.because


def test_a_fast_is_as_long_as_its_cost_allows(bichir: Any) -> None:
    """Derived: a fish of 400 g at 26 C loses 0.04643 x 0.4^0.7882 x 26^1.837 / 5.79 g a day unfed."""
    fish = bichir.company.find("bichir")
    grams = weight_at(fish.profile, fish.length)
    daily = 0.04643 * (grams / 1000) ** 0.7882 * 26**1.837 / 5.79 / grams
    assert -energy.daily_change(grams, 26, coverage=0) == pytest.approx(daily)
    assert fasts(fish, 26) == (10, 21)  # derived: 0.05 / daily is above the ten days of a resident
    small = bichir.company.find("silver dollar")._replace(length=2.0)
    assert fasts(small, 26) == (4, 8)
    assert fasts(small, 0) == (10, 21)  # at the freezing point the equation knows no loss
