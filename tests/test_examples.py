"""The four invented examples tell the right story (common practice, no source)."""

from __future__ import annotations

from pathlib import Path

import pytest

from coswim.plans.reading import read_plan
from coswim.profiles.catalog import Catalog
from coswim.screening import Screened, Screening, screen
from coswim.verdict.rating import Finding

EXAMPLES = Path(__file__).parents[1] / "examples"
BAD, GOOD = {"do not stock", "change the plan first"}, {"possible, with care", "reasonable"}


@pytest.fixture(scope="module")
def screenings(catalog: Catalog) -> dict[str, Screening]:
    plans = {
        path.stem: read_plan(path.read_text(encoding="utf-8"), path.name, catalog) for path in EXAMPLES.glob("*.yaml")
    }
    return {name: screen(plan, catalog, remedies=False) for name, plan in plans.items()}


def proposal(screening: Screening, name: str) -> Screened:
    return next(each for each in screening.proposals if each.name == name)


def finding(screened: Screened, hazard: str, target: str) -> Finding:
    return next(f for f in screened.findings if f.found.hazard == hazard and f.found.target.name == target)


@pytest.mark.parametrize("path", sorted(EXAMPLES.glob("*.yaml")), ids=lambda path: path.stem)
def test_an_example_says_first_that_it_is_invented(path: Path) -> None:
    assert path.read_text(encoding="utf-8").startswith(
        "# Invented for coswim's documentation: no real tank, fish or person."
    )


@pytest.mark.parametrize(
    ("example", "name", "verdicts", "hazards"),
    [
        ("bichir", "eight tinfoil barbs", BAD, {"feeding-competition", "gape-fit"}),
        ("bichir", "twelve Congo tetras", BAD, {"gape-fit"}),
        ("goldfish", "four common goldfish", BAD, {"feeding-competition"}),
        ("goldfish", "tiger barbs", BAD, {"nipping"}),
        ("goldfish", "weather loaches", GOOD, set()),
        ("fighter", "kuhli loaches", GOOD, set()),
        ("fighter", "ember tetras", GOOD, set()),
        ("fighter", "a second fighting fish", BAD, {"aggression", "schooling"}),
        ("discus", "cardinal tetras", GOOD, set()),
        ("discus", "Sterba's corydoras", GOOD, set()),
        ("discus", "giant danios", BAD, {"water-overlap"}),
    ],
)
def test_the_verdicts(
    screenings: dict[str, Screening], example: str, name: str, verdicts: set[str], hazards: set[str]
) -> None:
    screened = proposal(screenings[example], name)
    assert screened.verdict.words in verdicts
    worst = {f.found.hazard for f in screened.findings[:3]}
    assert hazards <= worst


def test_the_barbs_win_the_feeding_race_and_the_food_is_named(screenings: dict[str, Screening]) -> None:
    lost = finding(proposal(screenings["bichir"], "eight tinfoil barbs"), "feeding-competition", "saddled bichir")
    assert any("times the normal food must go in" in reason for reason in lost.found.because)


def test_the_report_says_from_what_length_a_tetra_is_safe_or_that_none_is(screenings: dict[str, Screening]) -> None:
    eaten = finding(proposal(screenings["bichir"], "twelve Congo tetras"), "gape-fit", "Congo tetra")
    assert any("From about" in reason or "Even a full-grown" in reason for reason in eaten.found.because)
    barbs = finding(proposal(screenings["bichir"], "eight tinfoil barbs"), "gape-fit", "tinfoil barb")
    assert any(reason.startswith("From about") for reason in barbs.found.because)
