"""The smallest set of changes that makes a proposal possible, each at the smallest step that does beside the others."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from itertools import combinations, islice

from coswim.findings.finding import FindingKey
from coswim.remedies.change import Change, go_together, together
from coswim.remedies.ladders import ladders
from coswim.remedies.options import Option, options_against, to_remedy
from coswim.remedies.trial import Trial
from coswim.verdict.rating import Finding
from coswim.verdict.risk import BEARABLE

MOST_TOGETHER = 3
"""Changes in a set. Source: judgement; a plan that needs more is another plan."""
MOST_TRIED = 8
"""Sets of each size that are tried. Source: judgement."""
SPARED = 0.5
"""Part of a tank that is worth another change beside it. Source: judgement."""


def smallest_change(
    trial: Trial, findings: Sequence[Finding], options: Mapping[FindingKey, Sequence[Option]]
) -> Change | None:
    """The smallest set that brings the proposal to medium or low, as one change; None where none was found."""
    pool = list({option.change.key: option for some in options.values() for option in some}.values())
    single = [option for option in pool if trial.solves(option.change)]
    if single:
        best = min(single, key=lambda option: (option.effort, trial.after(option.change).assessed.risk_number))
        return _all(_with_less_water(trial, best, pool))
    for chosen in _sets(trial, findings, pool):
        for tried in (chosen, _at_its_most(chosen)):
            if trial.solves(_all(tried)):
                return _all(_shrunk(trial, tried))
    mended = next(_mended(trial, findings, pool), None)
    return _all(_shrunk(trial, mended)) if mended else None


def _all(chosen: Sequence[Option]) -> Change:
    return together([option.change for option in sorted(chosen, key=lambda option: option.effort)])


def _sets(trial: Trial, findings: Sequence[Finding], pool: Sequence[Option]) -> Iterator[tuple[Option, ...]]:
    """Sets of changes that might do, small ones first, and among these those of least effort.

    One of the set brings each finding to medium, or several lower it, and something is left of what was to be bought.
    """
    left = {option.change.key: [trial.left_of(finding, option.change) for finding in findings] for option in pool}

    def may_do(chosen: Sequence[Option]) -> bool:
        by_finding = zip(*(left[option.change.key] for option in chosen), strict=True)
        return all(
            min(risks) <= BEARABLE or sum(risk < finding.risk for risk in risks) > 1
            for finding, risks in zip(findings, by_finding, strict=True)
        )

    for size in range(2, MOST_TOGETHER + 1):
        sets = sorted(combinations(pool, size), key=lambda chosen: sum(option.effort for option in chosen))
        hopeful = (
            chosen
            for chosen in sets
            if may_do(chosen)
            and go_together([option.change for option in chosen])
            and (not trial.plan.proposal.add or _all(chosen).apply(trial.plan).proposal.add)
        )
        yield from islice(hopeful, MOST_TRIED)


def _at_its_most(chosen: Sequence[Option]) -> tuple[Option, ...]:
    """The same changes, the one of most effort at its last step."""
    costliest = max(chosen, key=lambda option: option.effort)
    most = replace(costliest, step=len(costliest.ladder.steps) - 1)
    return tuple(most if option is costliest else option for option in chosen)


def _shrunk(trial: Trial, chosen: Sequence[Option]) -> Sequence[Option]:
    """The same changes, each at the first step that solves beside the others; that of most effort is shrunk first."""
    for place in sorted(range(len(chosen)), key=lambda place: -chosen[place].effort):
        sets = ([*chosen[:place], smaller, *chosen[place + 1 :]] for smaller in chosen[place].smaller)
        chosen = next((one for one in sets if trial.solves(_all(one))), chosen)
    return chosen


def _mended(trial: Trial, findings: Sequence[Finding], pool: Sequence[Option]) -> Iterator[tuple[Option, Option]]:
    """A change that does away with everything grave but brings something new, with another that mends that."""
    known = {finding.found.key for finding in findings}
    for option in pool:
        after = trial.after(option.change)
        new = to_remedy(after.assessed, BEARABLE)
        if new and not known & {finding.found.key for finding in new}:
            for other in options_against(new[0], after, ladders(after.plan), aim=BEARABLE):
                if go_together([option.change, other.change]) and trial.solves(_all([option, other])):
                    yield option, other


def _with_less_water(trial: Trial, single: Option, others: Sequence[Option]) -> Sequence[Option]:
    """A larger tank with another change beside it that spares half of it; else the change alone."""

    def litres(option: Option) -> float:
        return option.change.apply(trial.plan).tank.size.litres

    smaller = [option for option in single.smaller if litres(option) <= SPARED * litres(single)]
    if smaller:
        for other in sorted(others, key=lambda option: option.effort):
            pair = [other, smaller[-1]]
            if go_together([option.change for option in pair]) and trial.solves(_all(pair)):
                return _shrunk(trial, pair)
    return [single]
