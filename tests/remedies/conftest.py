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

EFFORT = Effort(draws=80)
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
def rescreened(catalog: Catalog) -> Callable[..., Screening]:
    """Screen a changed plan afresh, as if it were read; each plan once."""
    known: dict[tuple[int, tuple[str, ...]], tuple[ChangedPlan, Screening]] = {}

    def run(plan: ChangedPlan, belief: Mapping[str, Indexes] = MappingProxyType({})) -> Screening:
        key = (id(plan), tuple(belief))
        if key not in known:
            known[key] = plan, screen(plan.read, catalog, EFFORT._replace(belief=belief), remedies=False)
        return known[key][1]

    return run


@pytest.fixture(scope="session")
def screened_again(rescreened: Callable[..., Screening]) -> Again:
    """The same, for the proposal that was changed."""

    def run(plan: ChangedPlan, belief: Mapping[str, Indexes] = MappingProxyType({})) -> Screened:
        return next(one for one in rescreened(plan, belief).proposals if one.name == plan.name)

    return run
