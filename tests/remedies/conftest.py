"""What the tests of remedies share: plans that are searched, and remedies screened once more."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from textwrap import dedent
from types import MappingProxyType

import pytest

from coswim.arrays import Indexes
from coswim.plans.reading import read_plan
from coswim.profiles.catalog import Catalog
from coswim.remedies.changed_plan import ChangedPlan
from coswim.screening import Screened, Screening, screen
from coswim.simulation.scene import Effort

EFFORT = Effort(draws=250)
Search = Callable[[str], Screening]
Again = Callable[..., Screened]


@pytest.fixture(scope="session")
def searched(catalog: Catalog) -> Search:
    """Screen a plan given as text and search for remedies; each plan once."""
    known: dict[str, Screening] = {}

    def run(text: str) -> Screening:
        if text not in known:
            known[text] = screen(read_plan(dedent(text), "plan.yaml", catalog), catalog, EFFORT)
        return known[text]

    return run


@pytest.fixture(scope="session")
def screened_again(catalog: Catalog) -> Again:
    """Screen a changed plan afresh, as if it were read, and hand on its proposal."""

    def run(plan: ChangedPlan, belief: Mapping[str, Indexes] = MappingProxyType({})) -> Screened:
        screening = screen(plan.read, catalog, EFFORT._replace(belief=belief), remedies=False)
        return next(proposal for proposal in screening.proposals if proposal.name == plan.name)

    return run
