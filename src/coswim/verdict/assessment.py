"""What a scene comes to: every hazard is asked, every finding rated, and the whole put together."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType
from typing import NamedTuple

from coswim.findings.finding import Consequence
from coswim.findings.hazard import Hazard
from coswim.hazards import BY_ID, HAZARDS
from coswim.profiles.catalog import Catalog
from coswim.simulation.scene import Scene
from coswim.simulation.watched import Reads, watched
from coswim.verdict.rating import Finding, OverallRisk, overall, rate

WORSENED = 0.05
"""Share of draws by which an outcome among the residents must grow to count against the newcomers. Judgement."""


class Answer(NamedTuple):
    """What one hazard found in a scene, and what it read of the tank and the feeding to say so."""

    scene: Scene
    findings: tuple[Finding, ...]
    reads: Reads

    def holds_for(self, scene: Scene) -> bool:
        """The hazard would say the same of the other scene, since nothing that it looked at differs."""
        return self.scene is scene or self.reads.cannot_tell(self.scene, scene)


class Assessment(NamedTuple):
    """A scene's findings, worst first, and the risk they add up to.

    `standing` are findings among the residents alone that are hardly worse than without the newcomers.
    """

    scene: Scene
    answers: Mapping[str, Answer]
    findings: tuple[Finding, ...]
    standing: tuple[Finding, ...]
    risk: OverallRisk | None

    @property
    def risk_number(self) -> int:
        """The risk from 1 to 20; 0 when nothing was found."""
        return self.risk.risk if self.risk else 0


def assess(
    scene: Scene, catalog: Catalog, *, alone: Assessment | None = None, known: Mapping[str, Answer] | None = None
) -> Assessment:
    """Ask every hazard about a scene.

    Parameters: alone, the same tank without the newcomers; known, answers by hazard about similar scenes,
    used again where they hold for this one too.
    """
    known = known or {}
    answers = {hazard.ID: ask(hazard, scene, catalog, known=known.get(hazard.ID)) for hazard in HAZARDS}
    rated = sorted((finding for answer in answers.values() for finding in answer.findings), key=_worst_first)
    before = {finding.found.key: finding for finding in alone.findings} if alone else {}
    stands = [_is_standing(finding, before.get(finding.found.key)) for finding in rated]
    standing = tuple(finding for finding, it_stands in zip(rated, stands, strict=True) if it_stands)
    findings = tuple(finding for finding, it_stands in zip(rated, stands, strict=True) if not it_stands)
    return Assessment(scene, MappingProxyType(answers), findings, standing, overall(findings))


def ask(hazard: Hazard, scene: Scene, catalog: Catalog, *, known: Answer | None = None) -> Answer:
    """One hazard's findings in a scene, rated; the known answer where it holds for this scene too."""
    if known and known.holds_for(scene):
        return known
    view, reads = watched(scene)
    findings = tuple(finding for found in hazard.find(view) if (finding := rate(found, catalog)))
    return Answer(scene, findings, reads)


def with_pictures(finding: Finding, scene: Scene) -> Finding:
    """A finding that is to be reported, with what shows it."""
    pictures = BY_ID[finding.found.hazard].pictures(scene, finding.found) if finding.is_rated else ()
    return finding._replace(pictures=pictures)


def _is_standing(finding: Finding, before: Finding | None) -> bool:
    """It is there without the newcomers, and they do not make it worse: no risk, and no outcome clearly more often."""
    if before is None or not finding.found.concerns_residents_only or finding.risk > before.risk:
        return False
    shares, known = _shares(finding), _shares(before)
    return all(share <= known.get(consequence, 0.0) + WORSENED for consequence, share in shares.items())


def _shares(finding: Finding) -> dict[Consequence, float]:
    return {outcome.consequence: float(outcome.happens.mean()) for outcome in finding.found.outcomes}


def _worst_first(finding: Finding) -> tuple[float, ...]:
    return (-finding.risk, -(finding.likelihood or 0.0))
