"""One change against one finding: which step of its ladder helps, how far, and whether it solves all."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace

from coswim.findings.finding import Consequence
from coswim.verdict.assessment import Assessment
from coswim.verdict.changes import Change, Ladder
from coswim.verdict.rating import Finding
from coswim.verdict.trials import BEARABLE, Look

MOST_STEPS = 3
"""Steps by which one that was found with few draws may prove too large in all."""


@dataclass(frozen=True)
class Option:
    """A step of a ladder that helps against a finding, what it leaves of it, and whether it solves all.

    The lower its ease, the easier it is.
    """

    ladder: Ladder
    step: int
    ease: int
    left: int
    solves: bool

    @property
    def change(self) -> Change:
        """What is done at this step."""
        return self.ladder.steps[self.step]

    @property
    def smaller(self) -> list[Option]:
        """The steps below this one, smallest first."""
        return [replace(self, step=step) for step in range(self.step)]


def to_remedy(assessment: Assessment) -> list[Finding]:
    """Findings of serious or high risk; where only their sum is, those that it is made of, worst first."""
    if assessment.risk is None or assessment.risk_number <= BEARABLE:
        return []
    grave = [finding for finding in assessment.findings if finding.risk > BEARABLE]
    return grave or [finding for finding in assessment.findings if _brings(finding, assessment.risk.consequence)]


def _brings(finding: Finding, consequence: Consequence) -> bool:
    return any(one.consequence == consequence and one.happens.any() for one in finding.found.outcomes)


def by_ease(kinds: tuple[Ladder, ...]) -> Mapping[int, Ladder]:
    """The kinds of change by how easy they are, from 0."""
    return dict(enumerate(kinds))


def options_against(look: Look, finding: Finding, kinds: Mapping[int, Ladder]) -> list[Option]:
    """The smallest helpful step of every ladder that bears on a finding, most helpful first."""
    found: list[Option] = []
    for ease, ladder in kinds.items():
        last = ladder.steps[-1]
        if not ladder.is_against(finding.found.hazard):
            continue
        if look.bears_on(last, finding) and look.risk_after(last, finding) < look.risk_now(finding):
            end = Option(ladder, len(ladder.steps) - 1, ease, look.risk_after(last, finding), look.solves(last))
            found.append(_smallest(look, finding, end))
    found.sort(key=lambda option: (not option.solves, max(BEARABLE, option.left), option.ease))
    by_touch: dict[tuple[str, ...], Option] = {}
    for option in found:
        by_touch.setdefault(option.change.touches, option)
    return list(by_touch.values())


def _does_as_much(look: Look, finding: Finding, option: Option, step: int) -> bool:
    """The step brings the whole to medium, or at least the finding, or lowers it as far, if the option does."""
    change = option.ladder.steps[step]
    if look.risk_after(change, finding) > max(BEARABLE, option.left):
        return False
    return look.solves(change) or not option.solves


def _smallest(look: Look, finding: Finding, end: Option) -> Option:
    """The first step that does as much as the end of the ladder, when none before the first does."""
    low, high = 0, end.step
    while low < high:
        middle = (low + high) // 2
        if _does_as_much(look, finding, end, middle):
            high = middle
        else:
            low = middle + 1
    return _at(look, finding, end, high)


def settled(look: Look, finding: Finding, option: Option) -> Option:
    """The option moved to the smallest step that does as much in all draws, as far as few draws were off."""
    step, last = option.step, len(option.ladder.steps) - 1
    if not _does_as_much(look, finding, option, step):
        return _smallest(look, finding, _at(look, finding, option, last))
    lowest = max(0, step - MOST_STEPS)
    while step > lowest and _does_as_much(look, finding, option, step - 1):
        step -= 1
    return _at(look, finding, option, step)


def _at(look: Look, finding: Finding, option: Option, step: int) -> Option:
    change = option.ladder.steps[step]
    return replace(option, step=step, left=look.risk_after(change, finding), solves=look.solves(change))
