"""A change to a plan, in a keeper's words, how it is made to a copy, and what it came to when that was screened."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import NamedTuple

from coswim.remedies.changed_plan import ChangedPlan
from coswim.text import wording
from coswim.verdict.rating import Verdict
from coswim.verdict.risk import Level


@dataclass(frozen=True)
class Change:
    """One change, or several together, in words, what it touches, and how it is made to a copy of a plan."""

    touches: tuple[str, ...]
    words: str
    apply: Callable[[ChangedPlan], ChangedPlan]

    @property
    def key(self) -> str:
        """What tells this change from all others of a plan."""
        return f"{'|'.join(self.touches)}|{self.words}"


class Ladder(NamedTuple):
    """One kind of change in steps, from the smallest to the largest, against some hazards alone or against all.

    The lower its `effort`, the less it asks of a keeper; it has a meaning only beside other ladders.
    """

    steps: Sequence[Change]
    against: frozenset[str] | None = None
    effort: int = 0

    def is_against(self, hazard: str) -> bool:
        """A keeper would think of it against this hazard."""
        return self.against is None or hazard in self.against


class Remedy(NamedTuple):
    """A change to the plan, in the keeper's words, and what the changed plan came to when it was screened.

    `risk` is the proposal's own (0 when nothing is found any more), `finding_risk` that of the finding
    that the remedy is for (0 when it no longer happens). `changed` is the plan that was screened.
    """

    change: str
    risk: int
    level: Level
    verdict: Verdict
    finding_risk: int
    changed: ChangedPlan


def go_together(changes: Sequence[Change]) -> bool:
    """No two of the changes touch the same thing."""
    touches = [thing for change in changes for thing in change.touches]
    return len(set(touches)) == len(touches)


def together(changes: Sequence[Change]) -> Change:
    """Several changes made at once."""

    def apply(plan: ChangedPlan) -> ChangedPlan:
        for change in changes:
            plan = change.apply(plan)
        return plan

    touches = tuple(thing for change in changes for thing in change.touches)
    return Change(touches, wording.listed([change.words for change in changes]), apply)
