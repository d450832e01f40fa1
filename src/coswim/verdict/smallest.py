"""The smallest set of changes that makes a proposal possible, each at the smallest step that does beside the others."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import replace
from itertools import combinations

from coswim.verdict.changes import Change, ladders, together
from coswim.verdict.options import Option, by_ease, options_against, to_remedy
from coswim.verdict.rating import Finding
from coswim.verdict.risk import WORST
from coswim.verdict.trials import BEARABLE, Bench, Look

MOST_TOGETHER = 3
"""Changes in a set. Source: judgement; a plan that needs more is another plan."""
MOST_TRIED = 4
"""Sets of each size that are screened. Source: judgement."""
LARGE_TANK = 2.0
"""Litres over those of the present tank from which a tank is no small change. Source: judgement."""
SPARED = 0.5
"""Part of a large tank that is worth another change beside it. Source: judgement."""
HOPELESS = WORST

Key = tuple[str, str, str, str]


def smallest_change(
    bench: Bench, look: Look, findings: list[Finding], options: Mapping[Key, list[Option]]
) -> Change | None:
    """The smallest set that brings the proposal to medium or low, as one change; None where none was found."""
    chosen = _solving(bench, look, findings, options)
    if chosen is None:
        return None
    close = Look(bench, look.hazards, bench.as_proposed.scene)
    chosen = _shrunk(bench, close, chosen)
    if len(chosen) == 1:
        chosen = _with_less_water(bench, close, chosen[0], [option for some in options.values() for option in some])
    return _all(chosen)


def _solving(
    bench: Bench, look: Look, findings: list[Finding], options: Mapping[Key, list[Option]]
) -> list[Option] | None:
    """What brings the proposal to medium or low: a tested change, a few, or one and another that mends it."""
    pool = {option.change.key: option for some in options.values() for option in some[:MOST_TRIED]}
    single = [option for option in pool.values() if bench.solves(option.change)]
    if single:
        return [min(single, key=lambda option: (bench.changed(option.change).as_proposed.risk_number, option.ease))]
    for chosen in _sets(look, findings, options):
        for tried in (chosen, _at_its_most(chosen)):
            if look.solves(_all(tried)) and bench.solves(_all(tried)):
                return tried
    return next(_mended(bench, findings, list(pool.values())), None)


def _all(chosen: list[Option]) -> Change:
    return together([option.change for option in sorted(chosen, key=lambda option: option.ease)])


def _at_its_most(chosen: list[Option]) -> list[Option]:
    """The same changes, the costliest of them at its last step."""
    costliest = max(chosen, key=lambda option: option.ease)
    most = replace(costliest, step=len(costliest.ladder.steps) - 1)
    return [most if option is costliest else option for option in chosen]


def _shrunk(bench: Bench, look: Look, chosen: list[Option]) -> list[Option]:
    """The same changes, each at the first step that solves beside the others, the costliest made smaller first.

    A look takes what it does not ask about as it was, so a step that it refuses may still do: those just below
    are screened whole.
    """
    for place in sorted(range(len(chosen)), key=lambda place: -chosen[place].ease):
        sets = [[*chosen[:place], smaller, *chosen[place + 1 :]] for smaller in chosen[place].smaller]
        found = next((i for i, one in enumerate(sets) if look.solves(_all(one)) and bench.solves(_all(one))), len(sets))
        while found > 0 and bench.solves(_all(sets[found - 1])):
            found -= 1
        chosen = sets[found] if found < len(sets) else chosen
    return chosen


def _with_less_water(bench: Bench, look: Look, tank: Option, others: list[Option]) -> list[Option]:
    """A large tank with another change beside it that spares half of it; else the tank alone."""

    def litres(option: Option) -> float:
        return option.change.apply(bench.case).tank.size.litres

    smaller = [option for option in tank.smaller if litres(option) <= SPARED * litres(tank)]
    if litres(tank) > LARGE_TANK * bench.case.tank.size.litres and smaller:
        for other in sorted(others, key=lambda option: option.ease):
            pair = [other, smaller[-1]]
            if _go_together(pair) and look.solves(_all(pair)) and bench.solves(_all(pair)):
                return _shrunk(bench, look, pair)
    return [tank]


def _sets(look: Look, findings: list[Finding], options: Mapping[Key, list[Option]]) -> Iterator[list[Option]]:
    """Sets of changes that might do, small ones first, and among these the most promising and easiest."""
    pool = {option.change.key: option for some in options.values() for option in some}
    left = {key: [look.risk_after(option.change, finding) for finding in findings] for key, option in pool.items()}
    for index, finding in enumerate(findings):
        for option in options[finding.found.key]:
            left[option.change.key][index] = option.left
    for size in range(2, MOST_TOGETHER + 1):
        ranked: list[tuple[int, int, list[Option]]] = []
        for chosen in map(list, combinations(pool.values(), size)):
            if _go_together(chosen):
                hopes = map(_hope, findings, zip(*(left[option.change.key] for option in chosen), strict=True))
                ranked.append((max(hopes), sum(option.ease for option in chosen), chosen))
        ranked.sort(key=lambda item: item[:-1])
        yield from (chosen for hope, _, chosen in ranked[:MOST_TRIED] if hope < HOPELESS)


def _hope(finding: Finding, left: tuple[int, ...]) -> int:
    """What the most helpful of some changes leaves of a finding; several that each lower it may do so together."""
    helpful = sum(risk < finding.risk for risk in left)
    return min(left) if helpful > 1 or min(left) <= BEARABLE else HOPELESS


def _go_together(chosen: list[Option]) -> bool:
    touches = [thing for option in chosen for thing in option.change.touches]
    return len(set(touches)) == len(touches)


def _mended(bench: Bench, findings: list[Finding], tried: list[Option]) -> Iterator[list[Option]]:
    """A change that does away with everything grave but brings something new, with another that mends that."""
    known = {finding.found.key for finding in findings}
    for option in tried:
        changed = bench.changed(option.change)
        new = to_remedy(changed.as_proposed)
        if new and not known & {finding.found.key for finding in new} and not bench.harms_residents(option.change):
            hazards = tuple(dict.fromkeys(finding.found.hazard for finding in new))
            look = Look(changed, hazards, changed.as_proposed.scene)
            for other in options_against(look, new[0], by_ease(ladders(changed.case)))[:MOST_TRIED]:
                both = [option, other]
                if _go_together(both) and bench.solves(_all(both)):
                    yield both
