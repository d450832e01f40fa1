"""From a keeper's text to a plan whose every species has a profile."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from itertools import chain
from types import MappingProxyType
from typing import Any, NamedTuple

from coswim.plans.carried import Carried, own_blocks, read_carried
from coswim.plans.plan import MOST_GROUPS, Feeding, GroupEntry, Plan, Proposal, Tank
from coswim.plans.units import unit_questions, units_of
from coswim.profiles.catalog import Catalog, UnknownSpecies
from coswim.profiles.names import is_plural, name_key
from coswim.profiles.profile import Profile
from coswim.text import wording
from coswim.text.document import Path_, YamlDocument, read_document
from coswim.text.printable import quoted
from coswim.text.problems import MOST_SHOWN, InputProblems, Problem, refuse_any
from coswim.text.units import HOUSE, Units, in_units
from coswim.text.validation import validate

HEADS = frozenset({"tank", "feeding", "residents", "proposals"})
INDENTED = frozenset({*Tank.model_fields, *Feeding.model_fields, *GroupEntry.model_fields}) - frozenset(
    Plan.model_fields
)
"""Keys that never stand at the left edge of a plan."""
LOST_INDENTATION = (
    "stands at the left edge; was the indentation lost when it was pasted? What belongs to tank:, feeding:, residents: "
    "or proposals: begins with spaces (coswim plan new shows how)"
)
NO_FISH = "is missing, and so is proposals; a plan needs at least one fish"
BEYOND_RECORD = 1.25
"""A length that is more than so many times the record is a slip of the pen. Source: judgement."""


class ReadPlan(NamedTuple):
    """A plan with the profile behind every species name it uses.

    Lengths and proposal names that the keeper left out are filled in; `assumed` says which lengths, in words.
    `units` are those the plan was written in. `own` is what a stranger needs besides the built-in library: what
    the keeper's own profiles of these species say otherwise, by scientific name.
    """

    name: str
    plan: Plan
    profiles: Mapping[str, Profile]
    assumed: tuple[str, ...] = ()
    units: Units = HOUSE
    own: tuple[Carried, ...] = ()

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
    plan = _validated(document)
    has_no_fish = not (plan.residents or plan.proposals or may_be_empty)
    carried, problems = read_carried(document, plan, catalog)
    profiles: dict[str, Profile] = {}
    refuse_any(
        chain(
            problems,
            _species_problems(document, plan, lambda name: _profile(name, carried, catalog), profiles),
            _entry_problems(document, plan),
            [document.problem(("residents",), NO_FISH)] if has_no_fish else (),
            _proposal_problems(document, plan),
        )
    )
    plan = _spelled_out(plan, catalog)
    profiles |= {profiles[name].scientific_name: profiles[name] for name in catalog.chosen if name in profiles}
    filled, assumed = _filled_in(plan, profiles)
    return ReadPlan(
        plan.title or document.file,
        filled,
        MappingProxyType(profiles),
        assumed,
        units_of(document),
        own_blocks((profile.scientific_name for profile in profiles.values()), plan, catalog),
    )


def _profile(name: str, carried: Mapping[str, Profile], catalog: Catalog) -> Profile:
    """The profile that the plan carries for a name, else the one of the library."""
    if not carried:
        return catalog.profile(name)
    if name_key(name) in carried:
        return carried[name_key(name)]
    entry = catalog.find(name)
    return carried.get(name_key(entry.scientific_name)) or catalog.completed(entry)


def _spelled_out(plan: Plan, catalog: Catalog) -> Plan:
    """The plan with full names where a name led to several species and its keeper chose, so that no one asks again."""
    if not catalog.chosen:
        return plan

    def full(name: str) -> str:
        return catalog.chosen[name].scientific_name if name in catalog.chosen else name

    def spelled(entry: GroupEntry) -> GroupEntry:
        lived_with = tuple(one.model_copy(update={"species": full(one.species)}) for one in entry.lived_with)
        return entry.model_copy(
            update={"species": full(entry.species)} | ({"lived_with": lived_with} if lived_with else {})
        )

    stated: dict[str, Any] = {
        "residents": tuple(map(spelled, plan.residents)),
        "proposals": tuple(one.model_copy(update={"add": tuple(map(spelled, one.add))}) for one in plan.proposals),
    }
    if plan.feeding.by_hand:
        by_hand = tuple(map(full, plan.feeding.by_hand))
        stated |= {"feeding": plan.feeding.model_copy(update={"by_hand": by_hand})}
    return plan.model_copy(update={name: value for name, value in stated.items() if value})


def _validated(document: YamlDocument) -> Plan:
    """The plan; where a bare number is more likely meant in another unit, that question comes first."""
    questions = tuple(unit_questions(document))
    try:
        plan = validate(document, Plan)
    except InputProblems as error:
        lost = [one for one in error.problems if one.path in INDENTED]
        if not questions and not lost:
            raise
        explained = {question.path for question in questions} | (INDENTED | HEADS if lost else set())
        others = [one for one in error.problems if one.path not in explained]
        raise InputProblems(
            [*questions, *others, *(one._replace(message=LOST_INDENTATION) for one in lost[:1])]
        ) from None
    if questions:
        raise InputProblems(questions)
    return plan


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
        said.append(f"{usual:g} cm for the {profiles[entry.species].name}")
        return entry.model_copy(update={"length": usual})

    def named(proposal: Proposal) -> Proposal:
        add = tuple(map(grown, proposal.add))
        called = wording.listed([fish_in_words(entry, profiles[entry.species]) for entry in add])
        return proposal.model_copy(update={"add": add, "name": proposal.name or called})

    filled = {"residents": tuple(map(grown, plan.residents)), "proposals": tuple(map(named, plan.proposals))}
    stated = {name: fish for name, fish in filled.items() if fish}
    return plan.model_copy(update=stated), tuple(dict.fromkeys(said))


def fish_in_words(entry: GroupEntry, profile: Profile, units: Units = HOUSE) -> str:
    """A group as it was understood: `8 tinfoil barbs of 10 cm`."""
    several = wording.counted(entry.count, profile.name, wording.plural(profile.name))
    fish = f"one {profile.name}" if entry.count == 1 else several
    return fish if entry.length is None else in_units(f"{fish} of {entry.length:g} cm", units)


def _species_problems(
    document: YamlDocument, plan: Plan, profile_of: Callable[[str], Profile], profiles: dict[str, Profile]
) -> Iterator[Problem]:
    """Fills in the profiles; yields what keeps a name from having one, and lengths that no such fish has."""
    refused: dict[str, list[Problem] | str] = {}
    for path, name in names_used(plan):
        if name not in profiles and name not in refused and len(refused) < MOST_SHOWN:
            try:
                profiles[name] = profile_of(name)
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
            yield from _number_problems(document, path, entry, profiles[entry.species])


def _length_problems(document: YamlDocument, path: Path_, entry: GroupEntry, profile: Profile) -> Iterator[Problem]:
    if entry.length is None and profile.usual_size is None:
        yield document.problem(
            (*path, "length"), f"is missing, and the profile of the {profile.name} names no usual size"
        )
    longest = max(profile.adult_length.high, profile.record_length or 0)
    if entry.length is not None and entry.length > longest * BEYOND_RECORD:
        yield document.problem(
            (*path, "length"),
            f"'{entry.length:g} cm' is longer than any {profile.name} gets "
            f"(allowed: up to {longest * BEYOND_RECORD:.3g} cm; adult {profile.adult_length} cm)",
        )


def _number_problems(document: YamlDocument, path: Path_, entry: GroupEntry, profile: Profile) -> Iterator[Problem]:
    """A plural without a number: one fish is not what was meant."""
    known = {name_key(name) for name in (*profile.common_names, profile.scientific_name, *profile.also_known_as)}
    typed = name_key(entry.species)
    if "count" not in entry.model_fields_set and typed not in known and is_plural(typed, known):
        yield document.problem((*path, "count"), f"is missing; how many {entry.species}? (a number, e.g. 6)")


def _entry_problems(document: YamlDocument, plan: Plan) -> Iterator[Problem]:
    """More males than fish, and a record of a fish that is not there yet."""
    for path, entry in entries(plan):
        if entry.males is not None and entry.males > entry.count:
            yield document.problem((*path, "males"), f"'{entry.males}' is more than the count of {entry.count}")
        if entry.lived_with and path[0] != "residents":
            message = "only residents have a record here; write what you know of this fish under this_fish"
            yield document.problem((*path, "lived_with"), message)


def _proposal_problems(document: YamlDocument, plan: Plan) -> Iterator[Problem]:
    """A name that is used twice, and more groups together than are simulated."""
    names = [proposal.name for proposal in plan.proposals]
    for number, (name, proposal) in enumerate(zip(names, plan.proposals, strict=True)):
        path: Path_ = ("proposals", number)
        if name and name in names[:number]:
            yield document.problem((*path, "name"), f"{quoted(name)} is used twice; give each its own name")
        groups = len(plan.residents) + len(proposal.add)
        if groups > MOST_GROUPS:
            message = f"makes {groups} groups with the residents; allowed: {MOST_GROUPS}"
            yield document.problem((*path, "add"), message)
