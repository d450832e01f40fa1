"""What the library rests on: how many profiles have a source behind a trait, and how many only memory."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from types import MappingProxyType

from coswim.profiles.profile import MAY_BE_ABSENT, Profile
from coswim.profiles.sources import UNSOURCED, Bibliography, kind_of

CORE: Mapping[str, tuple[str, ...]] = MappingProxyType(
    {
        "adult length": ("adult_length",),
        "water": ("water_ranges.temperature", "water_ranges.ph", "water_ranges.hardness"),
        "shape (depth)": ("body.depth",),
    }
)
"""The blocks that carry most verdicts, and the traits that stand for them; every other block follows as a whole."""


@dataclass(frozen=True)
class Support:
    """How many profiles support one block how well; the four counts sum to the profiles."""

    block: str
    sourced: int
    partly: int
    memory: int
    missing: int

    @property
    def stated(self) -> int:
        """Profiles that state the block."""
        return self.sourced + self.partly + self.memory


def support(profiles: Iterable[Profile], bibliography: Bibliography) -> tuple[Support, ...]:
    """The support of every block, the core ones first.

    A block is sourced when every trait that stands for it names sources and none of them is memory; partly, when
    memory fills a gap; memory, when there is nothing else. What is borrowed from relatives counts as memory.
    """
    known = tuple(profiles)
    return tuple(_support(block, traits, known, bibliography) for block, traits in {**CORE, **_others()}.items())


def core_shares(found: Iterable[Support]) -> tuple[float, float]:
    """The shares of the core blocks that are sourced, and that are sourced at least in part."""
    core = [each for each in found if each.block in CORE]
    stated = sum(each.stated for each in core) or 1
    sourced = sum(each.sourced for each in core)
    return sourced / stated, (sourced + sum(each.partly for each in core)) / stated


def _others() -> Mapping[str, tuple[str, ...]]:
    """The width, which is a matter of its own, and each block of which CORE has nothing."""
    core = {trait.partition(".")[0] for traits in CORE.values() for trait in traits}
    blocks = (block for block in Profile.blocks() if block.name not in core | MAY_BE_ABSENT)
    return {"body width": ("body.width",), **{block.label.lower(): (block.name,) for block in blocks}}


def _support(block: str, traits: tuple[str, ...], profiles: tuple[Profile, ...], bibliography: Bibliography) -> Support:
    counts = dict.fromkeys(("sourced", "partly", "memory", "missing"), 0)
    for profile in profiles:
        counts[_standing(profile, traits, bibliography)] += 1
    return Support(block, **counts)


def _standing(profile: Profile, traits: tuple[str, ...], bibliography: Bibliography) -> str:
    if not all(profile.has(trait) for trait in traits):
        return "missing"
    kinds = {kind_of(key, bibliography) for trait in traits for key in profile.source_keys(trait) or ("memory",)}
    if kinds <= {*UNSOURCED}:
        return "memory"
    return "partly" if kinds & {*UNSOURCED} else "sourced"
