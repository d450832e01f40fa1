"""How well a finding is supported follows from the sources of the traits it used.

Every block of a profile names its source, and every source is of a kind: measured (on the species; what a
keeper saw of this fish stands with it), published (a reference work, second-hand), common practice (what
experienced keepers recommend, no measurement), relatives (borrowed from genus or family, since the profile
does not state it) or memory (recalled or judged). A finding is as strong as its weakest trait, and it names
the traits that are as weak as that: these are the ones to look up or to measure on your own fish.

The spread of the draws is a second measure: a likelihood that they cannot tell from the next band's is shown
with both bands. Confidence says nothing about the model itself: rules marked judgement in `coswim explain`
are judgement however well the traits are known.
"""

from __future__ import annotations

from collections.abc import Mapping
from functools import lru_cache
from types import MappingProxyType

from coswim.findings.finding import Found
from coswim.profiles.catalog import Catalog
from coswim.profiles.sources import weakest
from coswim.text import wording

TRAIT_WORDS: Mapping[str, str] = MappingProxyType(
    {
        "own_kind": "how the {fish} treats its own kind",
        "other_fish": "how the {fish} treats other fish",
        "nips": "whether the {fish} nips",
        "stamina": "how much chasing the {fish} takes",
        "diet": "what the {fish} eats",
        "eats_fish": "whether the {fish} eats fish",
        "level": "where the {fish} feeds",
        "pace": "how fast the {fish} eats",
        "active": "when the {fish} feeds",
        "smallest_group": "how many {fish} want to be together",
        "swimming": "how far the {fish} swims",
        "jumps": "whether the {fish} jumps",
        "mouth_gape": "the mouth of the {fish}",
        "ph": "the pH that the {fish} wants",
        "hardness": "the hardness that the {fish} wants",
        "temperature": "the temperature that the {fish} wants",
    }
)
"""What a trait is in a sentence; the others are `the depth of the oscar`."""


def confidence_of(found: Found, catalog: Catalog) -> tuple[str, tuple[str, ...]]:
    """The weakest kind of source behind a finding, and the traits that rest on it."""
    evidence = {
        _words(trait, used.profile.name): catalog.evidence(used.profile, trait)
        for used in found.uses
        for trait in used.traits
        if used.profile.has(trait)
    }
    confidence = weakest(list(evidence.values()))
    return confidence, tuple(trait for trait, how in evidence.items() if how == confidence)


@lru_cache(maxsize=1024)
def _words(trait: str, fish: str) -> str:
    name = trait.rpartition(".")[2]
    pattern = TRAIT_WORDS.get(name, f"the {name.replace('_', ' ')} of the {{fish}}")
    return pattern.format(fish=wording.plural(fish) if name == "smallest_group" else fish)
