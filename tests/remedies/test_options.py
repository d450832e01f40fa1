"""An option is the smallest step of a ladder that does something against a finding."""

from __future__ import annotations

from textwrap import dedent

from coswim.plans.reading import read_plan
from coswim.profiles.catalog import Catalog
from coswim.remedies.changed_plan import ChangedPlan
from coswim.remedies.ladders import ladders
from coswim.remedies.options import options_against, to_remedy
from coswim.remedies.trial import Trial
from coswim.simulation.scene import Effort, build_scene
from coswim.verdict.assessment import Assessment
from coswim.verdict.risk import BEARABLE

PLAN = """
    tank: {size: 100 x 40 x 50 cm, temperature: 28 C, ph: 7, hardness: 8 dGH}
    residents: [{species: Megalechis thoracata, count: 5, length: 10 cm}]
    proposals:
      - name: severums and a jewel
        add: [{species: jewel cichlid, count: 1, length: 8 cm}, {species: banded severum, count: 2, length: 17 cm}]
"""


def test_an_option_lowers_a_finding_that_is_bearable_by_itself(catalog: Catalog) -> None:
    """Many medium findings make the whole serious; each of them is lowered, not only held at medium."""
    read = read_plan(dedent(PLAN), "plan.yaml", catalog)
    plan, effort = ChangedPlan.of(read, read.plan.proposals[0]), Effort(draws=250)
    alone = Assessment(build_scene(read, None, catalog, effort), catalog)
    trial = Trial(plan, Assessment(build_scene(read, plan.proposal, catalog, effort), catalog, alone), alone, effort)
    findings = to_remedy(trial.assessed, BEARABLE)
    assert findings
    assert all(finding.risk <= BEARABLE < trial.assessed.risk_number for finding in findings)
    for finding in findings:
        for option in options_against(finding, trial, ladders(plan), aim=BEARABLE):
            assert trial.left_of(finding, option.change) == option.left < finding.risk, option.change.words
