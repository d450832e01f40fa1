"""Findings rated, and the proposal's risk from the union of what happens in each draw."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import NamedTuple

from coswim.arrays import Flags, share_of
from coswim.findings.finding import Consequence, Found, Outcome
from coswim.findings.pictures import Picture
from coswim.profiles.catalog import Catalog
from coswim.text import wording
from coswim.verdict.confidence import confidence_of
from coswim.verdict.risk import (
    VERDICTS,
    Level,
    Likelihood,
    level_of,
    levels_near,
    likelihoods_near,
    risk_in,
    risks_near,
)

UNRATED_SUFFIX = ", as far as it can be rated"
CANNOT_BE_JUDGED = "cannot be judged"
NEVER_SERIOUS = frozenset({"schooling", "space"})
"""Hazards that by themselves come to no serious risk: what of company kills is aggression's. Source: judgement."""


class Finding(NamedTuple):
    """A hazard's finding with its likelihood, risk, level and how well it is supported.

    `confidence` is the weakest kind of source among the traits it used, and `rests_on` names those traits.
    It has pictures once it is to be reported. `without` is the share of draws in which it happens without the newcomers
    too, where only the others are counted.
    """

    found: Found
    likelihood: float
    consequence: Consequence
    risk: int
    confidence: str
    rests_on: tuple[str, ...] = ()
    pictures: tuple[Picture, ...] = ()
    without: float = 0.0

    def in_draws(self, outcomes: tuple[Outcome, ...]) -> Finding | None:
        """The same where it comes to pass in other draws; None where it does in none."""
        rated = _worst_of(outcomes)
        if rated is None:
            return None
        risk, share, consequence = rated
        found = self.found._replace(outcomes=outcomes)
        return self._replace(found=found, likelihood=share, consequence=consequence, risk=risk)

    @property
    def level(self) -> Level:
        """The group of its risk."""
        return level_of(self.risk)

    @property
    def levels(self) -> tuple[Level, ...]:
        """The level, and the others that the draws cannot tell from it."""
        return levels_near(*risks_near(self.likelihood, self.consequence, self.found.draws))

    @property
    def likelihood_levels(self) -> tuple[Likelihood, ...]:
        """The band of its likelihood, and the others that the draws cannot tell from it."""
        return likelihoods_near(self.likelihood, self.found.draws)


class Unrated(NamedTuple):
    """What a hazard cannot tell for want of evidence, with the support of what is known of it."""

    found: Found
    confidence: str
    rests_on: tuple[str, ...] = ()


class OverallRisk(NamedTuple):
    """The risk of a proposal as a whole, the share of draws behind it, and the levels that the draws leave open.

    The first of `levels` is that of the risk itself.
    """

    risk: int
    likelihood: float
    consequence: Consequence
    levels: tuple[Level, ...]

    @property
    def level(self) -> Level:
        """The group of its risk."""
        return self.levels[0]


class Verdict(NamedTuple):
    """The decision in words, and the others that the draws cannot tell from it."""

    words: str
    close_to: tuple[str, ...] = ()

    @property
    def on_edge(self) -> str:
        """What follows the decision where it may be another: `, close to change the plan first`."""
        return f", close to {wording.listed(self.close_to, last='or')}" if self.close_to else ""

    def __str__(self) -> str:
        return self.words + self.on_edge


def rate(found: Found, catalog: Catalog) -> Finding | Unrated | None:
    """The finding with its risk; None when it happens in no draw (and nothing is missing)."""
    if found.missing:
        return Unrated(found, *confidence_of(found, catalog))
    rated = _worst_of(found.outcomes)
    if rated is None:
        return None
    risk, share, consequence = rated
    return Finding(found, share, consequence, risk, *confidence_of(found, catalog))


def _worst_of(outcomes: Iterable[Outcome]) -> tuple[int, float, Consequence] | None:
    """The highest risk of some outcomes with its likelihood and consequence; None where nothing happens."""
    rated = [
        (risk_in(share, outcome.consequence), share, outcome.consequence)
        for outcome in outcomes
        if (share := share_of(outcome.happens)) > 0
    ]
    return max(rated, key=lambda item: (item[0], item[1]), default=None)


def shares_of(finding: Finding) -> dict[Consequence, float]:
    """The share of draws in which it comes to each consequence."""
    return {outcome.consequence: share_of(outcome.happens) for outcome in finding.found.outcomes}


def overall(findings: Iterable[Finding]) -> OverallRisk | None:
    """The worst risk over the consequences, each from the draws in which any finding brings it about.

    None when nothing was found.
    """
    together = unions(findings)
    draws = max((len(happens) for happens in together.values()), default=1)
    return worst({consequence: share_of(happens) for consequence, happens in together.items()}, draws)


def unions(findings: Iterable[Finding]) -> dict[Consequence, Flags]:
    """For each consequence the draws in which any finding brings it or a worse one about, shape (draws,)."""
    outcomes = [outcome for finding in findings for outcome in finding.found.outcomes]
    so_bad: Flags | None = None
    cumulative: dict[Consequence, Flags] = {}
    for consequence in Consequence:
        for happens in (outcome.happens for outcome in outcomes if outcome.consequence is consequence):
            cumulative[consequence] = so_bad = happens if so_bad is None else so_bad | happens
    return cumulative


def worst(shares: Mapping[Consequence, float], draws: int) -> OverallRisk | None:
    """The worst risk that some shares of so many draws come to, with the levels it may as well have; None for none."""
    near = {each: risks_near(share, each, draws) for each, share in shares.items() if share > 0}
    if not near:
        return None
    consequence = max(near, key=lambda each: (near[each][0], shares[each]))
    risk, least, greatest = map(max, zip(*near.values(), strict=True))
    return OverallRisk(risk, shares[consequence], consequence, levels_near(risk, least, greatest))


def verdict(risk: OverallRisk | None, unrated: Iterable[Unrated]) -> Verdict:
    """The decision, and what else it may be.

    Where something that could be serious cannot be rated, nothing below serious is a judgement: it cannot be judged.
    """
    unrated = tuple(unrated)
    words, *others = dict.fromkeys(_in_words(level, unrated) for level in (risk.levels if risk else (Level.LOW,)))
    return Verdict(words, tuple(others))


def _in_words(level: Level, unrated: tuple[Unrated, ...]) -> str:
    if level in {Level.MEDIUM, Level.LOW} and any(one.found.hazard not in NEVER_SERIOUS for one in unrated):
        return CANNOT_BE_JUDGED
    return VERDICTS[level] + (UNRATED_SUFFIX if unrated else "")
