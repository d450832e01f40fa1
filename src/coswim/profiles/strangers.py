"""Animals that keepers ask for and that no profile can be of: what coswim can say about them, and what it cannot."""

from __future__ import annotations

from typing import NamedTuple


class Strangers(NamedTuple):
    """Words by which they are known, and the sentence about them."""

    words: frozenset[str]
    sentence: str


ANIMALS = "shrimp prawn snail nerite crab crayfish lobster clam mussel"
INVERTEBRATES = Strangers(
    frozenset(f"{animal}{end}" for animal in ANIMALS.split() for end in ("", "s")),
    "is an invertebrate, and coswim screens fish: it cannot say whether one is hunted or hunts. What it can: "
    "`coswim profile show` tells how wide a fish's mouth opens; what is smaller than that may be eaten",
)
HYBRIDS = Strangers(
    frozenset({"hybrid", "hybrids", "cross", "crossbreed", "jellybean", "jellybeans"}),
    "is a hybrid: size, shape and temper differ from fish to fish, and there is no profile of it. Make one from what "
    "you know of yours: `coswim profile new`, with --like and the parent that it takes after",
)
OTHER_ANIMALS = Strangers(
    frozenset({"turtle", "turtles", "frog", "frogs", "newt", "newts", "axolotl", "axolotls", "salamander", "toad"}),
    "is no fish, and coswim screens fish: it cannot judge this company. Common practice keeps them apart",
)


def stranger(key: str) -> str:
    """What is said of an animal that is no species of fish; nothing where the name, as names are compared, is none.

    >>> stranger("amano shrimp").partition(",")[0], stranger("neon tetra")
    ('is an invertebrate', '')
    """
    for group in (HYBRIDS, INVERTEBRATES, OTHER_ANIMALS):
        if any(f" {word} " in f" {key} " for word in group.words):
            return group.sentence
    return ""
