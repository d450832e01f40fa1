"""What a diary adds to the record of a fish: observations over stretches of days, for each group.

The record decides which simulated futures are believed (an entry of `lived_with` does so for the past); these
are the same for what was seen since the fish moved in.
"""

from __future__ import annotations

from datetime import date, timedelta
from typing import NamedTuple

from coswim.aftercare.company import Companion
from coswim.aftercare.diary import CHASED
from coswim.aftercare.feeding_rules import SHARE
from coswim.aftercare.watched import Noted, Watched

STRETCH = 7
"""Days that one observation covers. Source: judgement; meals differ from day to day, futures are told in weeks."""


class Observation(NamedTuple):
    """What was seen of one group in some days; None where nobody looked.

    `ate` is the share of its meals (0 to 1) over so many `looks`, `ate_words` the answers behind it; `chased` is
    the worst word, `hurt` the worst grade, `length` (cm) and `weight` (g) are the last.
    """

    first: date
    last: date
    looks: int
    ate: float | None
    ate_words: tuple[str, ...]
    chased: str | None
    hurt: int | None
    length: float | None
    weight: float | None


def observations(seen: Watched, fish: Companion, *, days: int = STRETCH) -> tuple[Observation, ...]:
    """What was seen of a group, stretch by stretch from the day they met; stretches without an entry are left out."""
    stretches: dict[int, list[Noted]] = {}
    for noted in seen.of(fish, ever=True):
        stretches.setdefault((noted.date - seen.company.start).days // days, []).append(noted)
    return tuple(
        _observation(noted, seen.company.start + timedelta(days=number * days), days)
        for number, noted in sorted(stretches.items())
    )


def _observation(noted: list[Noted], first: date, days: int) -> Observation:
    entries = [one.entry for one in noted]
    ate = tuple(entry.ate for entry in entries if entry.ate)
    chased = [entry.chased for entry in entries if entry.chased]
    return Observation(
        first,
        first + timedelta(days=days - 1),
        len(entries),
        sum(SHARE[word] for word in ate) / len(ate) if ate else None,
        ate,
        max(chased, key=CHASED.index, default=None),
        max((entry.damage.grade for entry in entries if entry.damage), default=None),
        next((entry.length for entry in reversed(entries) if entry.length), None),
        next((entry.weight for entry in reversed(entries) if entry.weight), None),
    )
