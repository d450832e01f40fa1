"""Who starves beside whom, at what price it can be fed, and what the report tells of it."""

from __future__ import annotations

from collections.abc import Callable
from functools import cache
from typing import NamedTuple

import numpy as np
import pytest
from tests.simulation.conftest import entry

from coswim.findings.finding import Consequence
from coswim.hazards import feeding_competition
from coswim.hazards.feeding_competition import OFTEN
from coswim.profiles.catalog import Catalog
from coswim.screening import Screened, Screening
from coswim.simulation.scene import Scene
from coswim.verdict.rating import Finding, rate
from coswim.verdict.risk import HARMLESS

Screen = Callable[..., Screening]


class Pairing(NamedTuple):
    """A resident, what is added, and the tank."""

    resident: str
    newcomers: str
    size: str
    temperature: str = "26 C"

    @property
    def plan(self) -> str:
        """As the text of a plan."""
        return (
            f"tank: {{size: {self.size} cm, temperature: {self.temperature}, ph: 7, hardness: 6 dGH, "
            "water_change: {share: 40 %, every: 7 days}}\n"
            f"residents: [{entry(self.resident)}]\nproposals: [{{name: p, add: [{entry(self.newcomers)}]}}]\n"
        )


BICHIR = Pairing("1 saddled bichir, 38 cm", "8 tinfoil barb, 10 cm", "200 x 80 x 60")
TROUBLE = (  # common practice, no source: the pairing and who loses
    (BICHIR, "saddled bichir"),
    (Pairing("1 elephantnose fish, 18 cm", "12 giant danio, 8 cm", "150 x 60 x 60"), "elephantnose fish"),
    (Pairing("1 ocellate river stingray, 35 cm", "10 clown loach, 20 cm", "300 x 120 x 70"), "ocellate river stingray"),
    (Pairing("6 discus, 13 cm", "10 Boeseman's rainbowfish, 8 cm", "180 x 60 x 60", "28 C"), "blue discus"),
    (Pairing("1 silver arowana, 60 cm", "10 tinfoil barb, 18 cm", "300 x 100 x 80"), "silver arowana"),
    (Pairing("1 silver arowana, 60 cm, pace: slow", "10 tinfoil barb, 18 cm", "300 x 100 x 80"), "silver arowana"),
)
FINE = (  # common practice, no source
    Pairing("6 discus, 13 cm", "20 cardinal tetra, 3 cm", "180 x 60 x 60", "28 C"),
    Pairing("6 bronze corydoras, 5 cm", "15 neon tetra, 3 cm", "100 x 40 x 40", "24 C"),
    Pairing("8 bronze corydoras, 5 cm", "5 clown loach, 8 cm", "200 x 60 x 60"),
    Pairing("8 bronze corydoras, 5 cm", "8 kuhli loach, 7 cm", "100 x 40 x 40"),
)


@pytest.fixture(scope="module")
def hungry(simulated: Callable[..., Scene], catalog: Catalog) -> Callable[[Pairing], dict[str, Finding]]:
    """The findings on feeding by the fish that goes short."""

    @cache
    def run(pairing: Pairing) -> dict[str, Finding]:
        scene = simulated(pairing.plan, draws=400)
        rated = [rate(found, catalog) for found in feeding_competition.find(scene)]
        return {one.found.target.name: one for one in rated if isinstance(one, Finding)}

    return run


def names(pairing: Pairing) -> str:
    return f"{pairing.resident} + {pairing.newcomers}"


@pytest.mark.parametrize(("pairing", "loser"), TROUBLE, ids=[names(pairing) for pairing, _ in TROUBLE])
def test_what_keepers_know_as_feeding_trouble(
    hungry: Callable[[Pairing], dict[str, Finding]], pairing: Pairing, loser: str
) -> None:
    found = hungry(pairing)
    assert list(found) == [loser]
    assert found[loser].risk > HARMLESS


@pytest.mark.parametrize("pairing", FINE, ids=names)
def test_what_keepers_keep_without_trouble(hungry: Callable[[Pairing], dict[str, Finding]], pairing: Pairing) -> None:
    assert all(finding.risk <= HARMLESS for finding in hungry(pairing).values())


@pytest.mark.parametrize(("pairing", "loser"), TROUBLE, ids=[names(pairing) for pairing, _ in TROUBLE])
def test_the_sentence_speaks_of_what_its_share_counts(
    hungry: Callable[[Pairing], dict[str, Finding]], pairing: Pairing, loser: str
) -> None:
    """Where it starves often enough to decide, that is told, and else what it costs."""
    found = hungry(pairing)[loser].found
    starves = next(each.happens.mean() for each in found.outcomes if each.consequence is Consequence.CRITICAL)
    assert ("starve" in found.sentence) is bool(starves >= OFTEN)


def test_a_fire_eel_is_fed_at_a_price_beside_silver_dollars(hungry: Callable[[Pairing], dict[str, Finding]]) -> None:
    """Common practice, no source, for who loses; how bad it is, is left to the model."""
    found = hungry(Pairing("1 fire eel, 40 cm", "8 silver dollar, 11 cm", "240 x 80 x 70"))
    assert list(found) == ["fire eel"]
    assert "times the food" in found["fire eel"].found.sentence


def test_a_bichir_beside_grown_barbs_takes_two_to_three_times_the_food(simulated: Callable[..., Scene]) -> None:
    """Common practice: a multiple of the normal food, with the water changes that follow."""
    scene = simulated(BICHIR.plan, draws=400)
    course = scene.course
    assert 1.8 <= np.median(course.wanted[:, -1] / course.normal[:, -1]) <= 3
    reasons = next(feeding_competition.find(scene)).because
    assert any("holding 50 mg/L" in reason and "changes of" in reason for reason in reasons)


def test_a_hunter_that_feeds_slowly_fares_worse(hungry: Callable[[Pairing], dict[str, Finding]]) -> None:
    """A profile may be edited so far: it must count."""
    usual, slow = (hungry(pairing)["silver arowana"] for pairing, loser in TROUBLE if loser == "silver arowana")
    assert slow.risk > usual.risk


def test_the_report_tells_the_chain_in_its_order(hungry: Callable[[Pairing], dict[str, Finding]]) -> None:
    """Who wins, what the loser gets, what it would cost, what the water needs, when it is thin."""
    because = " ".join(hungry(BICHIR)["saddled bichir"].found.because)
    places = [
        because.index(words)
        for words in (
            "win the race",
            "of the food where",
            "times the normal food must go in",
            "nitrate would settle",
            "is thin",
        )
    ]
    assert places == sorted(places)


def test_the_figures_are_those_of_the_course(hungry: Callable[[Pairing], dict[str, Finding]]) -> None:
    figures = {figure.key: figure.value for figure in hungry(BICHIR)["saddled bichir"].found.figures}
    assert figures["share_of_food"] < figures["fair_share"]
    assert figures["until_full"] > 1.5
    assert "price" not in figures  # whatever is fed, it does not get enough
    assert figures["normal_food_g_per_day"] > 0
    assert 0 < figures["thin_from_month"] <= 24


BICHIR_PLAN = """
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
    """Common practice, no source."""
    barbs, more, pleco = screened(BICHIR_PLAN).proposals
    assert likelihood(barbs, "saddled bichir") > 0.5
    assert likelihood(more, "saddled bichir") >= likelihood(barbs, "saddled bichir")
    assert likelihood(pleco, "saddled bichir") < 0.2


def test_floating_food_by_day_is_out_of_a_night_feeders_reach(screened: Screen) -> None:
    proposal = screened(BICHIR_PLAN + "feeding: {food: floating pellet}\n").proposals[0]
    told = [f for f in (*proposal.findings, *proposal.standing) if f.found.hazard == "feeding-competition"]
    assert any(reason.startswith("No amount of floating pellet food") for f in told for reason in f.found.because)


def test_bottom_feeders_alone_get_no_floating_food(simulated: Callable[..., Scene]) -> None:
    """Rounding once left less than nothing of it, and the race refused that."""
    two = Pairing("1 saddled bichir, 38 cm", "1 sailfin pleco, 15 cm", "180 x 60 x 60")
    course = simulated(two.plan).course
    assert (course.intake[:, course.steady] > 0).all()


def test_hunger_that_was_there_before_is_not_blamed_on_a_newcomer(screened: Screen) -> None:
    """It is kept on half of what it needs, with the tetra and without."""
    screening = screened("""
    tank: {size: 180 x 60 x 60 cm, temperature: 26 C, ph: 7, hardness: 6 dGH}
    feeding: {food: frozen, amount: 0.3 g a day}
    residents: [{species: jaguar cichlid, length: 25 cm}]
    proposals: [{name: p, add: [{species: neon tetra, count: 1, length: 3 cm}]}]
    """)
    alone = [one.found.hazard for one in screening.as_it_stands.findings]
    assert "feeding-competition" in alone
    hungry = [one for one in screening.proposals[0].findings if one.found.hazard == "feeding-competition"]
    assert "jaguar cichlid" not in {one.found.target.name for one in hungry}


def test_the_pictures_show_weight_shares_price_and_nitrate(screened: Screen) -> None:
    proposal = screened(BICHIR_PLAN).proposals[0]
    finding = next(f for f in proposal.findings if f.found.hazard == "feeding-competition")
    titles = [getattr(picture, "title", "") for picture in finding.pictures]
    for words in ("weight of the saddled bichir", "who eats the food", "nitrate"):
        assert any(words in title for title in titles)
