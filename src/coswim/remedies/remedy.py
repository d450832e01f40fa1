"""A remedy: a change to the plan, and what the changed plan came to when it was screened."""

from __future__ import annotations

from typing import NamedTuple

from coswim.remedies.changed_plan import ChangedPlan
from coswim.verdict.rating import Verdict
from coswim.verdict.risk import Level


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
