"""What fish stand of ammonia, nitrite, nitrate and want of oxygen, individual by individual.

Published limits are those of sensitive animals; other fish stand more, by the hardiness of the profile, and
individuals of a kind differ.
"""

from __future__ import annotations

from types import MappingProxyType
from typing import NamedTuple

import numpy as np

from coswim.arrays import Floats
from coswim.profiles import scales
from coswim.simulation.group import Group

NITRATE_FROM = 44.3
"""Nitrate (NO3) above which the most sensitive are stressed in the long run, mg/L: 10 mg/L as nitrogen.
Source: Camargo, Alonso & Salamanca 2005, Chemosphere 58:1255-1267."""
AMMONIA_FROM = 0.05
"""Un-ionised ammonia (as nitrogen) above which fish take harm, mg/L. Source: UF/IFAS FA-16."""
NITRITE_FROM = 0.3
"""Nitrite (as nitrogen) above which fish take harm, mg/L: 1 mg/L of NO2. Source: common practice."""
INDIVIDUALS = 2.0
"""The hardiest of a kind stand this many times what the weakest stand. Source: judgement."""
NITRATE_LASTING = 4.0
"""Times the nitrate that stresses at which harm lasts. Source: judgement."""
POISON_LASTING = 3.0
POISON_DEADLY = 10.0
"""Times the ammonia or nitrite that stresses at which harm lasts, or fish die. Source: judgement; FA-16 has
fish die at 2 mg/L un-ionised ammonia (memory)."""
OXYGEN_NEEDED = MappingProxyType({False: (4.0, 2.0), True: (6.0, 4.0)})
"""Oxygen below which fish are stressed or harmed for good, mg/L; True for `high-oxygen`. Source: common
practice for stress, the rest judgement. Death is not reckoned: they gasp first, and an air stone helps."""


class Limits(NamedTuple):
    """The levels beyond which a fish is stressed, harmed for good, or dies; each a figure or (draws,)."""

    stress: Floats | float
    lasting: Floats | float
    deadly: Floats | float


def nitrate_limits(fish: Group) -> Limits:
    """Of nitrate (NO3), mg/L; it is not reckoned to kill."""
    stress = NITRATE_FROM * _stands(fish, "nitrate")
    return Limits(stress, NITRATE_LASTING * stress, np.inf)


def ammonia_limits(fish: Group) -> Limits:
    """Of un-ionised ammonia as nitrogen, mg/L."""
    return _poison(AMMONIA_FROM * _stands(fish, "ammonia"))


def nitrite_limits(fish: Group) -> Limits:
    """Of nitrite as nitrogen, mg/L."""
    return _poison(NITRITE_FROM * _stands(fish, "nitrite"))


def oxygen_limits(fish: Group) -> Limits:
    """Of oxygen, mg/L, to be undershot; none for a fish that breathes air."""
    if "air-breather" in fish.profile.features:
        return Limits(-np.inf, -np.inf, -np.inf)
    return Limits(*OXYGEN_NEEDED["high-oxygen" in fish.profile.features], -np.inf)


def _poison(stress: Floats) -> Limits:
    return Limits(stress, POISON_LASTING * stress, POISON_DEADLY * stress)


def _stands(fish: Group, what: str) -> Floats:
    """In parts of those limits; a fish whose hardiness is not known is taken for a delicate one."""
    ranges = fish.profile.water_ranges
    word = (ranges.hardiness if ranges else None) or scales.HARDINESS.words[0]
    return np.asarray(scales.HARDINESS.number(word) * INDIVIDUALS ** fish.uniform(what))
