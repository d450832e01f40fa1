"""`screen` holds a plan's proposals against the residents and gives a verdict on each."""

from __future__ import annotations

import os
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from itertools import islice
from time import monotonic
from types import MappingProxyType
from typing import NamedTuple

from coswim.arrays import forget
from coswim.effort import processes_that_fit, refuse_what_would_not_fit
from coswim.findings.finding import FindingKey
from coswim.hazards import BY_ID
from coswim.plans.plan import Proposal
from coswim.plans.reading import ReadPlan
from coswim.profiles.catalog import Catalog
from coswim.remedies.change import Remedy
from coswim.remedies.changed_plan import ChangedPlan
from coswim.second_process import shared
from coswim.simulation.course import run_together
from coswim.simulation.scene import Effort, build_scene
from coswim.verdict.assessment import Assessment, watch, with_pictures
from coswim.verdict.cautions import cautions
from coswim.verdict.margin import narrowest_margin
from coswim.verdict.rating import Finding, OverallRisk, Unrated, Verdict, verdict
from coswim.verdict.record import believe, effect
from coswim.verdict.sensitivity import Sensitivity, sensitivity

AS_IT_STANDS = "the tank as it stands"
MOST_WATCHED = 2
AT_ONCE = 5  # proposals whose courses are run side by side
PATIENCE = 1.0  # seconds after which a search tells how far it is


class Screened(NamedTuple):
    """One proposal with its findings, worst first, its risk and the verdict.

    `unrated` is what cannot be rated for want of evidence. `standing` are findings among the residents alone
    that the proposal does not make worse; they do not count against it. `remedies` are the tested changes
    against its findings, by the finding's key; `best_change` is the smallest that makes a proposal of serious
    or high risk possible. `remedies_searched` says whether a missing one means that none was found. `record` says
    what the records of the residents changed. `watch` is what to look at once they are together, and `margin` what
    would go wrong first where nothing does. `was` is the risk that an earlier screening found, where the plan
    carries it.
    """

    name: str
    proposal: Proposal | None
    findings: tuple[Finding, ...]
    unrated: tuple[Unrated, ...]
    standing: tuple[Finding, ...]
    risk: OverallRisk | None
    cautions: tuple[str, ...] = ()
    remedies: Mapping[FindingKey, tuple[Remedy, ...]] = MappingProxyType({})
    best_change: Remedy | None = None
    remedies_searched: bool = False
    sensitivity: Sensitivity = Sensitivity()
    record: tuple[str, ...] = ()
    watch: tuple[str, ...] = ()
    margin: str = ""
    was: int | None = None

    @property
    def risk_number(self) -> int:
        """The risk from 1 to 20; 0 when nothing was found."""
        return self.risk.risk if self.risk else 0

    @property
    def missing(self) -> tuple[str, ...]:
        """What would have to be known to rate what cannot be rated."""
        return tuple(dict.fromkeys(one.found.missing for one in self.unrated))

    @property
    def well(self) -> tuple[str, ...]:
        """The hazards of which nothing is told."""
        troubled = {one.found.hazard for one in self.told}
        return tuple(hazard for hazard in BY_ID if hazard not in troubled)

    @property
    def care(self) -> tuple[Remedy, ...]:
        """The best tested measure against each finding, worst finding first, each once."""
        first = (self.remedies_for(finding)[:1] for finding in self.findings)
        return tuple({remedy.change: remedy for found in first for remedy in found}.values())

    @property
    def told(self) -> tuple[Finding | Unrated, ...]:
        """All that is told of it: the findings, and last what cannot be rated."""
        return (*self.findings, *self.unrated)

    def remedies_for(self, finding: Finding | Unrated) -> tuple[Remedy, ...]:
        """The tested changes against one of its findings, best first."""
        return self.remedies.get(finding.found.key, ())

    @property
    def verdict(self) -> Verdict:
        """The decision, and the others that it may be; it says when something could not be rated."""
        return verdict(self.risk, self.unrated)


class Screening(NamedTuple):
    """A plan, how hard it was looked at, the tank as it stands, and each proposal."""

    read: ReadPlan
    effort: Effort
    horizon: int
    as_it_stands: Screened
    proposals: tuple[Screened, ...]

    @property
    def judged(self) -> tuple[Screened, ...]:
        """What was asked about: the proposals, or the tank as it stands where there are none."""
        return self.proposals or (self.as_it_stands,)


def screen(
    read: ReadPlan,
    catalog: Catalog,
    effort: Effort | None = None,
    *,
    remedies: bool = True,
    pictures: bool = True,
    processes: int = 1,
    on_progress: Callable[[str], None] | None = None,
) -> Screening:
    """Screen every proposal of a plan; each is simulated together with the residents.

    With `remedies`, changes that would help are searched for and tested; `on_progress` is told what is
    being looked for once that takes longer than a second. Without `pictures`, which only a report in full shows,
    findings have none. The search is shared by as many of the `processes` as there is memory for; the answer is the
    same, and without it one does all.
    InputProblems where it would take too long or too much memory. Else nothing is raised for a plan that
    was read: what cannot be rated is a finding that says so.
    """
    effort = effort or Effort()
    refuse_what_would_not_fit(read, effort, remedies=remedies)
    tell = _patient(on_progress)
    record = believe(read, catalog, effort)
    plain, effort = effort, effort._replace(belief=MappingProxyType({**record.belief, **effort.belief}))
    alone = Assessment(build_scene(read, None, catalog, effort), catalog)
    before = Assessment(build_scene(read, None, catalog, plain, like=alone.scene), catalog) if record.belief else None
    run_together(one.scene.course for one in (alone, before) if one)
    processes = processes_that_fit(read, effort, processes=processes) if remedies else 1
    as_it_stands = _screened(AS_IT_STANDS, None, alone, pictures=pictures)  # for all, before the processes part
    if before:
        as_it_stands = as_it_stands._replace(record=(*record.remarks, *effect(before, alone, read)))

    def judged(places: Iterable[int]) -> Iterator[tuple[int, Screened]]:
        ways = [(effort, alone), *([(plain, before)] if before else [])]
        most = AT_ONCE if processes == 1 else 1  # who takes several at once may leave nothing to the other
        for number, assessed in _side_by_side(_assessments(read, catalog, ways, places), most=most):
            proposal, believed = read.plan.proposals[number], assessed.pop(0)  # let go of at the end: arrays are large
            tell(f"{proposal.name}: {number + 1} of {len(read.plan.proposals)}")
            screened = _screened(proposal.name, proposal, believed, pictures=pictures)
            screened = screened._replace(was=_earlier(read, number))
            if assessed:
                screened = screened._replace(record=(*record.remarks, *effect(assessed.pop(), believed, read)))
            if remedies:
                screened = _remedied(screened, ChangedPlan.of(read, proposal), (believed, alone), effort, tell)
            yield number, screened
            for group in believed.scene.groups:  # findings name them, and a hundred proposals would fill the memory
                if not group.is_resident:
                    forget(group)
                    believed.scene.draws.forget(group.key)

    found = dict(one for _, one in shared(judged, len(read.plan.proposals), processes=processes))
    proposals = tuple(found[number] for number in sorted(found))
    if remedies and not proposals:
        nobody = Proposal.model_construct(name=AS_IT_STANDS, add=(), moves_in="last")
        as_it_stands = _remedied(as_it_stands, ChangedPlan.of(read, nobody), (alone, None), effort, tell)
    return Screening(read, effort, alone.scene.horizon, as_it_stands, proposals)


Assessed = tuple[int, list[Assessment]]
"""A proposal by its place, and how it comes out with the residents, in several ways to look at them."""


def _assessments(
    read: ReadPlan, catalog: Catalog, ways: Sequence[tuple[Effort, Assessment]], places: Iterable[int]
) -> Iterator[Assessed]:
    for place in places:
        proposal = read.plan.proposals[place]
        scenes = ((build_scene(read, proposal, catalog, effort, like=alone.scene), alone) for effort, alone in ways)
        yield place, [Assessment(scene, catalog, alone) for scene, alone in scenes]


def _side_by_side(proposals: Iterator[Assessed], *, most: int) -> Iterator[Assessed]:
    """The same, the courses of a few run at a time where that is quicker; none is kept longer than it is asked."""
    for first in proposals:
        ahead = min(most, first[1][0].scene.course.side_by_side) - 1
        block = [first, *islice(proposals, ahead)]
        del first
        run_together(one.scene.course for _, ways in block for one in ways)
        while block:
            yield block.pop(0)


def _remedied(
    screened: Screened,
    plan: ChangedPlan,
    assessed: tuple[Assessment, Assessment | None],
    effort: Effort,
    tell: Callable[[str], None],
) -> Screened:
    """The same with the changes that would help; `assessed` are the plan and the residents alone."""
    from coswim.remedies.search import search  # not loaded where nobody asks for changes
    from coswim.remedies.trial import Trial

    found = search(Trial(plan, *assessed, effort), tell)
    if found is None:
        return screened
    return screened._replace(remedies=found.for_finding, best_change=found.best, remedies_searched=True)


def _earlier(read: ReadPlan, number: int) -> int | None:
    """The risk that the plan says was found before: under the proposal's name, else in its place."""
    earlier, proposals = read.plan.earlier, read.plan.proposals
    by_name = {one.name: one.risk for one in earlier}
    if len(by_name) == len(proposals) == len(earlier):
        return by_name.get(proposals[number].name, earlier[number].risk)
    return by_name.get(proposals[number].name)


def _screened(name: str, proposal: Proposal | None, assessed: Assessment, *, pictures: bool) -> Screened:
    scene, findings = assessed.scene, assessed.told
    scene.shelf.take(scene.course)
    return Screened(
        name,
        proposal,
        tuple(with_pictures(finding, scene) for finding in findings) if pictures else findings,
        assessed.unrated,
        assessed.standing,
        assessed.risk,
        cautions=cautions(scene),
        sensitivity=sensitivity(scene, assessed.findings, assessed.unrated, catalog=assessed.catalog),
        watch=watch(findings, most=MOST_WATCHED),
        margin=narrowest_margin(scene),
    )


def _patient(on_progress: Callable[[str], None] | None) -> Callable[[str], None]:
    """Passes on what is told after the first second, in this process."""
    start, process = monotonic(), os.getpid()

    def tell(message: str) -> None:
        if on_progress and monotonic() - start > PATIENCE and os.getpid() == process:
            on_progress(message)

    return tell
