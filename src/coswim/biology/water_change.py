"""What water changes do to nitrate: in batches, by a drip, or both together.

Concentrations may be in any one unit; what a tank gains per day is in that unit per day.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from coswim.arrays import REAL, Floats

FOREVER = np.inf
LONG, SHORT, HALF = 700.0, 1e-6, 0.5
LEAST = float(np.finfo(REAL).tiny)
"""A drip or a change below this is none: the computer keeps too few digits of smaller numbers."""


@dataclass(frozen=True)
class Changes:
    """A share of the water replaced at once every so many days, and a steady drip in tank volumes a day."""

    share: float
    every: float
    drip: float = 0.0

    def __post_init__(self) -> None:
        if not (0 <= self.share <= 1 and self.every > 0 and self.drip >= 0):
            raise ValueError("share must be 0 to 1, every above 0 days, drip at least 0 volumes/day")

    @property
    def after_drip(self) -> float:
        """What the drip leaves of a dissolved thing between two changes, 0 to 1: e^(-Q t / V).

        >>> round(Changes(0, every=1, drip=0.20).after_drip, 4)
        0.8187
        """
        return float(np.exp(-self.drip * self.every))

    @property
    def taken(self) -> float:
        """What a change and the drip before it take away, 0 to 1; in this form a small part keeps its digits."""
        return self.share - (1 - self.share) * float(np.expm1(-self.drip * self.every))

    @property
    def left(self) -> float:
        """What a change and the drip before it leave, 0 to 1.

        >>> Changes(10 / 360, every=7).left ** 25 < 0.5 < Changes(10 / 360, every=7).left ** 24
        True
        """
        return 1 - self.taken

    @property
    def fading(self) -> float:
        """How fast what was there fades, 1/interval: -ln(1 - taken); inf where all is changed."""
        return math.inf if self.taken >= 1 else -math.log1p(-self.taken)

    @property
    def gathering_days(self) -> float:
        """How many days' worth of what the fish give off is left just before the next change."""
        dripped = self.drip * self.every
        return self.every * -float(np.expm1(-dripped)) / dripped if dripped >= LEAST else self.every

    @property
    def renewal(self) -> float:
        """The steady exchange that would in the end hold nitrate where it is just before a change, 1/day.

        >>> Changes(0.28, every=7).renewal, Changes(0, every=7, drip=0.05).renewal
        (0.04, 0.05)
        """
        return self.taken / self.gathering_days

    def after(self, days: float) -> tuple[float, float]:
        """What some days of this routine leave, 0 to 1, and for how many days' worth what came in has gathered.

        See `before_change` for the equation.
        """
        rounds, taken = days / self.every, self.taken
        whole = rounds if math.isinf(rounds) else math.floor(rounds)
        begun = 0.0 if math.isinf(rounds) else rounds - whole
        kept = self.left**whole
        if taken < LEAST:
            return kept, self.gathering_days * rounds
        gone = -math.expm1(-whole * self.fading) if whole else 0.0  # 1 - kept, to the last digit
        return kept * (1 - begun * taken), self.gathering_days * (gone / taken + kept * begun)

    def weight_of_start(self, days: float) -> float:
        """How much the load at the start of a stretch counts for the level at its end; it changes in a straight line.

        Equation: 1 / (k t) - 1 / (e^(k t) - 1), k = -ln(1 - taken) / every; half without changes, the less the longer.

        >>> round(Changes(0.25, every=7).weight_of_start(91), 3), Changes(0, every=7).weight_of_start(91)
        (0.243, 0.5)
        """
        faded = days / self.every * self.fading
        if faded < SHORT:
            return HALF
        return float(1 / faded - (1 / np.expm1(faded) if faded < LONG else 0.0))


def before_change(days: float, *, start: ArrayLike, per_day: ArrayLike, inflow: ArrayLike, changes: Changes) -> Floats:
    """Nitrate just before a water change, after some days of one routine; for ever is the steady state.

    Equation: C_in + (start - C_in) r^n + p G (1 - r^n) / (1 - r), where n = days / every is whole, r = (1 - f) e^(-q d)
    is what a round leaves, and G = (1 - e^(-q d)) / q (d without a drip) the days that gather in it.
    Parameters: days [>= 0, may be inf]; start (before a change), inflow [mg/L]; per_day [mg/L/day];
    broadcast together; changes.
    Returns: concentration [mg/L]; inf for ever without any change of water.
    Valid range: as given; between two changes on a straight line, as a line through the peaks of a saw.
    Source: mass balance, derived; without drip and for ever it is C_in + p d / f.
    Check value: derived, 20 mg/L a week, 25 % a week, new water with 10.

    >>> weekly = Changes(0.25, every=7)
    >>> round(float(before_change(FOREVER, start=0, per_day=20 / 7, inflow=10, changes=weekly)), 4)
    90.0
    """
    left, gathered = changes.after(days)
    new, gain = np.asarray(inflow, dtype=REAL), np.asarray(per_day, dtype=REAL)
    with np.errstate(invalid="ignore", over="ignore"):
        gained = np.where(gain > 0, gain * gathered, 0.0)
    return np.asarray(new + (np.asarray(start, dtype=REAL) - new) * left + gained)


def share_that_holds(
    target: ArrayLike, *, per_day: ArrayLike, inflow: ArrayLike, every: float, drip: float = 0.0
) -> Floats:
    """The part to change each time so that nitrate never passes a target in the long run.

    Equation: f = 1 - (1 - p G / (target - C_in)) / e^(-q d), at least 0; G and q as `before_change`.
    Parameters: target, inflow [mg/L]; per_day [mg/L/day]; every [days]; drip [volumes/day].
    Returns: share, 0 to 1; inf where even changing all the water at that interval does not hold it.
    Valid range: every > 0; ValueError otherwise.
    Source: `before_change` solved for f.
    Check value: derived, the reverse of the check there: 90 mg/L is held by 25 %.

    >>> round(float(share_that_holds(90, per_day=20 / 7, inflow=10, every=7)), 4)
    0.25
    """
    still = Changes(0.0, every, drip)
    room = np.asarray(target, dtype=REAL) - np.asarray(inflow, dtype=REAL)
    gain = np.asarray(per_day, dtype=REAL) * still.gathering_days
    with np.errstate(divide="ignore", invalid="ignore", over="ignore"):  # a drip may leave next to nothing
        filled = np.where(room > 0, gain / room, np.where(gain > 0, FOREVER, 0.0))
        share = np.where(filled < 1, np.maximum(0.0, 1 - (1 - filled) / still.after_drip), 1.0)
    return np.asarray(np.where(filled <= 1, share, FOREVER))
