"""What fits into a mouth: the prey's larger cross-section against the widest opening."""

from __future__ import annotations

import math

import numpy as np
from numpy.typing import ArrayLike

from coswim.arrays import REAL, Floats

STRETCH = (1.0, 1.3)
"""Least and greatest stretch of mouth and prey together: a cross-section up to the gape is swallowed, up
to 1.3 of it may be. Source: pike eat roach deeper than their gape (Nilsson & Broenmark 2000, Oikos
88:539-546); the figure 1.3 is judgement."""
LONGEST_PREY = 0.65
"""Longest prey over predator length. Source: largest seen 0.59 in perch (Doerner & Wagner 2003, J. Fish Biol. 62),
0.61 in barramundi (Davis 1985), 0.63 in pikeperch (Doerner et al., Ecol. Freshw. Fish), with a margin (judgement)."""
INDIVIDUAL_CV = 0.18
"""Spread of gape between individuals of a species. Source: 0.16-0.20, Dunic & Baum 2017, J. Anim. Ecol. 86:577-589."""
GUESS_WIDENS = 1.15
"""By how much a species' gape may lie beyond either end of its range where the range is a guess. Source: jaws read off
one drawing are 15 to 25 % off (Brosse et al. 2021, Glob. Ecol. Biogeogr.); that no more is added is judgement."""
SPINE_SPAN = 1.9
"""Span of locked pectoral and dorsal spines over body depth. Source: derived on Corydoras."""
HANDLING = 5.6
"""How fast handling grows with prey size, per unit of the largest prey. Source: derived from handling time =
0.339 exp(11.9 PPR) and captures = 0.861 - 1.82 PPR, nothing at PPR 0.47, in striped bass (Hartman 2000, Mar. Ecol.
Prog. Ser. 194:263-268; PPR is prey over predator length): 11.9 x 0.47 = 5.6."""
EVEN_SPREAD = math.sqrt(3.0)  # half width, in standard deviations, of an even spread


def of_kind(place: ArrayLike, *, low: float, high: float, wider: float = 1.0) -> Floats:
    """A species' gape lies anywhere, evenly in the logarithm, within the range that is known of it.

    Equation: g = (low / w) (high w / (low / w))^u.
    Parameters: place u (where it stands) [0 to 1]; low, high (ends of the range) [fraction of standard length, > 0];
    wider w (how far the range is off at either end) [-, >= 1].
    Returns: gape [fraction of standard length], the shape of place.
    Valid range: 0 < low <= high, wider >= 1; ValueError otherwise.
    Source: judgement; even, so that the range has an end.
    Check value: derived, the ends of 0.10-0.12 widened by a quarter are 0.08 and 0.15.

    >>> print(of_kind([0, 1], low=0.10, high=0.12, wider=1.25).round(3))
    [0.08 0.15]
    """
    if not 0 < low <= high or wider < 1:
        raise ValueError(f"0 < low <= high and wider >= 1 are needed, not {low:g}, {high:g} and {wider:g}")
    least, most = low / wider, high * wider
    return np.asarray(least * (most / least) ** np.asarray(place, dtype=REAL))


def individual(place: ArrayLike, *, cv: float = INDIVIDUAL_CV) -> Floats:
    """An individual's mouth differs from its kind's, evenly in the logarithm.

    Equation: f = exp(sqrt(3) CV (2 u - 1)).
    Parameters: place u (where it stands) [0 to 1]; cv (coefficient of variation) [-].
    Returns: its gape over its kind's [-], the shape of place.
    Valid range: cv >= 0.
    Source: the spread as INDIVIDUAL_CV; its even shape is judgement.
    Check value: derived, exp(0.18 sqrt 3) = 1.37 for the largest mouth.

    >>> print(individual([0, 0.5, 1]).round(2))
    [0.73 1.   1.37]
    """
    return np.asarray(np.exp(EVEN_SPREAD * cv * (2 * np.asarray(place, dtype=REAL) - 1)))


def tightness(
    cross_section: ArrayLike,
    gape: ArrayLike,
    *,
    stretch: ArrayLike,
    length_ratio: ArrayLike,
    longest: ArrayLike = LONGEST_PREY,
) -> Floats:
    """How near a prey comes to the largest that goes in, by the tighter of width and length: 1 just goes in.

    Equation: x = max(D / (s G), (prey length / predator length) / longest).
    Parameters: cross_section D (larger of depth and width), gape G [mm]; stretch s [1 to 1.3]; length_ratio
    (prey over predator total length) [-]; longest (the largest such ratio) [-]; broadcast together.
    Returns: part of the largest prey [-]; above 1 it does not go in.
    Valid range: positive values; ValueError otherwise.
    Source: reading of Lawrence 1958, Proc. SEAFWA 11:220-225, and the sources of STRETCH and LONGEST_PREY.
    Check value: derived, 30 mm through a gape of 25 mm with a stretch of 1.2 just goes in.

    >>> print(tightness(30.0, 25.0, stretch=[1.2, 1.25], length_ratio=0.3).round(2))
    [1.   0.96]
    """
    size, opening = np.asarray(cross_section, dtype=REAL), np.asarray(gape, dtype=REAL)
    if (size <= 0).any() or (opening <= 0).any():
        raise ValueError("cross_section and gape must be above 0 mm")
    by_width = size / (np.asarray(stretch, dtype=REAL) * opening)
    by_length = np.asarray(length_ratio, dtype=REAL) / np.asarray(longest, dtype=REAL)
    return np.asarray(np.maximum(by_width, by_length))


def readiness(part: ArrayLike, *, full_to: ArrayLike) -> Floats:
    """Prey is taken gladly up to a part of the largest that goes in, then less and less, and not at the limit.

    Equation: r = 1 up to x0, then (1 - x) / (1 - x0) exp(-5.6 (x - x0)), and 0 from x = 1: what is caught, over the
    time that handling takes.
    Parameters: part x (tightness) [-, >= 0]; full_to x0 [0 to below 1]; broadcast together.
    Returns: how gladly such a prey is taken [0 to 1].
    Valid range: full_to below 1; ValueError otherwise.
    Source: derived from Hartman 2000 (see HANDLING); that a month's chance follows it is judgement. Best prey are half
    to three quarters of the largest, Hoyle & Keast 1987, Can. J. Zool. 65:1972-1977 (from memory).
    Check value: derived, at 0.8 with x0 = 0.6: 0.5 exp(-1.12) = 0.163.

    >>> print(readiness([0.3, 0.8, 1.0], full_to=0.6).round(3))
    [1.    0.163 0.   ]
    """
    x, x0 = np.asarray(part, dtype=REAL), np.asarray(full_to, dtype=REAL)
    if (x0 >= 1).any():
        raise ValueError("full_to must be below 1")
    beyond = np.maximum(x - x0, 0.0)
    caught = np.clip((1 - x0 - beyond) / (1 - x0), 0.0, 1.0)
    return np.asarray(caught * np.exp(-HANDLING * beyond))


def bulk_ratio(prey_weight: ArrayLike, predator_weight: ArrayLike) -> Floats:
    """A prey that folds counts by its bulk: as long as a fish of its weight with the predator's shape would be.

    Equation: (W_prey / W_predator)^(1/3).
    Parameters: prey_weight, predator_weight [g]; broadcast together.
    Returns: length over the predator's [-].
    Valid range: positive weights.
    Source: derived from weight rising with the cube of length; prey longer than the catfish that ate it lies folded in
    its stomach (Zuanon & Sazima 2005, aqua 10:15-22).
    Check value: derived, an eighth of the weight counts as half the length.

    >>> float(bulk_ratio(10.0, 80.0))
    0.5
    """
    return np.asarray(np.cbrt(np.asarray(prey_weight, dtype=REAL) / np.asarray(predator_weight, dtype=REAL)))


def longest_prey(
    gape: ArrayLike,
    *,
    cross_section_per_length: ArrayLike,
    predator_length: ArrayLike,
    stretch: ArrayLike,
    longest: ArrayLike = LONGEST_PREY,
) -> Floats:
    """The longest fish of a given shape that a mouth takes.

    Equation: min(stretch * G / (D/TL), longest L_predator).
    Parameters: gape [cm]; cross_section_per_length (larger of depth and width over total length) [-, > 0];
    predator_length [cm]; stretch [-]; longest (prey over predator length) [-]; broadcast together.
    Returns: total length of the prey [cm].
    Valid range: cross_section_per_length > 0; ValueError otherwise.
    Source: as tightness.
    Check value: derived, a gape of 3 cm takes a fish of a quarter its length in depth up to 12 cm.

    >>> float(longest_prey(3.0, cross_section_per_length=0.25, predator_length=30.0, stretch=1.0))
    12.0
    """
    slimness = np.asarray(cross_section_per_length, dtype=REAL)
    if (slimness <= 0).any():
        raise ValueError("cross_section_per_length must be above 0")
    by_mouth = np.asarray(stretch, dtype=REAL) * np.asarray(gape, dtype=REAL) / slimness
    return np.asarray(np.minimum(by_mouth, np.asarray(longest, dtype=REAL) * np.asarray(predator_length, dtype=REAL)))
