"""When to act and when to part the fish the same day, settled before they meet.

How the rules come about: every company gets the same signs, with days and lengths worked out for its own fish.
What the screening found decides their order: the signs of the worst findings come first and say which finding
they follow from.

How they are applied: `coswim diary judge` holds the diary against every rule. The worst decision of all that are
met stands, with the observation that decided it. What has been put right since no longer counts: a later look
that finds a fin whole, a full meal, a clean test, all fish counted.

What is read from notes: `coswim diary judge` quotes the words that it took for a sign.

What they cannot see: what nobody wrote down. A diary without entries is no good news.

Illness: no rule names a medicine. A fish that is ill goes to a veterinarian.

Sources: common practice; the part of ammonia that harms and its limit are published (`water-load`); what a fast
costs is published (`feeding-competition`); all other numbers are judgement.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from types import MappingProxyType

from coswim.aftercare import feeding_rules, harm_rules, head_count_rules, water_rules
from coswim.aftercare.company import Company
from coswim.aftercare.concerns import Concern
from coswim.aftercare.stop_rule import StopRule

FOLLOWS_FROM: Mapping[str, tuple[str, ...]] = MappingProxyType(
    {
        "fasting": ("feeding-competition",),
        "scraps": ("feeding-competition",),
        "weight": ("feeding-competition",),
        "thin": ("feeding-competition",),
        "chasing": ("aggression", "schooling"),
        "damage": ("nipping", "injury", "aggression"),
        "eaten": ("gape-fit", "spine-choking"),
        "missing": ("gape-fit", "escape"),
        "dead": ("aggression", "injury", "gape-fit"),
        "outgrown": ("gape-fit", "space"),
        "water": ("water-load",),
        "ill": ("water-overlap",),
    }
)
"""By topic of a rule, the hazards of which it shows the first signs."""


def stop_rules(company: Company, concerns: Sequence[Concern]) -> tuple[StopRule, ...]:
    """All rules for a company; those that follow from its worst findings come first."""
    of_this_company = (*head_count_rules.rules(company, concerns), *feeding_rules.rules(company))
    every = (*harm_rules.RULES, *of_this_company, *water_rules.RULES)
    return tuple(sorted((_explained(rule, concerns) for rule in every), key=lambda rule: -rule.risk))


def _explained(rule: StopRule, concerns: Sequence[Concern]) -> StopRule:
    """The rule with the worst finding that it follows from, if there is one."""
    behind = [concern for concern in concerns if concern.hazard in FOLLOWS_FROM[rule.topic]]
    if rule.topic in ("fasting", "outgrown"):  # these speak of one group
        behind = [concern for concern in behind if concern.target.label in rule.sign]
    if not behind:
        return rule
    worst = max(behind, key=lambda concern: concern.risk)
    return rule._replace(because=worst.sentence, risk=worst.risk)
