"""What becomes of the food: ammonia, its poisonous part, and a filter that has to grow before it can follow.

Ammonia, nitrite and nitrate are counted as nitrogen (N) unless the name says otherwise.
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
from numpy.typing import ArrayLike

from coswim.arrays import REAL, Floats
from coswim.biology.water import KELVIN

NO2_PER_N = 3.2845
NO3_PER_N = 4.4268
"""Weight of nitrite and nitrate that holds 1 of nitrogen. Source: molar masses."""
TAN_PER_PROTEIN = 0.092
NITROGEN_IN_PROTEIN, DIGESTED, GIVEN_OFF, AS_AMMONIA = 0.16, 0.8, 0.8, 0.9
"""Ammonia nitrogen from protein: 16 % nitrogen, 80 % of it digested, 80 % of that given off, 90 % as
ammonia. Source: Timmons & Ebeling, Recirculating Aquaculture (memory)."""
PKA_TERMS = (0.09018, 2729.92)
"""pKa = 0.09018 + 2729.92 / T[K]. Source: Emerson et al. 1975, J. Fish. Res. Board Can. 32:2379-2383."""
OXYGEN_PER_N = 4.57
ALKALINITY_PER_N = 7.14
"""g of oxygen and of alkalinity (as CaCO3) that turning 1 g of N into nitrate takes. Source: stoichiometry."""
FILM_FASTEST = 1859.0
FILM_IDLE = 0.07
FILM_HALF = 1.93
"""mg/m2/day, mg/L, mg/L: biofilm 1859 (S - 0.07) / (S + 1.93) at 27.2 C. Source: Zhu & Chen 1999,
Aquacult. Eng. 20."""
NITRIFIER_WARMTH = 0.0413
REFERENCE_TEMPERATURE = 25.0
"""log10 of the gain in growth of nitrifiers per C, from 25 C. Source: Knowles, Downing & Barrett 1965, J. Gen.
Microbiol. 38:263-278 (memory)."""


def tan_from_food(food: ArrayLike, *, protein: ArrayLike) -> Floats:
    """Every gram of food ends as a known part of ammonia, eaten or not.

    Equation: TAN = food * protein * 0.092.
    Parameters: food [g dry]; protein [share of the food, 0 to 1]; broadcast together.
    Returns: total ammonia nitrogen [g].
    Valid range: food >= 0, protein 0 to 1; ValueError otherwise.
    Source: Timmons & Ebeling (memory), see TAN_PER_PROTEIN.
    Check value: worked inputs of Losordo, 60 kg a day at 40 % protein.

    >>> round(float(tan_from_food(60_000, protein=0.40)))
    2208
    """
    given, part = np.asarray(food, dtype=REAL), np.asarray(protein, dtype=REAL)
    if not ((given >= 0).all() and ((part >= 0) & (part <= 1)).all()):
        raise ValueError("food must be at least 0 g and protein 0 to 1")
    return np.asarray(given * part * TAN_PER_PROTEIN)


class Ledger(NamedTuple):
    """Where the nitrogen of some food ends, g: in the fish, and outside it undigested, as ammonia and as urea."""

    in_fish: Floats
    faeces: Floats
    ammonia: Floats
    urea: Floats


def ledger(food: ArrayLike, *, protein: ArrayLike) -> Ledger:
    """All nitrogen of the food is somewhere: what is ammonia is neither in the fish nor in its faeces.

    Equation: N = food * protein * 0.16; faeces 0.2 N; in the fish 0.2 and urea 0.1 * 0.8 of the rest; ammonia as
    `tan_from_food`.
    Parameters: food [g dry]; protein [share of the food, 0 to 1]; broadcast together.
    Returns: the parts [g N]; together the nitrogen of the food, to within the rounding of 0.092.
    Valid range: as `tan_from_food`.
    Source: Timmons & Ebeling (memory), see TAN_PER_PROTEIN.
    Check value: derived, 100 g of food with 40 % protein hold 6.4 g of nitrogen.

    >>> [round(float(part), 2) for part in ledger(100, protein=0.40)]
    [1.02, 1.28, 3.68, 0.41]
    """
    ammonia = tan_from_food(food, protein=protein)
    eaten = NITROGEN_IN_PROTEIN * np.asarray(food, dtype=REAL) * np.asarray(protein, dtype=REAL)
    digested = DIGESTED * eaten
    given_off = GIVEN_OFF * digested
    return Ledger(digested - given_off, eaten - digested, ammonia, (1 - AS_AMMONIA) * given_off)


def un_ionised_fraction(ph: ArrayLike, temperature: ArrayLike) -> Floats:
    """The poisonous part of all ammonia; it grows tenfold with each step of pH, and with warmth.

    Equation: 1 / (1 + 10^(pKa - pH)), pKa = 0.09018 + 2729.92 / (T + 273.15).
    Parameters: ph [-]; temperature [C]; broadcast together.
    Returns: un-ionised over total ammonia [-].
    Valid range: 0 to 30 C in fresh water. Beyond it: computed, ValueError outside 0 to 45 C.
    Source: Emerson et al. 1975, J. Fish. Res. Board Can. 32:2379-2383.
    Check value: UF/IFAS FA-16 table after Emerson et al., pH 8.0 at 24 C and pH 8.4 at 30 C.

    >>> print(un_ionised_fraction([8.0, 8.4], [24, 30]).round(3))
    [0.05  0.168]
    """
    degrees = np.asarray(temperature, dtype=REAL)
    if not ((degrees >= 0) & (degrees <= 45)).all():
        raise ValueError("temperature must be 0 to 45 C")
    pka = PKA_TERMS[0] + PKA_TERMS[1] / (degrees + KELVIN)
    return np.asarray(1 / (1 + 10 ** (pka - np.asarray(ph, dtype=REAL))))


def days_to_catch_up(before: ArrayLike, after: ArrayLike, *, growth: ArrayLike) -> Floats:
    """A filter that grows by a steady part a day needs these days to follow a step in what it has to turn over.

    Equation: t = ln(P1 / P0) / mu, 0 when P1 <= P0.
    Parameters: before, after [g N/day, > 0]; growth of the nitrifiers [1/day, > 0]; broadcast together.
    Returns: time [days].
    Valid range: positive values; ValueError otherwise.
    Source: exponential growth, derived.
    Check value: derived, from 0.2 to 0.3 g a day at 0.2 a day.

    >>> round(float(days_to_catch_up(0.2, 0.3, growth=0.2)), 2)
    2.03
    """
    first, last, speed = (np.asarray(value, dtype=REAL) for value in (before, after, growth))
    if not ((first > 0).all() and (last > 0).all() and (speed > 0).all()):
        raise ValueError("before, after and growth must be above 0")
    return np.asarray(np.maximum(0.0, np.log(last / first)) / speed)


def ammonia_left_over(
    days: ArrayLike, *, before: ArrayLike, after: ArrayLike, growth: ArrayLike, renewal: ArrayLike = 0.0
) -> Floats:
    """The ammonia that a growing filter has not caught yet, some days after the step.

    Equation: dE/dt = P1 - P0 e^(mu t) - k E, E(0) = 0, so
    E = P1 (1 - e^(-k t))/k - P0 (e^(mu t) - e^(-k t))/(k + mu), not below 0; with k = 0 its highest point
    is P1 t* - (P1 - P0)/mu at the day of catching up.
    Parameters: days [>= 0]; before, after [g N/day]; growth [1/day, > 0]; renewal k (water changes and
    drip) [1/day, >= 0]; broadcast together.
    Returns: total ammonia nitrogen in the tank beyond what the filter was used to [g].
    Valid range: as given. It takes no account of a film working faster when there is more: an upper bound.
    Source: exponential growth, derived.
    Check value: derived, from 0.2 to 0.3 g a day at 0.2 a day, at the day of catching up.

    >>> t = days_to_catch_up(0.2, 0.3, growth=0.2)
    >>> round(float(ammonia_left_over(t, before=0.2, after=0.3, growth=0.2)), 3)
    0.108
    """
    time, first, last, speed, leaving = (
        np.asarray(value, dtype=REAL) for value in (days, before, after, growth, renewal)
    )
    changed = leaving * time
    gone = np.exp(-changed)
    with np.errstate(divide="ignore", invalid="ignore"):
        stayed = time * np.where(changed > 0, -np.expm1(-changed) / changed, 1.0)
    left = last * stayed - first * (np.exp(speed * time) - gone) / (leaving + speed)
    return np.asarray(np.maximum(0.0, left))


def film_turnover(tan: ArrayLike) -> Floats:
    """A biofilm turns over more the more ammonia there is, and nothing when there is almost none.

    Equation: 1859 (S - 0.07) / (S + 1.93), 0 below 0.07.
    Parameters: tan S [mg N/L, >= 0].
    Returns: rate [mg N/m2/day].
    Valid range: up to about 2.5 mg/L at 27 C. Beyond it: computed.
    Source: Zhu & Chen 1999, Aquacult. Eng. 20.
    Check value: same source, 1.0 and 0.25 mg/L.

    >>> print(film_turnover([1.0, 0.25]).round(1))
    [590.1 153.5]
    """
    present = np.asarray(tan, dtype=REAL)
    return np.asarray(np.maximum(0.0, FILM_FASTEST * (present - FILM_IDLE) / (present + FILM_HALF)))


def tan_for_turnover(times: ArrayLike, *, standing: ArrayLike) -> Floats:
    """The ammonia at which the same biofilm turns over several times as much as it does now.

    Equation: S such that film_turnover(S) = times * film_turnover(standing); inf where no S is enough.
    Parameters: times [>= 0]; standing [mg N/L, > 0.07]; broadcast together.
    Returns: total ammonia nitrogen [mg/L], without any growth of the film: an upper bound.
    Valid range: standing above 0.07 mg/L; ValueError otherwise.
    Source: Zhu & Chen 1999, solved for S.
    Check value: Zhu & Chen's own pair, 590 over 153.5 from 0.25 mg/L is 1 mg/L.

    >>> round(float(tan_for_turnover(590.1 / 153.5, standing=0.25)), 2)
    1.0
    """
    now = np.asarray(standing, dtype=REAL)
    if not (now > FILM_IDLE).all():
        raise ValueError(f"standing must be above {FILM_IDLE} mg/L")
    part = np.asarray(times, dtype=REAL) * film_turnover(now) / FILM_FASTEST
    with np.errstate(divide="ignore"):
        copes = (FILM_IDLE + FILM_HALF * part) / np.maximum(0.0, 1 - part)
    return np.asarray(copes)


def nitrifier_growth(at_25: ArrayLike, temperature: ArrayLike) -> Floats:
    """The bacteria of a filter grow more slowly in cool water.

    Equation: mu_25 * 10^(0.0413 (T - 25)).
    Parameters: at_25 [1/day]; temperature [C]; broadcast together.
    Returns: growth [1/day].
    Valid range: 8 to 30 C. Beyond it: computed.
    Source: Knowles, Downing & Barrett 1965, J. Gen. Microbiol. 38:263-278 (memory).
    Check value: derived, 10 C cooler is 10^-0.413.

    >>> round(float(nitrifier_growth(1.0, 15)), 3)
    0.386
    """
    warmth = np.asarray(temperature, dtype=REAL) - REFERENCE_TEMPERATURE
    return np.asarray(np.asarray(at_25, dtype=REAL) * 10 ** (NITRIFIER_WARMTH * warmth))


def alkalinity_used(nitrogen: ArrayLike) -> Floats:
    """Turning ammonia into nitrate uses up the buffer that holds the pH.

    Equation: 7.14 * N.
    Parameters: nitrogen [g N].
    Returns: alkalinity [g as CaCO3].
    Valid range: any. Source: stoichiometry. Check value: stoichiometry.

    >>> round(float(alkalinity_used(1.0)), 2)
    7.14
    """
    return np.asarray(ALKALINITY_PER_N * np.asarray(nitrogen, dtype=REAL))


def oxygen_used(nitrogen: ArrayLike) -> Floats:
    """Turning ammonia into nitrate uses oxygen.

    Equation: 4.57 * N.
    Parameters: nitrogen [g N].
    Returns: oxygen [g].
    Valid range: any. Source: stoichiometry. Check value: stoichiometry.

    >>> round(float(oxygen_used(1.0)), 2)
    4.57
    """
    return np.asarray(OXYGEN_PER_N * np.asarray(nitrogen, dtype=REAL))
