"""Which changes would help, found by making them to a copy of the plan and screening it again.

For each finding of serious or high risk every kind of change that the plan allows is tried, and of those that
help the smallest step is looked for that brings the finding down to medium, or as far as it goes. A remedy's
risk is the risk of screening the changed plan. Reported are changes that bring the finding to medium, or the
whole down with it, without bringing another serious risk; none that brings one on the fish that live there,
and none that spares so few draws that no keeper would notice. A larger tank is reported for the worst finding
that it is for.

The best change is the smallest set of changes that brings the proposal to medium or low, each of them at the
smallest step that does so beside the others. Tanks that few homes hold are tried only where nothing else does.

A proposal that is possible with care gets, for its leading findings, the care that lowers them: what can be
done otherwise in this tank with these kinds of fish.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from types import MappingProxyType
from typing import NamedTuple

from coswim.findings.finding import FindingKey
from coswim.remedies.change import Change, Remedy
from coswim.remedies.ladders import CARE, LAST_RESORT, ORDINARY, ladders
from coswim.remedies.options import Option, options_against, to_remedy
from coswim.remedies.smallest import smallest_change
from coswim.remedies.trial import Trial, is_worse
from coswim.verdict.rating import Finding
from coswim.verdict.risk import BEARABLE, HARMLESS, level_of

MOST_SHOWN = 3
"""Remedies reported for a finding."""
MOST_LEADING = 3
"""Findings of a proposal that is possible with care for which the care is looked for."""


class Remedies(NamedTuple):
    """What was found for each finding, best first, and the smallest set that makes the proposal possible."""

    for_finding: Mapping[FindingKey, tuple[Remedy, ...]]
    best: Remedy | None = None


def search(trial: Trial, tell: Callable[[str], None]) -> Remedies | None:
    """The remedies of a proposal, told about as they are looked for; None where nothing needs one."""
    is_grave = trial.assessed.risk_number > BEARABLE
    aim, offers, most = (BEARABLE, ORDINARY, None) if is_grave else (HARMLESS, CARE, MOST_LEADING)
    findings = to_remedy(trial.assessed, aim)[:most]
    if not findings:
        return None
    options: dict[FindingKey, list[Option]] = {}
    for finding in findings:
        tell(f"{trial.plan.name}: looking for changes against {finding.found.hazard}")
        options[finding.found.key] = options_against(finding, trial, ladders(trial.plan, offers), aim=aim)
    shown = _shown(trial, findings, options, aim=aim)
    if not is_grave:
        return Remedies(shown)
    tell(f"{trial.plan.name}: looking for the smallest set of changes")
    best = smallest_change(trial, findings, options)
    if best is None and (vast := ladders(trial.plan, LAST_RESORT)):
        for finding in findings:
            options[finding.found.key][:0] = options_against(finding, trial, vast, aim=aim)
        best = smallest_change(trial, findings, options)
    return Remedies(shown, _remedy(trial, best, trial.after(best).assessed.risk_number) if best else None)


def _shown(
    trial: Trial, findings: Sequence[Finding], options: Mapping[FindingKey, Sequence[Option]], *, aim: int
) -> Mapping[FindingKey, tuple[Remedy, ...]]:
    """The remedies of each finding; after a larger tank for a worse finding none of that size or smaller."""

    def litres(remedy: Remedy) -> float:
        return remedy.changed.tank.size.litres

    shown: dict[FindingKey, tuple[Remedy, ...]] = {}
    now = told = trial.plan.tank.size.litres
    for finding in findings:
        tested = _tested(trial, finding, options[finding.found.key], aim=aim)
        shown[finding.found.key] = tuple(remedy for remedy in tested if not now < litres(remedy) <= told)
        told = max([told, *map(litres, tested)])
    return MappingProxyType(shown)


def _tested(trial: Trial, finding: Finding, options: Sequence[Option], *, aim: int) -> list[Remedy]:
    """The options that help, best first."""
    helpful = [option for option in options if _helps(trial, finding, option, aim)]
    helpful.sort(key=lambda option: (trial.after(option.change).assessed.risk_number, option.left, option.effort))
    return [_remedy(trial, option.change, option.left) for option in helpful[:MOST_SHOWN]]


def _helps(trial: Trial, finding: Finding, option: Option, aim: int) -> bool:
    """It brings the finding to medium, or the whole down with it; where the whole stays, nothing gets worse."""
    if trial.harms_residents(option.change):
        return False
    before, after = trial.assessed, trial.after(option.change).assessed
    if after.risk_number < before.risk_number:
        return option.left <= BEARABLE or level_of(option.left) != finding.level
    stays = after.risk_number == before.risk_number
    return stays and option.left <= BEARABLE and finding.risk > aim and not is_worse(after, before, above=aim)


def _remedy(trial: Trial, change: Change, left: int) -> Remedy:
    changed = trial.after(change)
    after = changed.assessed
    return Remedy(change.words, after.risk_number, after.level, after.verdict, left, changed.plan)
