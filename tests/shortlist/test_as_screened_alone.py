"""The whole library: what the shortlist says of each species is what screening it by itself says.

What it excludes for little cost the whole screening excludes too, at the usual length and at the longest; what it
keeps has the same verdict and the same risk with the number and length named. The expected values are those of
`screen` itself, which knows nothing of the order in which the shortlist asks hazards.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from math import inf

import pytest

from coswim.plans.plan import Proposal
from coswim.plans.reading import ReadPlan
from coswim.profiles.catalog import Catalog
from coswim.screening import Screened, screen
from coswim.shortlist.bench import with_profiles
from coswim.shortlist.making import Shortlist, shortlist
from coswim.shortlist.offer import offer
from coswim.shortlist.wish import Wish
from coswim.simulation.scene import Effort
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


def asked(found: Shortlist, catalog: Catalog) -> Iterator[Proposal]:
    """Every species as the shortlist would have it bought; those that it excludes at the shortest and the longest."""
    for entry in found.entries:
        yield Proposal.model_construct(name=entry.profiles[0].scientific_name, add=entry.add)
    for one in found.excluded:
        bought = offer(catalog.profile(one.scientific_name))
        yield Proposal.model_construct(name=one.scientific_name, add=(bought.group(bought.lengths[0]),))
        yield Proposal.model_construct(name=f"{one.scientific_name}, long", add=(bought.group(bought.lengths[-1]),))


def screened_alone(found: Shortlist, catalog: Catalog, effort: Effort = EFFORT) -> dict[str, Screened]:
    """The screening of each of them by itself."""
    known = with_profiles(found.read, *(catalog.completed(entry) for entry in catalog.entries.values()))
    plan = known.plan.model_copy(update={"proposals": tuple(asked(found, catalog))})
    screening = screen(known._replace(plan=plan), catalog, effort, remedies=False)
    return {screened.name: screened for screened in screening.proposals}


@pytest.mark.filterwarnings(FIRST_DAY)
@pytest.mark.parametrize("plan", PLANS.values(), ids=PLANS.keys())
def test_the_whole_library_fares_as_screened_alone(
    plan: str, plan_of: Callable[[str], ReadPlan], catalog: Catalog
) -> None:
    found = shortlist(plan_of(plan), catalog, effort=EFFORT)
    alone = screened_alone(found, catalog)
    residents = {found.read.profile(entry).scientific_name for entry in found.read.plan.residents}
    kept = {entry.profiles[0].scientific_name: entry for entry in found.entries}
    excluded = {one.scientific_name: one for one in found.excluded}
    assert kept
    assert sorted([*kept, *excluded]) == sorted(set(catalog.entries) - residents)
    assert {name: (entry.verdict, entry.risk) for name, entry in kept.items()} == {
        name: (alone[name].verdict, alone[name].risk) for name in kept
    }
    passing = [name for name, screened in alone.items() if name not in kept and not is_serious(screened)]
    assert passing == []
    untold = [name for name, one in excluded.items() if one.decides not in told(alone[name])]
    assert untold == []


def is_serious(screened: Screened) -> bool:
    return screened.risk is not None and screened.risk.risk > BEARABLE


def told(screened: Screened) -> list[str]:
    return [finding.found.sentence for finding in screened.findings]


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
        alone = screened_alone(found, catalog, found.effort)
        assert [entry.risk for entry in found.entries] == [alone["Metynnis argenteus"].risk for _ in found.entries]
        lengths += [entry.add[0].length or 0.0 for entry in found.entries] or [inf]
    without, with_record = lengths
    assert without < with_record
