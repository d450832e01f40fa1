"""A diary held against the stop rules: carry on, act, or separate now, with the observation that decided it."""

from __future__ import annotations

from collections.abc import Sequence
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
    decision = max(
        (ruling.rule.decision for ruling in rulings), key=lambda one: one.severity, default=Decision.CARRY_ON
    )
    return Judgement(
        decision,
        tuple(ruling for ruling in rulings if ruling.rule.decision is decision),
        tuple(ruling for ruling in rulings if ruling.rule.decision is not decision),
        seen.on,
        seen.noted[-1].date if seen.noted else None,
    )
