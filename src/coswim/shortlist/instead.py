"""What is wrong with a proposal in whose place something else is looked for."""

from __future__ import annotations

import re
from collections.abc import Mapping
from types import MappingProxyType
from typing import NamedTuple

from coswim.plans.plan import MOST_FISH, GroupEntry, Proposal
from coswim.profiles.catalog import Catalog
from coswim.profiles.profile import Profile
from coswim.shortlist.bench import Bench
from coswim.shortlist.offer import offer
from coswim.text.quantities import FISH_LENGTH, QuantityError
from coswim.verdict.rating import Verdict
from coswim.verdict.risk import BEARABLE

NUMBERS: Mapping[str, int] = MappingProxyType(
    {
        word: number
        for number, words in enumerate(
            ("a an one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve"), 1
        )
        for word in words.split()
    }
)
TYPED = re.compile(r"(?:(\d++|[^\W\d]++)(?:\s*+[x×])?\s++)?([^,]++)(?:,(.*))?", re.DOTALL)


class Replaced(NamedTuple):
    """A proposal that is to be replaced: its fish, the verdict on it, and its failings in sentences, worst first."""

    profile: Profile
    group: GroupEntry
    verdict: Verdict
    failings: tuple[str, ...]


def typed_group(typed: str, catalog: Catalog) -> tuple[Profile, GroupEntry]:
    """The fish that `eight tinfoil barbs` or `8 tinfoil barb, 10 cm` stands for, filled in as the shortlist would.

    UnknownSpecies or QuantityError otherwise.
    """
    match = TYPED.fullmatch(typed.strip())
    if match is None:
        raise QuantityError(f"{typed!r} is no group of fish; write e.g. 'eight tinfoil barbs'")
    number, name, length = (part.strip() if part else part for part in match.groups())
    count = NUMBERS.get((number or "").casefold()) or (int(number) if number and number.isdecimal() else None)
    profile = catalog.profile(name if count or not number else f"{number} {name}")
    usual = offer(profile)
    group = usual.group(FISH_LENGTH.parse(length) if length else usual.lengths[0])
    if count is not None:
        if not 1 <= count <= MOST_FISH:
            raise QuantityError(f"{number!r} is outside 1 to {MOST_FISH}")
        group = group.model_copy(update={"count": count, "males": None})
    return profile, group


def replaced(bench: Bench, profile: Profile, group: GroupEntry) -> Replaced:
    """The verdict on the proposal that is to be replaced, from its whole screening."""
    assessed = bench.attempt(Proposal.model_construct(name=profile.name, add=(group,)), profile).assessed
    grave = tuple(finding.found.sentence for finding in assessed.findings if finding.risk > BEARABLE)
    return Replaced(profile, group, assessed.verdict, grave)
