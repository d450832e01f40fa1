"""Too much work is refused before it starts, with the limits named; what is asked of coswim every day never is."""

from __future__ import annotations

from pathlib import Path

import pytest

from coswim.cli.main import main
from coswim.effort import LIMITS, estimate, processes_that_fit, refuse_what_would_not_fit
from coswim.plans.reading import ReadPlan, read_plan
from coswim.profiles.catalog import Catalog
from coswim.report.data import write
from coswim.screening import screen
from coswim.simulation import shelf
from coswim.simulation.scene import DRAWS, Effort
from coswim.text.problems import InputProblems

TANK = "tank: {size: 120 x 50 x 50 cm, temperature: 25 C, ph: 7.0, hardness: 6 dGH}\n"
FISH = "{species: neon tetra, count: 8, length: 3 cm}"


def plan(catalog: Catalog, residents: int, newcomers: int = 1, proposals: int = 1, months: int = 24) -> ReadPlan:
    def named(number: int) -> str:
        return f"{{name: p{number}, add: [{', '.join([FISH] * newcomers)}]}}"

    text = f"{TANK}residents: [{', '.join([FISH] * residents)}]\nhorizon: {months}\n"
    text += f"proposals: [{', '.join(map(named, range(proposals)))}]\n"
    return read_plan(text, "tank.yaml", catalog)


@pytest.mark.parametrize(
    ("residents", "newcomers", "proposals", "remedies"),
    [(1, 1, 1, True), (6, 3, 10, True), (10, 2, 3, True), (59, 1, 1, False), (5, 1, 100, True)],
)
def test_ordinary_plans_and_the_largest_one_fit(
    catalog: Catalog, residents: int, newcomers: int, proposals: int, remedies: bool
) -> None:
    read = plan(catalog, residents, newcomers, proposals)
    assert estimate(read, Effort(DRAWS), remedies=remedies).fits


def test_more_of_anything_is_never_less_work(catalog: Catalog) -> None:
    least = estimate(plan(catalog, 2), Effort(100), remedies=False)
    more = (
        estimate(plan(catalog, 3), Effort(100), remedies=False),
        estimate(plan(catalog, 2, newcomers=2), Effort(100), remedies=False),
        estimate(plan(catalog, 2, proposals=2), Effort(100), remedies=False),
        estimate(plan(catalog, 2, months=25), Effort(100), remedies=False),
        estimate(plan(catalog, 2), Effort(100, months=25), remedies=False),
        estimate(plan(catalog, 2), Effort(101), remedies=False),
        estimate(plan(catalog, 2), Effort(100), remedies=True),
    )
    assert all(one.seconds > least.seconds and one.memory >= least.memory for one in more)


def test_what_would_not_fit_is_refused_with_the_limits_named(catalog: Catalog) -> None:
    read = plan(catalog, 30, 30)
    with pytest.raises(InputProblems) as refusal:
        screen(read, catalog, Effort(100_000, months=240))
    said = str(refusal.value)
    assert said.startswith("tank.yaml: would take about ")
    assert f"the limits are {LIMITS}; ask for fewer draws, months, proposals or groups" in said
    assert str(LIMITS) == "10 minutes and 4 GB of memory"
    assert "--no-remedies" in said
    with pytest.raises(InputProblems) as refusal:
        refuse_what_would_not_fit(read, Effort(100_000, months=240), remedies=False)
    assert "--no-remedies" not in str(refusal.value)


@pytest.mark.parametrize(("draws", "proposals", "processes"), [(100, 3, 2), (100, 1, 1), (100_000, 3, 1)])
def test_as_many_processes_share_the_work_as_there_are_proposals_and_memory_for(
    catalog: Catalog, draws: int, proposals: int, processes: int
) -> None:
    read = plan(catalog, 6, proposals=proposals)
    assert processes_that_fit(read, Effort(draws), processes=2) == processes


@pytest.mark.parametrize(
    ("residents", "newcomers", "proposals", "message"),
    [
        (61, 1, 1, "tank.yaml:2:12: residents: has too many items: 61, allowed: 60"),
        (1, 61, 1, "tank.yaml:4:29: proposals[0].add: has too many items: 61, allowed: 60"),
        (1, 1, 101, "tank.yaml:4:12: proposals: has too many items: 101, allowed: 100"),
        (40, 30, 1, "tank.yaml:4:29: proposals[0].add: makes 70 groups with the residents; allowed: 60"),
    ],
)
def test_groups_and_proposals_are_limited(
    catalog: Catalog, residents: int, newcomers: int, proposals: int, message: str
) -> None:
    with pytest.raises(InputProblems) as refusal:
        plan(catalog, residents, newcomers, proposals)
    assert str(refusal.value) == message


def test_the_command_refuses_at_once(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = tmp_path / "tank.yaml"
    path.write_text(
        f"{TANK}residents: [{', '.join([FISH] * 59)}]\nproposals: [{{name: p, add: [{FISH}]}}]\n", encoding="utf-8"
    )
    assert main(["screen", str(path), "--draws", "100000"]) == 1
    out, err = capsys.readouterr()
    assert (out, len(err.splitlines())) == ("", 1)
    assert "would take about" in err


def test_what_was_not_used_for_the_longest_is_let_go(catalog: Catalog, monkeypatch: pytest.MonkeyPatch) -> None:
    """Where there is no room only the course that is asked keeps its arrays; what is found is the same."""
    two = f"[{{name: tetras, add: [{FISH}]}}, {{name: cory, add: [{{species: bronze corydoras, count: 6, length: 3 cm}}]}}]"
    read = read_plan(f"{TANK}residents: [{{species: oscar, length: 20 cm}}]\nproposals: {two}\n", "tank.yaml", catalog)
    plenty = write(screen(read, catalog, Effort(50)))
    monkeypatch.setattr(shelf, "ROOM", 0)
    screening = screen(read, catalog, Effort(50))
    assert write(screening) == plenty
    groups = {finding.found.target for finding in screening.proposals[0].findings}
    newcomers = [group for group in groups if not group.is_resident]
    assert newcomers
    assert not [value for group in newcomers for value in vars(group).values() if getattr(value, "ndim", 0) == 2]
    assert all(group.total_length.shape == (50, 25) for group in newcomers)
