"""Whether one fish comes upon another: by level, by speed and by their hours."""

from __future__ import annotations

from coswim.simulation.group import Group

SLOW = 1.25
QUICK = 0.6
"""Attacks that land on a target that cannot get away; on one that never rests in one place; and likewise
those of an attacker that is itself slow. Source: judgement."""
AT_HOME = ("still", "local")
LEAVES = 0.85
"""The same for a roaming target of an attacker that stays around one place. Source: judgement."""
OFF_HOURS = 0.7
"""Attacks where one is awake while the other sleeps. Source: judgement."""


def overlap(doer: Group, target: Group) -> float:
    """Part of the target's levels that the attacker uses too; all where one is unknown."""
    mine, theirs = doer.profile.feeding_style, target.profile.feeding_style
    if mine is None or theirs is None:
        return 1.0
    return len({*mine.level} & {*theirs.level}) / len(theirs.level)


def landing(doer: Group, target: Group) -> float:
    """Attacks that land, by how each of the two swims, over those between two ordinary fish."""
    if "slow-swimmer" in target.profile.features:
        return SLOW
    is_slow, is_quick = "slow-swimmer" in doer.profile.features, target.profile.swimming == "open-water"
    leaves = doer.profile.swimming in AT_HOME and target.profile.swimming not in AT_HOME
    return float(QUICK**is_slow * QUICK**is_quick * (1.0 if is_slow or is_quick or not leaves else LEAVES))


def waking(doer: Group, target: Group) -> float:
    """Attacks left by their hours: fewer where one is of the day and the other of the night."""
    styles = (doer.profile.feeding_style, target.profile.feeding_style)
    hours = {style.active if style else "" for style in styles}
    return OFF_HOURS if hours == {"day", "night"} else 1.0
