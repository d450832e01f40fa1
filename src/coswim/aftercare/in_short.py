"""What comes after buying in three lines: the order of moving in, what to watch, when to stop."""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from coswim.aftercare.calendar import QUARANTINE, hour_of_moving_in, order_of_moving_in
from coswim.aftercare.company import Company
from coswim.aftercare.concerns import Concern
from coswim.aftercare.stop_rule import Decision
from coswim.aftercare.stop_rules import stop_rules
from coswim.text import wording


class InShort(NamedTuple):
    """Three sentences for the end of a report."""

    order: str
    watch: str
    stop: str


def in_short(company: Company, concerns: Sequence[Concern]) -> InShort:
    """The three lines for a company; what to watch and when to stop follow from its worst findings."""
    order = " then ".join(fish.label for fish in order_of_moving_in(company.newcomers))
    rules = stop_rules(company, concerns)
    acts, parts = (
        [rule.sign for rule in rules if rule.decision is decision] for decision in (Decision.ACT, Decision.SEPARATE)
    )
    hour = hour_of_moving_in(company, concerns).rstrip(".")
    return InShort(
        f"Quarantine {QUARANTINE} days, then {order}: {hour[:1].lower()}{hour[1:]}.",
        f"Act when {wording.listed(acts[:2], last='or')}.",
        f"Separate the same day when {wording.listed(parts[:2], last='or')}.",
    )
