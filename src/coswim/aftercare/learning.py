"""The plan with what the diary taught: the fish as long as they were last measured."""

from __future__ import annotations

from coswim.aftercare.company import Companion
from coswim.aftercare.head_count_rules import measured
from coswim.aftercare.watched import Watched
from coswim.plans.plan import GroupEntry, Proposal
from coswim.plans.reading import ReadPlan


def lengths_learned(seen: Watched) -> dict[Companion, float]:
    """The last measured length of each group that was measured and differs from the plan's, cm."""
    found = {}
    for fish in seen.company.fish:
        noted = measured(seen, fish)
        if noted and noted.entry.length and noted.entry.length != fish.length:
            found[fish] = noted.entry.length
    return found


def with_lengths(read: ReadPlan, proposal: Proposal, seen: Watched) -> ReadPlan:
    """The plan with this proposal alone, every group as long as it was last measured."""
    learned = lengths_learned(seen)
    residents = tuple(_as_measured(entry, learned, is_resident=True) for entry in read.plan.residents)
    add = tuple(_as_measured(entry, learned, is_resident=False) for entry in proposal.add)
    changed = proposal.model_copy(update={"add": add})
    return read._replace(plan=read.plan.model_copy(update={"residents": residents, "proposals": (changed,)}))


def _as_measured(entry: GroupEntry, learned: dict[Companion, float], *, is_resident: bool) -> GroupEntry:
    for fish, length in learned.items():
        if (fish.called, fish.number, fish.length, fish.is_resident) == (
            entry.species, entry.count, entry.length, is_resident,
        ):  # fmt: skip
            return entry.model_copy(update={"length": length})
    return entry
