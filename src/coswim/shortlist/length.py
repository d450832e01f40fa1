"""The smallest length at which a species is safe to buy, searched for by screening."""

from __future__ import annotations

from collections.abc import Callable

from coswim.shortlist.bench import Attempt

TOO_SMALL = frozenset({"gape-fit", "aggression", "nipping", "injury", "feeding-competition"})
"""Hazards that a longer fish may escape where it is the one that suffers. Source: judgement."""


def smallest_safe(lengths: tuple[float, ...], attempt: Callable[[float], Attempt]) -> tuple[float, Attempt]:
    """The first of the lengths that passes, and how it does; the first of all where none was found.

    Where the first fails and a longer fish might do better, the longest is tried, and then the length between that
    halves what is left: where the fish is the victim it must be longer, where it is the culprit shorter. So few
    lengths are screened, and the one below the answer was screened and fails.
    """
    low, high = 0, len(lengths) - 1
    first = attempt(lengths[low])
    if first.passes or high == low or not _is_too_small(first):
        return lengths[low], first
    best = attempt(lengths[high])
    if not best.passes and _is_too_small(best):
        return lengths[low], first
    while high - low > 1:
        middle = (low + high) // 2
        tried = attempt(lengths[middle])
        if tried.passes or not (best.passes or _is_too_small(tried)):
            high, best = middle, tried
        else:
            low = middle
    return (lengths[high], best) if best.passes else (lengths[0], first)


def _is_too_small(attempt: Attempt) -> bool:
    """It does not pass because of what others do to the newcomers, all of which they might outgrow."""
    return not attempt.passes and all(
        finding.found.hazard in TOO_SMALL and not finding.found.target.is_resident for finding in attempt.grave
    )
