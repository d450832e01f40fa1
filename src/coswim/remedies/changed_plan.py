"""A copy of a plan in which one proposal and its tank can be changed."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from functools import cached_property
from typing import Any

from coswim.plans.plan import Feeding, GroupEntry, Proposal, Tank
from coswim.plans.reading import ReadPlan
from coswim.profiles.profile import Profile


@dataclass(frozen=True)
class ChangedPlan:
    """A plan with one of its proposals, as it stands or changed. A group that is left out is None."""

    origin: ReadPlan
    proposed: Proposal
    tank: Tank
    feeding: Feeding
    add: tuple[GroupEntry | None, ...]

    @classmethod
    def of(cls, read: ReadPlan, proposal: Proposal) -> ChangedPlan:
        """The proposal as the plan has it."""
        return cls(read, proposal, read.plan.tank, read.plan.feeding, proposal.add)

    @cached_property
    def proposal(self) -> Proposal:
        """The proposal, changed."""
        return self.proposed.model_copy(update={"add": tuple(entry for entry in self.add if entry)})

    @property
    def name(self) -> str:
        """What the proposal is called."""
        return self.proposed.name

    @cached_property
    def read(self) -> ReadPlan:
        """The plan with the changed proposal in place of the original, in the changed tank."""
        plan = self.origin.plan
        proposals = tuple(self.proposal if one.name == self.name else one for one in plan.proposals)
        return self.origin._replace(
            plan=plan.model_copy(update={"tank": self.tank, "feeding": self.feeding, "proposals": proposals}),
        )

    def with_tank(self, **values: Any) -> ChangedPlan:
        """The same in a changed tank."""
        return replace(self, tank=self.tank.model_copy(update=values))

    def with_feeding(self, **values: Any) -> ChangedPlan:
        """The same, fed otherwise."""
        return replace(self, feeding=self.feeding.model_copy(update=values))

    def moving(self, moves_in: str) -> ChangedPlan:
        """The same in another order of moving in."""
        return replace(self, proposed=self.proposed.model_copy(update={"moves_in": moves_in}))

    def everyone(self) -> Iterator[tuple[GroupEntry, Profile]]:
        """Every group in the tank, residents first."""
        for entry in (*self.origin.plan.residents, *(entry for entry in self.add if entry)):
            yield entry, self.origin.profile(entry)

    def with_group(self, index: int, **values: Any) -> ChangedPlan:
        """The same with one group of the proposal changed."""
        entry = self.add[index]
        return self.with_entry(index, entry.model_copy(update=values) if entry else None)

    def with_entry(self, index: int, entry: GroupEntry | None) -> ChangedPlan:
        """The same with another group of the proposal in the place of one, or with none."""
        return replace(self, add=(*self.add[:index], entry, *self.add[index + 1 :]))

    def groups(self) -> Iterator[tuple[int, GroupEntry, Profile]]:
        """The groups that the proposal still adds, with their places in it."""
        for index, entry in enumerate(self.add):
            if entry:
                yield index, entry, self.origin.profile(entry)

    def others_of_kind(self, index: int) -> int:
        """How many of a group's species are in the tank besides the group, residents and newcomers."""
        entry = self.add[index]
        species = self.origin.profile(entry).scientific_name if entry else None
        others = (*self.origin.plan.residents, *self.add[:index], *self.add[index + 1 :])
        return sum(one.count for one in others if one and self.origin.profile(one).scientific_name == species)

    def profiles(self) -> list[Profile]:
        """The profiles of all fish in the tank, residents first."""
        return [profile for _, profile in self.everyone()]
