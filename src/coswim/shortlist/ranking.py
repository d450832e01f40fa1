"""The order of a shortlist: the verdict, then the risk, then how often harm is done, then what the keeper must do.

What can be rated comes before what cannot. At one verdict the first places are spread: a genus gets at most two of
them while another is as good in verdict, and among those of one risk the level of the tank comes first that has fewest
so far, then the genus that has. So no top ten is filled by one genus, or by the bottom of the tank alone, when others
are as good. Food is compared in steps of 5 % and water in steps of 5 % of the tank a week.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable
from itertools import groupby

from coswim.shortlist.judged import Entry
from coswim.verdict.risk import Level

SPREAD = 30
"""Places that are spread; those after them follow in order."""
OF_A_GENUS = 2
"""Places of the first ten for one genus while others are as good. Source: judgement."""
TEN = 10
STEPS = 20
WORST_LAST = tuple(reversed(Level))


def ranked(entries: Iterable[Entry]) -> tuple[Entry, ...]:
    """The entries, best first, the first of them spread."""
    in_order = sorted(entries, key=_goodness)
    places: list[Entry] = []
    for _, alike in groupby(in_order, key=_standing):
        places += _spread(list(alike), places)
    return tuple(places)


def _standing(entry: Entry) -> tuple[bool, int]:
    """What no spreading may mix: whether it can be rated, and the level of its risk."""
    return bool(entry.unrated), WORST_LAST.index(entry.risk.level if entry.risk else Level.LOW)


def _goodness(entry: Entry) -> tuple[object, ...]:
    steps = (round(STEPS * (value if value != float("inf") else TEN)) for value in (*entry.harm, entry.burden.price))
    water = min(TEN, entry.burden.water)
    return (*_standing(entry), entry.risk_number, *steps, round(STEPS * water), entry.burden.added, _name(entry))


def _spread(alike: list[Entry], placed: list[Entry]) -> list[Entry]:
    """Entries of one standing with the first of them spread, after those placed already."""
    genera = Counter(_genus(entry) for entry in placed)
    levels = Counter(level for entry in placed for level in _levels(entry))
    spread: list[Entry] = []
    while alike and len(placed) + len(spread) < SPREAD:
        cap = OF_A_GENUS * (1 + (len(placed) + len(spread)) // TEN)

        def place(number: int, cap: int = cap) -> tuple[object, ...]:
            entry = alike[number]
            crowd = min(levels[level] for level in _levels(entry))
            return genera[_genus(entry)] >= cap, entry.risk_number, crowd, genera[_genus(entry)], number

        chosen = alike.pop(min(range(len(alike)), key=place))
        genera[_genus(chosen)] += 1
        levels.update(_levels(chosen))
        spread.append(chosen)
    return spread + alike


def _genus(entry: Entry) -> str:
    return " ".join(profile.scientific_name.split()[0] for profile in entry.profiles)


def _levels(entry: Entry) -> tuple[str, ...]:
    """The levels of the first species; anywhere where that is not known."""
    style = entry.profiles[0].feeding_style
    return style.level if style else ("",)


def _name(entry: Entry) -> str:
    return " ".join(profile.scientific_name for profile in entry.profiles)
