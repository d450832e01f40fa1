"""From a keeper's text to a plan whose every species has a profile."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from itertools import chain
from types import MappingProxyType
from typing import NamedTuple

from coswim.plans.plan import MOST_GROUPS, GroupEntry, Plan, Proposal
from coswim.profiles.catalog import Catalog, UnknownSpecies
from coswim.profiles.profile import Profile
from coswim.text import wording
from coswim.text.document import Path_, YamlDocument, read_document
from coswim.text.printable import quoted
from coswim.text.problems import MOST_SHOWN, InputProblems, Problem, refuse_any
from coswim.text.validation import validate

TALLEST_STORY = 1.25  # a length beyond the record by more than this is a slip of the pen (judgement)


class ReadPlan(NamedTuple):
    """A plan with the profile behind every species name it uses.

    Lengths and proposal names that the keeper left out are filled in; `assumed` says which lengths, in words.
    """

    name: str
    plan: Plan
    profiles: Mapping[str, Profile]
    assumed: tuple[str, ...] = ()

    def profile(self, entry: GroupEntry) -> Profile:
        """The profile of a group of this plan, with what is known of this fish in place of its species' values."""
        profile = self.profiles[entry.species]
        return entry.this_fish.applied(profile) if entry.this_fish else profile

    @property
    def by_hand(self) -> frozenset[str]:
        """Scientific names of the species that are fed by hand."""
        return frozenset(self.profiles[name].scientific_name for name in self.plan.feeding.by_hand)


def read_plan(text: str, file: str, catalog: Catalog) -> ReadPlan:
    """The plan in `text`; InputProblems with every problem of the file otherwise."""
    return resolve(read_document(text, file), catalog)


def resolve(document: YamlDocument, catalog: Catalog, *, may_be_empty: bool = False) -> ReadPlan:
    """Validate a document as a plan and look its species up; a tank without any fish may be allowed."""
    plan = validate(document, Plan)
    profiles: dict[str, Profile] = {}
    refuse_any(
        chain(
            _species_problems(document, plan, catalog, profiles),
            _count_problems(document, plan),
            () if may_be_empty else _no_fish(document, plan),
            _record_problems(document, plan),
            _name_problems(document, plan),
            _number_problems(document, plan),
        )
    )
    filled, assumed = _filled_in(plan, profiles)
    return ReadPlan(plan.title or document.file, filled, MappingProxyType(profiles), assumed)


def entries(plan: Plan) -> Iterator[tuple[Path_, GroupEntry]]:
    """Every group of the plan with its path in the document."""
    for index, resident in enumerate(plan.residents):
        yield ("residents", index), resident
    for number, proposal in enumerate(plan.proposals):
        for index, newcomer in enumerate(proposal.add):
            yield ("proposals", number, "add", index), newcomer


def names_used(plan: Plan) -> Iterator[tuple[Path_, str]]:
    """Every species name of the plan with its path in the document."""
    for path, entry in entries(plan):
        yield (*path, "species"), entry.species
        for index, lived in enumerate(entry.lived_with):
            yield (*path, "lived_with", index, "species"), lived.species
    for index, name in enumerate(plan.feeding.by_hand):
        yield ("feeding", "by_hand", index), name


def _filled_in(plan: Plan, profiles: Mapping[str, Profile]) -> tuple[Plan, tuple[str, ...]]:
    """The plan with usual lengths and names of proposals where none were stated, and these lengths in words."""
    said: list[str] = []

    def grown(entry: GroupEntry) -> GroupEntry:
        usual = profiles[entry.species].usual_size
        if entry.length is not None or usual is None:
            return entry
        said.append(f"{usual:g} cm for the {profiles[entry.species].name}, at which the trade usually sells it")
        return entry.model_copy(update={"length": usual})

    def named(proposal: Proposal) -> Proposal:
        add = tuple(map(grown, proposal.add))
        return proposal.model_copy(update={"add": add, "name": proposal.name or _called(add, profiles)})

    residents = tuple(map(grown, plan.residents))
    filled = plan.model_copy(update={"residents": residents, "proposals": tuple(map(named, plan.proposals))})
    return filled, tuple(dict.fromkeys(said))


def _called(add: Sequence[GroupEntry], profiles: Mapping[str, Profile]) -> str:
    return wording.listed([f"{entry.count} {profiles[entry.species].name} {entry.length:g} cm" for entry in add])


def _species_problems(
    document: YamlDocument, plan: Plan, catalog: Catalog, profiles: dict[str, Profile]
) -> Iterator[Problem]:
    """Fills in the profiles; yields what keeps a name from having one, and lengths that no such fish has."""
    refused: dict[str, list[Problem] | str] = {}
    for path, name in names_used(plan):
        if name not in profiles and name not in refused and len(refused) < MOST_SHOWN:
            try:
                profiles[name] = catalog.profile(name)
            except UnknownSpecies as error:
                refused[name] = str(error)
            except InputProblems as error:
                refused[name] = list(error.problems)
        if name not in profiles:
            why = refused.get(name, f"{quoted(name)} was not looked up, after so many that are unknown")
            yield from [document.problem(path, why)] if isinstance(why, str) else why
    for path, entry in entries(plan):
        if entry.species in profiles:
            yield from _length_problems(document, path, entry, profiles[entry.species])


def _length_problems(document: YamlDocument, path: Path_, entry: GroupEntry, profile: Profile) -> Iterator[Problem]:
    if entry.length is None and profile.usual_size is None:
        yield document.problem(
            (*path, "length"), f"is missing, and the profile of the {profile.name} names no usual size"
        )
    longest = max(profile.adult_length.high, profile.record_length or 0)
    if entry.length is not None and entry.length > longest * TALLEST_STORY:
        yield document.problem(
            (*path, "length"),
            f"'{entry.length:g} cm' is longer than any {profile.name} gets "
            f"(allowed: up to {longest * TALLEST_STORY:.3g} cm; adult {profile.adult_length} cm)",
        )


def _count_problems(document: YamlDocument, plan: Plan) -> Iterator[Problem]:
    """More males than fish."""
    for path, entry in entries(plan):
        if entry.males is not None and entry.males > entry.count:
            yield document.problem((*path, "males"), f"'{entry.males}' is more than the count of {entry.count}")


def _no_fish(document: YamlDocument, plan: Plan) -> Iterator[Problem]:
    """A plan without any fish."""
    if not plan.residents and not plan.proposals:
        yield document.problem(("residents",), "is missing, and so is proposals; a plan needs at least one fish")


def _record_problems(document: YamlDocument, plan: Plan) -> Iterator[Problem]:
    """A record of a fish that is not there yet."""
    for path, entry in entries(plan):
        if entry.lived_with and path[0] != "residents":
            message = "only residents have a record here; write what you know of this fish under this_fish"
            yield document.problem((*path, "lived_with"), message)


def _name_problems(document: YamlDocument, plan: Plan) -> Iterator[Problem]:
    names = [proposal.name for proposal in plan.proposals]
    for number, name in enumerate(names):
        if name and name in names[:number]:
            yield document.problem(
                ("proposals", number, "name"), f"{quoted(name)} is used twice; give each its own name"
            )


def _number_problems(document: YamlDocument, plan: Plan) -> Iterator[Problem]:
    """More groups together than are simulated."""
    for number, proposal in enumerate(plan.proposals):
        groups = len(plan.residents) + len(proposal.add)
        if groups > MOST_GROUPS:
            message = f"makes {groups} groups with the residents; allowed: {MOST_GROUPS}"
            yield document.problem(("proposals", number, "add"), message)
