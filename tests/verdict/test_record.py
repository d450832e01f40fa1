"""What a fish has done so far decides which of its futures are believed."""

from __future__ import annotations

from collections.abc import Callable
from functools import cache

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from hypothesis.extra.numpy import arrays

from coswim.plans.reading import read_plan
from coswim.profiles.catalog import Catalog
from coswim.screening import Screened, Screening
from coswim.simulation.scene import Effort, build_scene
from coswim.verdict.record import believe, picked

FINE = "{species: rosy barb, count: 6, length: 7 cm, time: 8 months, outcome: fine}"
ATE = "{species: rosy barb, count: 6, length: 7 cm, time: 2 months, outcome: it ate them}"


def plan(record: str) -> str:
    lived = f", lived_with: [{record}]" if record else ""
    return f"""
    tank: {{size: 180 x 60 x 60 cm, temperature: 26 C, ph: 7, hardness: 6 dGH}}
    residents: [{{species: saddled bichir, length: 38 cm{lived}}}]
    proposals: [{{name: p, add: [{{species: cherry barb, count: 8, length: 4 cm}}]}}]
    """


Eaten = Callable[[str], tuple[float, Screened]]


@pytest.fixture(scope="module")
def eaten(screened: Callable[..., Screening]) -> Eaten:
    """The share of futures in which the bichir eats the barbs, and the proposal; each record is screened once."""

    @cache
    def run(record: str) -> tuple[float, Screened]:
        proposal = screened(plan(record), draws=300).proposals[0]
        gape = [finding for finding in proposal.findings if finding.found.hazard == "gape-fit"]
        return (gape[0].likelihood if gape else 0.0), proposal

    return run


def test_a_longer_clean_record_lowers_what_it_speaks_for(eaten: Eaten) -> None:
    """The design: one spared group says a little, many say much."""
    shares = [eaten(", ".join([FINE] * times))[0] for times in (0, 1, 10)]
    assert shares == sorted(shares, reverse=True)
    assert shares[0] > 0.9
    assert shares[-1] < 0.2


def test_a_bad_entry_never_lowers_a_risk(eaten: Eaten) -> None:
    assert eaten(ATE)[0] >= eaten("")[0]
    assert eaten(f"{FINE}, {ATE}")[0] >= eaten(FINE)[0]


def test_the_report_says_in_a_sentence_what_the_record_changed(eaten: Eaten) -> None:
    share, proposal = eaten(FINE)
    plain, _ = eaten("")
    (said,) = proposal.record
    assert said.startswith(
        "By the record of the saddled bichir (8 months beside 6 rosy barbs of 7 cm: fine) this falls"
    )
    assert f"from {round(100 * plain)} to {round(100 * share)} of 100 futures" in said


def test_a_record_that_says_nothing_changes_nothing(eaten: Eaten) -> None:
    """A month beside fish that no mouth takes and that bother nobody."""
    record = "{species: common pleco, length: 35 cm, time: 1 month, outcome: fine}"
    share, proposal = eaten(record)
    assert share == pytest.approx(eaten("")[0], abs=0.01)
    assert proposal.record[-1].endswith("changes nothing here.")


def test_an_impossible_record_is_told_as_such(eaten: Eaten) -> None:
    record = "{species: neon tetra, count: 4, length: 3 cm, time: 1 month, outcome: they hurt it}"
    said = eaten(record)[1].record[0]
    assert said.startswith("No future agrees with this record of the saddled bichir (4 weeks beside 4 neon tetras")
    assert said.endswith("check it.")


def test_a_plan_that_proposes_nothing_tells_what_its_records_changed(screened: Callable[..., Screening]) -> None:
    """The tank as it stands is all that is asked about."""
    text = f"""
        tank: {{size: 180 x 60 x 60 cm, temperature: 26 C, ph: 7, hardness: 6 dGH}}
        residents:
          - {{species: saddled bichir, length: 38 cm, lived_with: [{FINE}]}}
          - {{species: cherry barb, count: 8, length: 4 cm}}
    """
    screening = screened(text, draws=200)
    assert screening.proposals == ()
    (said,) = screening.as_it_stands.record
    assert said.startswith(
        "By the record of the saddled bichir (8 months beside 6 rosy barbs of 7 cm: fine) this falls"
    )
    impossible = text.replace("time: 8 months, outcome: fine", "time: 1 month, outcome: they hurt it")
    assert screened(impossible, draws=200).as_it_stands.record[0].endswith("check it.")


def test_a_plan_without_residents_has_no_record(catalog: Catalog) -> None:
    text = "tank: {size: 60 x 30 x 30 cm, temperature: 25}\nproposals: [{add: [{species: guppy, count: 3}]}]\n"
    assert not believe(read_plan(text, "plan.yaml", catalog), catalog, Effort(draws=20)).belief


def test_only_the_individual_with_the_record_is_drawn_anew(catalog: Catalog) -> None:
    """Keyed numbers stay keyed: every other fish meets the futures that it met before."""
    effort = Effort(draws=200)
    read = read_plan(plan(FINE), "plan.yaml", catalog)
    belief = believe(read, catalog, effort).belief
    before = build_scene(read, read.plan.proposals[0], catalog, effort)
    after = build_scene(read, read.plan.proposals[0], catalog, effort._replace(belief=belief))
    assert list(belief) == ["resident|Polypterus endlicherii|1"]
    for one, other in zip(before.groups, after.groups, strict=True):
        same = np.array_equal(one.uniform("growth"), other.uniform("growth"))
        assert same is (one.key not in belief)


def test_nothing_is_weighed_where_there_is_no_record(catalog: Catalog) -> None:
    assert not believe(read_plan(plan(""), "plan.yaml", catalog), catalog, Effort(draws=50)).belief


@given(arrays(float, st.integers(1, 60), elements=st.floats(0.01, 1.0)))
def test_draws_are_picked_by_their_weight(weights: np.ndarray) -> None:
    """derived: each draw is picked as often as its part of the whole weight, give or take one."""
    times = np.bincount(picked(weights), minlength=len(weights))
    assert times.sum() == len(weights)
    assert (np.abs(times - len(weights) * weights / weights.sum()) <= 1 + 1e-9).all()


def test_equal_weights_pick_every_draw_once() -> None:
    assert picked(np.ones(7)).tolist() == list(range(7))
