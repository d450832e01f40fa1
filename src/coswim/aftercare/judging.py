"""A diary held against the stop rules: carry on, act, or separate now, with the observation that decided it."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from datetime import date
from typing import NamedTuple

from coswim.aftercare.stop_rule import Decision, Met, StopRule
from coswim.aftercare.watched import Watched

SILENT = 7
"""Days without an entry after which the judgement says so. Source: judgement."""


class Ruling(NamedTuple):
    """One rule that is met, and by what."""

    rule: StopRule
    met: Met


class Judgement(NamedTuple):
    """The decision, the rulings of that severity (what decided first), milder ones, and how old the diary is."""

    decision: Decision
    decided: tuple[Ruling, ...]
    besides: tuple[Ruling, ...]
    on: date
    last_entry: date | None

    @property
    def silent_days(self) -> int:
        """Days since the last entry, where they are many; 0 otherwise."""
        days = (self.on - self.last_entry).days if self.last_entry else 0
        return days if days > SILENT else 0


def judge(seen: Watched, rules: Sequence[StopRule]) -> Judgement:
    """The worst decision that any rule asks for."""
    rulings = [Ruling(rule, met) for rule in rules if (met := rule.check(seen))]
    decision = max((ruling.rule.decision for ruling in rulings), key=[*Decision].index, default=Decision.CARRY_ON)
    decided = _each_once(ruling for ruling in rulings if ruling.rule.decision is decision)
    topics = {ruling.rule.topic for ruling in decided}
    milder = (one for one in rulings if one.rule.decision is not decision and one.rule.topic not in topics)
    return Judgement(
        decision,
        decided,
        _each_once(milder),
        seen.on,
        seen.noted[-1].date if seen.noted else None,
    )


def _each_once(rulings: Iterable[Ruling]) -> tuple[Ruling, ...]:
    """One ruling for each topic and advice: what is known already is not said again."""
    first: dict[tuple[str, str], Ruling] = {}
    for ruling in rulings:
        first.setdefault((ruling.rule.topic, ruling.rule.do), ruling)
    return tuple(first.values())
