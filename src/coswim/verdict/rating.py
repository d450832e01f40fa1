"""Findings rated, and the proposal's risk from the union of what happens in each draw."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import NamedTuple

import numpy as np

from coswim.arrays import Flags
from coswim.findings.finding import Consequence, Found
from coswim.findings.pictures import Picture
from coswim.profiles.catalog import Catalog
from coswim.verdict.confidence import confidence_of
from coswim.verdict.risk import VERDICTS, Level, Likelihood, level_of, likelihood_of, likelihoods_near, risk_of

UNRATED_SUFFIX = ", as far as it can be rated"


class Finding(NamedTuple):
    """A hazard's finding with its likelihood, risk, level and how well it is supported.

    `confidence` is the weakest kind of source among the traits it used, and `rests_on` names those traits.
    It has pictures once it is to be reported.
    """

    found: Found
    likelihood: float
    likelihood_levels: tuple[Likelihood, ...]
    consequence: Consequence
    risk: int
    level: Level
    confidence: str
    rests_on: tuple[str, ...] = ()
    pictures: tuple[Picture, ...] = ()

    @property
    def levels(self) -> tuple[Level, ...]:
        """The level, and the neighbouring one where the likelihood lies near a band's edge."""
        return tuple(dict.fromkeys(level_of(risk_of(band, self.consequence)) for band in self.likelihood_levels))


class Unrated(NamedTuple):
    """What a hazard cannot tell for want of evidence, with the support of what is known of it."""

    found: Found
    confidence: str
    rests_on: tuple[str, ...] = ()


class OverallRisk(NamedTuple):
    """The risk of a proposal as a whole and the share of draws behind it."""

    risk: int
    level: Level
    likelihood: float
    consequence: Consequence


def rate(found: Found, catalog: Catalog) -> Finding | Unrated | None:
    """The finding with its risk; None when it happens in no draw (and nothing is missing)."""
    confidence, rests_on = confidence_of(found, catalog)
    if found.missing:
        return Unrated(found, confidence, rests_on)
    rated = [
        (risk_of(likelihood_of(share), outcome.consequence), share, outcome.consequence)
        for outcome in found.outcomes
        if (share := float(np.mean(outcome.happens))) > 0
    ]
    if not rated:
        return None
    risk, share, consequence = max(rated, key=lambda item: (item[0], item[1]))
    return Finding(found, share, likelihoods_near(share), consequence, risk, level_of(risk), confidence, rests_on)


def shares_of(finding: Finding) -> dict[Consequence, float]:
    """The share of draws in which it comes to each consequence."""
    return {outcome.consequence: float(np.mean(outcome.happens)) for outcome in finding.found.outcomes}


def overall(findings: Iterable[Finding]) -> OverallRisk | None:
    """The worst risk over the consequences, each from the draws in which any finding brings it about.

    None when nothing was found.
    """
    shares = {consequence: float(np.mean(happens)) for consequence, happens in unions(findings).items()}
    return worst(shares)


def unions(findings: Iterable[Finding]) -> dict[Consequence, Flags]:
    """For each consequence the draws in which any finding brings it about, shape (draws,)."""
    together: dict[Consequence, Flags] = {}
    for finding in findings:
        for outcome in finding.found.outcomes:
            so_far = together.get(outcome.consequence)
            together[outcome.consequence] = outcome.happens if so_far is None else so_far | outcome.happens
    return together


def worst(shares: Mapping[Consequence, float]) -> OverallRisk | None:
    """The worst risk that some shares of draws come to; None when all are 0."""
    risks = [
        OverallRisk(risk := risk_of(likelihood_of(share), consequence), level_of(risk), share, consequence)
        for consequence, share in shares.items()
        if share > 0
    ]
    return max(risks, key=lambda one: (one.risk, one.likelihood), default=None)


def verdict(risk: OverallRisk | None, unrated: Iterable[Unrated]) -> str:
    """The decision in words; it says when something could not be rated."""
    words = VERDICTS[risk.level if risk else Level.LOW]
    return words + (UNRATED_SUFFIX if any(unrated) else "")
