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
from dataclasses import dataclass, replace
from itertools import combinations
from types import MappingProxyType

from coswim.findings.finding import Consequence
from coswim.verdict.assessment import Assessment
from coswim.verdict.changes import Change, Ladder, ladders, together, vast_tanks
from coswim.verdict.rating import Finding, Remedy, verdict
from coswim.verdict.risk import WORST, Level
from coswim.verdict.trials import BEARABLE, Bench, Look, is_worse

FEW_DRAWS = 200
"""Draws with which changes are looked for, before they are screened with all. Source: judgement."""
MOST_SHOWN = 3
"""Remedies tested and reported for a finding."""
MOST_TOGETHER = 3
"""Changes in a set. Source: judgement; a plan that needs more is another plan."""
MOST_TRIED = 4
"""Sets of each size that are screened. Source: judgement."""
MOST_STEPS = 3
"""Steps by which one that was found with few draws may prove too large in all."""

LARGE_TANK = 2.0
"""Litres over those of the present tank from which a tank is no small change. Source: judgement."""
SPARED = 0.5
"""Part of a large tank that is worth another change beside it. Source: judgement."""

HOPELESS = WORST
Key = tuple[str, str, str, str]


@dataclass(frozen=True)
class Remedies:
    """What was found for each finding, best first, and the smallest set that makes the proposal possible."""

    for_finding: Mapping[Key, tuple[Remedy, ...]]
    best: Remedy | None


@dataclass(frozen=True)
class _Option:
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
        return self.ladder.steps[self.step]

    @property
    def smaller(self) -> list[_Option]:
        """The steps below this one, smallest first."""
        return [replace(self, step=step) for step in range(self.step)]


def search(bench: Bench, tell: Callable[[str], None]) -> Remedies | None:
    """The remedies of a proposal, told about as they are looked for; None where nothing needs one."""
    findings = _to_remedy(bench.as_proposed)
    if not findings:
        return None
    hazards = tuple(dict.fromkeys(finding.found.hazard for finding in findings))
    scene = bench.as_proposed.scene
    quick, close = Look(bench, hazards, scene.first(FEW_DRAWS)), Look(bench, hazards, scene)
    kinds, vast = _by_ease(ladders(bench.case)), vast_tanks(bench.case)
    options: dict[Key, list[_Option]] = {}
    shown: dict[Key, tuple[Remedy, ...]] = {}
    for finding in findings:
        key = finding.found.key
        tell(f"{bench.case.name}: looking for changes against {finding.found.hazard}")
        options[key] = [_settled(close, finding, option) for option in _options(quick, finding, kinds)]
        shown[key] = tuple(_tested(bench, finding, options[key]))
    tell(f"{bench.case.name}: looking for the smallest set of changes")
    best = _best(bench, quick, findings, options)
    if best is None and vast:
        for finding in findings:
            key = finding.found.key
            larger = [_settled(close, finding, option) for option in _options(quick, finding, {len(kinds): vast})]
            shown[key] = shown[key] or tuple(_tested(bench, finding, larger))
            options[key] = [*larger, *options[key]]
        best = _best(bench, quick, findings, options)
    return Remedies(MappingProxyType(shown), best)


def _to_remedy(assessment: Assessment) -> list[Finding]:
    """Findings of serious or high risk; where only their sum is, those that it is made of, worst first."""
    if assessment.risk is None or assessment.risk_number <= BEARABLE:
        return []
    grave = [finding for finding in assessment.findings if finding.risk > BEARABLE]
    return grave or [finding for finding in assessment.findings if _brings(finding, assessment.risk.consequence)]


def _brings(finding: Finding, consequence: Consequence) -> bool:
    return any(one.consequence == consequence and one.happens.any() for one in finding.found.outcomes)


def _by_ease(kinds: tuple[Ladder, ...]) -> Mapping[int, Ladder]:
    return dict(enumerate(kinds))


def _options(look: Look, finding: Finding, kinds: Mapping[int, Ladder]) -> list[_Option]:
    """The smallest helpful step of every ladder that bears on a finding, most helpful first."""
    found: list[_Option] = []
    for ease, ladder in kinds.items():
        last = ladder.steps[-1]
        if not ladder.is_against(finding.found.hazard):
            continue
        if look.bears_on(last, finding) and look.risk_after(last, finding) < look.risk_now(finding):
            end = _Option(ladder, len(ladder.steps) - 1, ease, look.risk_after(last, finding), look.solves(last))
            found.append(_smallest(look, finding, end))
    found.sort(key=lambda option: (not option.solves, max(BEARABLE, option.left), option.ease))
    by_touch: dict[tuple[str, ...], _Option] = {}
    for option in found:
        by_touch.setdefault(option.change.touches, option)
    return list(by_touch.values())


def _does_as_much(look: Look, finding: Finding, option: _Option, step: int) -> bool:
    """The step brings the whole to medium, or at least the finding, or lowers it as far, if the option does."""
    change = option.ladder.steps[step]
    if look.risk_after(change, finding) > max(BEARABLE, option.left):
        return False
    return look.solves(change) or not option.solves


def _smallest(look: Look, finding: Finding, end: _Option) -> _Option:
    """The first step that does as much as the end of the ladder, when none before the first does."""
    low, high = 0, end.step
    while low < high:
        middle = (low + high) // 2
        if _does_as_much(look, finding, end, middle):
            high = middle
        else:
            low = middle + 1
    return _at(look, finding, end, high)


def _settled(look: Look, finding: Finding, option: _Option) -> _Option:
    """The option moved to the smallest step that does as much in all draws, as far as few draws were off."""
    step, last = option.step, len(option.ladder.steps) - 1
    if not _does_as_much(look, finding, option, step):
        return _smallest(look, finding, _at(look, finding, option, last))
    lowest = max(0, step - MOST_STEPS)
    while step > lowest and _does_as_much(look, finding, option, step - 1):
        step -= 1
    return _at(look, finding, option, step)


def _at(look: Look, finding: Finding, option: _Option, step: int) -> _Option:
    change = option.ladder.steps[step]
    return replace(option, step=step, left=look.risk_after(change, finding), solves=look.solves(change))


def _tested(bench: Bench, finding: Finding, options: list[_Option]) -> Iterator[Remedy]:
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


def _helps(bench: Bench, finding: Finding, option: _Option) -> bool:
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


def _best(bench: Bench, look: Look, findings: list[Finding], options: Mapping[Key, list[_Option]]) -> Remedy | None:
    """The smallest set that brings the proposal to medium or low, nothing in it larger than it need be."""
    chosen = _solving(bench, look, findings, options)
    if chosen is None:
        return None
    close = Look(bench, look.hazards, bench.as_proposed.scene)
    chosen = _shrunk(bench, close, chosen)
    if len(chosen) == 1:
        chosen = _with_less_water(bench, close, chosen[0], [option for some in options.values() for option in some])
    change = _all(chosen)
    changed = bench.changed(change)
    return _remedy(changed, change, changed.as_proposed.risk_number)


def _solving(
    bench: Bench, look: Look, findings: list[Finding], options: Mapping[Key, list[_Option]]
) -> list[_Option] | None:
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


def _all(chosen: list[_Option]) -> Change:
    return together([option.change for option in sorted(chosen, key=lambda option: option.ease)])


def _at_its_most(chosen: list[_Option]) -> list[_Option]:
    """The same changes, the costliest of them at its last step."""
    costliest = max(chosen, key=lambda option: option.ease)
    most = replace(costliest, step=len(costliest.ladder.steps) - 1)
    return [most if option is costliest else option for option in chosen]


def _shrunk(bench: Bench, look: Look, chosen: list[_Option]) -> list[_Option]:
    """The same changes, each at the first step that solves beside the others, the costliest made smaller first."""
    for place in sorted(range(len(chosen)), key=lambda place: -chosen[place].ease):
        for smaller in chosen[place].smaller:
            tried = [*chosen[:place], smaller, *chosen[place + 1 :]]
            if look.solves(_all(tried)) and bench.solves(_all(tried)):
                chosen = tried
                break
    return chosen


def _with_less_water(bench: Bench, look: Look, tank: _Option, others: list[_Option]) -> list[_Option]:
    """A large tank with another change beside it that spares half of it; else the tank alone."""

    def litres(option: _Option) -> float:
        return option.change.apply(bench.case).tank.size.litres

    smaller = [option for option in tank.smaller if litres(option) <= SPARED * litres(tank)]
    if litres(tank) > LARGE_TANK * bench.case.tank.size.litres and smaller:
        for other in sorted(others, key=lambda option: option.ease):
            pair = [other, smaller[-1]]
            if _go_together(pair) and look.solves(_all(pair)) and bench.solves(_all(pair)):
                return _shrunk(bench, look, pair)
    return [tank]


def _sets(look: Look, findings: list[Finding], options: Mapping[Key, list[_Option]]) -> Iterator[list[_Option]]:
    """Sets of changes that might do, small ones first, and among these the most promising and easiest."""
    pool = {option.change.key: option for some in options.values() for option in some}
    left = {key: [look.risk_after(option.change, finding) for finding in findings] for key, option in pool.items()}
    for index, finding in enumerate(findings):
        for option in options[finding.found.key]:
            left[option.change.key][index] = option.left
    for size in range(2, MOST_TOGETHER + 1):
        ranked: list[tuple[int, int, list[_Option]]] = []
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


def _go_together(chosen: list[_Option]) -> bool:
    touches = [thing for option in chosen for thing in option.change.touches]
    return len(set(touches)) == len(touches)


def _mended(bench: Bench, findings: list[Finding], tried: list[_Option]) -> Iterator[list[_Option]]:
    """A change that does away with everything grave but brings something new, with another that mends that."""
    known = {finding.found.key for finding in findings}
    for option in tried:
        changed = bench.changed(option.change)
        new = _to_remedy(changed.as_proposed)
        if new and not known & {finding.found.key for finding in new} and not bench.harms_residents(option.change):
            hazards = tuple(dict.fromkeys(finding.found.hazard for finding in new))
            look = Look(changed, hazards, changed.as_proposed.scene.first(FEW_DRAWS))
            for other in _options(look, new[0], _by_ease(ladders(changed.case)))[:MOST_TRIED]:
                both = [option, other]
                if _go_together(both) and bench.solves(_all(both)):
                    yield both
