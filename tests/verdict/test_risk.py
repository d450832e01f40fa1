"""The risk table against the standard, and the union that keeps small risks from hiding."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from coswim.arrays import Flags
from coswim.findings.finding import Consequence, Found, Outcome
from coswim.plans.reading import resolve
from coswim.plans.shorthand import Shorthand
from coswim.profiles.catalog import Catalog
from coswim.simulation.draws import Draws
from coswim.simulation.scene import Effort, build_scene
from coswim.verdict.rating import Finding, overall, rate
from coswim.verdict.risk import BANDS, VERDICTS, Level, Likelihood, level_of, likelihood_of, likelihoods_near, risk_of

# published: MIL-STD-882D (2000) Table A-III, mishap risk assessment values; columns catastrophic to negligible
TABLE_A_III = {
    "frequent": (1, 3, 7, 13),
    "probable": (2, 5, 9, 16),
    "occasional": (4, 6, 11, 18),
    "remote": (8, 10, 14, 19),
    "improbable": (12, 15, 17, 20),
}
# published: MIL-STD-882D (2000) Table A-IV, values of each risk category
TABLE_A_IV = {"high": range(1, 6), "serious": range(6, 10), "medium": range(10, 18), "low": range(18, 21)}
# published: MIL-STD-882E (2012) Table III, rows A to E (cell 3E is medium; one circulating copy misprints it)
TABLE_III = {
    "frequent": ("high", "high", "serious", "medium"),
    "probable": ("high", "high", "serious", "medium"),
    "occasional": ("high", "serious", "medium", "low"),
    "remote": ("serious", "medium", "medium", "low"),
    "improbable": ("medium", "medium", "medium", "low"),
}
CELLS = [(band, column) for band in TABLE_A_III for column in range(4)]
COLUMNS = tuple(Consequence)


@pytest.mark.parametrize(("band", "column"), CELLS, ids=lambda value: str(value))
def test_every_cell_of_the_standard(band: str, column: int) -> None:
    """Shown the other way round, 21 - v (derived), so that 20 is worst."""
    assert risk_of(Likelihood(band), COLUMNS[column]) == 21 - TABLE_A_III[band][column]


@pytest.mark.parametrize(("level", "values"), TABLE_A_IV.items(), ids=TABLE_A_IV)
def test_the_four_groups(level: str, values: range) -> None:
    assert {str(level_of(21 - value)) for value in values} == {level}


@pytest.mark.parametrize(("band", "column"), CELLS, ids=lambda value: str(value))
def test_the_groups_equal_the_later_matrix(band: str, column: int) -> None:
    assert str(level_of(risk_of(Likelihood(band), COLUMNS[column]))) == TABLE_III[band][column]


def test_every_value_is_used_once() -> None:
    """Published: the twenty values of Table A-III are 1 to 20."""
    risks = [risk_of(Likelihood(band), COLUMNS[column]) for band, column in CELLS]
    assert sorted(risks) == list(range(1, 21))


@pytest.mark.parametrize("risk", [0, 21, -1])
def test_a_risk_outside_the_table_is_refused(risk: int) -> None:
    with pytest.raises(ValueError, match="outside 1 to 20"):
        level_of(risk)


@pytest.mark.parametrize(
    ("share", "band"),
    [  # derived: the bands as they are documented (judgement): 50, 20, 5 and 1 % belong to the upper band
        (1.0, "frequent"),
        (0.5, "frequent"),
        (0.4999, "probable"),
        (0.2, "probable"),
        (0.1999, "occasional"),
        (0.05, "occasional"),
        (0.0499, "remote"),
        (0.01, "remote"),
        (0.0099, "improbable"),
        (0.0, "improbable"),
    ],
)
def test_edges_of_the_bands(share: float, band: str) -> None:
    assert str(likelihood_of(share)) == band


@pytest.mark.parametrize("share", [-0.01, 1.01, float("nan")])
def test_a_share_outside_0_to_1_is_refused(share: float) -> None:
    with pytest.raises(ValueError, match="outside 0 to 1"):
        likelihood_of(share)


@pytest.mark.parametrize(
    ("share", "draws", "bands"),
    [  # derived: an edge of 0.5 is an angle of 0.7854, one of 0.01 of 0.1002; 2.5 standard errors of 1000 draws are 0.0395
        (0.4606, 1000, {"probable", "frequent"}),
        (0.4604, 1000, {"probable"}),
        (0.5394, 1000, {"frequent", "probable"}),
        (0.5396, 1000, {"frequent"}),
        (0.45, 1000, {"probable"}),
        (0.45, 400, {"probable", "frequent"}),  # 0.0625: fewer draws tell less
        (0.0036, 1000, {"improbable"}),
        (0.0038, 1000, {"improbable", "remote"}),
        (0.03, 1000, {"remote"}),
        (1.0, 1000, {"frequent"}),
        (0.0, 1000, {"improbable"}),
    ],
)
def test_near_an_edge_both_bands_are_shown(share: float, draws: int, bands: set[str]) -> None:
    near = likelihoods_near(share, draws)
    assert set(map(str, near)) == bands
    assert near[0] is likelihood_of(share)


def test_the_bands_go_down_and_every_level_has_a_verdict() -> None:
    assert list(BANDS) == list(Likelihood)
    assert sorted(BANDS.values(), reverse=True) == list(BANDS.values())
    assert set(VERDICTS) == set(Level)


Brings = Callable[..., Finding]


@pytest.fixture(scope="module")
def brings(catalog: Catalog) -> Brings:
    """A rated finding that brings a consequence in the given draws."""
    residents = ("6 neon tetra, 3 cm",)
    read = resolve(Shorthand("60x30x30 cm", "25 C", "7", "6", residents, ()).document(), catalog)
    fish = build_scene(read, None, catalog, Effort(draws=50)).groups[0]

    def build(happens: Flags, consequence: Consequence = Consequence.CATASTROPHIC) -> Finding:
        rated = rate(Found("test", None, fish, "", outcomes=(Outcome(consequence, happens),)), catalog)
        assert isinstance(rated, Finding)
        return rated

    return build


def test_ten_small_risks_do_not_hide_behind_each_other(brings: Brings) -> None:
    """Derived: 1 - 0.99^10 = 0.09562 of independent draws; each alone is remote, together occasional."""
    draws = Draws(seed=1, number=100_000)
    findings = [brings(draws.uniform(f"hazard {number}") < 0.01) for number in range(10)]
    assert {finding.likelihood for finding in findings} == {0.01}
    assert {str(finding.level) for finding in findings} == {"serious"}
    whole = overall(findings)
    assert whole is not None
    assert whole.likelihood == pytest.approx(1 - 0.99**10, abs=0.003)  # three standard errors
    assert whole.likelihood == pytest.approx(0.09562, abs=0.003)
    assert str(whole.level) == "high"


def test_the_same_draws_are_not_counted_twice(brings: Brings) -> None:
    happens = Draws(seed=1, number=1000).uniform("one hazard") < 0.01
    whole = overall([brings(happens), brings(happens)])
    assert whole is not None
    assert whole.likelihood == 0.01


def test_nothing_found_is_no_risk() -> None:
    assert overall([]) is None
