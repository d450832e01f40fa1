"""A shortlist from a plan's text."""

from __future__ import annotations

from collections.abc import Callable
from textwrap import dedent
from typing import Any

import pytest

from coswim.plans.reading import ReadPlan, resolve
from coswim.profiles.catalog import Catalog
from coswim.shortlist.making import Shortlist, shortlist
from coswim.shortlist.wish import Wish
from coswim.simulation.scene import Effort
from coswim.text.document import read_document


@pytest.fixture(scope="session")
def plan_of(catalog: Catalog) -> Callable[[str], ReadPlan]:
    """The plan given as text, which may be an empty tank."""
    return lambda text: resolve(read_document(dedent(text), "plan.yaml"), catalog, may_be_empty=True)


@pytest.fixture(scope="session")
def listed(catalog: Catalog, plan_of: Callable[[str], ReadPlan]) -> Callable[..., Shortlist]:
    """The shortlist of a plan given as text."""

    def run(text: str, wish: Wish | None = None, *, draws: int = 100, **asked: Any) -> Shortlist:
        return shortlist(plan_of(text), catalog, wish or Wish(), Effort(draws=draws), **asked)

    return run
