"""A changed plan on trial: it is screened with the newcomers and without, as far as a question needs it."""

from __future__ import annotations

from dataclasses import dataclass, field
from functools import cached_property

from coswim.hazards import BY_ID
from coswim.remedies.change import Change
from coswim.remedies.changed_plan import ChangedPlan
from coswim.simulation.scene import Effort, build_scene
from coswim.verdict.assessment import Assessment
from coswim.verdict.rating import Finding, shares_of
from coswim.verdict.risk import BEARABLE

NOTICED = 0.2
"""Part of the draws with a trouble that a change must do away with for a keeper to notice. Source: judgement."""


@dataclass(frozen=True, eq=False)
class Trial:
    """A plan, as proposed or changed, with its newcomers and with the residents alone; from it changes are tried.

    Without `alone` there are no newcomers, and the tank as it stands is on trial itself.
    """

    plan: ChangedPlan
    assessed: Assessment
    alone: Assessment | None
    effort: Effort
    _after: dict[str, Trial] = field(default_factory=dict)

    def after(self, change: Change) -> Trial:
        """The same once the change is made."""
        if change.key not in self._after:
            self._after[change.key] = self._try(change.apply(self.plan))
        return self._after[change.key]

    def _try(self, plan: ChangedPlan) -> Trial:
        catalog, alone = self.assessed.catalog, self.alone
        if alone and (plan.tank != self.plan.tank or plan.feeding != self.plan.feeding):
            alone = Assessment(build_scene(plan.read, None, catalog, self.effort, like=alone.scene), catalog)
        scene = build_scene(plan.read, plan.proposal, catalog, self.effort, like=self.assessed.scene)
        return Trial(plan, Assessment(scene, catalog, alone), alone, self.effort)

    @cached_property
    def _worst_hazards_first(self) -> tuple[str, ...]:
        return tuple(dict.fromkeys([*(finding.found.hazard for finding in self.assessed.findings), *BY_ID]))

    def harms_residents(self, change: Change) -> bool:
        """The change brings a serious risk on the fish that live there, with or without newcomers."""
        after = self.after(change).alone
        return after is not None and self.alone is not None and is_worse(after, self.alone)

    def solves(self, change: Change) -> bool:
        """The change brings the proposal to medium or low and does not harm the residents.

        What troubles the proposal most is asked first, since a single serious finding settles it.
        """
        after = self.after(change).assessed
        for hazard in self._worst_hazards_first:
            if any(finding.risk > BEARABLE for finding in after.counted(hazard)):
                return False
        return after.risk_number <= BEARABLE and not self.harms_residents(change)

    def fails_only_by_all_together(self, change: Change) -> bool:
        """No finding is serious by itself once the change is made, and yet the whole is."""
        after = self.after(change).assessed
        return after.risk_number > BEARABLE and all(finding.risk <= BEARABLE for finding in after.findings)

    def left_of(self, finding: Finding, change: Change) -> int:
        """What is left of a finding once the change is made: its risk, 0 when it no longer happens."""
        return max((other.risk for other in self._left(finding, change)), default=0)

    def is_noticed(self, finding: Finding, change: Change) -> bool:
        """The change does away with the finding in so many draws that a keeper would notice."""
        after = (
            share
            for other in self._left(finding, change)
            for consequence, share in shares_of(other).items()
            if consequence == finding.consequence
        )
        return max(after, default=0.0) <= (1 - NOTICED) * finding.likelihood

    def _left(self, finding: Finding, change: Change) -> list[Finding]:
        """The finding once the change is made.

        Where someone else now does the same to the same fish, who did not before, that is what is left of it;
        likewise where what no fish does, such as a spoilt water, now strikes other fish hardest.
        """
        hazard = finding.found.hazard
        known = {other.found.key for other in self.assessed.answer(hazard).rated}
        return [
            other
            for other in self.after(change).assessed.counted(hazard)
            if other.found.key == finding.found.key
            or (other.found.key not in known and other.found.trouble == finding.found.trouble)
        ]


def is_worse(one: Assessment, other: Assessment, *, above: int = BEARABLE) -> bool:
    """Something of more than a bearable (or another) risk in one assessment was less in the other."""
    if one is other:
        return False
    before = {finding.found.key: finding.risk for finding in other.findings}
    return any(finding.risk > max(above, before.get(finding.found.key, 0)) for finding in one.findings)
