"""Two species added together: each may be fine alone, and company changes feeding and quarrels."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from itertools import combinations

from coswim.plans.plan import Proposal
from coswim.shortlist.bench import Bench
from coswim.shortlist.judged import Advice, entry
from coswim.shortlist.ranking import ranked

BEST = 8
"""Species of the shortlist that are paired; 28 pairs. Source: judgement."""


def pairs(bench: Bench, best: Sequence[Advice], on_progress: Callable[[int, int], None]) -> tuple[Advice, ...]:
    """The pairs of the best that pass when they are screened together, best first."""
    chosen = list(combinations(best[:BEST], 2))
    passed: list[Advice] = []
    for done, (one, other) in enumerate(chosen, start=1):
        add, profiles = (*one.add, *other.add), (*one.profiles, *other.profiles)
        proposal = Proposal.model_construct(name=" and ".join(each.name for each in profiles), add=add)
        attempt = bench.attempt(proposal, *profiles)
        if attempt.passes:
            passed.append(entry(proposal, profiles, attempt, bench))
        on_progress(done, len(chosen))
    return ranked(passed)
