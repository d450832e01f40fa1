"""From draws to risk: one finding, and all findings of a proposal together."""

from __future__ import annotations

import itertools
from collections.abc import Callable

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from coswim.arrays import Flags
from coswim.findings.finding import Consequence, Found, Outcome
from coswim.profiles.catalog import Catalog
from coswim.simulation.group import Group
from coswim.simulation.scene import Scene
from coswim.verdict.rating import Finding, Unrated, overall, rate, unions, verdict, worst
from coswim.verdict.risk import Level

DRAWS = 1000
PLAN = """
    tank: {size: 100 x 40 x 50 cm, temperature: 25 C, ph: 7, hardness: 8 dGH}
    residents: [{species: neon tetra, count: 10, length: 3 cm}]
"""


@pytest.fixture(scope="module")
def fish(simulated: Callable[..., Scene]) -> Group:
    """Some fish to have findings about."""
    return simulated(PLAN, draws=10).groups[0]


def happens(times: int) -> Flags:
    """True in the first so many draws of a thousand."""
    return np.arange(DRAWS) < times


def found(fish: Group, *outcomes: Outcome, topic: str = "", missing: str = "") -> Found:
    return Found("a-hazard", None, fish, "It happens.", outcomes, topic=topic, missing=missing)


def rated(catalog: Catalog, *all_found: Found) -> list[Finding]:
    return [finding for one in all_found if isinstance(finding := rate(one, catalog), Finding)]


@pytest.mark.parametrize(
    ("times", "consequence", "risk", "level"),
    [
        # published: MIL-STD-882D (2000) Tables A-III and A-IV, shown as 21 - v; bands of coswim: 50, 20, 5, 1 %
        (500, Consequence.CATASTROPHIC, 20, Level.HIGH),
        (499, Consequence.CATASTROPHIC, 19, Level.HIGH),
        (50, Consequence.CRITICAL, 15, Level.SERIOUS),
        (49, Consequence.CRITICAL, 11, Level.MEDIUM),
        (9, Consequence.CATASTROPHIC, 9, Level.MEDIUM),
        (1000, Consequence.MARGINAL, 14, Level.SERIOUS),
        (1, Consequence.NEGLIGIBLE, 1, Level.LOW),
    ],
)
def test_a_finding_is_rated_by_its_share_of_draws_and_consequence(
    catalog: Catalog, fish: Group, times: int, consequence: Consequence, risk: int, level: Level
) -> None:
    finding = rate(found(fish, Outcome(consequence, happens(times))), catalog)
    assert isinstance(finding, Finding)
    assert (finding.likelihood, finding.risk, finding.level) == (times / DRAWS, risk, level)


def test_the_worst_outcome_of_a_finding_decides(catalog: Catalog, fish: Group) -> None:
    deadly, stress = Outcome(Consequence.CATASTROPHIC, happens(20)), Outcome(Consequence.MARGINAL, happens(900))
    finding = rate(found(fish, deadly, stress), catalog)
    assert isinstance(finding, Finding)
    # published, as above: remote and catastrophic 13, frequent and marginal 14
    assert (finding.consequence, finding.risk) == (Consequence.MARGINAL, 14)


def test_what_happens_in_no_draw_is_no_finding(catalog: Catalog, fish: Group) -> None:
    assert rate(found(fish, Outcome(Consequence.CATASTROPHIC, happens(0))), catalog) is None


def test_what_cannot_be_rated_has_no_risk(catalog: Catalog, fish: Group) -> None:
    happening = Outcome(Consequence.CATASTROPHIC, happens(DRAWS))
    assert isinstance(rate(found(fish, happening, missing="a trait is missing"), catalog), Unrated)


def test_near_a_bands_edge_both_levels_are_shown(catalog: Catalog, fish: Group) -> None:
    finding = rate(found(fish, Outcome(Consequence.CRITICAL, happens(48))), catalog)
    assert isinstance(finding, Finding)
    assert finding.levels == (Level.MEDIUM, Level.SERIOUS)


def test_ten_independent_hazards_of_one_percent_add_up(catalog: Catalog, fish: Group) -> None:
    """Ten events over every combination of draws: 1 - 0.99^10.

    derived and published: union 0.09562, arithmetic; a risk never averages away.
    """
    generator = np.random.default_rng(1)
    draws = 400_000
    many = [
        found(fish, Outcome(Consequence.CRITICAL, generator.random(draws) < 0.01), topic=str(number))
        for number in range(10)
    ]
    findings = rated(catalog, *many)
    together = overall(findings)
    assert together is not None
    assert together.likelihood == pytest.approx(0.09562, abs=0.0015)  # three standard errors
    # published: remote and critical is 11, medium; occasional and critical is 15, serious
    assert {finding.risk for finding in findings} <= {10 + 1, 6}
    assert (together.risk, together.level) == (15, Level.SERIOUS)


def test_what_happens_in_the_same_draws_is_counted_once(catalog: Catalog, fish: Group) -> None:
    same = [found(fish, Outcome(Consequence.CRITICAL, happens(40)), topic=str(number)) for number in range(5)]
    together = overall(rated(catalog, *same))
    assert together is not None
    assert together.likelihood == 0.04


def test_nothing_found_has_no_risk() -> None:
    assert overall([]) is None


EVENTS = st.lists(
    st.tuples(st.sampled_from(list(Consequence)), st.integers(1, 50), st.integers(0, 99)), min_size=1, max_size=6
)


def events(fish: Group, drawn: list[tuple[Consequence, int, int]]) -> list[Found]:
    """Findings that each happen in some draws of a hundred, from a starting one on."""
    return [
        found(fish, Outcome(consequence, (np.arange(100) - start) % 100 < times), topic=str(number))
        for number, (consequence, times, start) in enumerate(drawn)
    ]


@settings(deadline=None, max_examples=60)
@given(drawn=EVENTS)
def test_the_whole_is_never_below_its_worst_finding(
    catalog: Catalog, fish: Group, drawn: list[tuple[Consequence, int, int]]
) -> None:
    findings = rated(catalog, *events(fish, drawn))
    together = overall(findings)
    assert together is not None
    assert together.risk >= max(finding.risk for finding in findings)


@settings(deadline=None, max_examples=60)
@given(drawn=EVENTS)
def test_one_more_finding_never_lowers_the_whole(
    catalog: Catalog, fish: Group, drawn: list[tuple[Consequence, int, int]]
) -> None:
    findings = rated(catalog, *events(fish, drawn))
    risks = [together.risk if (together := overall(findings[:count])) else 0 for count in range(len(findings) + 1)]
    assert all(fewer <= more for fewer, more in itertools.pairwise(risks))


@settings(deadline=None, max_examples=60)
@given(drawn=EVENTS, seed=st.integers(0, 100))
def test_the_order_of_findings_changes_nothing(
    catalog: Catalog, fish: Group, drawn: list[tuple[Consequence, int, int]], seed: int
) -> None:
    findings = rated(catalog, *events(fish, drawn))
    shuffled = [findings[index] for index in np.random.default_rng(seed).permutation(len(findings))]
    assert overall(findings) == overall(shuffled)
    assert set(unions(findings)) == set(unions(shuffled))


@pytest.mark.parametrize(
    ("share", "decisions"),
    [
        (0.0, {"reasonable"}),
        (0.001, {"reasonable", "possible, with care"}),
        (0.012, {"reasonable", "possible, with care"}),
        (0.013, {"possible, with care"}),
    ],
)
def test_a_verdict_never_turns_on_a_future_or_two_without_saying_so(share: float, decisions: set[str]) -> None:
    """Derived: 2.5 standard errors from 5 in 1,000 are (√5 ± 1.25)², so that 1 to 12 lie on that edge."""
    decided = verdict(worst({Consequence.MARGINAL: share}, 1000), ())
    assert {decided.words, *decided.close_to} == decisions


def test_every_level_between_the_limits_is_named() -> None:
    """Derived: of 3 in 1,000, (√3 ± 1.25)² is 0.2 to 8.9; of 4 it is 0.6 to 10.6, beyond the 10 of remote deaths."""
    assert verdict(worst({Consequence.CATASTROPHIC: 0.003}, 1000), ()).close_to == ("possible, with care",)
    close_to = verdict(worst({Consequence.CATASTROPHIC: 0.004}, 1000), ()).close_to
    assert close_to == ("possible, with care", "change the plan first")


def test_an_edge_to_what_cannot_be_judged_is_named(catalog: Catalog, fish: Group) -> None:
    """Half of what is rated would decide, the other half would leave it open."""
    unknown = rate(found(fish, missing="its mouth"), catalog)
    assert isinstance(unknown, Unrated)
    near = worst({Consequence.MARGINAL: 0.19}, 1000)
    assert verdict(near, [unknown]) == ("cannot be judged", ("change the plan first, as far as it can be rated",))
    assert verdict(worst({Consequence.MARGINAL: 0.006}, 1000), [unknown]) == ("cannot be judged", ())
