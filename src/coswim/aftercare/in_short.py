"""What comes after buying in three lines: the order of moving in, what to watch, when to stop."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import date
from typing import NamedTuple

from coswim.aftercare.calendar import BETWEEN_GROUPS, QUARANTINE, hour_in_short, order_of_moving_in
from coswim.aftercare.company import Company, company_of
from coswim.aftercare.concerns import Concern, concerns_of
from coswim.aftercare.stop_rule import Decision, StopRule
from coswim.aftercare.stop_rules import stop_rules
from coswim.plans.reading import ReadPlan
from coswim.screening import Screened

MOST_SIGNS = 2
ANY_DAY = date(2001, 1, 1)
"""A company is dated; no line here tells a day."""


class InShort(NamedTuple):
    """What each line says: sentences, without an opening capital. No order where nobody moves in.

    `stop` has a sign or two; `stop_first` the first alone, where there is little room.
    """

    order: str
    watch: tuple[str, ...]
    stop: str
    stop_first: str


def in_short(screened: Screened, read: ReadPlan) -> InShort:
    """The three lines for a proposal; what to watch and when to stop follow from its worst findings."""
    company = company_of(read, screened.proposal, start=ANY_DAY)
    concerns = concerns_of(screened, company)
    order = _order(company, concerns) if company.newcomers else ""
    signs = [*_signs(stop_rules(company, concerns))]
    stop, first = (f"part them the same day when {', or when '.join(some)}" for some in (signs, signs[:1]))
    return InShort(order, screened.watch, stop, first)


def _order(company: Company, concerns: Sequence[Concern]) -> str:
    hour = hour_in_short(company, concerns)
    first, *others = (fish.label for fish in order_of_moving_in(company.newcomers))
    if not others:
        return f"after {QUARANTINE} days of quarantine, {hour}"
    return (
        f"after {QUARANTINE} days of quarantine, {' then '.join((first, *others))}, {BETWEEN_GROUPS} days apart; "
        f"always {hour}"
    )


def _signs(rules: Sequence[StopRule]) -> Iterator[str]:
    """The first signs that part fish, each of a kind of its own; those of the worst findings come first."""
    parting = [rule for rule in rules if rule.decision is Decision.SEPARATE]
    first = {rule.topic: rule for rule in reversed(parting)}  # the first of each topic is the one that stays
    kinds = dict.fromkeys(rule.topic for rule in parting)
    yield from (first[topic].plainly or first[topic].sign for topic in [*kinds][:MOST_SIGNS])
