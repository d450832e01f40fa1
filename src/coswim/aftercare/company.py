"""The company that a proposal makes: every group of residents and newcomers, and how a keeper names it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import date
from typing import NamedTuple

from coswim.library.portrait import standard_fraction
from coswim.plans.plan import GroupEntry, Plan, Proposal
from coswim.plans.reading import ReadPlan
from coswim.profiles.names import name_key, wanted_keys
from coswim.profiles.profile import Profile
from coswim.simulation.phrases import plural
from coswim.text import wording
from coswim.text.printable import quoted
from coswim.text.problems import did_you_mean


class Companion(NamedTuple):
    """One group: its species, how many, how long at the start, and whether it lived there before.

    `apart` is a pattern that tells it from another group of its species: `new {}`, `resident {}`.
    """

    profile: Profile
    number: int
    length: float
    is_resident: bool
    called: str
    apart: str = "{}"

    @property
    def name(self) -> str:
        """What a keeper calls one of them."""
        return self.apart.format(self.profile.name)

    @property
    def label(self) -> str:
        """`the saddled bichir`, `the 8 tinfoil barbs`, to stand in a sentence."""
        if self.number == 1:
            return f"the {self.name}"
        return f"the {self.number} {self.apart.format(plural(self.profile.name))}"

    @property
    def subject(self) -> str:
        """The label as it opens a sentence."""
        return wording.opening(self.label)

    def verb(self, singular: str, several: str) -> str:
        """The form of a word that goes with the label."""
        return wording.agreeing(self.number, singular, several)

    @property
    def hunts(self) -> bool:
        """It takes any fish that its mouth allows."""
        style = self.profile.feeding_style
        return style is not None and style.eats_fish == "any that fit"

    @property
    def active(self) -> str:
        """`day`, `night` or `dusk`; `day` where it is not known."""
        return self.profile.feeding_style.active if self.profile.feeding_style else "day"

    @property
    def standard_fraction(self) -> float:
        """Standard over total length."""
        return standard_fraction(self.profile)

    def answers_to(self, key: str) -> bool:
        """A name in the form of `name_key` is one of its own."""
        profile = self.profile
        names = (self.called, profile.scientific_name, *profile.common_names, *profile.also_known_as)
        return key in {name_key(name) for name in (self.name, *names)}


class UnknownGroup(LookupError):
    """No group of the company, or more than one, answers to the name; the message offers those there are."""


@dataclass(frozen=True)
class Company:
    """A tank with its residents and the fish of one proposal, from the day on which they moved in."""

    plan: Plan
    name: str
    start: date
    fish: tuple[Companion, ...]

    @property
    def residents(self) -> tuple[Companion, ...]:
        """Those that lived there before."""
        return tuple(fish for fish in self.fish if fish.is_resident)

    @property
    def newcomers(self) -> tuple[Companion, ...]:
        """Those that are added."""
        return tuple(fish for fish in self.fish if not fish.is_resident)

    def knows(self, names: Iterable[str]) -> bool:
        """Every one of the names means one of its groups."""
        try:
            return all(self.find(name) for name in names)
        except UnknownGroup:
            return False

    def find(self, name: str) -> Companion:
        """The group that a keeper means: by a name of its species, or a part of one that is unique here."""
        keys = wanted_keys(name)
        found = [fish for fish in self.fish if any(fish.answers_to(key) for key in keys)]
        found = found or [fish for fish in self.fish if any(key in name_key(fish.name) for key in keys if key)]
        if len(found) == 1:
            return found[0]
        known = [fish.name for fish in found or self.fish]
        if found:
            raise UnknownGroup(f"{quoted(name)} could be {wording.listed(known, last='or')}; write which")
        raise UnknownGroup(
            f"{quoted(name)} is no group of this plan; allowed: {', '.join(known)}{did_you_mean(name, known)}"
        )


def companies_of(read: ReadPlan, *, start: date) -> tuple[Company, ...]:
    """One for each proposal of a plan; that of the tank as it stands where it has none."""
    return tuple(company_of(read, proposal, start=start) for proposal in read.plan.proposals or (None,))


def company_of(read: ReadPlan, proposal: Proposal | None, *, start: date) -> Company:
    """The company that a proposal of a plan makes, or that of the tank as it stands."""
    entries = [(entry, True) for entry in read.plan.residents]
    entries += [(entry, False) for entry in (proposal.add if proposal else ())]
    name = proposal.name if proposal else "the tank as it stands"
    return Company(read.plan, name, start, tuple(_companions(read, entries)))


def _companions(read: ReadPlan, entries: list[tuple[GroupEntry, bool]]) -> Iterator[Companion]:
    for entry, is_resident in entries:
        profile = read.profile(entry)
        same = [(other, lives) for other, lives in entries if read.profile(other) is profile]
        apart = "{}"
        if len(same) > 1:
            alone = sum(lives is is_resident for _, lives in same) == 1
            apart = ("resident {}" if is_resident else "new {}") if alone else f"{{}} of {entry.length:g} cm"
        yield Companion(
            profile, entry.count, entry.length or profile.adult_length.low, is_resident, entry.species, apart
        )
