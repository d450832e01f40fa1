"""Who wins a quarrel, how ready an individual is to start one, and how attacks add up and are shared out."""

from __future__ import annotations

import math
from collections.abc import Sequence
from functools import lru_cache

import numpy as np
from numpy.typing import ArrayLike

from coswim.arrays import REAL, Floats

SIZE_SLOPE = 16.0
"""Gain in log odds per unit of log length ratio. Source: judgement, set so that 15 % more length wins
nine contests in ten between strangers; Draud & Lynch 2002 (the larger always won at 15-25 %) and Wazlavek &
Figler 1989 (an intruder 20-30 % longer is favoured even against a resident) give the direction."""
EVEN = 0.5
"""Share of contests that each of two equals wins."""
HOME = 1.0
"""Log odds that a long-established owner has on a newcomer of its size. Source: judgement, small enough
that 20 % more length outweighs it (Wazlavek & Figler 1989)."""
SETTLING = 7.0
"""Days after which half of that is gained. Source: judgement; owners of 4 days win more than owners of
2 (Johnsson & Forser 2002), owners of 3 days have no clear favour (Wazlavek & Figler 1989)."""
BEATEN_AREA = 1.4
"""Lateral area over its rival's at which a freshly beaten fish stands even again. Source: swordtails, Beaugrand et
al. 1991; area goes with the square of length, so that is 18 % more length."""
WATCHED = 12.0
"""How closely the individuals of a kind keep to its word, as if it had been seen with so many. Source: judgement."""
TENDENCY_STEPS = 1024
SINGLED_OUT = 3
"""Targets up to which one of them takes it all. Source: common practice: two or three are singled out."""
CROWD = 3.0
"""Power by which attacks add up: eight alike do twice the harm of one. Source: judgement, on the pairings of the
panels; several attackers watch and hinder each other, so the sum lies below their number."""
CHASED_ON = 2.5
"""Floor over which an attacker pursues, over the floor that it holds. Source: judgement."""
KEPT_CLEAR = 8.0
"""Floor that a target of 1 cm needs to keep out of the way, cm^2, growing with length to the power 1.5. Source:
judgement."""
ROOM_SPAN = (0.3, 1.4)
"""Attacks in a very large and in a very small tank, over those where pursuit just covers the floor. Source:
judgement."""


def residence(days: ArrayLike) -> Floats:
    """A fish that has lived in a place for longer holds it harder.

    Equation: days / (days + 7).
    Parameters: days [days, >= 0], any shape.
    Returns: 0 (just arrived) towards 1 (long established), the same shape.
    Valid range: days >= 0; ValueError otherwise.
    Source: form judgement; sign Johnsson & Forser 2002 (4 days of residence beat 2).
    Check value: derived, half of it after a week.

    >>> float(residence(7.0))
    0.5
    """
    stay = np.asarray(days, dtype=REAL)
    if not (stay >= 0).all():
        raise ValueError("days must be at least 0")
    return np.asarray(stay / (stay + SETTLING))


def win_odds(
    length_ratio: ArrayLike,
    *,
    own_residence: ArrayLike = 0.0,
    rival_residence: ArrayLike = 0.0,
    beaten: ArrayLike = 0.0,
) -> Floats:
    """The longer fish usually wins; having lived there first helps, having been beaten before hurts.

    Equation: logit p = 16 ln(ratio) + (own - rival residence) - 8 ln(1.4) beaten.
    Parameters: length_ratio (own over rival's total length) [-, > 0]; own_residence, rival_residence
    (from `residence`) [0 to 1]; beaten: how far it carries lost contests [0 to 1, above 0 for its own,
    below 0 for the rival's]; broadcast together.
    Returns: share of contests won [0 to 1].
    Valid range: ratios of about 0.7 to 1.5 were studied; computed outside; ValueError for ratio <= 0.
    Source: published signs, see SIZE_SLOPE, HOME, BEATEN_AREA; the equation is judgement.
    Check value: derived, equals without residence are even.

    >>> float(win_odds(1.0))
    0.5
    """
    ratio = np.asarray(length_ratio, dtype=REAL)
    if not (ratio > 0).all():
        raise ValueError("length_ratio must be above 0")
    at_home = HOME * (np.asarray(own_residence, dtype=REAL) - np.asarray(rival_residence, dtype=REAL))
    lost = SIZE_SLOPE * math.log(BEATEN_AREA) / 2 * np.asarray(beaten, dtype=REAL)
    with np.errstate(over="ignore"):
        return np.asarray(1.0 / (1.0 + np.exp(-(SIZE_SLOPE * np.log(ratio) + at_home - lost))))


def beaten_share(losses: int) -> float:
    """A fish hurt by tankmates before gives way sooner, the more often it was hurt.

    Equation: losses / (losses + 1).
    Parameters: losses [fish, >= 0].
    Returns: 0 to 1.
    Valid range: losses >= 0; ValueError otherwise.
    Source: judgement; the effect itself Beaugrand et al. 1991.
    Check value: derived.

    >>> beaten_share(1)
    0.5
    """
    if losses < 0:
        raise ValueError(f"losses {losses} is below 0")
    return losses / (losses + 1)


def tendency(mean: float) -> tuple[float, float]:
    """Individuals of a kind differ around what the kind is known for.

    Equation: a beta distribution with alpha = 12 mean, beta = 12 (1 - mean).
    Parameters: mean (drive of the species) [0 to 1, both excluded].
    Returns: alpha, beta of the beta distribution of an individual's drive.
    Valid range: as given; ValueError otherwise.
    Source: the form is the usual one for a share (textbook); the weight 12 is judgement.
    Check value: derived, mean 0.25.

    >>> tendency(0.25)
    (3.0, 9.0)
    """
    if not 0 < mean < 1:
        raise ValueError(f"mean {mean} must lie between 0 and 1")
    return WATCHED * mean, WATCHED * (1 - mean)


def tendency_at(place: ArrayLike, alpha: float, beta: float) -> Floats:
    """The drive of the individual that stands at a given place among its kind.

    Equation: quantile of the beta distribution, from its density summed over 1,024 steps.
    Parameters: place [0 to 1], any shape; alpha, beta [> 0].
    Returns: drive [0 to 1], the same shape; never lower for a larger alpha or a smaller beta.
    Valid range: alpha, beta > 0; ValueError otherwise. Good to about 0.001 where both are above 0.5.
    Source: definition.
    Check value: derived, alpha 2 and beta 1 give the square root of the place.

    >>> float(tendency_at(0.25, 2.0, 1.0).round(3))
    0.5
    """
    if alpha <= 0 or beta <= 0:
        raise ValueError(f"alpha {alpha} and beta {beta} must be above 0")
    below, edges = _tendency_table(alpha, beta)
    return np.interp(np.asarray(place, dtype=REAL), below, edges).astype(REAL)


@lru_cache(maxsize=256)
def _tendency_table(alpha: float, beta: float) -> tuple[Floats, Floats]:
    """Share of individuals below each step of the drive, and the steps."""
    edges = np.linspace(0.0, 1.0, TENDENCY_STEPS + 1, dtype=REAL)
    middles = (edges[:-1] + edges[1:]) / 2
    log_density = (alpha - 1) * np.log(middles) + (beta - 1) * np.log1p(-middles)
    below = np.concatenate([[0.0], np.cumsum(np.exp(log_density - log_density.max()))])
    return below / below[-1], edges


def crowding(held: ArrayLike, *, floor: float) -> Floats:
    """In a small tank nobody gets out of sight, in a large one most attacks end at the border.

    Equation: sqrt(2.5 held / floor), kept between 0.3 and 1.4.
    Parameters: held (floor that the attacker holds) [cm^2, >= 0], any shape; floor (length x width of the
    tank) [cm^2, > 0].
    Returns: attacks over those where pursuit just covers the floor, the same shape.
    Valid range: as given; ValueError otherwise.
    Source: judgement.
    Check value: derived, a tenth of the floor.

    >>> float(crowding(1000.0, floor=10 * 1000.0))
    0.5
    """
    area = np.asarray(held, dtype=REAL)
    if floor <= 0 or not (area >= 0).all():
        raise ValueError("floor must be above 0 cm^2, held at least 0 cm^2")
    return np.asarray(np.clip(np.sqrt(CHASED_ON * area / floor), *ROOM_SPAN))


def added_up(attacks: Sequence[ArrayLike], numbers: Sequence[ArrayLike]) -> Floats:
    """More attackers never make a target safer, though each adds less than the one before.

    Equation: (sum n_i a_i^3)^(1/3).
    Parameters: attacks (of one attacker of each group) [-, >= 0]; numbers (attackers of each group) [fish, >= 0];
    as many of both, arrays that broadcast together.
    Returns: attacks of all on the target, in the unit of the attacks. Two groups of n count as one of 2 n.
    Valid range: as given; ValueError otherwise.
    Source: judgement, see CROWD; the sign from common practice.
    Check value: derived, eight alike.

    >>> float(added_up([0.5], [8]))
    1.0
    """
    single = [np.asarray(value, dtype=REAL) for value in attacks]
    counts = [np.asarray(value, dtype=REAL) for value in numbers]
    if not all((value >= 0).all() for value in (*single, *counts)):
        raise ValueError("attacks and numbers must be at least 0")
    total = sum((count * crowded(value) for value, count in zip(single, counts, strict=True)), np.zeros((), dtype=REAL))
    return np.asarray(np.cbrt(total))


def crowded(attacks: Floats) -> Floats:
    """What attacks count for in a sum with those of others.

    Equation: a^3, CROWD being 3; written out, since a power takes ten times as long.
    Parameters: attacks [-, >= 0], any shape. Returns: the same shape.
    Valid range: as given; what is below is not refused.
    Source: as `added_up`.
    Check value: derived.

    >>> float(crowded(np.array(2.0)))
    8.0
    """
    return attacks * attacks * attacks


def share_of_worst_off(targets: ArrayLike, *, free_floor: ArrayLike, target_length: ArrayLike) -> Floats:
    """Among two or three one is singled out; a large group spreads the attacks, while the tank has room.

    Equation: sqrt(3 / n), n the targets but at least 3 and at most those for whom the floor beyond the
    attacker's pursuit has room (8 L^1.5 each).
    Parameters: targets [fish, >= 1]; free_floor [cm^2, >= 0]; target_length [cm, > 0]; broadcast together.
    Returns: attacks on the worst-off target over those on a single one [0 to 1]; never rises with targets.
    Valid range: as given; ValueError otherwise.
    Source: attacks per intruder never rise with their number (Caballero & Castro-Hdez 2003), no relief
    from more fish in a small tank (Oldfield 2011); the equation is judgement.
    Check value: derived, twelve targets with room, and without.

    >>> share_of_worst_off(12, free_floor=[6000.0, 0.0], target_length=3.0).tolist()
    [0.5, 1.0]
    """
    count, free, size = (np.asarray(value, dtype=REAL) for value in (targets, free_floor, target_length))
    if not ((count >= 1).all() and (free >= 0).all() and (size > 0).all()):
        raise ValueError("targets must be at least 1, free_floor at least 0, target_length above 0")
    room_for = free / (KEPT_CLEAR * size * np.sqrt(size))
    return np.asarray(np.sqrt(SINGLED_OUT / np.maximum(SINGLED_OUT, np.minimum(count, room_for))))
