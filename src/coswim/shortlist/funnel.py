"""Why the others failed: each by what settled it, in a keeper's words, counted."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping
from types import MappingProxyType
from typing import NamedTuple

from coswim.verdict.rating import Finding


class Reason(NamedTuple):
    """A hazard and whom it strikes: the newcomers, the residents, or all of them."""

    hazard: str
    strikes: str

    @property
    def words(self) -> str:
        """What is the matter with such a species, as `96 need other water` goes on."""
        return WORDS.get(self) or WORDS.get(self._replace(strikes=ALL)) or self.hazard

    @property
    def short(self) -> str:
        """The same in a word or two, for a table."""
        return SHORT.get(self) or SHORT.get(self._replace(strikes=ALL)) or self.hazard


NEW, RESIDENTS, ALL = "newcomers", "residents", "all"
WORDS: Mapping[Reason, str] = MappingProxyType(
    {
        Reason("water-overlap", ALL): "need other water",
        Reason("schooling", ALL): "do not bear the company of their kind that is there",
        Reason("space", NEW): "outgrow the tank or its floor",
        Reason("space", RESIDENTS): "leave the others too little room",
        Reason("escape", ALL): "leap out of the open tank",
        Reason("spine-choking", ALL): "have spines that lock in a mouth",
        Reason("gape-fit", NEW): "would be eaten",
        Reason("gape-fit", RESIDENTS): "would eat those that live there",
        Reason("feeding-competition", NEW): "would go hungry",
        Reason("feeding-competition", RESIDENTS): "would leave the others hungry",
        Reason("aggression", NEW): "would be harassed or quarrel among themselves",
        Reason("aggression", RESIDENTS): "would harass the others",
        Reason("nipping", NEW): "would be nipped",
        Reason("nipping", RESIDENTS): "would nip the others",
        Reason("injury", NEW): "would be injured",
        Reason("injury", RESIDENTS): "would injure the others",
        Reason("water-load", ALL): "load the water too much",
    }
)
SHORT: Mapping[Reason, str] = MappingProxyType(
    {
        Reason("water-overlap", ALL): "water",
        Reason("schooling", ALL): "company",
        Reason("space", ALL): "room",
        Reason("escape", ALL): "leaps out",
        Reason("spine-choking", ALL): "spines",
        Reason("gape-fit", NEW): "is eaten",
        Reason("gape-fit", RESIDENTS): "eats others",
        Reason("feeding-competition", NEW): "hunger",
        Reason("feeding-competition", RESIDENTS): "others' hunger",
        Reason("aggression", NEW): "is harassed",
        Reason("aggression", RESIDENTS): "harasses",
        Reason("nipping", NEW): "is nipped",
        Reason("nipping", RESIDENTS): "nips",
        Reason("injury", NEW): "is injured",
        Reason("injury", RESIDENTS): "injures",
        Reason("water-load", ALL): "water load",
    }
)


class Share(NamedTuple):
    """How many species fail for one reason."""

    reason: Reason
    count: int


def reason_for(finding: Finding) -> Reason:
    """The reason that a finding is."""
    return Reason(finding.found.hazard, RESIDENTS if finding.found.target.is_resident else NEW)


def funnel(reasons: Iterable[Reason]) -> tuple[Share, ...]:
    """The reasons with their counts, those with the same words together, most first."""
    reasons = list(reasons)
    first = {reason.words: reason for reason in reversed(reasons)}
    counted = Counter(reason.words for reason in reasons)
    return tuple(Share(first[words], count) for words, count in sorted(counted.items(), key=lambda one: (-one[1], one[0])))
