"""What many tests share: the built-in library, and a screening from a plan's text."""

from __future__ import annotations

from collections.abc import Callable
from textwrap import dedent

import pytest
from hypothesis import settings

from coswim.plans.reading import read_plan
from coswim.profiles.catalog import BUILT_IN, Catalog
from coswim.screening import Screening, screen
from coswim.simulation.scene import Effort, Scene, build_scene

settings.register_profile("repeatable", derandomize=True)  # `pytest --hypothesis-profile=default` looks further
settings.load_profile("repeatable")


@pytest.fixture(scope="session")
def catalog() -> Catalog:
    """The built-in library alone, whatever the machine's user has."""
    return Catalog((BUILT_IN,))


@pytest.fixture(scope="session")
def screened(catalog: Catalog) -> Callable[..., Screening]:
    """Screen a plan given as text."""

    def run(text: str, *, draws: int = 300, seed: int = 1, remedies: bool = False) -> Screening:
        read = read_plan(dedent(text), "plan.yaml", catalog)
        return screen(read, catalog, Effort(draws=draws, seed=seed), remedies=remedies)

    return run


@pytest.fixture(scope="session")
def simulated(catalog: Catalog) -> Callable[..., Scene]:
    """The scene of a plan given as text: the residents with its first proposal, if it has one."""

    def run(text: str, *, draws: int = 300) -> Scene:
        read = read_plan(dedent(text), "plan.yaml", catalog)
        return build_scene(read, next(iter(read.plan.proposals), None), catalog, Effort(draws=draws))

    return run
