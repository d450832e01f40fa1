"""Changes tried on a copy of the plan: hazard by hazard while looking, and screened whole in the end."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field

from coswim.hazards import BY_ID
from coswim.profiles.catalog import Catalog
from coswim.simulation.scene import Effort, Scene, build_scene
from coswim.verdict.assessment import Answer, Assessment, ask, assess
from coswim.verdict.case import Case
from coswim.verdict.changes import Change
from coswim.verdict.rating import Finding, unions, worst
from coswim.verdict.risk import GROUPS, WORST, Level

BEARABLE = WORST - GROUPS[Level.SERIOUS] - 1
"""The highest risk that is still medium."""


@dataclass(frozen=True)
class Bench:
    """A proposal that was screened, alone and with the residents, and on which changes are tried."""

    case: Case
    as_proposed: Assessment
    alone: Assessment
    catalog: Catalog
    effort: Effort
    _changed: dict[str, Bench] = field(default_factory=dict)

    def changed(self, change: Change) -> Bench:
        """The same once the change is made, screened whole."""
        if change.key not in self._changed:
            case, alone = change.apply(self.case), self.alone
            if case.tank != self.case.tank or case.feeding != self.case.feeding:
                scene = build_scene(case.read, None, self.catalog, self.effort, like=alone.scene)
                alone = assess(scene, self.catalog, known=alone.answers)
            like = self.as_proposed
            scene = build_scene(case.read, case.proposal, self.catalog, self.effort, like=like.scene)
            after = assess(scene, self.catalog, alone=alone, known=like.answers)
            self._changed[change.key] = Bench(case, after, alone, self.catalog, self.effort)
        return self._changed[change.key]

    def harms_residents(self, change: Change) -> bool:
        """The change brings a serious risk on the fish that live there, with or without newcomers."""
        return is_worse(self.changed(change).alone, self.alone)

    def solves(self, change: Change) -> bool:
        """The change brings the proposal to medium or low and does not harm the residents."""
        return self.changed(change).as_proposed.risk_number <= BEARABLE and not self.harms_residents(change)


@dataclass(frozen=True)
class Look:
    """A quick look at changes: only the hazards that trouble the proposal are asked, the others taken as they were.

    The worst is asked first. `scene` is the proposal's own, with all draws or with the first few.
    """

    bench: Bench
    hazards: tuple[str, ...]
    scene: Scene
    _scenes: dict[str, Scene] = field(default_factory=dict)
    _answers: dict[tuple[str, str], Answer] = field(default_factory=dict)

    def bears_on(self, change: Change, finding: Finding) -> bool:
        """The change touches something that the finding's hazard looked at."""
        hazard = finding.found.hazard
        return self._answer(change, hazard) is not self._answer(UNCHANGED, hazard)

    def risk_now(self, finding: Finding) -> int:
        """The risk of a finding as proposed."""
        return self.risk_after(UNCHANGED, finding)

    def risk_after(self, change: Change, finding: Finding) -> int:
        """The risk of a finding once the change is made; 0 when it no longer happens."""
        hazard = finding.found.hazard
        return remaining(finding, self._answer(UNCHANGED, hazard).findings, self._answer(change, hazard).findings)

    def solves(self, change: Change) -> bool:
        """Once the change is made the proposal's risk is medium or low, as far as the hazards that are asked tell."""
        stands = {finding.found.key for finding in self.bench.as_proposed.standing}
        asked: list[Finding] = []
        for hazard in self.hazards:
            asked += [one for one in self._answer(change, hazard).findings if one.found.key not in stands]
            if any(finding.risk > BEARABLE for finding in asked):
                return False
        others = [one for one in self.bench.as_proposed.findings if one.found.hazard not in self.hazards]
        happens = unions(asked)
        for consequence, flags in unions(others).items():
            first = flags[: self.scene.draws.number]
            happens[consequence] = happens[consequence] | first if consequence in happens else first
        risk = worst({consequence: float(flags.mean()) for consequence, flags in happens.items()})
        return risk is None or risk.risk <= BEARABLE

    def _answer(self, change: Change, hazard: str) -> Answer:
        key = (change.key, hazard)
        if key not in self._answers:
            known = None if change is UNCHANGED else self._answer(UNCHANGED, hazard)
            if change is UNCHANGED and self.scene is self.bench.as_proposed.scene:
                known = self.bench.as_proposed.answers[hazard]
            self._answers[key] = ask(BY_ID[hazard], self._scene(change), self.bench.catalog, known=known)
        return self._answers[key]

    def _scene(self, change: Change) -> Scene:
        if change is UNCHANGED:
            return self.scene
        if change.key not in self._scenes:
            case = change.apply(self.bench.case)
            effort = Effort(self.scene.draws.number, self.bench.effort.seed, self.bench.effort.months)
            self._scenes[change.key] = build_scene(
                case.read, case.proposal, self.bench.catalog, effort, like=self.scene
            )
        return self._scenes[change.key]


UNCHANGED = Change((), "as proposed", lambda case: case)


def remaining(finding: Finding, before: Iterable[Finding], after: Iterable[Finding]) -> int:
    """What is left of a finding among those after a change: its risk, 0 when it no longer happens.

    Where someone else now does the same to the same fish, who did not before, that is what is left of it;
    likewise where what no fish does, such as a spoilt water, now strikes other fish hardest.
    """
    known = {other.found.key for other in before}
    left = [
        other.risk
        for other in after
        if other.found.key == finding.found.key
        or (other.found.key not in known and (_suffered(other) == _suffered(finding) or _moved(finding, other)))
    ]
    return max(left, default=0)


def is_worse(one: Assessment, other: Assessment) -> bool:
    """Something of serious or high risk in one assessment was less in the other."""
    before = {finding.found.key: finding.risk for finding in other.findings}
    return any(finding.risk > max(BEARABLE, before.get(finding.found.key, 0)) for finding in one.findings)


def _suffered(finding: Finding) -> tuple[str, str, str]:
    found = finding.found
    return (found.hazard, found.target.key, found.topic)


def _moved(finding: Finding, other: Finding) -> bool:
    """Both are the same trouble of the whole tank, said of the fish that it strikes hardest."""
    one, two = finding.found, other.found
    return (
        one.doer is None and two.doer is None and bool(one.topic) and (one.hazard, one.topic) == (two.hazard, two.topic)
    )
