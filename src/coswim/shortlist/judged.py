"""What becomes of one species: a place on the shortlist, or the reason why it has none."""

from __future__ import annotations

from typing import NamedTuple

from coswim.findings.finding import Consequence
from coswim.plans.plan import GroupEntry
from coswim.profiles.profile import Profile
from coswim.shortlist.bench import Attempt, Bench, worst
from coswim.shortlist.burden import Burden, burden
from coswim.shortlist.funnel import Reason, reason_for
from coswim.shortlist.length import smallest_safe
from coswim.shortlist.offer import offer
from coswim.verdict.rating import OverallRisk, unions, verdict


class Entry(NamedTuple):
    """Company that would do: what to buy, the verdict on it, what decides that, and what it takes.

    `add` is one species, or two of a pair. `decides` is the worst finding in a sentence, empty where nothing was
    found; `unrated` is what would have to be known. `harm` is the share of draws for each consequence, worst first.
    """

    add: tuple[GroupEntry, ...]
    profiles: tuple[Profile, ...]
    verdict: str
    risk: OverallRisk | None
    decides: str
    reason: Reason | None
    unrated: tuple[str, ...]
    harm: tuple[float, ...]
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


def judge(bench: Bench, profile: Profile) -> Entry | Excluded:
    """What becomes of a species in a tank, at the smallest length that is safe to buy."""
    kind = profile.scientific_name
    present = sum(e.count for e in bench.read.plan.residents if bench.read.profile(e).scientific_name == kind)
    bought = offer(profile, present=present)
    length, attempt = smallest_safe(bought.lengths, lambda length: bench.attempt(bought.at(length), profile))
    if attempt.passes:
        return entry((bought.group(length),), (profile,), attempt, bench)
    settled = worst(attempt.grave)
    return Excluded(kind, profile.name, reason_for(settled), settled.found.sentence)


def entry(
    add: tuple[GroupEntry, ...], profiles: tuple[Profile, ...], attempt: Attempt, bench: Bench
) -> Entry:
    """An attempt that passes as a place on the shortlist."""
    assessed = attempt.assessed
    decides = worst(assessed.findings) if assessed.findings else None
    happens = unions(assessed.findings)
    return Entry(
        add,
        profiles,
        verdict(assessed.risk, assessed.unrated),
        assessed.risk,
        decides.found.sentence if decides else "",
        reason_for(decides) if decides else None,
        tuple(dict.fromkeys(one.found.missing for one in assessed.unrated)),
        tuple(float(happens[each].mean()) if each in happens else 0.0 for each in Consequence),
        burden(assessed.scene, bench.alone.scene),
    )

