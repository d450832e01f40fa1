"""The order of a shortlist: the verdict, the risk, how peaceful it is, how often it is for sale, harm, what it takes.

A list is asked for before a purchase, so at one verdict what is seldom for sale comes last, whatever its risk. What
can be rated comes before what cannot, and a verdict on the edge of a worse one after the plain one. Of one risk
peaceful kinds come first, and while it is low its number tells less than what a kind is known for. At one verdict the
first places are spread: a genus gets at most two of the first ten while another is as good in verdict, and among those
that are as peaceful, of one risk and as common the family comes first that has fewest so far, then the level of the
tank, then the genus. So no top ten is filled by one genus, or by the bottom of the tank alone, when others are as good.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable
from itertools import groupby

from coswim.profiles import scales
from coswim.profiles.profile import Profile
from coswim.shortlist.judged import Advice
from coswim.verdict.risk import Level

SPREAD = 30
"""Places that are spread; those after them follow in order."""
OF_A_GENUS = 2
"""Places of the first ten for one genus while others are as good. Source: judgement."""
TEN = 10
STEPS, QUARTERS = 20, 4
"""Shares, food and water are compared in steps of 5 %, the margin of the water in quarters. Source: judgement."""
WORST_LAST = tuple(reversed(Level))


def ranked(entries: Iterable[Advice]) -> tuple[Advice, ...]:
    """The entries, best first, the first of them spread."""
    in_order = sorted(entries, key=_goodness)
    places: list[Advice] = []
    for _, alike in groupby(in_order, key=_standing):
        places += _spread(list(alike), places)
    return tuple(places)


def _standing(entry: Advice) -> tuple[bool, int, int]:
    """What no spreading may mix: whether it can be rated, the level of its risk, and the worst that it may be."""
    levels = entry.risk.levels if entry.risk else (Level.LOW,)
    places = [WORST_LAST.index(level) for level in levels]
    return bool(entry.unrated), places[0], max(places)


def _goodness(entry: Advice) -> tuple[object, ...]:
    takes = entry.burden
    return (
        *_standing(entry),
        *_choice(entry),
        *(round(STEPS * share) for share in entry.harm),
        -round(QUARTERS * entry.margin),
        round(STEPS * min(TEN, takes.price)),
        round(STEPS * min(TEN, takes.water)),
        takes.added,
        _name(entry),
    )


def _spread(alike: list[Advice], placed: list[Advice]) -> list[Advice]:
    """Entries of one standing with the first of them spread, after those placed already."""
    taken = Counter(trait for entry in placed for trait in _spread_by(entry))
    waiting = [(_choice(entry), _genus(entry), _family(entry), _levels(entry), entry) for entry in alike]
    spread: list[Advice] = []
    while waiting and len(placed) + len(spread) < SPREAD:
        cap = OF_A_GENUS * (1 + (len(placed) + len(spread)) // TEN)

        def place(number: int, cap: int = cap) -> tuple[object, ...]:
            choice, genus, family, levels, _ = waiting[number]
            return taken[genus] >= cap, choice, taken[family], min(taken[each] for each in levels), taken[genus], number

        *_, chosen = waiting.pop(min(range(len(waiting)), key=place))
        taken.update(_spread_by(chosen))
        spread.append(chosen)
    return spread + [entry for *_, entry in waiting]


def _spread_by(entry: Advice) -> tuple[str, ...]:
    """What should not fill the first places: names of genera, families and levels are never alike."""
    return (_genus(entry), _family(entry), *_levels(entry))


def _choice(entry: Advice) -> tuple[float, ...]:
    """What is chosen by first among those of one standing."""
    is_low = entry.risk is None or entry.risk.level is Level.LOW
    return _is_seldom(entry), 0 if is_low else entry.risk_number, _roughness(entry), entry.risk_number, _rarity(entry)


def _roughness(entry: Advice) -> float:
    """How hard its kind, or the rougher of two, is known to be on other fish: its temper or its appetite for them."""
    return max(map(_hardness_on_others, entry.profiles))


def _hardness_on_others(profile: Profile) -> float:
    temper = scales.TEMPERAMENT.number(profile.temperament.other_fish if profile.temperament else "assertive")
    return max(temper, scales.EATS_FISH.number(profile.feeding_style.eats_fish) if profile.feeding_style else 0.0)


def _rarity(entry: Advice) -> float:
    """How hard it is to come by: that of the rarer of two; one of which it is not known counts as regular."""
    return max(scales.IN_TRADE.number(profile.in_trade or "regular") for profile in entry.profiles)


def _is_seldom(entry: Advice) -> bool:
    return _rarity(entry) == scales.IN_TRADE.number("seldom")


def _genus(entry: Advice) -> str:
    return " ".join(profile.scientific_name.split()[0] for profile in entry.profiles)


def _family(entry: Advice) -> str:
    return " ".join(profile.family for profile in entry.profiles)


def _levels(entry: Advice) -> tuple[str, ...]:
    """The levels of the first species; anywhere where that is not known."""
    style = entry.profiles[0].feeding_style
    return style.level if style else ("",)


def _name(entry: Advice) -> str:
    return " ".join(profile.scientific_name for profile in entry.profiles)
