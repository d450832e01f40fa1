"""What fits into a mouth: the prey's larger cross-section against the widest opening."""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from coswim.arrays import Flags, Floats

STRETCH = (1.0, 1.3)
"""Least and greatest stretch of mouth and prey together: a cross-section up to the gape is swallowed, up
to 1.3 of it may be. Source: pike eat roach deeper than their gape (Nilsson & Broenmark 2000, Oikos
88:539-546); the figure 1.3 is judgement."""
LONGEST_PREY = 0.65
"""Longest prey over predator length. Source: largest ratio seen 0.59 (Doerner & Wagner 2003, J. Group
Biol. 62), with a margin (judgement)."""
GAPE_CV = {"measured": 0.18, "guessed": 0.35}
"""Spread of gape between individuals. Source: 0.16-0.20 within species, Dunic & Baum 2017, J. Anim.
Ecol. 86:577-589; 0.35 where the gape is guessed from the jaw: judgement."""
SPINE_SPAN = 1.9
"""Span of locked pectoral and dorsal spines over body depth. Source: derived on Corydoras."""


def is_swallowable(
    cross_section: ArrayLike,
    gape: ArrayLike,
    *,
    stretch: ArrayLike,
    length_ratio: ArrayLike,
    folds: bool = False,
) -> Flags:
    """A fish is swallowed head first when its larger cross-section passes the mouth and it is not too long.

    Equation: D <= stretch * G and prey length <= 0.65 predator length (any length when it folds).
    Parameters: cross_section (larger of depth and width), gape [mm]; stretch [1 to 1.3];
    length_ratio (prey over predator total length) [-]; folds: eel-like prey; broadcast together.
    Returns: True where it fits.
    Valid range: positive values; ValueError otherwise.
    Source: reading of Lawrence 1958, Proc. SEAFWA 11:220-225, and the sources of STRETCH and LONGEST_PREY.
    Check value: derived, 30 mm through a gape of 25 mm needs a stretch of 1.2.

    >>> is_swallowable(30.0, 25.0, stretch=np.array([1.1, 1.2]), length_ratio=0.3).tolist()
    [False, True]
    """
    size, opening = np.asarray(cross_section, dtype=float), np.asarray(gape, dtype=float)
    if np.any(size <= 0) or np.any(opening <= 0):
        raise ValueError("cross_section and gape must be above 0 mm")
    passes = size <= np.asarray(stretch, dtype=float) * opening
    return np.asarray(passes if folds else passes & (np.asarray(length_ratio, dtype=float) <= LONGEST_PREY))


def longest_prey(
    gape: ArrayLike, *, cross_section_per_length: ArrayLike, predator_length: ArrayLike, stretch: ArrayLike
) -> Floats:
    """The longest fish of a given shape that a mouth takes.

    Equation: min(stretch * G / (D/TL), 0.65 L_predator).
    Parameters: gape [cm]; cross_section_per_length (larger of depth and width over total length) [-, > 0];
    predator_length [cm]; stretch [-]; broadcast together.
    Returns: total length of the prey [cm].
    Valid range: cross_section_per_length > 0; ValueError otherwise.
    Source: as is_swallowable.
    Check value: derived, a gape of 3 cm takes a fish of a quarter its length in depth up to 12 cm.

    >>> float(longest_prey(3.0, cross_section_per_length=0.25, predator_length=30.0, stretch=1.0))
    12.0
    """
    slimness = np.asarray(cross_section_per_length, dtype=float)
    if np.any(slimness <= 0):
        raise ValueError("cross_section_per_length must be above 0")
    by_mouth = np.asarray(stretch, dtype=float) * np.asarray(gape, dtype=float) / slimness
    return np.asarray(np.minimum(by_mouth, LONGEST_PREY * np.asarray(predator_length, dtype=float)))
