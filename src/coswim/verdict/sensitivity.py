"""The one trait that matters most: what to measure or look up, and which way it would move the risk.

In every draw each trait lies somewhere in its plausible range, and each varies on its own. So the fifth
of the draws in which a trait is lowest, and the fifth in which it is highest, show what the risk would be
if it were known to lie near that end, all else being as uncertain as before. Named is the trait whose two
ends differ most in risk; where none moves the risk, the one whose ends differ most in the share of draws.
Differences that chance would often bring about do not count.

Words of a profile (peaceful, slow) have no range and are not moved; how far individuals differ within a
word is.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from types import MappingProxyType
from typing import NamedTuple

import numpy as np

from coswim.arrays import Flags, Floats
from coswim.findings.finding import Consequence
from coswim.profiles.catalog import Catalog
from coswim.profiles.sources import UNSOURCED
from coswim.simulation.group import Group
from coswim.simulation.phrases import label, verb
from coswim.simulation.scene import Scene
from coswim.text import wording
from coswim.verdict.rating import Finding, OverallRisk, Unrated, overall, unions, worst
from coswim.verdict.risk import Level

END = 0.2
"""Part of the draws taken for one end of a trait's range. Source: judgement."""
CHANCE = 3.5
"""Standard errors by which the ends must differ: one in 2,000 for a trait without any effect."""

LEAST = 0.05
"""Difference in the share of draws that is worth a word. Source: judgement."""


class Measurable(NamedTuple):
    """What a keeper can measure or look up: its words, those for its low and high end, the profile's trait."""

    words: str
    low: str
    high: str
    profile_trait: str = ""
    unit: str = ""


OF_FISH: Mapping[str, Measurable] = MappingProxyType(
    {
        "adult_length": Measurable("how long {fish} get{s}", "short", "long", "adult_length", "cm"),
        "growth": Measurable("how fast {fish} grow{s}", "slow", "fast", "growth", "per year"),
        "depth": Measurable("how deep the body of {fish} is", "shallow", "deep", "body.depth", "of standard length"),
        "width": Measurable("how wide the body of {fish} is", "narrow", "wide", "body.width", "of standard length"),
        "gape": Measurable("how wide the mouth of {fish} opens", "narrow", "wide", "mouth_gape", "of standard length"),
        "pace": Measurable("how fast {fish} eat{s}", "slow", "fast", "feeding_style.pace"),
        "temperament": Measurable("how {fish} treat{s} others", "peaceful", "aggressive", "temperament.other_fish"),
        "nips": Measurable("whether {fish} nip{s}", "so", "not", "temperament.nips"),
        "stamina": Measurable("how much chasing {fish} take{s}", "little", "much", "temperament.stamina"),
    }
)
OF_TANK: Mapping[str, Measurable] = MappingProxyType(
    {
        "temperature": Measurable("the tank's temperature", "cool", "warm"),
        "ph": Measurable("the tank's pH", "low", "high"),
        "hardness": Measurable("the tank's hardness", "soft", "hard"),
    }
)


class Sensitivity(NamedTuple):
    """What would move the risk most, in a line; `decides` where the decision would be another."""

    words: str = ""
    decides: bool = False


class _Ends(NamedTuple):
    """A trait and the risk with it near its low and near its high end."""

    words: str
    trait: Measurable
    low: OverallRisk | None
    high: OverallRisk | None
    shares: tuple[float, float]

    @property
    def weight(self) -> tuple[int, float]:
        """How far the ends are apart: in risk, then in share of draws."""
        return (abs(_number(self.low) - _number(self.high)), abs(self.shares[0] - self.shares[1]))


def sensitivity(
    scene: Scene, findings: Sequence[Finding], unrated: Sequence[Unrated], *, catalog: Catalog
) -> Sensitivity:
    """The trait whose value would change the risk of a proposal most, in a line.

    Empty when nothing was found, and when no single trait changes it by more than chance would.
    """
    if unrated:
        missing = "; ".join(dict.fromkeys(one.found.missing for one in unrated))
        return Sensitivity(f"what is missing decides most: {missing}.", decides=True)
    happens, risk = unions(findings), overall(findings)
    if risk is None:
        return Sensitivity()
    ends = [
        one
        for words, trait, values in _drawn(scene, findings, catalog)
        if (one := _ends(words, trait, values, happens, risk.consequence))
    ]
    best = max(ends, key=lambda one: one.weight, default=None)
    if best is None or best.weight < (0, LEAST):
        return Sensitivity()
    return Sensitivity(_line(best, risk), decides=_level(best.low) is not _level(best.high))


def _drawn(scene: Scene, findings: Sequence[Finding], catalog: Catalog) -> Iterator[tuple[str, Measurable, Floats]]:
    """Every trait that a finding rests on and that a keeper can find out, in words, with its numbers."""
    used = {(used.profile.name, _block(trait)) for f in findings for used in f.found.uses for trait in used.traits}
    for fish in scene.groups:
        for name, values in fish.drawn.items():
            if name in OF_FISH and (fish.profile.name, _block(OF_FISH[name].profile_trait)) in used:
                yield _of_fish(fish, OF_FISH[name], catalog), OF_FISH[name], values
    for name, values in scene.draws.drawn_for("tank").items():
        if name in OF_TANK:
            yield OF_TANK[name].words, OF_TANK[name], values


def _block(trait: str) -> str:
    return trait.partition(".")[0]


def _of_fish(fish: Group, trait: Measurable, catalog: Catalog) -> str:
    """`how wide the mouth of the oscar opens (0.1-0.14 of standard length, from memory)`."""
    words = trait.words.format(fish=label(fish), s=verb(fish, "s", ""))
    evidence = catalog.evidence(fish.profile, trait.profile_trait)
    source = f"from {evidence}" if evidence in UNSOURCED else evidence.replace("-", " ")
    value = fish.profile.value(trait.profile_trait)
    return f"{words} ({'not stated' if value is None else value} {trait.unit}".rstrip() + f", {source})"


def _ends(
    words: str, trait: Measurable, values: Floats, happens: Mapping[Consequence, Flags], consequence: Consequence
) -> _Ends | None:
    """The risks at both ends; None where they differ no more than by chance."""
    size = max(1, round(len(values) * END))
    order = np.argpartition(values, (size, len(values) - size - 1))
    low, high = (
        {outcome: np.count_nonzero(flags[part]) / size for outcome, flags in happens.items()}
        for part in (order[:size], order[-size:])
    )
    if not any(_differ(low[outcome], high[outcome], size) for outcome in happens):
        return None
    return _Ends(words, trait, worst(low, size), worst(high, size), (low[consequence], high[consequence]))


def _differ(one: float, other: float, size: int) -> bool:
    middle = (one + other) / 2
    return abs(one - other) > CHANCE * float(np.sqrt(middle * (1 - middle) * 2 / size))


def _line(ends: _Ends, now: OverallRisk) -> str:
    low, high = ends.trait.low, ends.trait.high
    if _number(ends.low) != _number(ends.high):
        return (
            f"{ends.words}: if {low} the risk is {_said(ends.low)}, if {high} it is {_said(ends.high)}; now {now.risk}."
        )
    shares = [wording.futures(share) for share in ends.shares]
    return (
        f"{ends.words}, though the risk stays {now.risk} at either end ({shares[0]} if {low}, {shares[1]} if {high})."
    )


def _said(risk: OverallRisk | None) -> str:
    return f"{risk.risk} ({risk.level})" if risk else "gone"


def _level(risk: OverallRisk | None) -> Level:
    return risk.level if risk else Level.LOW


def _number(risk: OverallRisk | None) -> int:
    return risk.risk if risk else 0
