"""What a keeper should mind whatever the risk: hands, law, mains, floor, illness. None of it is scored.

The profiles' own cautions come first, then what follows from a fish's features, then from the tank, then
the few that hold for everyone. Source: common practice, where no other is named.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from types import MappingProxyType

from coswim.simulation import temper
from coswim.simulation.group import Group
from coswim.simulation.phrases import plural
from coswim.simulation.scene import Scene
from coswim.text import wording

HANDLING: Mapping[str, str] = MappingProxyType(
    {
        "venomous-spine": "The {names} can sting with a spine: move them in a tub, and see a doctor after a sting.",
        "electric": "The {names} give electric shocks, some kinds dangerous ones: keep hands out of their water.",
        "strong-bite": "The {names} can bite through skin: keep hands away and feed with tongs.",
    }
)
"""By feature, for fish whose profile has no caution of its own on the matter."""
WEAKLY_ELECTRIC = "The {names} give off electricity, by their habits only a weak field to sense with: make sure of it."
SPOKEN_OF: Mapping[str, tuple[str, ...]] = MappingProxyType(
    {
        "venomous-spine": ("venom", "toxin", "sting"),
        "electric": ("electric", "shock", "volt"),
        "strong-bite": ("bite", "teeth", "nips bare skin"),
    }
)
"""Words by which a profile's own caution is known to speak of a feature."""
LARGE = 200.0
"""Litres from which the weight of the tank matters. Source: judgement."""
KG_PER_LITRE = (1.2, 1.4)
"""Weight of a filled tank with glass, gravel and rock, kg for each litre. Source: memory."""
ROUND_TO = 10
RELEASE = "Never release a fish or pour its water into the wild, and check your local law before buying."
MAINS = (
    "Mains and water: pull the plug with dry hands before you reach in, have residual-current protection, "
    "and ask an electrician if in doubt."
)
QUARANTINE = "Quarantine new fish for at least 30 days, counted anew with each addition (common practice)."
MEDICINE = "Give medicines only as a veterinarian says."


def cautions(scene: Scene) -> tuple[str, ...]:
    """Short sentences, the most specific first, each once."""
    newcomers_first = sorted(scene.groups, key=lambda fish: fish.is_resident)
    lines = (
        *_from_profiles(newcomers_first),
        *_from_features(newcomers_first),
        *_from_tank(scene),
        *((QUARANTINE,) if any(not fish.is_resident for fish in scene.groups) else ()),
        *(RELEASE, MAINS, MEDICINE),
    )
    return tuple(dict.fromkeys(lines))


def handling(scene: Scene) -> tuple[str, ...]:
    """Those that the newcomers bring with them: what their profiles say, and what follows from their features."""
    newcomers = [fish for fish in scene.groups if not fish.is_resident]
    return (*_from_profiles(newcomers), *_from_features(newcomers))


def _from_profiles(fish: list[Group]) -> Iterator[str]:
    """What the profiles say, with the fish that share a caution named together."""
    who: dict[str, dict[str, None]] = {}
    for group in fish:
        for words in group.profile.cautions:
            who.setdefault(words, {})[group.name] = None
    for words, names in who.items():
        yield f"{words.rstrip('.')} ({wording.listed([*names])})."


def _from_features(fish: list[Group]) -> Iterator[str]:
    for feature, sentence in HANDLING.items():
        silent = [group for group in fish if feature in group.profile.features and not _says(group, feature)]
        weak = [group for group in silent if feature == "electric" and not temper.is_strongly_electric(group)]
        yield from _said_of([group for group in silent if group not in weak], sentence)
        yield from _said_of(weak, WEAKLY_ELECTRIC)


def _said_of(fish: list[Group], sentence: str) -> Iterator[str]:
    if fish:
        yield sentence.format(names=wording.listed(tuple(dict.fromkeys(plural(group.name) for group in fish))))


def _says(fish: Group, feature: str) -> bool:
    own = " ".join(fish.profile.cautions).casefold()
    return any(re.search(rf"\b{word}", own) for word in SPOKEN_OF[feature])


def _from_tank(scene: Scene) -> Iterator[str]:
    jumpers = [plural(fish.name) for fish in scene.groups if fish.jumps == "habitually"]
    if jumpers and scene.tank.lid:
        yield f"Close every gap in the lid: {wording.listed(tuple(dict.fromkeys(jumpers)))} leap or climb out."
    if scene.tank.litres >= LARGE:
        low, high = (round(scene.tank.litres * each / ROUND_TO) * ROUND_TO for each in KG_PER_LITRE)
        yield f"Filled, the tank weighs about {low:,} to {high:,} kg: ask someone who knows whether the floor bears it."
