"""What a scene comes to: every hazard is asked, every finding rated, and the whole put together."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from functools import cached_property
from types import MappingProxyType
from typing import NamedTuple

from coswim.hazards import BY_ID
from coswim.profiles.catalog import Catalog
from coswim.simulation.scene import Scene
from coswim.verdict.rating import Finding, OverallRisk, Unrated, Verdict, overall, rate, shares_of, verdict
from coswim.verdict.risk import TOLD, Level

WORST_FIRST = tuple(Level)
LABELS: Mapping[str, str] = MappingProxyType({name: hazard.LABEL for name, hazard in BY_ID.items()})
"""One word for each hazard."""


class Answer(NamedTuple):
    """All that one hazard says of a scene."""

    rated: tuple[Finding, ...]
    unrated: tuple[Unrated, ...]


@dataclass(frozen=True, eq=False)
class Assessment:
    """A scene's findings and the risk they add up to; each hazard is asked when its answer is first wanted.

    `alone` is the same tank without the newcomers. `in_short` leaves reasons and figures until somebody asks.
    """

    scene: Scene
    catalog: Catalog
    alone: Assessment | None = None
    in_short: bool = field(default=False, kw_only=True)
    _answers: dict[str, Answer] = field(default_factory=dict)

    def answer(self, hazard: str) -> Answer:
        """All that one hazard finds; nothing where no fish live."""
        if hazard not in self._answers:
            again = self.scene.shelf.take(self.scene.course)
            for one in [each for each in BY_ID if each not in self._answers] if again else [hazard]:
                self._answers[one] = self._ask(one)
        return self._answers[hazard]

    def _ask(self, hazard: str) -> Answer:
        if not self.scene.groups:  # an empty tank has no troubles
            return Answer((), ())
        found = BY_ID[hazard].find(self.scene)
        answers = [rate(one if self.in_short else one.in_full(), self.catalog) for one in found]
        return Answer(
            tuple(one for one in answers if isinstance(one, Finding)),
            tuple(one for one in answers if isinstance(one, Unrated)),
        )

    def counted(self, hazard: str) -> tuple[Finding, ...]:
        """What one hazard finds that counts against the newcomers."""
        return tuple(one for finding in self.answer(hazard).rated if (one := self._beyond(finding)))

    @cached_property
    def findings(self) -> tuple[Finding, ...]:
        """What counts against the newcomers, worst first."""
        return tuple(sorted((finding for hazard in BY_ID for finding in self.counted(hazard)), key=_worst_first))

    @cached_property
    def told(self) -> tuple[Finding, ...]:
        """What is worth a word, worst first: of what the same figures say of the whole tank the worst."""
        told: dict[object, Finding] = {}
        for one in self._worth_a_word:
            found = one.found
            of_tank = found.topic and found.blamed is None and found.figures
            told.setdefault((found.hazard, found.topic, tuple(found.figures)) if of_tank else found.key, one)
        return tuple(told.values())

    @cached_property
    def _worth_a_word(self) -> tuple[Finding, ...]:
        """Nothing that is too rare to be told from none, unless it might make the verdict worse or is all there is."""
        level = WORST_FIRST.index(self.level)
        worth = (
            one for one in self.findings if one.likelihood >= TOLD or min(map(WORST_FIRST.index, one.levels)) < level
        )
        return tuple(worth) or self.findings

    @cached_property
    def standing(self) -> tuple[Finding, ...]:
        """Findings among the residents alone of which the newcomers make no more that is told, worst first."""
        known = {one.found.key for hazard in BY_ID for one in self.alone.answer(hazard).rated} if self.alone else set()
        known -= {finding.found.key for finding in self._worth_a_word}
        every = (finding for hazard in BY_ID for finding in self.answer(hazard).rated if finding.found.key in known)
        return tuple(sorted(every, key=_worst_first))

    @cached_property
    def unrated(self) -> tuple[Unrated, ...]:
        """What cannot be rated, beyond what cannot be without the newcomers either."""
        known = {one.found.key for hazard in BY_ID for one in self.alone.answer(hazard).unrated} if self.alone else ()
        return tuple(one for hazard in BY_ID for one in self.answer(hazard).unrated if one.found.key not in known)

    @cached_property
    def risk(self) -> OverallRisk | None:
        """The risk of all that counts; None when nothing was found."""
        return overall(self.findings)

    @property
    def risk_number(self) -> int:
        """The risk from 1 to 20; 0 when nothing was found."""
        return self.risk.risk if self.risk else 0

    @property
    def level(self) -> Level:
        """The level of the risk; low when nothing was found."""
        return self.risk.level if self.risk else Level.LOW

    @property
    def verdict(self) -> Verdict:
        """The decision on all that counts."""
        return verdict(self.risk, self.unrated)

    def _beyond(self, finding: Finding) -> Finding | None:
        """The finding in the futures in which it does not happen without newcomers too; None where there are none."""
        known = self.alone.answer(finding.found.hazard).rated if self.alone and not finding.found.counts_anyway else ()
        before = next((one for one in known if one.found.key == finding.found.key), None)
        if before is None:
            return finding
        happens = {outcome.consequence: outcome.happens for outcome in before.found.outcomes}
        outcomes = (
            one._replace(happens=one.happens & ~happens[one.consequence]) if one.consequence in happens else one
            for one in finding.found.outcomes
        )
        beyond = finding.in_draws(tuple(outcomes))
        return beyond and beyond._replace(without=shares_of(before).get(beyond.consequence, 0.0))


def with_pictures(finding: Finding, scene: Scene) -> Finding:
    """A finding that is to be reported, with what shows it."""
    return finding._replace(pictures=BY_ID[finding.found.hazard].pictures(scene, finding.found))


def watch(findings: Iterable[Finding], *, most: int) -> tuple[str, ...]:
    """What to look at for the leading findings, most serious first, each once. Source: common practice."""
    return tuple(dict.fromkeys(BY_ID[finding.found.hazard].WATCH for finding in findings))[:most]


def _worst_first(finding: Finding) -> tuple[float, ...]:
    return (-finding.risk, -finding.likelihood)
