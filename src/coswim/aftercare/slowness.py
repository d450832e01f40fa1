"""Whether this fish feeds more slowly than its kind, from what a diary says of its meals.

Each simulated individual has a pace over its kind's, and with it a share of its ration in this company. An
individual whose share makes the diary's words likely is believed more.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from coswim.arrays import Floats

YES_FROM, NO_BELOW = 0.85, 0.15
"""Share of its ration from which a keeper writes `yes`, and below which `no`. Source: judgement."""
BLUR = 0.08
"""How far a day's meal and a keeper's eye are off, share of a ration (scale of a logistic). Source: judgement."""
CARELESS = 0.03
"""Part of the words that say nothing, so that one odd day does not rule an individual out. Source: judgement."""
SLOWER = 0.85
"""Pace over its kind's below which an individual counts as slow. Source: judgement, half way to 30 % slower."""


def word_odds(shares: Floats, word: str) -> Floats:
    """How likely a keeper writes a word of a fish that gets such a share of its ration.

    Equation: logistic steps at YES_FROM and NO_BELOW, blurred, mixed with CARELESS chance.
    Parameters: shares [-, 0 to 1], shape (draws,); word yes, some or no.
    Returns: odds [-], shape (draws,); those of the three words sum to 1.
    Valid range: as given. Source: judgement.
    Check value: derived, a fish half way through its ration is written down as `some`.

    >>> [round(float(word_odds(np.array([0.5]), word)[0]), 2) for word in ("yes", "some", "no")]
    [0.02, 0.96, 0.02]
    """
    ate_all = 1 / (1 + np.exp((YES_FROM - shares) / BLUR))
    ate_none = 1 / (1 + np.exp((shares - NO_BELOW) / BLUR))
    odds = {"yes": ate_all, "no": ate_none, "some": 1 - ate_all - ate_none}[word]
    return np.asarray((1 - CARELESS) * np.maximum(odds, 0.0) + CARELESS / 3)


def believed(shares: Floats, words: Sequence[str]) -> Floats:
    """How far each individual is believed after these words, shape (draws,); the weights sum to 1."""
    logs = np.sum([np.log(word_odds(shares, word)) for word in words], axis=0) if words else np.zeros_like(shares)
    weights = np.exp(logs - np.max(logs))
    return np.asarray(weights / weights.sum())


def chance_of_slow(paces: Floats, weights: Floats) -> float:
    """The belief that lies on individuals slower than SLOWER of their kind's pace, 0 to 1."""
    return float(weights[paces < SLOWER].sum())
