"""The smallest set of changes that makes a proposal possible, each at the smallest step that does beside the others."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from itertools import combinations, islice

from coswim.findings.finding import FindingKey
from coswim.remedies.change import Change, together
from coswim.remedies.ladders import ladders
from coswim.remedies.options import MOST_TRIED, Option, options_against, to_remedy
from coswim.remedies.trial import Trial
from coswim.verdict.rating import Finding
from coswim.verdict.risk import BEARABLE, WORST

MOST_TOGETHER = 3
"""Changes in a set. Source: judgement; a plan that needs more is another plan."""
LARGE_TANK = 2.0
"""Litres over those of the present tank from which a tank is no small change. Source: judgement."""
SPARED = 0.5
"""Part of a large tank that is worth another change beside it. Source: judgement."""
HOPELESS = WORST


def smallest_change(
    trial: Trial, findings: Sequence[Finding], options: Mapping[FindingKey, Sequence[Option]]
) -> Change | None:
    """The smallest set that brings the proposal to medium or low, as one change; None where none was found."""
    chosen = _solving(trial, findings, options)
    if chosen is None:
        return None
    if len(chosen) > 1:
        chosen = _shrunk(trial, chosen)
    else:
        chosen = _with_less_water(trial, chosen[0], [option for some in options.values() for option in some])
    return _all(chosen)


def _solving(
    trial: Trial, findings: Sequence[Finding], options: Mapping[FindingKey, Sequence[Option]]
) -> list[Option] | None:
    """What brings the proposal to medium or low: a tested change, a few, or one and another that mends it."""
    pool = {option.change.key: option for some in options.values() for option in some[:MOST_TRIED]}
    single = [option for option in pool.values() if trial.solves(option.change)]
    if single:
        return [min(single, key=lambda option: (option.effort, trial.after(option.change).assessed.risk_number))]
    for chosen in _sets(trial, findings, options):
        for tried in (chosen, _at_its_most(chosen)):
            if trial.solves(_all(tried)):
                return tried
    return next(_mended(trial, findings, list(pool.values())), None)


def _all(chosen: list[Option]) -> Change:
    return together([option.change for option in sorted(chosen, key=lambda option: option.effort)])


def _at_its_most(chosen: list[Option]) -> list[Option]:
    """The same changes, the costliest of them at its last step."""
    costliest = max(chosen, key=lambda option: option.effort)
    most = replace(costliest, step=len(costliest.ladder.steps) - 1)
    return [most if option is costliest else option for option in chosen]


def _shrunk(trial: Trial, chosen: list[Option]) -> list[Option]:
    """The same changes, each at the first step that solves beside the others, the costliest made smaller first."""
    for place in sorted(range(len(chosen)), key=lambda place: -chosen[place].effort):
        sets = ([*chosen[:place], smaller, *chosen[place + 1 :]] for smaller in chosen[place].smaller)
        chosen = next((one for one in sets if trial.solves(_all(one))), chosen)
    return chosen


def _with_less_water(trial: Trial, tank: Option, others: list[Option]) -> list[Option]:
    """A large tank with another change beside it that spares half of it; else the tank alone."""

    def litres(option: Option) -> float:
        return option.change.apply(trial.plan).tank.size.litres

    smaller = [option for option in tank.smaller if litres(option) <= SPARED * litres(tank)]
    if litres(tank) > LARGE_TANK * trial.plan.tank.size.litres and smaller:
        for other in sorted(others, key=lambda option: option.effort):
            pair = [other, smaller[-1]]
            if _go_together(pair) and trial.solves(_all(pair)):
                return _shrunk(trial, pair)
    return [tank]


def _sets(
    trial: Trial, findings: Sequence[Finding], options: Mapping[FindingKey, Sequence[Option]]
) -> Iterator[list[Option]]:
    """Sets of changes that might do, small ones first, and among these the most promising and easiest."""
    pool = {option.change.key: option for some in options.values() for option in some}
    left = {key: [trial.left_of(finding, option.change) for finding in findings] for key, option in pool.items()}
    for size in range(2, MOST_TOGETHER + 1):
        ranked: list[tuple[int, int, list[Option]]] = []
        for chosen in map(list, combinations(pool.values(), size)):
            if _go_together(chosen):
                hopes = map(_hope, findings, zip(*(left[option.change.key] for option in chosen), strict=True))
                ranked.append((max(hopes), sum(option.effort for option in chosen), chosen))
        ranked.sort(key=lambda item: item[:-1])
        hopeful = (chosen for hope, _, chosen in ranked if hope < HOPELESS)
        yield from islice((chosen for chosen in hopeful if _all(chosen).apply(trial.plan).proposal.add), MOST_TRIED)


def _hope(finding: Finding, left: tuple[int, ...]) -> int:
    """What the most helpful of some changes leaves of a finding; several that each lower it may do so together."""
    helpful = sum(risk < finding.risk for risk in left)
    return min(left) if helpful > 1 or min(left) <= BEARABLE else HOPELESS


def _go_together(chosen: list[Option]) -> bool:
    touches = [thing for option in chosen for thing in option.change.touches]
    return len(set(touches)) == len(touches)


def _mended(trial: Trial, findings: Sequence[Finding], tried: list[Option]) -> Iterator[list[Option]]:
    """A change that does away with everything grave but brings something new, with another that mends that."""
    known = {finding.found.key for finding in findings}
    for option in tried:
        after = trial.after(option.change)
        new = to_remedy(after.assessed, BEARABLE)
        if new and not known & {finding.found.key for finding in new} and not trial.harms_residents(option.change):
            for other in options_against(new[0], after, ladders(after.plan), aim=BEARABLE)[:MOST_TRIED]:
                both = [option, other]
                if _go_together(both) and trial.solves(_all(both)):
                    yield both
