"""What a hazard finds: who does what to whom, in which draws, with the figures and reasons that carry it."""

from __future__ import annotations

from collections.abc import Iterable
from enum import StrEnum
from typing import NamedTuple

from coswim.arrays import Flags
from coswim.profiles.profile import Profile
from coswim.simulation import phrases
from coswim.simulation.group import Group
from coswim.text import wording


class Consequence(StrEnum):
    """What it does to the fish if it happens, worst first."""

    CATASTROPHIC = "catastrophic"
    CRITICAL = "critical"
    MARGINAL = "marginal"
    NEGLIGIBLE = "negligible"


CONSEQUENCE_MEANINGS = {
    Consequence.CATASTROPHIC: "a fish dies",
    Consequence.CRITICAL: "lasting injury or starvation; they must be separated",
    Consequence.MARGINAL: "heals, or chronic stress",
    Consequence.NEGLIGIBLE: "a nuisance",
}


TOO_RARE = 0.005
"""Share of draws below which nothing is reported of what individuals do to each other. Source: judgement; rarer is
the noise of a model like this."""


class Outcome(NamedTuple):
    """One consequence and the draws in which it comes to pass, shape (draws,)."""

    consequence: Consequence
    happens: Flags


class Figure(NamedTuple):
    """A number that carries a finding: its key in data (with unit), its words, its value and unit."""

    key: str
    label: str
    value: float
    unit: str


class Used(NamedTuple):
    """The traits of one species that a finding rests on."""

    profile: Profile
    traits: tuple[str, ...]

    def missing(self) -> list[str]:
        """Those that the profile does not state."""
        return [trait for trait in self.traits if not self.profile.has(trait)]


def gaps(uses: Iterable[Used]) -> str:
    """What the profiles do not state of the traits that a finding needs, in words; empty when all is known."""
    lines = [
        f"{used.profile.name}: the profile does not state {wording.listed(missing)}"
        for used in uses
        if (missing := used.missing())
    ]
    return "; ".join(dict.fromkeys(lines))


class Found(NamedTuple):
    """One hazard for one ordered pair or group, before it is rated.

    `doer` is None where nobody does it (water, space). `whoever_does_it`: the doer is only the likeliest
    cause, and the finding the same with another. `cannot_rate` says what is missing.
    """

    hazard: str
    doer: Group | None
    target: Group
    sentence: str
    outcomes: tuple[Outcome, ...] = ()
    because: tuple[str, ...] = ()
    figures: tuple[Figure, ...] = ()
    from_month: int | None = None
    to_month: int | None = None
    uses: tuple[Used, ...] = ()
    cannot_rate: str = ""
    topic: str = ""
    whoever_does_it: bool = False

    @property
    def key(self) -> tuple[str, str, str, str]:
        """What tells this finding from all others of a scene."""
        doer = self.doer.key if self.doer and not self.whoever_does_it else ""
        return (self.hazard, doer, self.target.key, self.topic)

    @property
    def pair(self) -> tuple[Group, Group]:
        """Who does it and who suffers it; ValueError where nobody does it."""
        if self.doer is None:
            raise ValueError(f"{self.hazard}: nobody does it")
        return self.doer, self.target

    @property
    def doer_label(self) -> str | None:
        """Who does it, as a report names the group; None where nobody does."""
        return phrases.label(self.doer) if self.doer else None

    @property
    def target_label(self) -> str:
        """Who suffers it, as a report names the group."""
        return phrases.label(self.target)

    @property
    def concerns_residents_only(self) -> bool:
        """Only fish that already live there are part of it, or need be."""
        return self.target.is_resident and (self.doer is None or self.whoever_does_it or self.doer.is_resident)
