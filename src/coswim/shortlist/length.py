"""The smallest length at which a species is safe to buy, searched for by screening."""

from __future__ import annotations

from collections.abc import Callable, Generator, Sequence
from dataclasses import dataclass, field
from operator import attrgetter
from typing import TypeVar

from coswim.shortlist.bench import Attempt, is_settled
from coswim.verdict.rating import Finding

AS_VICTIMS = frozenset({"gape-fit", "aggression", "nipping", "injury", "feeding-competition", "escape"})
"""Hazards that longer newcomers may escape. Source: judgement."""
AS_MORSELS = frozenset({"spine-choking"})
"""Hazards that residents escape where the newcomers are longer: what does not go into a mouth does not stick there."""
ResultT = TypeVar("ResultT")


@dataclass(frozen=True, eq=False)
class SmallestSafe:
    """The first of some lengths that passes, and how it does; the first of all where none was found.

    The length below the answer was screened too and fails. What fails without meals fails at less cost, so that is
    looked at first; only lengths that survive it are screened in full. What settled the shortest is asked first of the
    others, since it mostly settles these too.
    """

    lengths: Sequence[float]
    attempt: Callable[[float, str], Attempt]
    _known: dict[float, Attempt] = field(default_factory=dict)

    def _tried(self, length: float) -> Attempt:
        if length not in self._known:
            first = self._known[self.lengths[0]].settled_by if self._known else ""
            self._known[length] = self.attempt(length, first)
        return self._known[length]

    def search(self) -> Generator[Attempt, None, tuple[float, Attempt]]:
        """The length and how it does; each attempt is handed out before it is screened in full."""
        start, chosen = at_once(_search(self.lengths, self._tried, attrgetter("survives"))), self.lengths[0]
        if start is not None:
            further = yield from _search(self.lengths[start:], self._tried, attrgetter("passes"))
            chosen = chosen if further is None else self.lengths[start + further]
        return chosen, self._tried(chosen)


def at_once(search: Generator[object, None, ResultT]) -> ResultT:
    """What a search comes to, whatever it hands out meanwhile."""
    while True:
        try:
            next(search)
        except StopIteration as end:
            result: ResultT = end.value
            return result


def _search(
    lengths: Sequence[float], tried: Callable[[float], Attempt], good: Callable[[Attempt], bool]
) -> Generator[Attempt, None, int | None]:
    """The place of the first length that is good; None where none was found. Each attempt is handed out before.

    Where the shortest is not and a longer fish might do better, the longest is tried, and then the length that halves
    what is left: where longer newcomers might be spared they must be longer, where they are the trouble shorter.
    """
    low, high = 0, len(lengths) - 1
    shortest = tried(lengths[low])
    yield shortest
    if good(shortest):
        return low
    if high == low or not _is_too_small(shortest):
        return None
    longest = tried(lengths[high])
    yield longest
    is_good = good(longest)
    if not is_good and _is_too_small(longest):
        return None
    while high - low > 1:
        middle = (low + high) // 2
        one = tried(lengths[middle])
        yield one
        if good(one) or not (is_good or _is_too_small(one)):
            high, is_good = middle, good(one)
        else:
            low = middle
    return high if is_good else None


def _is_too_small(attempt: Attempt) -> bool:
    """It fails by what longer newcomers might be spared: without that, it does not fail by what was found."""
    return not is_settled([finding for finding in attempt.found if not _may_be_outgrown(finding)])


def _may_be_outgrown(finding: Finding) -> bool:
    return finding.found.hazard in (AS_MORSELS if finding.found.target.is_resident else AS_VICTIMS)
