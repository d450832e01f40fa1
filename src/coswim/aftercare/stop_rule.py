"""A stop rule: a sign to look for, the decision it calls for, and what to do then; and a diary held against some.

The judgement is carry on, act, or separate now, with the observation that decided it.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from datetime import date
from enum import StrEnum
from typing import NamedTuple

from coswim.aftercare.company import Companion
from coswim.aftercare.signs import Sign
from coswim.aftercare.watched import Noted, Watched

SILENT = 7
"""Days without an entry after which the judgement says so. Source: judgement."""


class Decision(StrEnum):
    """What a keeper does now, mildest first."""

    CARRY_ON = "carry on"
    ACT = "act"
    SEPARATE = "separate now"


PART, ACT = Decision.SEPARATE, Decision.ACT


class Met(NamedTuple):
    """A rule that is met: the observation that decided it, in words, and its entry."""

    words: str
    noted: Noted


Check = Callable[[Watched], Met | None]
"""Holds a diary against one rule; None where it is not met."""


class StopRule(NamedTuple):
    """`sign` completes `When ...`; `do` is a sentence; `because` is the finding it follows from, of risk `risk`.

    `plainly` is the sign without grades, for who has not read how damage is graded.
    """

    topic: str
    decision: Decision
    sign: str
    do: str
    check: Check
    plainly: str = ""
    because: str = ""
    risk: int = 0


def of_any_group(
    topic: str,
    decision: Decision,
    sign: str,
    do: str,
    one: Callable[[Watched, Companion], Met | None],
    plainly: str = "",
) -> StopRule:
    """A rule that is met by the first group that meets it."""

    def check(seen: Watched) -> Met | None:
        return next((met for fish in seen.company.fish if (met := one(seen, fish))), None)

    return StopRule(topic, decision, sign, do, check, plainly)


def in_notes(sign: Sign, *, within: int) -> Check:
    """Met by a note of the last so many days that tells of a sign, and to which no later one says `better`."""

    def check(seen: Watched) -> Met | None:
        found = seen.standing(sign, within=within)
        read = found.says(sign) if found else None
        return Met(f'"{read.words}"', found) if read and found else None

    return check


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
    last_entry = seen.noted[-1].date if seen.noted else None
    return Judgement(decision, decided, _each_once(milder), seen.on, last_entry)


def _each_once(rulings: Iterable[Ruling]) -> tuple[Ruling, ...]:
    """One ruling for each topic and advice: what is known already is not said again."""
    first: dict[tuple[str, str], Ruling] = {}
    for ruling in rulings:
        first.setdefault((ruling.rule.topic, ruling.rule.do), ruling)
    return tuple(first.values())
