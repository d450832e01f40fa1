"""Two species added together get the verdict of screening both together."""

from __future__ import annotations

from collections.abc import Callable

from coswim.plans.plan import Proposal
from coswim.profiles.catalog import Catalog
from coswim.screening import screen
from coswim.shortlist.bench import with_profiles
from coswim.shortlist.making import Shortlist
from coswim.shortlist.wish import Wish

TANK = """
    tank: {size: 60 x 30 x 30 cm, temperature: 25 C, ph: 6.8, hardness: 5 dGH}
    residents: [{species: honey gourami, count: 2, length: 4 cm}]
    horizon: 6 months
    """


def test_pairs_are_screened_together(listed: Callable[..., Shortlist], catalog: Catalog) -> None:
    found = listed(TANK, Wish(text="Corydoras"), with_pairs=True)
    assert found.pairs
    for pair in found.pairs:
        read = with_profiles(found.read, *pair.profiles)
        proposal = Proposal.model_construct(name="both", add=pair.add)
        plan = read.plan.model_copy(update={"proposals": (proposal,)})
        (screened,) = screen(read._replace(plan=plan), catalog, found.effort, remedies=False).proposals
        assert len(pair.add) == 2
        assert (pair.verdict, pair.risk) == (screened.verdict, screened.risk)


def test_without_being_asked_for_there_are_none(listed: Callable[..., Shortlist]) -> None:
    assert listed(TANK, Wish(text="panda corydoras")).pairs is None
