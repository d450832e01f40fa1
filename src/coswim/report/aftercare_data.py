"""The calendar as data, for programs: the same content as the document, versioned."""

from __future__ import annotations

from collections.abc import Sequence

from coswim import __version__
from coswim.aftercare.calendar import Calendar
from coswim.aftercare.stop_rule import StopRule
from coswim.report.data import decided
from coswim.screening import Screened
from coswim.text.printable import json_text

SCHEMA = 1


def write(made: Calendar, screened: Screened, rules: Sequence[StopRule], ways_out: Sequence[str]) -> str:
    """The calendar as JSON text; days are ISO dates, `every` is 0 for what is due once."""
    data = {
        "coswim": __version__,
        "schema": SCHEMA,
        "proposal": screened.name,
        **decided(screened.verdict),
        "moving_in": str(made.moving_in),
        "steps": [
            {
                "kind": step.kind,
                "from": str(step.day),
                "until": str(step.until),
                "every_days": step.every,
                "title": step.title,
                "what": list(step.what),
            }
            for step in made.steps
        ],
        "stop_rules": [
            {"decision": str(rule.decision), "when": rule.sign, "do": rule.do, "because": rule.because}
            for rule in rules
        ],
        "way_out": list(ways_out),
        "cautions": list(screened.cautions),
    }
    return json_text(data)
