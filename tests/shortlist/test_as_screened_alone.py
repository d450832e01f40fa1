"""The whole library: what the shortlist says of each species is what screening it by itself says.

What it keeps has the verdict and the risk of `screen` with the number and length named. What it excludes fails at the
usual length and at the longest: in a scene that shares nothing with the shortlist's, hazards are asked until they come
to a serious risk, which the others can only raise (`tests/verdict/test_rating.py` holds that law). Every tenth of
those is put to `screen` too, which knows nothing of an order in which hazards are asked.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from math import inf

import pytest

from coswim.hazards import BY_ID
from coswim.plans.plan import Proposal
from coswim.plans.reading import ReadPlan
from coswim.profiles.catalog import Catalog
from coswim.screening import Screened, screen
from coswim.shortlist.bench import with_profiles
from coswim.shortlist.judged import Excluded
from coswim.shortlist.making import Shortlist, shortlist
from coswim.shortlist.offer import offer
from coswim.shortlist.wish import Wish
from coswim.simulation.scene import Effort, build_scene
from coswim.verdict.assessment import Assessment
from coswim.verdict.rating import Finding, overall
from coswim.verdict.risk import BEARABLE

EFFORT = Effort(draws=50)
PLANS = {
    "a predator": """
        tank: {size: 180 x 60 x 60 cm, temperature: 26 C, ph: 7.0, hardness: 6 dGH}
        residents: [{species: saddled bichir, length: 38 cm}]
        horizon: 1 months
        """,
    "an open tank of small fish": """
        tank: {size: 100 x 40 x 50 cm, temperature: 25 C, ph: 7.8, hardness: 16 dGH, lid: no}
        residents: [{species: platy, count: 8, length: 5 cm}]
        horizon: 1 months
        """,
    "cool water that was not tested": """
        tank: {size: 150 x 50 x 50 cm, temperature: 19 C}
        residents: [{species: goldfish, count: 2, length: 14 cm}]
        horizon: 1 months
        """,
}
FIRST_DAY = "ignore:overflow encountered:RuntimeWarning"
"""A large predator that eats nothing on its first day divides by next to nothing."""


def screened_alone(found: Shortlist, proposals: list[Proposal], catalog: Catalog) -> dict[str, Screened]:
    """The screening of each of them by itself."""
    known = with_profiles(found.read, *(catalog.completed(entry) for entry in catalog.entries.values()))
    plan = known.plan.model_copy(update={"proposals": tuple(proposals)})
    screening = screen(known._replace(plan=plan), catalog, found.effort, remedies=False)
    return {screened.name: screened for screened in screening.proposals}


def kept(found: Shortlist) -> list[Proposal]:
    """Every species that is kept, as the shortlist would have it bought."""
    return [Proposal.model_construct(name=one.profiles[0].scientific_name, add=one.add) for one in found.entries]


def excluded(found: Shortlist, catalog: Catalog) -> Iterator[tuple[Excluded, Proposal, Proposal]]:
    """Every species that is excluded, at the usual length and at the longest."""
    for one in found.excluded:
        bought = offer(catalog.profile(one.scientific_name))
        yield one, bought.at(bought.lengths[0]), bought.at(bought.lengths[-1])


def fails(proposal: Proposal, first: str, found: Shortlist, alone: Assessment) -> tuple[bool, list[str]]:
    """Whether it comes to a serious risk, asked for one hazard before the others, and what was found until then."""
    (group,) = proposal.add
    read = with_profiles(found.read, alone.catalog.profile(group.species))
    assessed = Assessment(build_scene(read, proposal, alone.catalog, found.effort), alone.catalog, alone)
    told: list[Finding] = []
    for hazard in (first, *(each for each in BY_ID if each != first)):
        told += assessed.counted(hazard)
        risk = overall(told)
        if risk is not None and risk.risk > BEARABLE:
            return True, [finding.found.sentence for finding in told]
    return False, []


@pytest.mark.filterwarnings(FIRST_DAY)
@pytest.mark.parametrize("plan", PLANS.values(), ids=PLANS.keys())
def test_the_whole_library_fares_as_screened_alone(
    plan: str, plan_of: Callable[[str], ReadPlan], catalog: Catalog
) -> None:
    found = shortlist(plan_of(plan), catalog, effort=EFFORT)
    others = list(excluded(found, catalog))
    residents = {found.read.profile(entry).scientific_name for entry in found.read.plan.residents}
    names = [proposal.name for proposal in kept(found)] + [one.scientific_name for one, *_ in others]
    assert found.entries
    assert sorted(names) == sorted(set(catalog.entries) - residents)

    screened = screened_alone(found, kept(found), catalog)
    assert {one.profiles[0].scientific_name: (one.verdict, one.risk) for one in found.entries} == {
        name: (one.verdict, one.risk) for name, one in screened.items()
    }
    alone = Assessment(build_scene(found.read, None, catalog, found.effort), catalog)
    for one, usual, longest in others:
        is_bad, told = fails(usual, one.reason.hazard, found, alone)
        assert is_bad, one
        assert one.decides in told
        assert fails(longest, one.reason.hazard, found, alone)[0], one
    tenth = screened_alone(found, [usual for _, usual, _ in others[::10]], catalog)
    assert [name for name, one in tenth.items() if not is_serious(one)] == []


def is_serious(screened: Screened) -> bool:
    return screened.risk is not None and screened.risk.risk > BEARABLE


def test_the_record_of_a_resident_is_believed_as_in_a_screening(
    listed: Callable[..., Shortlist], catalog: Catalog
) -> None:
    """A bichir that ate a silver dollar of 9 cm has a large mouth; the shortlist knows it as `screen` does."""
    tank = "tank: {size: 180 x 60 x 60 cm, temperature: 26 C, ph: 7.0, hardness: 6 dGH}\nresidents:\n"
    record = "lived_with: [{species: silver dollar, length: 9 cm, time: 2 months, outcome: it ate them}]"
    lengths = []
    for known in ("", f", {record}"):
        found = listed(
            f"{tank}  - {{species: saddled bichir, length: 38 cm{known}}}\n", Wish(text="Metynnis argenteus")
        )
        alone = screened_alone(found, kept(found), catalog)
        assert [entry.risk for entry in found.entries] == [alone["Metynnis argenteus"].risk for _ in found.entries]
        lengths += [entry.add[0].length or 0.0 for entry in found.entries] or [inf]
    without, with_record = lengths
    assert without < with_record
