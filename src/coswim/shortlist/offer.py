"""What a keeper would buy of a species: how many, of which sex, and at which lengths it may be had."""

from __future__ import annotations

from math import floor
from typing import NamedTuple

from coswim.plans.plan import GroupEntry, Proposal
from coswim.profiles.profile import Profile
from coswim.remedies.stocking import FINE_BELOW, FINE_STEP, STEP
from coswim.simulation.phrases import plural

ALONE, PAIR = 1, 2
RIVALS = frozenset({"territorial", "aggressive"})
"""Words for males that do not bear each other."""


class Offer(NamedTuple):
    """A species in the `number` that suits it; `lengths` go from the usual size in the trade to a grown fish, cm."""

    profile: Profile
    number: int
    males: int | None
    lengths: tuple[float, ...]

    def at(self, length: float) -> Proposal:
        """The proposal to buy them at a length."""
        return Proposal.model_construct(name=self.profile.name, add=(self.group(length),))

    def group(self, length: float) -> GroupEntry:
        """The same as an entry of a plan."""
        group = GroupEntry.model_construct(species=self.profile.scientific_name, count=self.number, length=length)
        return group if self.males is None else group.model_copy(update={"males": self.males})


def named(group: GroupEntry, name: str, *, between: str = ", ") -> str:
    """A group as it is bought: `6 silver dollars, 12 cm`."""
    return f"{group.count} {name if group.count == 1 else plural(name)}{between}{group.length:g} cm"


def offer(profile: Profile, *, present: int = 0) -> Offer:
    """What to buy of a species of which so many are present.

    The number is the smallest group advised, less those that are there: the shoal that shoalers want, one or two of
    the others. Where the profile says how many females a male wants, a group is that many and more; where its males
    do not bear each other, a group has one male.
    """
    sexes = profile.sexes
    wanted = profile.schooling.smallest_group if profile.schooling else ALONE
    females = sexes.females_per_male if sexes else None
    if wanted >= PAIR and females:
        wanted = max(wanted, 1 + females)
    count = max(ALONE, wanted - present)
    return Offer(profile, count, _males(profile, count) if count >= PAIR and not present else None, _lengths(profile))


def _males(profile: Profile, count: int) -> int | None:
    """How many of them are to be males; None where it does not matter."""
    sexes = profile.sexes
    if sexes is None:
        return None
    if sexes.males in RIVALS:
        return 1
    return max(1, count // (1 + sexes.females_per_male)) if sexes.females_per_male else None


def _lengths(profile: Profile) -> tuple[float, ...]:
    """The usual size in the trade and every step from there to the middle of what the species reaches."""
    first = profile.usual_size or profile.adult_length.low
    step = FINE_STEP if profile.adult_length.high <= FINE_BELOW else STEP
    steps = range(floor(first / step) + 1, floor(profile.adult_length.middle / step) + 1)
    return (first, *(step * number for number in steps))
