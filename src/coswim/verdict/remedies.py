"""Which changes would help, found by making them to a copy of the plan and screening it again.

For each finding of serious or high risk every kind of change that the plan allows is tried; a change of
nothing that the hazard looks at is passed over. The search itself uses few draws and only the hazard
concerned, and looks for the smallest step that brings the finding down to medium, or as far as it goes.
What it finds is then screened with all draws and all hazards, and only that is reported: a remedy's risk
is the risk of screening the changed plan. Reported are changes that lower the proposal's risk, or the
finding's own without bringing another serious risk; none that brings one on the fish that live there.

The best change is the smallest set of changes that brings the proposal to medium or low, each of them at the
smallest step that does so beside the others. Tanks that few homes hold are tried only where nothing else does.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from types import MappingProxyType

from coswim.verdict.changes import Change, ladders, vast_tanks
from coswim.verdict.options import Option, by_ease, options_against, settled, to_remedy
from coswim.verdict.rating import Finding, Remedy, verdict
from coswim.verdict.risk import Level
from coswim.verdict.smallest import MOST_TRIED, Key, smallest_change
from coswim.verdict.trials import Bench, Look, is_worse

MOST_SHOWN = 3
"""Remedies tested and reported for a finding."""


@dataclass(frozen=True)
class Remedies:
    """What was found for each finding, best first, and the smallest set that makes the proposal possible."""

    for_finding: Mapping[Key, tuple[Remedy, ...]]
    best: Remedy | None


def search(bench: Bench, tell: Callable[[str], None]) -> Remedies | None:
    """The remedies of a proposal, told about as they are looked for; None where nothing needs one."""
    findings = to_remedy(bench.as_proposed)
    if not findings:
        return None
    hazards = tuple(dict.fromkeys(finding.found.hazard for finding in findings))
    scene = bench.as_proposed.scene
    quick, close = Look(bench, hazards, scene), Look(bench, hazards, scene)
    kinds, vast = by_ease(ladders(bench.case)), vast_tanks(bench.case)
    options: dict[Key, list[Option]] = {}
    shown: dict[Key, tuple[Remedy, ...]] = {}
    for finding in findings:
        key = finding.found.key
        tell(f"{bench.case.name}: looking for changes against {finding.found.hazard}")
        options[key] = [settled(close, finding, option) for option in options_against(quick, finding, kinds)]
        shown[key] = tuple(_tested(bench, finding, options[key]))
    tell(f"{bench.case.name}: looking for the smallest set of changes")
    best = _best(bench, quick, findings, options)
    if best is None and vast:
        for finding in findings:
            key = finding.found.key
            larger = [settled(close, finding, option) for option in options_against(quick, finding, {len(kinds): vast})]
            shown[key] = shown[key] or tuple(_tested(bench, finding, larger))
            options[key] = [*larger, *options[key]]
        best = _best(bench, quick, findings, options)
    return Remedies(MappingProxyType(shown), best)


def _best(bench: Bench, look: Look, findings: list[Finding], options: Mapping[Key, list[Option]]) -> Remedy | None:
    change = smallest_change(bench, look, findings, options)
    if change is None:
        return None
    changed = bench.changed(change)
    return _remedy(changed, change, changed.as_proposed.risk_number)


def _tested(bench: Bench, finding: Finding, options: list[Option]) -> Iterator[Remedy]:
    """The first options screened whole, those that help, best first."""
    remedies = [
        (bench.changed(option.change).as_proposed.risk_number, option.left, option.ease, option)
        for option in options[:MOST_TRIED]
        if _helps(bench, finding, option)
    ]
    remedies.sort(key=lambda item: item[:-1])
    yield from (
        _remedy(bench.changed(option.change), option.change, left) for _, left, _, option in remedies[:MOST_SHOWN]
    )


def _helps(bench: Bench, finding: Finding, option: Option) -> bool:
    if bench.harms_residents(option.change):
        return False
    before, after = bench.as_proposed, bench.changed(option.change).as_proposed
    if after.risk_number < before.risk_number:
        return True
    return after.risk_number == before.risk_number and option.left < finding.risk and not is_worse(after, before)


def _remedy(changed: Bench, change: Change, left: int) -> Remedy:
    after = changed.as_proposed
    level = after.risk.level if after.risk else Level.LOW
    words = verdict(after.risk, after.findings)
    return Remedy(change.words, after.risk_number, level, words, left, changed.case)
