"""What holds for whole screenings: same seed, any order, proposals apart, residents' own troubles apart."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date
from functools import partial
from itertools import pairwise
from pathlib import Path
from textwrap import dedent

import pytest

from coswim.findings.finding import Consequence
from coswim.plans.reading import read_plan
from coswim.profiles.catalog import BUILT_IN, Catalog
from coswim.report import data, screening_report
from coswim.report.writers import html
from coswim.screening import Screened, Screening, screen
from coswim.second_process import CAN_PART
from coswim.simulation.scene import Effort

Screen = Callable[..., Screening]
DRAWS = 150
EXAMPLES = sorted((Path(__file__).parents[1] / "examples").glob("*.yaml"))
TANK = "tank: {size: 180 x 60 x 60 cm, temperature: 26 C, ph: 7, hardness: 6 dGH}\n"
BICHIR, GOURAMIS = "{species: saddled bichir, length: 38 cm}", "{species: pearl gourami, count: 4, length: 9 cm}"
BARBS, TETRAS = "{species: tinfoil barb, count: 8, length: 10 cm}", "{species: Congo tetra, count: 12, length: 5 cm}"
PLECO = "{species: sailfin pleco, count: 1, length: 12 cm}"


def plan(residents: list[str], proposals: dict[str, list[str]], tank: str = TANK) -> str:
    """A plan of groups as they stand in a file."""
    named = ", ".join(f"{{name: {name}, add: [{', '.join(groups)}]}}" for name, groups in proposals.items())
    return f"{tank}residents: [{', '.join(residents)}]\nproposals: [{named}]\n"


def outcome(proposal: Screened) -> tuple[object, ...]:
    """All that a reader sees of a proposal."""
    findings = [
        (f.found.hazard, f.found.sentence, f.likelihood, f.risk, f.found.because, f.found.figures, f.confidence)
        for f in (*proposal.findings, *proposal.standing)
    ]
    remedies = [
        (key, one.change, one.risk, one.finding_risk) for key, some in proposal.remedies.items() for one in some
    ]
    best = proposal.best_change.change if proposal.best_change else ""
    return (proposal.name, proposal.verdict, proposal.risk, proposal.sensitivity, best, findings, remedies)


def outcomes(screening: Screening) -> dict[str, tuple[object, ...]]:
    return {proposal.name: outcome(proposal) for proposal in (screening.as_it_stands, *screening.proposals)}


BOTH = plan([BICHIR, GOURAMIS], {"barbs": [BARBS], "tetras and pleco": [TETRAS, PLECO]})


@pytest.fixture(scope="module")
def plain(screened: Screen) -> Screening:
    return screened(BOTH, draws=DRAWS)


@pytest.fixture(scope="module")
def searched(screened: Screen) -> Screening:
    """The same with remedies."""
    return screened(BOTH, draws=DRAWS, remedies=True)


def test_the_same_seed_gives_the_same_result(searched: Screening, screened: Screen) -> None:
    assert outcomes(searched) == outcomes(screened(BOTH, draws=DRAWS, remedies=True))


def test_another_seed_gives_other_draws(plain: Screening, screened: Screen) -> None:
    assert outcomes(plain) != outcomes(screened(BOTH, draws=DRAWS, seed=4))


def test_the_order_of_entries_changes_nothing(plain: Screening, screened: Screen) -> None:
    turned = plan([GOURAMIS, BICHIR], {"tetras and pleco": [PLECO, TETRAS], "barbs": [BARBS]})
    assert outcomes(plain) == outcomes(screened(turned, draws=DRAWS))


@pytest.mark.skipif(not CAN_PART, reason="no process parts here")
@pytest.mark.parametrize("path", [EXAMPLES[0], EXAMPLES[-2]], ids=lambda path: path.stem)
def test_two_processes_say_what_one_says(path: Path, catalog: Catalog) -> None:
    """To the last word of a report in full, and of the data."""
    read = read_plan(path.read_text(encoding="utf-8"), path.name, catalog)
    one, two = (screen(read, catalog, Effort(50), processes=number) for number in (1, 2))
    assert len(one.proposals) > 1
    assert data.write(two) == data.write(one)
    compose = partial(screening_report.compose, catalog=catalog, today=date(2026, 1, 1), form=screening_report.SHARED)
    assert html.write(compose(two)) == html.write(compose(one))


def test_a_proposal_is_not_touched_by_the_others(searched: Screening, screened: Screen) -> None:
    together, one = outcomes(searched), plan([BICHIR, GOURAMIS], {"tetras and pleco": [TETRAS, PLECO]})
    alone = outcomes(screened(one, draws=DRAWS, remedies=True))
    assert together["tetras and pleco"] == alone["tetras and pleco"]
    assert together["the tank as it stands"] == alone["the tank as it stands"]


def test_the_search_for_remedies_changes_no_finding(plain: Screening, searched: Screening) -> None:
    for one, other in zip(plain.proposals, searched.proposals, strict=True):
        assert outcome(one) == outcome(other._replace(remedies={}, best_change=None))


COLD = TANK.replace("26 C", "19 C")


def test_a_screening_without_pictures_says_the_same(plain: Screening, catalog: Catalog) -> None:
    read = read_plan(BOTH, "plan.yaml", catalog)
    bare = screen(read, catalog, Effort(draws=DRAWS), remedies=False, pictures=False)
    assert outcomes(bare) == outcomes(plain)
    assert any(finding.pictures for one in plain.proposals for finding in one.findings)
    assert not any(finding.pictures for one in (bare.as_it_stands, *bare.proposals) for finding in one.findings)


def test_what_troubles_the_residents_anyway_does_not_count_against_a_proposal(screened: Screen) -> None:
    """The gouramis are too cold with and without the danios, which stand it and would share warmer water too."""
    danios = "{species: zebrafish, count: 8, length: 4 cm}"
    screening = screened(plan([GOURAMIS], {"danios": [danios]}, COLD))
    proposal = screening.proposals[0]
    too_cold = [f for f in proposal.standing if f.found.hazard == "water-overlap"]
    assert too_cold
    assert screening.as_it_stands.risk is not None
    assert too_cold[0].risk <= screening.as_it_stands.risk.risk
    assert not [f for f in proposal.findings if f.found.hazard == "water-overlap"]
    assert proposal.risk is None or proposal.risk.risk < too_cold[0].risk


def test_what_a_proposal_makes_worse_for_the_residents_counts_against_it(screened: Screen) -> None:
    """A tank that is roomy for four gouramis is crowded with sixty mollies, and that is the mollies' doing."""
    small = TANK.replace("180 x 60 x 60", "80 x 40 x 40")
    mollies = "{species: molly, count: 60, length: 6 cm}"
    screening = screened(plan([GOURAMIS], {"mollies": [mollies]}, small))
    proposal = screening.proposals[0]
    assert proposal.risk is not None
    before = screening.as_it_stands.risk.risk if screening.as_it_stands.risk else 0
    assert proposal.risk.risk > before
    keys = {finding.found.key: finding.risk for finding in screening.as_it_stands.findings}
    for finding in proposal.standing:
        assert finding.risk <= keys[finding.found.key]


@pytest.fixture(scope="module")
def gapless(tmp_path_factory: pytest.TempPathFactory) -> Catalog:
    """The library with an odd bichir whose mouth nobody measured, and without a relative that could lend its own."""
    folder: Path = tmp_path_factory.mktemp("profiles")
    known = (BUILT_IN / "polypteridae" / "polypterus-endlicherii.yaml").read_text(encoding="utf-8")
    odd = known.replace("Polypterus endlicher", "Mirus fictus endlicher").replace("[saddled", "[odd")
    odd = odd.replace("Polypteridae", "Mirabilidae")
    kept = [line for line in odd.splitlines() if not line.strip().startswith(("mouth_gape", "also_known_as"))]
    (folder / "mirus-fictus.yaml").write_text("\n".join(kept), encoding="utf-8")
    return Catalog((BUILT_IN, folder))


def test_what_cannot_be_rated_is_said_in_the_verdict(gapless: Catalog) -> None:
    odd = BICHIR.replace("saddled", "odd")
    read = read_plan(dedent(plan([odd], {"tetras": [TETRAS]})), "plan.yaml", gapless)
    proposal = screen(read, gapless, Effort(draws=100), remedies=False).proposals[0]
    assert "gape-fit" in {finding.found.hazard for finding in proposal.unrated}
    assert proposal.verdict.words == "cannot be judged"
    assert "what is missing decides most" in proposal.sensitivity.words


def test_a_fully_rated_proposal_says_no_such_thing(screened: Screen) -> None:
    proposal = screened(plan([BICHIR], {"tetras": [TETRAS]})).proposals[0]
    assert proposal.unrated == ()
    assert "rated" not in proposal.verdict


def test_findings_come_worst_first_and_decide(plain: Screening) -> None:
    for proposal in plain.proposals:
        risks = [finding.risk for finding in proposal.findings]
        assert risks == sorted(risks, reverse=True)
        assert proposal.risk is not None
        assert proposal.risk.risk >= risks[0]


def test_cautions_are_given_for_every_proposal(plain: Screening) -> None:
    assert all(proposal.cautions for proposal in plain.proposals)


def test_the_order_of_two_fish_of_one_size_with_different_pasts_changes_nothing(screened: Screen) -> None:
    oscars = [
        f"{{species: oscar, length: 20 cm{past}}}"
        for past in (
            ", lived_with: [{species: convict cichlid, count: 4, length: 9 cm, time: 3 months, outcome: it hurt them}]",
            "",
        )
    ]
    dollars = {"dollars": ["{species: silver dollar, count: 3, length: 12 cm}"]}
    assert outcomes(screened(plan(oscars, dollars))) == outcomes(screened(plan(oscars[::-1], dollars)))


def test_a_plan_that_proposes_nothing_screens_the_tank_as_it_stands(screened: Screen) -> None:
    """What stands is told as it is told beside a proposal."""
    alone = screened(f"{TANK}residents: [{BICHIR}, {GOURAMIS}]\n", draws=DRAWS, remedies=True)
    beside = screened(plan([BICHIR, GOURAMIS], {"tetras": [TETRAS]}), draws=DRAWS)
    assert alone.proposals == ()
    assert outcome(alone.as_it_stands)[:3] == outcome(beside.as_it_stands)[:3]
    assert alone.as_it_stands.findings
    assert alone.as_it_stands.cautions


@pytest.mark.parametrize("moves_in", ["last", "together", "first"])
def test_a_plan_without_residents_screens_what_is_proposed(screened: Screen, moves_in: str) -> None:
    """Nobody lives there, so the order of moving in changes nothing; what they do to each other counts."""
    text = (
        f"{TANK}proposals: [{{name: all, moves_in: {moves_in}, add: [{BICHIR}, {BARBS.replace('10 cm', '5 cm')}]}}]\n"
    )
    screening = screened(text, draws=DRAWS, remedies=moves_in == "last")
    (proposal,) = screening.proposals
    assert (screening.as_it_stands.findings, screening.as_it_stands.unrated) == ((), ())
    assert proposal.standing == ()
    swallowed = next(finding for finding in proposal.findings if finding.found.hazard == "gape-fit")
    assert (swallowed.found.blamed_label, swallowed.found.target_label) == ("the saddled bichir", "the 8 tinfoil barbs")
    assert swallowed.likelihood > 0.9
    assert bool(proposal.remedies_for(swallowed)) == (moves_in == "last")


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.stem)
def test_what_is_worse_is_part_of_what_is_milder(screened: Screen, path: Path) -> None:
    """A fish that dies was stressed too: so no change for the better can raise a risk."""
    screening = screened(path.read_text(encoding="utf-8"), draws=DRAWS)
    for finding in (f for proposal in screening.proposals for f in (*proposal.findings, *proposal.standing)):
        worst_first = sorted(finding.found.outcomes, key=lambda outcome: list(Consequence).index(outcome.consequence))
        for worse, milder in pairwise(worst_first):
            assert not (worse.happens & ~milder.happens).any(), finding.found.sentence


def test_a_newcomer_of_unknown_appetite_makes_the_hunger_of_residents_unknown(catalog: Catalog) -> None:
    """A bichir that takes no greens is hungry by itself; beside an unknown rival nobody can tell how hungry."""
    text = plan([BICHIR], {"pleco": [PLECO]}) + "feeding: {food: greens}\n"
    read = read_plan(dedent(text), "plan.yaml", catalog)
    name = next(iter(name for name in read.profiles if "pleco" in name))
    unknown = {**read.profiles, name: read.profiles[name].model_copy(update={"feeding_style": None})}
    screening = screen(read._replace(profiles=unknown), catalog, Effort(draws=100), remedies=False)
    assert "feeding-competition" in [one.found.hazard for one in screening.as_it_stands.findings]
    assert "feeding-competition" in [
        one.found.hazard for one in screening.proposals[0].unrated if one.found.target.is_resident
    ]
