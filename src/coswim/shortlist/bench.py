"""The tank on the bench: one proposal after the other is tried in it, hazards that cost little first.

More findings never lower a risk: it is taken from the draws in which any of them happens. So as soon as what is found
so far comes to a serious risk, the whole screening would come to that or worse, and the rest need not be asked. That
is exact; nothing is estimated. Water, company, room, lid and mouths are asked first, since they need no meals; only
what is left lives through the whole course.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property
from types import MappingProxyType

from coswim.arrays import share_of
from coswim.hazards import BY_ID
from coswim.plans.plan import Proposal
from coswim.plans.reading import ReadPlan
from coswim.profiles.catalog import Catalog
from coswim.profiles.profile import Profile
from coswim.simulation.scene import Effort, build_scene
from coswim.verdict.assessment import Assessment
from coswim.verdict.rating import Finding, unions
from coswim.verdict.record import believe
from coswim.verdict.risk import BEARABLE, risk_in

WITHOUT_MEALS = ("water-overlap", "schooling", "space", "escape", "spine-choking", "gape-fit")
"""Hazards that are judged without the course, the cheapest first."""
WITH_MEALS = tuple(hazard for hazard in BY_ID if hazard not in WITHOUT_MEALS)
"""The others."""


@dataclass(frozen=True, eq=False)
class Attempt:
    """A proposal in the tank, tried as far as it is asked about; one hazard may be asked before the others."""

    assessed: Assessment
    first: str = ""

    @cached_property
    def _without_meals(self) -> tuple[Finding, ...]:
        order = sorted(WITHOUT_MEALS, key=lambda hazard: hazard != self.first)
        return _until_settled(self.assessed, order, ())

    @cached_property
    def survives(self) -> bool:
        """It passes as far as can be told without meals."""
        return not is_settled(self._without_meals)

    @cached_property
    def found(self) -> tuple[Finding, ...]:
        """What was found until it was clear that it does not pass; all that counts where it passes."""
        return _until_settled(self.assessed, WITH_MEALS, self._without_meals)

    @property
    def settled_by(self) -> str:
        """The hazard that was asked last."""
        return self.found[-1].found.hazard if self.found else ""

    @cached_property
    def passes(self) -> bool:
        """The whole screening comes to a medium or low risk."""
        return not is_settled(self.found)


def worst(found: Sequence[Finding]) -> Finding:
    """The finding that decides; ValueError where there is none."""
    return max(found, key=lambda finding: (finding.risk, finding.likelihood))


def _until_settled(assessed: Assessment, hazards: Sequence[str], found: tuple[Finding, ...]) -> tuple[Finding, ...]:
    """What was found already and what the hazards find, one after the other, until it does not pass."""
    if found and is_settled(found):
        return found
    for hazard in hazards:
        counted = assessed.counted(hazard)
        found += counted
        if counted and is_settled(found):
            break
    return found


def is_settled(found: Sequence[Finding]) -> bool:
    """What was found comes to a serious or high risk, whatever else may be found."""
    shares = ((consequence, share_of(happens)) for consequence, happens in unions(found).items())
    return any(risk_in(share, consequence) > BEARABLE for consequence, share in shares)


@dataclass(frozen=True, eq=False)
class Bench:
    """A plan's tank with its residents, ready for proposals."""

    read: ReadPlan
    catalog: Catalog
    effort: Effort
    alone: Assessment

    @classmethod
    def of(cls, read: ReadPlan, catalog: Catalog, effort: Effort) -> Bench:
        """The tank as it stands, its residents believed by their records."""
        effort = effort._replace(belief=believe(read, catalog, effort).belief)
        return cls(read, catalog, effort, Assessment(build_scene(read, None, catalog, effort), catalog))

    def attempt(self, proposal: Proposal, *profiles: Profile, first: str = "") -> Attempt:
        """A proposal in the tank, whose species the plan need not know."""
        scene = build_scene(
            with_profiles(self.read, *profiles), proposal, self.catalog, self.effort, like=self.alone.scene
        )
        return Attempt(Assessment(scene, self.catalog, self.alone, in_short=True), first)


def with_profiles(read: ReadPlan, *profiles: Profile) -> ReadPlan:
    """The plan with more species known to it."""
    known = {profile.scientific_name: profile for profile in profiles}
    return read._replace(profiles=MappingProxyType({**read.profiles, **known}))
