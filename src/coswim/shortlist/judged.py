"""What becomes of one species: a place on the shortlist, or the reason why it has none."""

from __future__ import annotations

from collections.abc import Generator
from dataclasses import dataclass
from functools import cached_property
from typing import NamedTuple

from coswim.findings.finding import Consequence
from coswim.plans.plan import GroupEntry, Proposal
from coswim.profiles.profile import Profile
from coswim.shortlist.bench import Attempt, Bench, worst
from coswim.shortlist.burden import Burden, burden
from coswim.shortlist.funnel import Reason, reason_for
from coswim.shortlist.length import SmallestSafe, at_once
from coswim.shortlist.margin import margin
from coswim.shortlist.offer import Offer, offer
from coswim.simulation.course import Course
from coswim.verdict.cautions import handling
from coswim.verdict.rating import OverallRisk, Verdict, unions


class Advice(NamedTuple):
    """Company that would do: what to buy, the verdict on it, what decides that, and what it takes.

    `add` is one species, or two of a pair. `decides` is the worst finding in a sentence, empty where nothing was
    found; `unrated` is what would have to be known; `cautions` are those of the newcomers themselves. `harm` is the
    share of draws for each consequence, worst first; `margin` the narrowest that the tank's water leaves them.
    """

    add: tuple[GroupEntry, ...]
    profiles: tuple[Profile, ...]
    verdict: Verdict
    risk: OverallRisk | None
    decides: str
    reason: Reason | None
    unrated: tuple[str, ...]
    cautions: tuple[str, ...]
    harm: tuple[float, ...]
    margin: float
    burden: Burden

    @property
    def risk_number(self) -> int:
        """The risk from 1 to 20; 0 when nothing was found."""
        return self.risk.risk if self.risk else 0


class Excluded(NamedTuple):
    """A species that fails, and the finding that settled it: enough of the risk to fail, not all that there is."""

    scientific_name: str
    name: str
    reason: Reason
    decides: str


@dataclass(frozen=True, eq=False)
class Candidate:
    """A species in a tank: what to buy of it, at the smallest length that is safe, and how it does."""

    bench: Bench
    profile: Profile

    @cached_property
    def _bought(self) -> Offer:
        kind, residents = self.profile.scientific_name, self.bench.read.plan.residents
        present = sum(each.count for each in residents if self.bench.read.profile(each).scientific_name == kind)
        return offer(self.profile, present=present)

    @cached_property
    def _length(self) -> SmallestSafe:
        bench, profile, bought = self.bench, self.profile, self._bought  # not itself, or its scenes would stay
        return SmallestSafe(
            bought.lengths, lambda length, first: bench.attempt(bought.at(length), profile, first=first)
        )

    @property
    def found(self) -> tuple[Proposal, Attempt]:
        """What to buy and how it does; as it is usually sold where no length is safe."""
        length, attempt = at_once(self._length.search())
        return self._bought.at(length), attempt

    def judging(self) -> Generator[Course, None, Advice | Excluded]:
        """What becomes of the species; each course is handed out before it is asked, to be run beside others."""
        search = self._length.search()
        while True:
            try:
                attempt = next(search)
            except StopIteration as end:
                return self._judged(*end.value)
            if attempt.survives:
                yield attempt.assessed.scene.course

    def _judged(self, length: float, attempt: Attempt) -> Advice | Excluded:
        if attempt.passes:
            return entry(self._bought.at(length), (self.profile,), attempt, self.bench)
        settled = worst(attempt.found)
        return Excluded(self.profile.scientific_name, self.profile.name, reason_for(settled), settled.found.sentence)


def entry(proposal: Proposal, profiles: tuple[Profile, ...], attempt: Attempt, bench: Bench) -> Advice:
    """An attempt that passes as a place on the shortlist."""
    assessed = attempt.assessed
    decides = worst(assessed.findings) if assessed.findings else None
    happens = unions(assessed.findings)
    return Advice(
        proposal.add,
        profiles,
        assessed.verdict,
        assessed.risk,
        decides.found.sentence if decides else "",
        reason_for(decides) if decides else None,
        tuple(dict.fromkeys(one.found.missing for one in assessed.unrated)),
        handling(assessed.scene),
        tuple(float(happens[each].mean()) if each in happens else 0.0 for each in Consequence),
        min(margin(profile, bench.read.plan.tank) for profile in profiles),
        burden(assessed.scene, bench.alone.scene),
    )
