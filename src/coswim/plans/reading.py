"""From a keeper's text to a plan whose every species has a profile."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from itertools import chain
from types import MappingProxyType
from typing import NamedTuple

from coswim.plans.plan import MOST_GROUPS, GroupEntry, Plan
from coswim.profiles.catalog import Catalog, UnknownSpecies
from coswim.profiles.profile import Profile
from coswim.text.document import Path_, YamlDocument, read_document
from coswim.text.printable import quoted
from coswim.text.problems import MOST_SHOWN, InputProblems, Problem, refuse_any
from coswim.text.validation import validate

TALLEST_STORY = 1.25  # a length beyond the record by more than this is a slip of the pen (judgement)


class ReadPlan(NamedTuple):
    """A plan with the profile behind every species name it uses."""

    name: str
    plan: Plan
    profiles: Mapping[str, Profile]

    def profile(self, entry: GroupEntry) -> Profile:
        """The profile of a group of this plan."""
        return self.profiles[entry.species]


def read_plan(text: str, file: str, catalog: Catalog) -> ReadPlan:
    """The plan in `text`; InputProblems with every problem of the file otherwise."""
    return resolve(read_document(text, file), catalog)


def resolve(document: YamlDocument, catalog: Catalog) -> ReadPlan:
    """Validate a document as a plan and look its species up."""
    plan = validate(document, Plan)
    profiles: dict[str, Profile] = {}
    refuse_any(
        chain(
            _species_problems(document, plan, catalog, profiles),
            _history_problems(document, plan),
            _name_problems(document, plan),
            _number_problems(document, plan),
        )
    )
    return ReadPlan(plan.title or document.file, plan, MappingProxyType(profiles))


def entries(plan: Plan) -> Iterator[tuple[Path_, GroupEntry]]:
    """Every group of the plan with its path in the document."""
    for index, resident in enumerate(plan.residents):
        yield ("residents", index), resident
    for number, proposal in enumerate(plan.proposals):
        for index, newcomer in enumerate(proposal.add):
            yield ("proposals", number, "add", index), newcomer


def _species_problems(
    document: YamlDocument, plan: Plan, catalog: Catalog, profiles: dict[str, Profile]
) -> Iterator[Problem]:
    """Fills in the profiles; yields what keeps a name from having one, and lengths that no such fish has."""
    refused: dict[str, list[Problem] | str] = {}
    for path, entry in entries(plan):
        name = entry.species
        if name not in profiles and name not in refused and len(refused) < MOST_SHOWN:
            try:
                profiles[name] = catalog.profile(name)
            except UnknownSpecies as error:
                refused[name] = str(error)
            except InputProblems as error:
                refused[name] = list(error.problems)
        if name in profiles:
            yield from _length_problems(document, path, entry, profiles[name])
            continue
        why = refused.get(name, f"{quoted(name)} was not looked up, after so many that are unknown")
        yield from [document.problem((*path, "species"), why)] if isinstance(why, str) else why


def _length_problems(document: YamlDocument, path: Path_, entry: GroupEntry, profile: Profile) -> Iterator[Problem]:
    longest = max(profile.adult_length.high, profile.record_length or 0)
    if entry.length > longest * TALLEST_STORY:
        yield document.problem(
            (*path, "length"),
            f"'{entry.length:g} cm' is longer than any {profile.name} gets "
            f"(allowed: up to {longest * TALLEST_STORY:.3g} cm; adult {profile.adult_length} cm)",
        )


def _history_problems(document: YamlDocument, plan: Plan) -> Iterator[Problem]:
    """More tankmates hurt than were ever tried, where the number of those tried is stated."""
    for path, entry in entries(plan):
        history = entry.history
        if history is None or "tankmates_tried" not in history.model_fields_set:
            continue
        for key in ("tankmates_hurt", "hurt_by_tankmates"):
            count = getattr(history, key)
            if count > history.tankmates_tried:
                message = f"'{count}' is more than were tried (tankmates_tried: {history.tankmates_tried})"
                yield document.problem((*path, "history", key), message)


def _name_problems(document: YamlDocument, plan: Plan) -> Iterator[Problem]:
    names = [proposal.name for proposal in plan.proposals]
    for number, name in enumerate(names):
        if name in names[:number]:
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
