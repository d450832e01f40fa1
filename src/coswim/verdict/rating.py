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
from coswim.verdict.risk import VERDICTS, Level, Likelihood, level_of, likelihoods_near, risk_in, risks_near

UNRATED_SUFFIX = ", as far as it can be rated"
CANNOT_BE_JUDGED = "cannot be judged"
NEVER_SERIOUS = frozenset({"schooling", "space"})
"""Hazards that by themselves come to no serious risk: what of company kills is aggression's. Source: judgement."""


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
        return tuple(dict.fromkeys(map(level_of, self.risks)))

    @property
    def risks(self) -> tuple[int, ...]:
        """The risk, and those that the draws cannot tell from it."""
        return risks_near(self.likelihood, self.consequence, self.found.draws)


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
    levels: tuple[Level, ...] = ()


def rate(found: Found, catalog: Catalog) -> Finding | Unrated | None:
    """The finding with its risk; None when it happens in no draw (and nothing is missing)."""
    confidence, rests_on = confidence_of(found, catalog)
    if found.missing:
        return Unrated(found, confidence, rests_on)
    rated = [
        (risk_in(share, outcome.consequence), share, outcome.consequence)
        for outcome in found.outcomes
        if (share := float(np.mean(outcome.happens))) > 0
    ]
    if not rated:
        return None
    risk, share, consequence = max(rated, key=lambda item: (item[0], item[1]))
    return Finding(
        found, share, likelihoods_near(share, found.draws), consequence, risk, level_of(risk), confidence, rests_on
    )


def shares_of(finding: Finding) -> dict[Consequence, float]:
    """The share of draws in which it comes to each consequence."""
    return {outcome.consequence: float(np.mean(outcome.happens)) for outcome in finding.found.outcomes}


def overall(findings: Iterable[Finding]) -> OverallRisk | None:
    """The worst risk over the consequences, each from the draws in which any finding brings it about.

    None when nothing was found.
    """
    together = unions(findings)
    draws = max((len(happens) for happens in together.values()), default=1)
    return worst({consequence: float(np.mean(happens)) for consequence, happens in together.items()}, draws)


def unions(findings: Iterable[Finding]) -> dict[Consequence, Flags]:
    """For each consequence the draws in which any finding brings it or a worse one about, shape (draws,)."""
    together: dict[Consequence, Flags] = {}
    for finding in findings:
        for outcome in finding.found.outcomes:
            so_far = together.get(outcome.consequence)
            together[outcome.consequence] = outcome.happens if so_far is None else so_far | outcome.happens
    cumulative: dict[Consequence, Flags] = {}
    so_bad: Flags | None = None
    for consequence in Consequence:
        if consequence in together:
            so_bad = together[consequence] if so_bad is None else so_bad | together[consequence]
            cumulative[consequence] = so_bad
    return cumulative


def worst(shares: Mapping[Consequence, float], draws: int) -> OverallRisk | None:
    """The worst risk that some shares of so many draws come to, with the levels it may as well have; None for none."""
    risks = [
        OverallRisk(risk := risk_in(share, consequence), level_of(risk), share, consequence)
        for consequence, share in shares.items()
        if share > 0
    ]
    found = max(risks, key=lambda one: (one.risk, one.likelihood), default=None)
    if found is None:
        return None
    near = [risks_near(share, consequence, draws) for consequence, share in shares.items() if share > 0]
    ends = (max(map(max, near)), max(map(min, near)))
    return found._replace(levels=tuple(dict.fromkeys((found.level, *map(level_of, ends)))))


def verdict(risk: OverallRisk | None, unrated: Iterable[Unrated]) -> str:
    """The decision in words.

    Where something that could be serious cannot be rated, nothing below serious is a judgement: it cannot be judged.
    """
    unrated = tuple(unrated)
    level = risk.level if risk else Level.LOW
    if level in {Level.MEDIUM, Level.LOW} and any(could_be_serious(one) for one in unrated):
        return CANNOT_BE_JUDGED
    return VERDICTS[level] + (UNRATED_SUFFIX if unrated else "")


def close_to(risk: OverallRisk | None) -> tuple[str, ...]:
    """The other decisions that the draws cannot tell from this one, in words."""
    return tuple(VERDICTS[level] for level in (risk.levels if risk else ()) if risk and level is not risk.level)


def could_be_serious(unrated: Unrated) -> bool:
    """What cannot be rated might be worse than anything that could be."""
    return unrated.found.hazard not in NEVER_SERIOUS
