"""Who starves beside whom, through whole screenings."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from coswim.screening import Screened, Screening
from coswim.simulation.scene import Scene

Screen = Callable[..., Screening]

BICHIR = """
tank: {size: 180 x 60 x 60 cm, temperature: 26 C, ph: 7, hardness: 6 dGH}
residents: [{species: saddled bichir, length: 38 cm}]
proposals:
  - name: barbs
    add: [{species: tinfoil barb, count: 8, length: 10 cm}]
  - name: more barbs
    add: [{species: tinfoil barb, count: 16, length: 10 cm}]
  - name: snails' pace
    add: [{species: sailfin pleco, count: 1, length: 20 cm}]
"""


def likelihood(proposal: Screened, loser: str) -> float:
    return max(
        (
            f.likelihood or 0.0
            for f in proposal.findings
            if f.found.hazard == "feeding-competition" and f.found.target.name == loser
        ),
        default=0.0,
    )


def test_fast_barbs_starve_a_bichir_and_a_pleco_does_not(screened: Screen) -> None:
    """common practice, no source."""
    barbs, _, pleco = screened(BICHIR).proposals
    assert likelihood(barbs, "saddled bichir") > 0.5
    assert likelihood(pleco, "saddled bichir") < 0.2


def test_more_competitors_never_leave_more(screened: Screen) -> None:
    fewer, more, _ = screened(BICHIR).proposals
    assert likelihood(more, "saddled bichir") >= likelihood(fewer, "saddled bichir")


def test_the_report_says_how_much_food_would_have_to_go_in(screened: Screen) -> None:
    finding = next(f for f in screened(BICHIR).proposals[0].findings if f.found.hazard == "feeding-competition")
    figures = {figure.key: figure.value for figure in finding.found.figures}
    assert figures["required_food_g_per_day"] > figures["planned_food_g_per_day"]
    assert any("would have to go in" in reason for reason in finding.found.because)


def test_shares_sum_to_the_food_eaten(simulated: Callable[..., Scene]) -> None:
    """derived: what each group eats adds up to no more than was offered, and shares to one."""
    meals = simulated(BICHIR).meals
    assert meals.shares.sum(axis=-1) == pytest.approx(1.0)
    assert (meals.intake.sum(axis=-1) <= meals.planned * (1 + 1e-9)).all()


def test_floating_food_by_day_is_out_of_a_night_feeders_reach(screened: Screen) -> None:
    floating = BICHIR + "feeding: {food: floating pellet}\n"
    proposal = screened(floating).proposals[0]
    finding = next(f for f in proposal.standing if f.found.hazard == "feeding-competition")
    assert any(reason.startswith("No amount of floating pellet food") for reason in finding.found.because)


def test_bottom_feeders_alone_get_no_floating_food(simulated: Callable[..., Scene]) -> None:
    """Rounding once left less than nothing of it, and the race refused that."""
    two_bottom_feeders = """
    tank: {size: 180 x 60 x 60 cm, temperature: 26 C, ph: 7, hardness: 6 dGH}
    residents: [{species: saddled bichir, length: 38 cm}]
    proposals: [{name: p, add: [{species: sailfin pleco, count: 1, length: 15 cm}]}]
    """
    meals = simulated(two_bottom_feeders).meals
    assert (meals.intake > 0).all()


def test_hunger_that_was_there_before_is_not_blamed_on_a_newcomer(screened: Screen) -> None:
    """A night feeder at the bottom gets as little floating food without the tetra as with it."""
    screening = screened("""
    tank: {size: 180 x 60 x 60 cm, temperature: 26 C, ph: 7, hardness: 6 dGH}
    feeding: {food: floating pellet}
    residents: [{species: saddled bichir, length: 38 cm}]
    proposals: [{name: p, add: [{species: neon tetra, count: 1, length: 3 cm}]}]
    """)
    alone = [one.found.hazard for one in screening.as_it_stands.findings]
    assert "feeding-competition" in alone
    hungry = [one for one in screening.proposals[0].findings if one.found.hazard == "feeding-competition"]
    assert "saddled bichir" not in {one.found.target.name for one in hungry}
