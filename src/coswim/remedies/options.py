"""One change against one finding: which step of its ladder helps, how far, and whether it solves all."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace

from coswim.remedies.change import Change, Ladder
from coswim.remedies.trial import Trial
from coswim.verdict.assessment import Assessment
from coswim.verdict.rating import Finding


@dataclass(frozen=True)
class Option:
    """A step of a ladder that helps against a finding, and what it leaves of it."""

    ladder: Ladder
    step: int
    left: int

    @property
    def change(self) -> Change:
        """What is done at this step."""
        return self.ladder.steps[self.step]

    @property
    def effort(self) -> int:
        """What it asks of a keeper beside the other ladders."""
        return self.ladder.effort

    @property
    def smaller(self) -> list[Option]:
        """The steps below this one, smallest first."""
        return [replace(self, step=step) for step in range(self.step)]


def to_remedy(assessment: Assessment, above: int) -> list[Finding]:
    """The findings above a risk, worst first; where only all of them together are, those that bring that about."""
    if assessment.risk is None or assessment.risk_number <= above:
        return []
    consequence = assessment.risk.consequence
    worst = [finding for finding in assessment.findings if finding.risk > above]
    return worst or [
        finding
        for finding in assessment.findings
        if any(one.consequence == consequence and one.happens.any() for one in finding.found.outcomes)
    ]


def options_against(finding: Finding, trial: Trial, ladders: Iterable[Ladder], *, aim: int) -> list[Option]:
    """The smallest step of every ladder that does as much as its last against a finding, most helpful first.

    Of several that touch the same thing, such as two foods, the most helpful. `aim` is the risk below which it
    does not matter how low the finding comes.
    """
    found = [
        _smallest(finding, trial, ladder, aim)
        for ladder in ladders
        if ladder.is_against(finding.found.hazard)
        and trial.left_of(finding, ladder.steps[-1]) < finding.risk
        and trial.is_noticed(finding, ladder.steps[-1])
    ]
    found.sort(key=lambda option: (not trial.solves(option.change), max(aim, option.left), option.effort))
    by_touch: dict[tuple[str, ...], Option] = {}
    for option in found:
        by_touch.setdefault(option.change.touches, option)
    return list(by_touch.values())


def _smallest(finding: Finding, trial: Trial, ladder: Ladder, aim: int) -> Option:
    """The first step that does as much as the last, when none before the first does.

    As much is: a keeper notices it, it solves all where the last step does, and it brings the finding to the
    aim, or as low as the last does. Where no finding is grave any more but all together still are, steps further up
    are taken.
    """
    last = ladder.steps[-1]
    enough, must_solve = max(aim, trial.left_of(finding, last)), trial.solves(last)
    low, high = 0, len(ladder.steps) - 1
    while low < high:
        middle = (low + high) // 2
        change = ladder.steps[middle]
        does = trial.left_of(finding, change) <= enough and trial.is_noticed(finding, change)
        if does and (not must_solve or trial.solves(change)):
            high = middle
        else:
            low = middle + 1
    while high < len(ladder.steps) - 1 and trial.fails_only_by_all_together(ladder.steps[high]):
        high += 1
    return Option(ladder, high, trial.left_of(finding, ladder.steps[high]))
