"""What the screening fears of this company: the one place where aftercare reads findings."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType
from typing import NamedTuple

from coswim.aftercare.company import Companion, Company
from coswim.screening import Screened
from coswim.simulation.group import Group


class Concern(NamedTuple):
    """A rated finding: who does what to whom, how bad it is, when, and its figures by key.

    `doer` is None where nobody does it.
    """

    hazard: str
    topic: str
    doer: Companion | None
    target: Companion
    risk: int
    sentence: str
    from_month: int | None
    to_month: int | None
    figures: Mapping[str, float]


def concerns_of(screened: Screened, company: Company) -> tuple[Concern, ...]:
    """The proposal's findings, worst first, then those of the tank as it stands."""
    return tuple(
        Concern(
            found.hazard,
            found.topic,
            _companion(found.blamed, company) if found.blamed else None,
            _companion(found.target, company),
            finding.risk,
            found.sentence,
            found.from_month,
            found.to_month,
            MappingProxyType({figure.key: figure.value for figure in found.figures}),
        )
        for finding in (*screened.findings, *screened.standing)
        if (found := finding.found)
    )


def _companion(group: Group, company: Company) -> Companion:
    """The same group, told by its species, its role and its length."""
    same = [fish for fish in company.fish if fish.profile == group.profile and fish.is_resident is group.is_resident]
    return min(same, key=lambda fish: (abs(fish.length - group.start_length), abs(fish.number - group.count)))
