"""How much tank a fish needs: a legal floor, the swimming room that keepers plan, and ground to hold."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

import numpy as np
from numpy.typing import ArrayLike

from coswim.arrays import REAL, Floats

LEGAL_LENGTHS, LEGAL_WIDTHS, LEGAL_HEIGHTS = 3.0, 2.0, 1.0
"""Tank length, width and depth of water in body lengths (snout to tail base) of the largest fish. Source:
Swiss Animal Protection Ordinance SR 455.1, Annex 2, Table 8; a floor from compromise, not an optimum."""
LEGAL_STEPS = (5.0, 10.0, 15.0, 20.0, 30.0, 40.0)
LEGAL_RATES = (0.5, 0.75, 1.0, 1.25, 1.75, 2.25, 3.0)
"""Litres per cm of every fish of up to 5, 10, 15, 20, 30, 40 cm (snout to tail base) and above. Source:
the same table."""
BEND: Mapping[str, float] = MappingProxyType({"eel-like": 0.7, "elongated": 0.8, "fusiform": 1.0, "short-deep": 1.0})
"""Part of its length that counts for swimming room, by body form: a long slim fish turns within itself and
is light for its length. Source: judgement."""
TURN: Mapping[str, float] = MappingProxyType({"eel-like": 0.7, "elongated": 1.0, "fusiform": 1.0, "short-deep": 1.0})
"""The same for turning across the tank: only an eel-like body folds. Source: judgement."""
BULK: Mapping[str, float] = MappingProxyType({"eel-like": 0.6, "elongated": 0.8, "fusiform": 1.0, "short-deep": 1.5})
"""Water for a fish over that for a spindle-shaped one of its length, by body form. Source: judgement, with the
order of the weights (0.10, 0.42, 1 and 1.66; Froese, Thorson & Reyes 2014, J. Appl. Ichthyol. 30:78-85)."""
DEPTHS_TO_RISE = 3.0
"""Tank height in body depths. Source: judgement; keepers ask for 30 to 40 cm for angelfish, 40 for discus."""
LONG_FINS = 1.3
"""Height with trailing fins over height without. Source: judgement."""
RUN: Mapping[str, float] = MappingProxyType({"still": 12.5, "local": 12.5, "cruiser": 19.5, "open-water": 26.0})
"""Tank length over the root of the fish's length, cm^0.5, by the way it swims: small fish want more of their
lengths than large ones. Source: judgement on common practice (about 50 cm for zebrafish, 80 for the
larger rainbowfish, 70 for angelfish)."""
TERRITORY_FLOOR, TERRITORY_POWER = 60.0, 1.2
"""Floor that an ordinary floor-holder of 1 cm holds, cm2, and the power of length by which it grows: 730 cm2 at
8 cm, 3,600 at 30 cm. Source: judgement; keepers give a pair of small cichlids about 30 x 30 cm, and a pair of large
ones half of a tank of 120 to 150 cm."""


def legal_litres(standard_length: ArrayLike, *, count: ArrayLike) -> Floats:
    """The least water that Swiss law asks for a group of fish of one length.

    Equation: count * length * rate, the rate stepping up with length.
    Parameters: standard_length [cm, > 0]; count [fish]; broadcast together.
    Returns: volume [L]; volumes of several groups add up.
    Valid range: above 0 cm; ValueError otherwise.
    Source: Swiss Animal Protection Ordinance SR 455.1, Annex 2, Table 8.
    Check value: the same table, 10 fish of 3 cm with 6 of 6 cm.

    >>> float(legal_litres(3, count=10) + legal_litres(6, count=6))
    42.0
    """
    length = np.asarray(standard_length, dtype=REAL)
    if not (length > 0).all():
        raise ValueError("standard_length must be above 0 cm")
    rate = np.asarray(LEGAL_RATES, dtype=REAL)[np.searchsorted(LEGAL_STEPS, length)]
    return np.asarray(np.asarray(count, dtype=REAL) * length * rate)


def longest_fish(
    length: ArrayLike, width: ArrayLike, height: ArrayLike, *, lengths: ArrayLike, widths: ArrayLike, heights: ArrayLike
) -> Floats:
    """The longest fish that a tank holds, when it wants so many of its lengths in each direction.

    Equation: min(length / lengths, width / widths, height / heights).
    Parameters: length, width, height of the tank [cm, > 0]; lengths, widths, heights of tank per length of
    fish [-, > 0]; broadcast together.
    Returns: length of the fish [cm], in the same measure (total or standard) as the wants.
    Valid range: all above 0; ValueError otherwise.
    Source: the form of Swiss Animal Protection Ordinance SR 455.1, Annex 2, Table 8.
    Check value: the same table, 75 x 50 x 25 cm for a fish of 25 cm.

    >>> float(longest_fish(75, 50, 25, lengths=LEGAL_LENGTHS, widths=LEGAL_WIDTHS, heights=LEGAL_HEIGHTS))
    25.0
    """
    sides = [np.asarray(side, dtype=REAL) for side in (length, width, height)]
    wants = [np.asarray(want, dtype=REAL) for want in (lengths, widths, heights)]
    if not all((value > 0).all() for value in (*sides, *wants)):
        raise ValueError("sides of the tank and lengths of fish in them must be above 0")
    by_length, by_width, by_height = (side / want for side, want in zip(sides, wants, strict=True))
    return np.asarray(np.minimum(np.minimum(by_length, by_width), by_height))


def longest_runner(length: ArrayLike, *, run: ArrayLike) -> Floats:
    """The longest fish that has room to swim up and down, when small fish want more lengths than large ones.

    Equation: (length / run)^2, from length = run * L^0.5.
    Parameters: length of the tank [cm, > 0]; run [cm^0.5, > 0]; broadcast together.
    Returns: total length of the fish [cm].
    Valid range: all above 0; ValueError otherwise.
    Source: judgement, see RUN.
    Check value: derived, a tank of 60 cm with a run of 20 suits fish of 3 squared.

    >>> float(longest_runner(60, run=20))
    9.0
    """
    side, want = np.asarray(length, dtype=REAL), np.asarray(run, dtype=REAL)
    if not ((side > 0).all() and (want > 0).all()):
        raise ValueError("length and run must be above 0")
    return np.asarray((side / want) ** 2)


def legal_box(standard_length: float) -> tuple[float, float, float]:
    """The smallest length, width and depth of water that Swiss law asks for the largest fish of a tank.

    Equation: 3, 2 and 1 body lengths.
    Parameters: standard_length [cm, > 0].
    Returns: length, width, depth [cm].
    Valid range: above 0 cm; ValueError otherwise.
    Source: Swiss Animal Protection Ordinance SR 455.1, Annex 2, Table 8.
    Check value: the same table.

    >>> legal_box(25)
    (75.0, 50.0, 25.0)
    """
    if not standard_length > 0:
        raise ValueError("standard_length must be above 0 cm")
    return standard_length * LEGAL_LENGTHS, standard_length * LEGAL_WIDTHS, standard_length * LEGAL_HEIGHTS


def territory(length: ArrayLike, *, share: ArrayLike = 1.0) -> Floats:
    """The larger a fish, the more floor it holds against others, though a site less than a patch of ground.

    Equation: share * 60 L^1.2.
    Parameters: length (total) [cm, > 0]; share (of an ordinary floor-holder's, by the kind of place) [-, >= 0];
    broadcast together.
    Returns: floor [cm2]; floors of several holders add up.
    Valid range: as given; ValueError otherwise.
    Source: judgement, see TERRITORY_FLOOR.
    Check value: derived, 60 x 32^1.2 = 60 x 2^6.

    >>> round(float(territory(32.0)), 2)
    3840.0
    """
    size, part = np.asarray(length, dtype=REAL), np.asarray(share, dtype=REAL)
    if not ((size > 0).all() and (part >= 0).all()):
        raise ValueError("length must be above 0 cm and share at least 0")
    return np.asarray(part * TERRITORY_FLOOR * size**TERRITORY_POWER)
