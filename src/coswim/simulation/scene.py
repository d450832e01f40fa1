"""A scene: one tank with all its fish, simulated; what every hazard reads and nothing else."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from types import MappingProxyType
from typing import NamedTuple

import numpy as np

from coswim.arrays import REAL, Floats, Indexes
from coswim.plans.plan import Feeding, GroupEntry, Proposal, Tank
from coswim.plans.reading import ReadPlan
from coswim.profiles.catalog import Catalog
from coswim.profiles.profile import Profile
from coswim.simulation.course import Course
from coswim.simulation.draws import Draws
from coswim.simulation.group import Group, group_keys
from coswim.simulation.keeper import Keeper
from coswim.simulation.measured import UNMEASURED, Measured
from coswim.simulation.minds import Minds
from coswim.simulation.shelf import Shelf

DRAWS = 1000
SEED = 1


class Effort(NamedTuple):
    """How many futures to draw, from which seed, and how many months to look ahead."""

    draws: int = DRAWS
    seed: int = SEED
    months: int | None = None
    belief: Mapping[str, Indexes] = MappingProxyType({})
    """Which draws of an individual are believed after its record, by the key of its group."""


@dataclass(frozen=True, eq=False)
class Scene:
    """One tank and its fish through all draws and months; and its course.

    `before` is the course of those that live there already, of all fish where all are new.
    """

    tank: Tank
    feeding: Feeding
    groups: tuple[Group, ...]
    horizon: int
    draws: Draws
    course: Course
    before: Course
    shelf: Shelf

    @cached_property
    def months(self) -> Floats:
        """0 (the day they meet) to the horizon."""
        return np.arange(self.horizon + 1, dtype=REAL)

    def pairs(self) -> Iterator[tuple[Group, Group]]:
        """Every ordered pair of two different groups."""
        for one in self.groups:
            for other in self.groups:
                if one is not other:
                    yield one, other

    def targets(self, doer: Group) -> tuple[Group, ...]:
        """The groups that one might bother: all others, and its own where it is not a single fish."""
        return tuple(group for group in self.groups if group is not doer or doer.count > 1)

    @cached_property
    def minds(self) -> Minds:
        """How the kinds mind each other."""
        return Minds(self.groups)

    def pair_uniform(self, one: Group, other: Group, what: str) -> Floats:
        """A number for what passes between two groups, 0 to 1, shape (draws,)."""
        return self.draws.uniform(one.key, other.key, what)

    @property
    def food_before(self) -> Floats:
        """What went in before the newcomers, g dry a day, shape (draws,); of the fish alone where all are new."""
        if self.before.groups == self.groups:
            return np.asarray(self.course.given[:, 0])
        return self.before.given_at_start

    @property
    def temperature(self) -> float:
        """The middle of the tank's temperature, C."""
        return self.tank.temperature.middle


def build_scene(
    read: ReadPlan, proposal: Proposal | None, catalog: Catalog, effort: Effort, *, like: Scene | None = None
) -> Scene:
    """The residents, with the proposal's fish or without, in the plan's tank.

    What the scene has in common with `like` is shared with it and not simulated twice; the figures are
    the same with `like` and without.
    """
    plan = read.plan
    horizon = effort.months or max(1, round(plan.horizon))
    draws = Draws(effort.seed, effort.draws)
    draws = like.draws if like and like.draws == draws else draws
    entries: list[tuple[GroupEntry, Profile, bool]] = [(e, read.profile(e), True) for e in plan.residents]
    entries += [(e, read.profile(e), False) for e in (proposal.add if proposal else ())]
    months = np.arange(horizon + 1, dtype=REAL)
    moves_in = proposal.moves_in if proposal else "last"
    known = {group.key: group for group in like.groups} if like else {}
    fish = [
        Group(
            key=key,
            apart=_apart(entries, entry, profile, is_resident=is_resident),
            profile=profile,
            count=entry.count,
            start_length=entry.length or profile.adult_length.low,
            is_resident=is_resident,
            lives_there=moves_in == ("last" if is_resident else "first"),
            temperature=plan.tank.temperature.middle,
            months=months,
            draws=draws,
            males=entry.males,
            gape_is_published=catalog.evidence(profile, "mouth_gape") in {"measured", "published"},
            beaten=sum(lived.outcome == "they hurt it" for lived in entry.lived_with),
            measured=_measured(entry),
            believed=effort.belief.get(key),
        ).or_same(known.get(key))
        for key, (entry, profile, is_resident) in zip(group_keys(entries), entries, strict=True)
    ]
    keeper = Keeper(plan.tank, plan.feeding, draws, read.by_hand)
    return assemble(fish, keeper, horizon, like=like)


def assemble(groups: Sequence[Group], keeper: Keeper, horizon: int, *, like: Scene | None = None) -> Scene:
    """The scene of some groups in a keeper's tank."""
    in_order = tuple(sorted(groups, key=lambda group: group.key))
    course = Course(in_order, keeper, float(horizon)).or_same(like.course if like else None)
    there = tuple(group for group in in_order if group.lives_there) or in_order
    before = Course(there, keeper, 1.0).or_same(like.before if like else None)
    shelf = like.shelf if like else Shelf()
    return Scene(keeper.tank, keeper.feeding, in_order, horizon, keeper.draws, course, before, shelf)


def _measured(entry: GroupEntry) -> Measured:
    """What the keeper measured on this fish."""
    known = entry.this_fish
    return Measured(known.mouth, known.depth, known.width, known.weight) if known else UNMEASURED


def _apart(
    entries: list[tuple[GroupEntry, Profile, bool]], entry: GroupEntry, profile: Profile, *, is_resident: bool
) -> str:
    """What tells a group from the others of its species: new or resident, else its length; a pattern for its name."""
    same = [(other, lives_there) for other, known, lives_there in entries if known is profile]
    if len(same) == 1:
        return "{}"
    if sum(lives_there is is_resident for _, lives_there in same) == 1:
        return "resident {}" if is_resident else "new {}"
    return f"{{}} of {entry.length:g} cm"
