"""The tank on the bench: one proposal after the other is tried in it, hazards that cost little first.

More findings never lower a risk: it is taken from the draws in which any of them happens. So as soon as what is found
so far comes to a serious risk, the whole screening would come to that or worse, and the rest need not be asked. That
is exact; nothing is estimated. Water, company, room, lid and mouths are asked first, since they need no meals; only
what is left lives through the whole course.
"""

from __future__ import annotations

from dataclasses import dataclass
from types import MappingProxyType
from typing import NamedTuple

from coswim.hazards import BY_ID
from coswim.plans.plan import Proposal
from coswim.plans.reading import ReadPlan
from coswim.profiles.catalog import Catalog
from coswim.profiles.profile import Profile
from coswim.simulation.scene import Effort, build_scene
from coswim.verdict.assessment import Assessment
from coswim.verdict.rating import Finding, overall
from coswim.verdict.risk import BEARABLE

WITHOUT_MEALS = ("water-overlap", "schooling", "space", "escape", "spine-choking", "gape-fit")
"""Hazards that are judged without the course, the cheapest first."""
IN_ORDER = (*WITHOUT_MEALS, *(hazard for hazard in BY_ID if hazard not in WITHOUT_MEALS))
"""All hazards in the order in which they are asked."""


class Attempt(NamedTuple):
    """A proposal as far as it was tried: to the end where it passes, else until it was clear that it does not."""

    assessed: Assessment
    passes: bool
    found: tuple[Finding, ...]

    @property
    def worst(self) -> Finding | None:
        """The worst of what was found, which decides; None where nothing was."""
        return max(self.found, key=lambda finding: (finding.risk, finding.likelihood), default=None)

    @property
    def grave(self) -> tuple[Finding, ...]:
        """What keeps it from passing: findings of serious or high risk, else the worst of several that add up."""
        grave = tuple(finding for finding in self.found if finding.risk > BEARABLE)
        return grave or ((self.worst,) if self.worst and not self.passes else ())


@dataclass(frozen=True, eq=False)
class Bench:
    """A plan's tank with its residents, ready for proposals."""

    read: ReadPlan
    catalog: Catalog
    effort: Effort
    alone: Assessment

    @classmethod
    def of(cls, read: ReadPlan, catalog: Catalog, effort: Effort) -> Bench:
        """The tank as it stands."""
        return cls(read, catalog, effort, Assessment(build_scene(read, None, catalog, effort), catalog))

    def fresh(self) -> Bench:
        """The same without what was drawn for the proposals tried so far, which fills the memory."""
        return Bench.of(self.read, self.catalog, self.effort)

    def attempt(self, proposal: Proposal, *profiles: Profile) -> Attempt:
        """Try a proposal, whose species the plan need not know, until it is clear whether it passes."""
        scene = build_scene(
            with_profiles(self.read, *profiles), proposal, self.catalog, self.effort, like=self.alone.scene
        )
        assessed = Assessment(scene, self.catalog, self.alone)
        found: list[Finding] = []
        for hazard in IN_ORDER:
            counted = assessed.counted(hazard)
            found += counted
            risk = overall(found) if counted else None
            if risk and risk.risk > BEARABLE:
                return Attempt(assessed, passes=False, found=tuple(found))
        return Attempt(assessed, passes=True, found=assessed.findings)


def with_profiles(read: ReadPlan, *profiles: Profile) -> ReadPlan:
    """The plan with more species known to it."""
    known = {profile.scientific_name: profile for profile in profiles}
    return read._replace(profiles=MappingProxyType({**read.profiles, **known}))
