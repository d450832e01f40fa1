"""`screen` holds a plan's proposals against the residents and gives a verdict on each."""

from __future__ import annotations

from dataclasses import dataclass

from coswim.hazards import HAZARDS
from coswim.plans.plan import Proposal
from coswim.plans.reading import ReadPlan
from coswim.profiles.catalog import Catalog
from coswim.simulation.scene import Effort, Scene, build_scene
from coswim.verdict.rating import Finding, OverallRisk, Remedy, overall, rate
from coswim.verdict.risk import VERDICTS

NOTHING_FOUND = "reasonable"
UNRATED_SUFFIX = ", as far as it can be rated"


@dataclass(frozen=True)
class Screened:
    """One proposal with its findings, worst first, its risk and the verdict.

    `standing` are findings among the residents alone that the proposal does not make worse; they do not
    count against it. `remedies_searched` says whether a missing `best_change` means that none was found.
    """

    name: str
    proposal: Proposal | None
    scene: Scene
    findings: tuple[Finding, ...]
    standing: tuple[Finding, ...]
    risk: OverallRisk | None
    cautions: tuple[str, ...] = ()
    best_change: Remedy | None = None
    remedies_searched: bool = False
    sensitivity: str = ""

    @property
    def unrated(self) -> tuple[Finding, ...]:
        """What could not be rated for want of a trait."""
        return tuple(finding for finding in self.findings if not finding.is_rated)

    @property
    def verdict(self) -> str:
        """The decision in words; it says when something could not be rated."""
        words = VERDICTS[self.risk.level] if self.risk else NOTHING_FOUND
        return words + (UNRATED_SUFFIX if self.unrated else "")


@dataclass(frozen=True)
class Screening:
    """A plan, how hard it was looked at, the tank as it stands, and each proposal."""

    read: ReadPlan
    effort: Effort
    horizon: int
    as_it_stands: Screened
    proposals: tuple[Screened, ...]

    @property
    def worst_risk(self) -> int:
        """The highest risk of any proposal; 0 when nothing was found."""
        return max((proposal.risk.risk for proposal in self.proposals if proposal.risk), default=0)


def screen(read: ReadPlan, catalog: Catalog, effort: Effort | None = None) -> Screening:
    """Screen every proposal of a plan; each is simulated together with the residents.

    Raises nothing for a plan that was read: what cannot be rated is a finding that says so.
    """
    effort = effort or Effort()
    alone = _screened("the tank as it stands", None, build_scene(read, None, catalog, effort), catalog, ())
    proposals = tuple(
        _screened(p.name, p, build_scene(read, p, catalog, effort), catalog, alone.findings)
        for p in read.plan.proposals
    )
    return Screening(read, effort, alone.scene.horizon, alone, proposals)


def _screened(
    name: str, proposal: Proposal | None, scene: Scene, catalog: Catalog, before: tuple[Finding, ...]
) -> Screened:
    rated = [finding for hazard in HAZARDS for found in hazard.find(scene) if (finding := rate(found, catalog))]
    rated.sort(key=_worst_first)
    known = {finding.found.key: finding for finding in before}
    standing = tuple(finding for finding in rated if _is_standing(finding, known.get(finding.found.key)))
    findings = tuple(finding for finding in rated if finding not in standing)
    return Screened(name, proposal, scene, findings, standing, overall(findings))


def _is_standing(finding: Finding, before: Finding | None) -> bool:
    return before is not None and finding.found.concerns_residents_only and finding.risk <= before.risk


def _worst_first(finding: Finding) -> tuple[float, ...]:
    return (-finding.risk, -(finding.likelihood or 0.0))
