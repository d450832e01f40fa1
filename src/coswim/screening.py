"""`screen` holds a plan's proposals against the residents and gives a verdict on each."""

from __future__ import annotations

from collections.abc import Callable
from time import monotonic
from typing import TYPE_CHECKING, NamedTuple

from coswim.effort import refuse_what_would_not_fit
from coswim.plans.plan import Proposal
from coswim.plans.reading import ReadPlan
from coswim.profiles.catalog import Catalog
from coswim.simulation.memory import keep_freed_memory
from coswim.simulation.scene import Effort, Scene, build_scene
from coswim.verdict.assessment import Assessment, assess
from coswim.verdict.cautions import cautions
from coswim.verdict.rating import Finding, OverallRisk, Remedy, verdict
from coswim.verdict.sensitivity import sensitivity

if TYPE_CHECKING:
    from coswim.verdict.trials import Bench

PATIENCE = 1.0  # seconds after which a search tells how far it is


class Screened(NamedTuple):
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
        return verdict(self.risk, self.findings)


class Screening(NamedTuple):
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


def screen(
    read: ReadPlan,
    catalog: Catalog,
    effort: Effort | None = None,
    *,
    remedies: bool = True,
    on_progress: Callable[[str], None] | None = None,
) -> Screening:
    """Screen every proposal of a plan; each is simulated together with the residents.

    With `remedies`, changes that would help are searched for and tested; `on_progress` is told what is
    being looked for once that takes longer than a second.
    InputProblems where it would take too long or too much memory. Else nothing is raised for a plan that
    was read: what cannot be rated is a finding that says so.
    """
    keep_freed_memory()
    effort = effort or Effort()
    refuse_what_would_not_fit(read, effort, remedies=remedies)
    tell = _patient(on_progress)
    alone = assess(build_scene(read, None, catalog, effort), catalog)
    proposals: list[Screened] = []
    for proposal in read.plan.proposals:
        scene = build_scene(read, proposal, catalog, effort, like=alone.scene)
        assessed = assess(scene, catalog, alone=alone)
        screened = _screened(proposal.name, proposal, assessed, catalog)
        if remedies:
            from coswim.verdict.case import Case  # the search is loaded when it is wanted
            from coswim.verdict.trials import Bench

            bench = Bench(Case.of(read, proposal), assessed, alone, catalog, effort)
            screened = _with_remedies(screened, bench, tell)
        proposals.append(screened)
    as_it_stands = _screened("the tank as it stands", None, alone, catalog)
    return Screening(read, effort, alone.scene.horizon, as_it_stands, tuple(proposals))


def _screened(name: str, proposal: Proposal | None, assessed: Assessment, catalog: Catalog) -> Screened:
    return Screened(
        name,
        proposal,
        assessed.scene,
        assessed.findings,
        assessed.standing,
        assessed.risk,
        cautions=cautions(assessed.scene),
        sensitivity=sensitivity(assessed, catalog) if proposal else "",
    )


def _with_remedies(screened: Screened, bench: Bench, tell: Callable[[str], None]) -> Screened:
    from coswim.verdict.remedies import search

    found = search(bench, tell)
    if found is None:
        return screened
    findings = tuple(
        finding._replace(remedies=found.for_finding.get(finding.found.key, ())) for finding in screened.findings
    )
    return screened._replace(findings=findings, best_change=found.best, remedies_searched=True)


def _patient(on_progress: Callable[[str], None] | None) -> Callable[[str], None]:
    """Passes on what is told after the first second."""
    start = monotonic()

    def tell(message: str) -> None:
        if on_progress and monotonic() - start > PATIENCE:
            on_progress(message)

    return tell
