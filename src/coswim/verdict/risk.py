"""The risk table: likelihood × consequence gives a risk from 1 to 20, in four levels.

Risk values and their groups are those of MIL-STD-882D (2000), Tables A-III and A-IV, where 1 is worst;
coswim shows 21 - v, so that 20 is worst. The likelihood bands over the plan's horizon are coswim's own
(judgement): frequent from 50 of 100 futures, probable from 20, occasional from 5, remote from 1, improbable below; what
happens in fewer than 5 of 1,000 is not told from nothing and is the least risk there is.

A proposal's own risk is taken consequence by consequence from the futures in which any finding of that
consequence or a worse one happens, so that many small risks cannot hide behind each other. It is never below the
worst finding and never an average. The worst risk decides: high means `do not stock`, serious `change the plan
first`, medium `possible, with care`, low `reasonable`. Where something that could be serious cannot be rated and
nothing rated is, it `cannot be judged`.

A risk is taken three times: from the shares as they are, from the least and from the greatest that the draws cannot
tell from them. Where the three come to different levels the verdict lies on an edge and names all of them.

A share of futures is model output for ranking and explaining, not calibrated odds.
"""

from __future__ import annotations

from collections.abc import Mapping
from enum import StrEnum
from math import asin, pi, sin, sqrt
from types import MappingProxyType

from coswim.findings.finding import Consequence


class Likelihood(StrEnum):
    """How often it happens over the horizon, most often first."""

    FREQUENT = "frequent"
    PROBABLE = "probable"
    OCCASIONAL = "occasional"
    REMOTE = "remote"
    IMPROBABLE = "improbable"


class Level(StrEnum):
    """The groups of the risk table, worst first."""

    HIGH = "high"
    SERIOUS = "serious"
    MEDIUM = "medium"
    LOW = "low"


BANDS: Mapping[Likelihood, float] = MappingProxyType(
    {
        Likelihood.FREQUENT: 0.5,
        Likelihood.PROBABLE: 0.2,
        Likelihood.OCCASIONAL: 0.05,
        Likelihood.REMOTE: 0.01,
        Likelihood.IMPROBABLE: 0.0,
    }
)
"""Lowest share of draws of each band. Source: judgement."""
TOLD = 0.005
"""Share of draws below which a model of judgements says nothing: the least risk, whatever would happen. Source:
judgement; a thousand draws do not tell one in a thousand from none."""
LEAST_RISK = 1
ERRORS = 2.5
"""Standard errors within which the draws do not tell two shares from each other. Source: judgement; with evenly spread
draws shares err about three quarters as much as with independent ones, so that one seed in a thousand strays as far."""
CONSEQUENCES = tuple(Consequence)
VALUES: Mapping[Likelihood, tuple[int, ...]] = MappingProxyType(
    {
        Likelihood.FREQUENT: (1, 3, 7, 13),
        Likelihood.PROBABLE: (2, 5, 9, 16),
        Likelihood.OCCASIONAL: (4, 6, 11, 18),
        Likelihood.REMOTE: (8, 10, 14, 19),
        Likelihood.IMPROBABLE: (12, 15, 17, 20),
    }
)
"""MIL-STD-882D (2000) Table A-III; columns catastrophic, critical, marginal, negligible; 1 is worst."""
GROUPS: Mapping[Level, int] = MappingProxyType({Level.HIGH: 5, Level.SERIOUS: 9, Level.MEDIUM: 17, Level.LOW: 20})
"""Highest value of each group, MIL-STD-882D (2000) Table A-IV."""
WORST = 21
BEARABLE = WORST - GROUPS[Level.SERIOUS] - 1
"""The highest risk that is still medium."""
HARMLESS = WORST - GROUPS[Level.MEDIUM] - 1
"""The highest risk that is still low."""
VERDICTS: Mapping[Level, str] = MappingProxyType(
    {
        Level.HIGH: "do not stock",
        Level.SERIOUS: "change the plan first",
        Level.MEDIUM: "possible, with care",
        Level.LOW: "reasonable",
    }
)


def likelihood_of(share: float) -> Likelihood:
    """The band that a share of draws, 0 to 1, falls into; ValueError outside."""
    if not 0 <= share <= 1:
        raise ValueError(f"share {share} is outside 0 to 1")
    return next(band for band, lowest in BANDS.items() if share >= lowest)


def limits(share: float, draws: int) -> tuple[float, float]:
    """The least and the greatest share that so many draws cannot tell from this one.

    Equation: sin² (arcsin √share ± ERRORS / (2 √draws)); arcsin √share errs by 1 / (2 √draws), whatever the share.
    Source: Bartlett (1936), The square root transformation in analysis of variance, doi:10.2307/2983678 (memory).

    >>> [round(end, 3) for end in limits(0.05, 1000)], [round(end, 4) for end in limits(0.0, 1000)]
    ([0.034, 0.069], [0.0, 0.0016])
    """
    angle, error = asin(sqrt(share)), ERRORS / (2 * sqrt(draws))
    return sin(max(0.0, angle - error)) ** 2, sin(min(pi / 2, angle + error)) ** 2


def likelihoods_near(share: float, draws: int) -> tuple[Likelihood, ...]:
    """The band of a share, and those at its limits.

    >>> [str(band) for band in likelihoods_near(0.048, 1000)]
    ['remote', 'occasional']
    """
    return tuple(dict.fromkeys(map(likelihood_of, (share, *limits(share, draws)))))


def risk_in(share: float, consequence: Consequence) -> int:
    """The risk of what happens in a share of the draws.

    >>> risk_in(0.004, Consequence.CATASTROPHIC), risk_in(0.006, Consequence.CATASTROPHIC)
    (1, 9)
    """
    return LEAST_RISK if share < TOLD else risk_of(likelihood_of(share), consequence)


def risks_near(share: float, consequence: Consequence, draws: int) -> tuple[int, int, int]:
    """The risk of a share, and those of the least and of the greatest that so many draws cannot tell from it.

    >>> risks_near(0.006, Consequence.MARGINAL, 1000), risks_near(0.0, Consequence.MARGINAL, 1000)
    ((4, 1, 7), (1, 1, 1))
    """
    least, greatest = (risk_in(end, consequence) for end in limits(share, draws))
    return risk_in(share, consequence), least, greatest


def risk_of(likelihood: Likelihood, consequence: Consequence) -> int:
    """The risk, 1 (least) to 20 (worst).

    >>> risk_of(Likelihood.FREQUENT, Consequence.CATASTROPHIC)
    20
    """
    return WORST - VALUES[likelihood][CONSEQUENCES.index(consequence)]


def level_of(risk: int) -> Level:
    """The group of a risk from 1 to 20; ValueError outside."""
    if not 1 <= risk < WORST:
        raise ValueError(f"risk {risk} is outside 1 to 20")
    return next(level for level, highest in GROUPS.items() if WORST - risk <= highest)


def levels_near(risk: int, least: int, greatest: int) -> tuple[Level, ...]:
    """The level of a risk, and then those of all risks from the least to the greatest that it may as well be.

    >>> [str(level) for level in levels_near(9, 1, 13)]
    ['medium', 'low', 'serious']
    """
    return tuple(dict.fromkeys(map(level_of, (risk, *range(least, greatest + 1)))))
