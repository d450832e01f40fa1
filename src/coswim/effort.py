"""How long a screening would take and how much memory, told before it starts; what would not fit is refused.

The figures are those of one ordinary core, measured with `tests/benchmarks/effort.py`; measure again when the
simulation changes. They need to tell seconds from hours, no more.
"""

from __future__ import annotations

from typing import NamedTuple

from coswim.plans.reading import ReadPlan
from coswim.simulation.scene import Effort
from coswim.simulation.shelf import ROOM
from coswim.simulation.times import times
from coswim.text import wording
from coswim.text.problems import whole_file

PER_SECOND = 1.1e7
"""Pairs of groups, in one draw at one time of the course, that are worked through in a second. Source: judgement on
measurements with 2 to 60 groups, 100 to 20,000 draws and 1 to 240 months, of which none was off by more than half."""
EACH = 9_500
"""What a pair costs once, however few the draws, in draws at one time. Source: judgement on the same."""
ALONE = 10
"""What a group costs by itself, in pairs. Source: judgement on the same."""
BYTES = 100
"""Memory that a group takes in one draw at one time. Source: measured, 5 to 60 groups with 1,000 draws, and 2 groups
with 100,000."""
TRIALS, TRIALS_PER_GROUP = 9, 0.6
"""How many times the work of a screening the search for remedies takes. Source: judgement on measurements with 2 to 20
groups, the dearest of them; where little needs a remedy it takes much less."""
KEPT, KEPT_PER_GROUP = 1, 0.5
"""How many times the arrays of a screening its trials keep in memory together, as far as the shelf has room. Source:
measured, 2 to 24 groups."""
LONGEST = 600.0
"""Seconds that a screening may take. Source: judgement, what one waits for."""
LARGEST = 4e9
"""Bytes that it may take. Source: judgement, what an ordinary machine can spare."""


class Estimate(NamedTuple):
    """What a screening would take."""

    seconds: float
    memory: float

    @property
    def fits(self) -> bool:
        """It is within the limits."""
        return self.seconds <= LONGEST and self.memory <= LARGEST

    def __str__(self) -> str:
        minutes, gigabytes = max(1, round(self.seconds / 60)), max(1, round(self.memory / 1e9))
        return f"{wording.counted(minutes, 'minute')} and {gigabytes:,} GB of memory"


LIMITS = Estimate(LONGEST, LARGEST)


def estimate(read: ReadPlan, effort: Effort, *, remedies: bool) -> Estimate:
    """What screening a plan would take."""
    plan = read.plan
    months = effort.months or plan.horizon
    cells, kept = effort.draws * len(times(months)), effort.draws * (months + 1)
    residents = len(plan.residents)
    groups = [residents, *(residents + len(proposal.add) for proposal in plan.proposals)]
    trials = [TRIALS + TRIALS_PER_GROUP * number if remedies else 0 for number in groups]
    pairs = sum(number * (number + ALONE) * (1 + tries) for number, tries in zip(groups, trials, strict=True))
    held = max(
        kept * number + (min(kept * number * (KEPT + KEPT_PER_GROUP * number), ROOM) if remedies else 0)
        for number in groups
    )
    return Estimate((cells + EACH) * pairs / PER_SECOND, BYTES * held)


def processes_that_fit(read: ReadPlan, effort: Effort, *, processes: int) -> int:
    """As many of some processes as may share the search for remedies and stay within the memory; at least one."""
    needed = estimate(read, effort, remedies=True)
    return max(1, min(processes, len(read.plan.proposals), int(LARGEST / max(1.0, needed.memory))))


def refuse_what_would_not_fit(read: ReadPlan, effort: Effort, *, remedies: bool) -> None:
    """InputProblems naming the limits, where a screening would take too long or too much memory."""
    needed = estimate(read, effort, remedies=remedies)
    if needed.fits:
        return
    less = ", or leave the search for changes out (--no-remedies)" if remedies else ""
    raise whole_file(
        read.name,
        f"would take about {needed}, the limits are {LIMITS}; ask for fewer draws, months, proposals or groups{less}",
    )
