"""How ready each fish is to attack another in each future.

That follows from what its kind is known for, its own record, whether it breeds, and how much the other looks
like a rival.
"""

from __future__ import annotations

from collections.abc import Iterable
from types import MappingProxyType

import numpy as np

from coswim.arrays import Flags, Floats
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
"""The same for a cichlid that kills its rivals: company spreads its attacks more than it calms. Source:
judgement."""
PAIRS = 0.7
"""The same where more than one pair lives. Source: judgement; half of the others are no rivals."""
SHOAL = 3
PAIR = 2
PAIRING_FAMILY = "Cichlidae"
MATURE = 0.6
"""Part of the adult length from which cichlids breed. Source: judgement."""
BREEDS = 0.6
"""Share of cichlid groups with both sexes in which a pair comes to breed. Source: judgement."""
PURSUIT = 0.15
"""Drive that a quick hunter adds towards fish small enough to be chased. Source: judgement."""


def drive(fish: Group, word: str) -> Floats:
    """The drawn drive to attack, 0 to 1, shape (draws,): the word's, shifted by the individual's own record.

    With any trouble on record it is never taken to be milder than its kind.
    """
    place = fish.uniform("temperament")
    own = contest.tendency_at(place, *_updated(fish, word))
    if not fish.history.tankmates_hurt:
        return own
    return np.maximum(own, contest.tendency_at(place, *contest.tendency(known_drive(word))))


def known_drive(word: str) -> float:
    """The number behind the word, 0 to 1."""
    return scales.TEMPERAMENT.number(word)


def pushes(fish: Group) -> float:
    """How hard its kind drives other fish off, 0 to 1; 0 where its temperament is not known."""
    return known_drive(fish.profile.temperament.other_fish) if fish.profile.temperament else 0.0


def expected_drive(fish: Group, word: str) -> float:
    """The mean of the individual's drive, 0 to 1."""
    alpha, beta = _updated(fish, word)
    mean = alpha / (alpha + beta)
    return max(mean, known_drive(word)) if fish.history.tankmates_hurt else mean


def _updated(fish: Group, word: str) -> tuple[float, float]:
    hurt, tried = fish.history.tankmates_hurt, fish.history.tankmates_tried
    return contest.tendency(known_drive(word), hurt=hurt, spared=max(0, tried - hurt))


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
        rivals = fish.profile.family == PAIRING_FAMILY and fish.temperament.own_kind == "aggressive"
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


def both_sexes(fish: Group, number: int) -> Flags:
    """The draws in which `number` fish of unknown sex include a male and a female, shape (draws,)."""
    return np.asarray(fish.uniform("sexes") < 1 - 0.5 ** (number - 1))


def pairs_up(fish: Group, number: int) -> bool:
    """Cichlids that hold territories among their kind, two or more of them."""
    temperament = fish.profile.temperament
    holds = temperament is not None and temperament.own_kind in DRIVES_OFF
    return holds and fish.profile.family == PAIRING_FAMILY and number >= PAIR


def breeding(fish: Group, number: int, length: Floats) -> Flags:
    """The draws and months in which such a pair guards eggs or young, the shape of `length`."""
    if not pairs_up(fish, number):
        return np.zeros((1, 1), dtype=bool)
    grown = length >= MATURE * fish.profile.adult_length.middle
    breeds = both_sexes(fish, number) & (fish.uniform("breeding") < BREEDS)
    return np.asarray(grown & breeds[:, None])


def hunts_in_the_open(fish: Group) -> bool:
    """A quick hunter that chases fish, also those that it cannot swallow."""
    style = fish.profile.feeding_style
    return fish.hunts and style is not None and style.pace in {"fast", "frantic"}


def is_strongly_electric(fish: Group) -> bool:
    """An electric kind that attacks or hunts is taken to shock; the others only sense with a weak field. Judgement."""
    attacks = fish.temperament.other_fish in DRIVES_OFF
    return "electric" in fish.profile.features and (attacks or fish.hunts)


def one_step_up(word: str) -> str:
    """The next stronger word for temperament; the strongest stays."""
    words = scales.TEMPERAMENT.words
    return words[min(words.index(word) + 1, len(words) - 1)]
