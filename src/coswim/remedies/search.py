"""Which changes would help, found by making them to a copy of the plan and screening it again.

For each finding of serious or high risk every kind of change that the plan allows is tried, and of those that
help the smallest step is looked for that brings the finding down to medium, or as far as it goes. A remedy's
risk is the risk of screening the changed plan. Reported are changes that lower the proposal's risk, or the
finding's own without bringing another serious risk; none that brings one on the fish that live there.

The best change is the smallest set of changes that brings the proposal to medium or low, each of them at the
smallest step that does so beside the others. Tanks that few homes hold are tried only where nothing else does.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from types import MappingProxyType
from typing import NamedTuple

from coswim.findings.finding import FindingKey
from coswim.remedies.change import Change
from coswim.remedies.ladders import LAST_RESORT, ladders
from coswim.remedies.options import Option, options_against, to_remedy
from coswim.remedies.remedy import Remedy
from coswim.remedies.smallest import MOST_TRIED, smallest_change
from coswim.remedies.trial import Trial, is_worse
from coswim.verdict.rating import Finding, verdict
from coswim.verdict.risk import Level

MOST_SHOWN = 3
"""Remedies reported for a finding."""


class Remedies(NamedTuple):
    """What was found for each finding, best first, and the smallest set that makes the proposal possible."""

    for_finding: Mapping[FindingKey, tuple[Remedy, ...]] = MappingProxyType({})
    best: Remedy | None = None


def search(trial: Trial, tell: Callable[[str], None]) -> Remedies | None:
    """The remedies of a proposal, told about as they are looked for; None where nothing needs one."""
    findings = to_remedy(trial.assessed)
    if not findings:
        return None
    kinds = ladders(trial.plan)
    options: dict[FindingKey, list[Option]] = {}
    shown: dict[FindingKey, tuple[Remedy, ...]] = {}
    for finding in findings:
        key = finding.found.key
        tell(f"{trial.plan.name}: looking for changes against {finding.found.hazard}")
        options[key] = options_against(finding, trial, kinds)
        shown[key] = tuple(_tested(trial, finding, options[key]))
    tell(f"{trial.plan.name}: looking for the smallest set of changes")
    best = _best(trial, findings, options)
    vast = ladders(trial.plan, LAST_RESORT)
    if best is None and vast:
        for finding in findings:
            key = finding.found.key
            larger = options_against(finding, trial, vast)
            shown[key] = shown[key] or tuple(_tested(trial, finding, larger))
            options[key] = [*larger, *options[key]]
        best = _best(trial, findings, options)
    return Remedies(MappingProxyType(shown), best)


def _best(trial: Trial, findings: Sequence[Finding], options: Mapping[FindingKey, Sequence[Option]]) -> Remedy | None:
    change = smallest_change(trial, findings, options)
    return _remedy(trial, change, trial.after(change).assessed.risk_number) if change else None


def _tested(trial: Trial, finding: Finding, options: Sequence[Option]) -> Iterator[Remedy]:
    """The first options, those that help, best first."""
    helpful = [option for option in options[:MOST_TRIED] if _helps(trial, finding, option)]
    helpful.sort(key=lambda option: (trial.after(option.change).assessed.risk_number, option.left, option.effort))
    yield from (_remedy(trial, option.change, option.left) for option in helpful[:MOST_SHOWN])


def _helps(trial: Trial, finding: Finding, option: Option) -> bool:
    if trial.harms_residents(option.change):
        return False
    before, after = trial.assessed, trial.after(option.change).assessed
    if after.risk_number < before.risk_number:
        return True
    return after.risk_number == before.risk_number and option.left < finding.risk and not is_worse(after, before)


def _remedy(trial: Trial, change: Change, left: int) -> Remedy:
    changed = trial.after(change)
    after = changed.assessed
    level = after.risk.level if after.risk else Level.LOW
    return Remedy(change.words, after.risk_number, level, verdict(after.risk, after.unrated), left, changed.plan)
