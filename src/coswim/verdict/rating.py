"""Findings rated, and the proposal's risk from the union of what happens in each draw."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

import numpy as np

from coswim.findings.finding import Consequence, Found
from coswim.profiles.catalog import Catalog
from coswim.profiles.sources import weakest
from coswim.simulation.luck import Flags
from coswim.verdict.risk import Level, Likelihood, level_of, likelihood_of, likelihoods_near, risk_of


@dataclass(frozen=True)
class Remedy:
    """A change to the plan, in the keeper's words, and what the changed plan came to when it was screened."""

    change: str
    risk: int
    level: Level
    verdict: str


@dataclass(frozen=True)
class Finding:
    """A hazard's finding with its likelihood, risk, level and how well it is supported.

    `likelihood` is None where it cannot be rated.
    """

    found: Found
    likelihood: float | None
    likelihood_levels: tuple[Likelihood, ...]
    consequence: Consequence | None
    risk: int
    level: Level | None
    confidence: str
    remedies: tuple[Remedy, ...] = ()

    @property
    def is_rated(self) -> bool:
        """There was evidence enough to rate it."""
        return self.likelihood is not None

    @property
    def levels(self) -> tuple[Level, ...]:
        """The level, and the neighbouring one where the likelihood lies near a band's edge."""
        if self.consequence is None:
            return ()
        return tuple(dict.fromkeys(level_of(risk_of(band, self.consequence)) for band in self.likelihood_levels))


@dataclass(frozen=True)
class OverallRisk:
    """The risk of a proposal as a whole and the share of draws behind it."""

    risk: int
    level: Level
    likelihood: float
    consequence: Consequence


def rate(found: Found, catalog: Catalog) -> Finding | None:
    """The finding with its risk; None when it happens in no draw (and nothing is missing)."""
    confidence = weakest([catalog.evidence(used.profile, trait) for used in found.uses for trait in used.traits])
    if found.cannot_rate:
        return Finding(found, None, (), None, 0, None, confidence)
    rated = [
        (risk_of(likelihood_of(share), outcome.consequence), share, outcome.consequence)
        for outcome in found.outcomes
        if (share := float(np.mean(outcome.happens))) > 0
    ]
    if not rated:
        return None
    risk, share, consequence = max(rated, key=lambda item: (item[0], item[1]))
    return Finding(found, share, likelihoods_near(share), consequence, risk, level_of(risk), confidence)


def overall(findings: Iterable[Finding]) -> OverallRisk | None:
    """The worst risk over the consequences, each from the draws in which any finding brings it about.

    None when nothing was found.
    """
    unions: dict[Consequence, Flags] = {}
    for finding in findings:
        for outcome in finding.found.outcomes:
            so_far = unions.get(outcome.consequence)
            unions[outcome.consequence] = outcome.happens if so_far is None else so_far | outcome.happens
    best: OverallRisk | None = None
    for consequence, happens in unions.items():
        share = float(np.mean(happens))
        if share > 0:
            risk = risk_of(likelihood_of(share), consequence)
            if best is None or (risk, share) > (best.risk, best.likelihood):
                best = OverallRisk(risk, level_of(risk), share, consequence)
    return best
