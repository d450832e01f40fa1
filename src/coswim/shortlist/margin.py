"""How far the tank's water lies from the ends of what a species is kept in."""

from __future__ import annotations

from coswim.plans.plan import Tank
from coswim.profiles.profile import Profile
from coswim.text.quantities import Range

MEASURES = ("temperature", "ph", "hardness")


def margin(profile: Profile, tank: Tank) -> float:
    """The narrowest margin of temperature, pH and hardness over half the species' range: 1 in the middle, 0 at an end.

    Negative outside; what plan or profile do not state is passed over, and 0 where neither states anything.
    """
    margins = [
        _of(getattr(tank, name), getattr(profile.water_ranges, name))
        for name in MEASURES
        if profile.water_ranges and getattr(tank, name)
    ]
    return min(margins, default=0.0)


def _of(given: Range, wanted: Range) -> float:
    room = min(given.low - wanted.low, wanted.high - given.high)
    half = (wanted.high - wanted.low) / 2
    return room / half if half else float(room >= 0)
