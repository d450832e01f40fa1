"""An entry of a diary in words, with what follows from its tests."""

from __future__ import annotations

from collections.abc import Iterator

from coswim.aftercare.diary import WaterTest
from coswim.aftercare.trends import TESTS
from coswim.aftercare.watched import Noted, Watched
from coswim.aftercare.water_rules import un_ionised
from coswim.text import wording


def said(noted: Noted, seen: Watched) -> str:
    """All that an entry says, on one line."""
    return "; ".join(_said(noted, seen))


def _said(noted: Noted, seen: Watched) -> Iterator[str]:
    entry = noted.entry
    if entry.ate:
        yield f"ate: {entry.ate}"
    if entry.chased:
        yield f"chased: {entry.chased}"
    if entry.damage:
        yield f"damage {entry.damage.grade} on {entry.damage.place}"
    if entry.length:
        yield f"{entry.length:g} cm"
    if entry.weight:
        yield f"{entry.weight:g} g"
    if entry.water:
        yield from _tested(entry.water, seen)
    if entry.note:
        yield f"“{entry.note}”"


def _tested(test: WaterTest, seen: Watched) -> Iterator[str]:
    for name, what, unit in TESTS:
        value = getattr(test, name)
        if value is not None:
            yield f"{what} {value:.4g} {unit}".rstrip()
        if name == "ammonia" and (part := un_ionised(test, seen.company)):
            yield f"of it un-ionised {wording.number(part)} mg/L"
