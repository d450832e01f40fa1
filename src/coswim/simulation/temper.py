"""How ready each fish is to attack another in each future.

That follows from what its kind is known for, its age and sex, whether it guards eggs or young, and how much the other
looks like a rival.
"""

from __future__ import annotations

from collections.abc import Iterable
from functools import lru_cache
from math import comb
from types import MappingProxyType

import numpy as np

from coswim.arrays import REAL, Flags, Floats
from coswim.biology import contest
from coswim.profiles import scales
from coswim.simulation.group import Group

RIVALRY = MappingProxyType(
    {"own kind": 1.0, "same genus": 0.8, "same family": 0.45, "alike in fins": 0.45, "same form": 0.3, "other": 0.0}
)
"""How far a fish is taken for one of the attacker's own kind. Source: judgement."""
DRIVES_OFF = frozenset({"territorial", "aggressive"})
"""Words for a temperament that drives others off."""
SIMILAR_SIZE = (0.6, 1.6)
"""Length over the attacker's within which another passes for a rival. Source: judgement."""
COMPANY = 0.3
"""Drive left towards its own kind in the company it wants. Source: judgement; ten neon tetras dart and
attack less than one or two (Saxby et al. 2010, Appl. Anim. Behav. Sci.)."""
COMPANY_OF_RIVALS = 0.6
"""The same for a kind that holds a place and kills its rivals: company spreads its attacks more than it calms.
Source: judgement."""
PAIRS = 0.7
"""The same where more than one pair lives. Source: judgement; half of the others are no rivals."""
SHOAL = 3
PAIR = 2
MATURE = 0.6
"""Part of the adult length from which a fish breeds. Source: judgement."""
BREEDS = 0.6
"""Share of groups with both sexes of a kind that guards its brood in which a couple comes to breed. Source:
judgement."""
PURSUIT = 0.15
"""Drive that a quick hunter adds towards fish small enough to be chased. Source: judgement."""


def drive(fish: Group, word: str) -> Floats:
    """The drawn drive to attack, 0 to 1, shape (draws,)."""
    return contest.tendency_at(fish.uniform("temperament"), *contest.tendency(known_drive(word)))


def drive_at(fish: Group, word: str, length: Floats) -> Floats:
    """The same as it grows up, draws × times (× 1 where it stays the same): a step milder while it is young."""
    grown = drive(fish, word)[:, None]
    rough = fish.temperament.rough_from
    if rough is None or not (length < rough).any():
        return grown
    return np.where(length < rough, drive(fish, one_step_down(word))[:, None], grown)


def drive_to_own_kind(fish: Group, males: Floats, length: Floats) -> Floats:
    """The same towards its own kind: males among themselves may be worse; `males` of it are in the tank."""
    own = drive_at(fish, fish.temperament.own_kind, length)
    among_males = fish.profile.sexes.males if fish.profile.sexes else None
    if among_males is None:
        return own
    return np.where(males[:, None] > 1, np.maximum(own, drive_at(fish, among_males, length)), own)


def known_drive(word: str) -> float:
    """The number behind the word, 0 to 1."""
    return scales.TEMPERAMENT.number(word)


def pushes(fish: Group) -> float:
    """How hard its kind drives other fish off, 0 to 1; 0 where its temperament is not known."""
    return known_drive(fish.profile.temperament.other_fish) if fish.profile.temperament else 0.0


def relation(doer: Group, target: Group) -> str:
    """Own kind, same genus; of those at the same level same family, same form (and long fins on both); or other."""
    one, other = doer.profile, target.profile
    if one.scientific_name == other.scientific_name:
        return "own kind"
    if one.scientific_name.split()[0] == other.scientific_name.split()[0]:
        return "same genus"
    if one.feeding_style and other.feeding_style and {*one.feeding_style.level} & {*other.feeding_style.level}:
        if one.family == other.family:
            return "same family"
        if one.body.form == other.body.form:
            both_trail = "long-fins" in one.features and "long-fins" in other.features
            return "alike in fins" if both_trail else "same form"
    return "other"


def number_of_kind(fish: Group, among: Iterable[Group]) -> int:
    """How many of its species the tank holds."""
    return sum(group.count for group in among if group.profile.scientific_name == fish.profile.scientific_name)


def company(fish: Group, number: int) -> float:
    """Drive left towards its own kind, 0.3 to 1: a shoal or just the pair that it forms calms it.

    Halfway to the shoal it wants is halfway calm; pairs among other pairs are somewhat calmer than rivals.
    """
    wanted = fish.profile.schooling.smallest_group if fish.profile.schooling else 1
    if wanted >= SHOAL:
        rivals = holds_a_place(fish) and fish.temperament.own_kind == "aggressive"
        calm = COMPANY_OF_RIVALS if rivals else COMPANY
        return 1 - (1 - calm) * min(1.0, (number - 1) / (wanted - 1))
    if wanted == PAIR:
        return COMPANY if number == PAIR else PAIRS
    return 1.0


def shoals(fish: Group) -> bool:
    """It wants three or more of its kind around it."""
    return fish.profile.schooling is not None and fish.profile.schooling.smallest_group >= SHOAL


def may_be_mates(fish: Group, number: int) -> bool:
    """Two of a kind that lives alone or in pairs, and is not to be kept singly."""
    wanted = fish.profile.schooling.smallest_group if fish.profile.schooling else 1
    return number == PAIR and 1 <= wanted <= PAIR


def males_among(fish: Group, groups: Iterable[Group]) -> Floats:
    """Males of its species in the tank, shape (draws,): as the plan says, else each as likely as a female."""
    kind = [group for group in groups if group.profile.scientific_name == fish.profile.scientific_name]
    known = sum(group.males for group in kind if group.males is not None)
    unknown = sum(group.count for group in kind if group.males is None)
    place = fish.draws.uniform("kind", fish.profile.scientific_name, "males")
    return np.asarray(known + np.searchsorted(_males_up_to(unknown), place), dtype=REAL)


@lru_cache(maxsize=64)
def _males_up_to(count: int) -> tuple[float, ...]:
    """Chance that of so many fish at most 0, 1, 2 ... are males."""
    return tuple(np.cumsum([comb(count, males) / 2**count for males in range(count)]).tolist())


def guarding(fish: Group, *, males: Floats, kind: int, length: Floats) -> Flags:
    """The draws and times in which a couple of its kind guards eggs or young, the shape of `length`.

    Parameters: males and kind, males and all fish of its species in the tank.
    """
    if fish.temperament.guards in {None, "no"} or kind < PAIR:  # nor where that is not known
        return np.zeros((1, 1), dtype=bool)
    grown = length >= MATURE * fish.profile.adult_length.middle
    breeds = (males > 0) & (males < kind) & (fish.uniform("breeding") < BREEDS)
    return np.asarray(grown & breeds[:, None])


def place_held(fish: Group) -> float:
    """Floor that it holds, over an ordinary floor-holder's of its length; by its temper where that is not known."""
    temperament = fish.profile.temperament
    if temperament is None or temperament.territory is None:
        drives_off = temperament is None or DRIVES_OFF & {temperament.own_kind, temperament.other_fish}
        return scales.TERRITORY.number("ground" if drives_off else "none")
    return scales.TERRITORY.number(temperament.territory)


def holds_a_place(fish: Group) -> bool:
    """It holds some place against others."""
    return place_held(fish) > 0


def hunts_in_the_open(fish: Group) -> bool:
    """A quick hunter that chases fish, also those that it cannot swallow."""
    style = fish.profile.feeding_style
    return fish.hunts and style is not None and style.pace in {"fast", "frantic"}


def is_strongly_electric(fish: Group) -> bool:
    """An electric kind that attacks or hunts is taken to shock; the others only sense with a weak field. Judgement."""
    return "electric" in fish.profile.features and (fish.temperament.other_fish in DRIVES_OFF or fish.hunts)


def one_step_up(word: str) -> str:
    """The next stronger word for temperament; the strongest stays."""
    words = scales.TEMPERAMENT.words
    return words[min(words.index(word) + 1, len(words) - 1)]


def one_step_down(word: str) -> str:
    """The next milder word for temperament; the mildest stays."""
    words = scales.TEMPERAMENT.words
    return words[max(words.index(word) - 1, 0)]
