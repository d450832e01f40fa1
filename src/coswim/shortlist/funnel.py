"""Why the others failed: each by what settled it, in a keeper's words, counted."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping
from types import MappingProxyType
from typing import NamedTuple

from coswim.verdict.rating import Finding

NEW, RESIDENTS = "newcomers", "residents"


class Words(NamedTuple):
    """What is the matter with a species, as `96 need other water` goes on; and in a word or two, for a table."""

    of_many: str
    short: str


ALL: Mapping[str, Words] = MappingProxyType(
    {
        "water-overlap": Words("need other water", "water"),
        "schooling": Words("do not bear the company of their kind", "company"),
        "space": Words("would crowd the tank", "crowding"),
        "space room": Words("need a larger tank", "room"),
        "space ground": Words("would have too little floor of their own", "floor"),
        "space ground between kinds": Words("would have too little floor beside the others", "floor"),
        "escape": Words("leap out of the open tank", "leaps out"),
        "injury dashing": Words("would hurt themselves in so short a tank", "dashing"),
        "water-load": Words("load the water too much", "water load"),
    }
)
"""By hazard, or by hazard and topic, whomever it strikes."""
BY_VICTIM: Mapping[tuple[str, str], Words] = MappingProxyType(
    {
        ("spine-choking", NEW): Words("would choke on those that live there", "chokes"),
        ("spine-choking", RESIDENTS): Words("have spines that lock in a mouth", "spines"),
        ("gape-fit", NEW): Words("would be eaten", "is eaten"),
        ("gape-fit", RESIDENTS): Words("would eat those that live there", "eats others"),
        ("feeding-competition", NEW): Words("would go hungry", "hunger"),
        ("feeding-competition", RESIDENTS): Words("would leave the others hungry", "others' hunger"),
        ("aggression", NEW): Words("would be harassed or quarrel among themselves", "is harassed"),
        ("aggression", RESIDENTS): Words("would harass the others", "harasses"),
        ("nipping", NEW): Words("would be nipped", "is nipped"),
        ("nipping", RESIDENTS): Words("would nip the others", "nips"),
        ("injury", NEW): Words("would be injured", "is injured"),
        ("injury", RESIDENTS): Words("would injure the others", "injures"),
    }
)
"""By hazard and whom it strikes."""


class Reason(NamedTuple):
    """A hazard, whom it strikes (newcomers or residents), and its topic."""

    hazard: str
    strikes: str
    topic: str = ""

    @property
    def words(self) -> Words:
        """The reason as a keeper would put it; the hazard's name for one that has no words here."""
        for_all = ALL.get(f"{self.hazard} {self.topic}") or ALL.get(self.hazard)
        return for_all or BY_VICTIM.get((self.hazard, self.strikes)) or Words(f"fail by {self.hazard}", self.hazard)


OF_ONE: Mapping[str, str] = MappingProxyType(
    {"need": "needs", "do": "does", "leap": "leaps", "load": "loads", "have": "has", "fail": "fails"}
)
"""Verbs of the reasons as they are said of one species."""


class Share(NamedTuple):
    """How many species fail for one reason, in words."""

    words: str
    species: int

    @property
    def said(self) -> str:
        """`96 need other water`, `1 needs other water`."""
        verb, _, rest = self.words.partition(" ")
        return f"{self.species} {OF_ONE.get(verb, verb) if self.species == 1 else verb} {rest}"


def reason_for(finding: Finding) -> Reason:
    """The reason that a finding is."""
    found = finding.found
    return Reason(found.hazard, RESIDENTS if found.target.is_resident else NEW, found.topic)


def funnel(reasons: Iterable[Reason]) -> tuple[Share, ...]:
    """The reasons in words with their counts, most first."""
    counted = Counter(reason.words.of_many for reason in reasons)
    return tuple(Share(words, species) for words, species in sorted(counted.items(), key=lambda one: (-one[1], one[0])))
