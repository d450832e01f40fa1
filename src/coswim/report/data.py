"""A screening as data: the documented, versioned JSON contract, and its JSON Schema.

Everything under `private:` in a plan stays out. Shares are rounded to four digits, figures to four
significant digits, so that the same screening gives the same text on another machine, but for the last digit of a
figure now and then.
"""

from __future__ import annotations

from typing import Any

from coswim import __version__
from coswim.findings.finding import Consequence
from coswim.remedies.change import Remedy
from coswim.screening import Screened, Screening
from coswim.text.printable import json_text
from coswim.verdict.rating import CANNOT_BE_JUDGED, Finding, Unrated, Verdict
from coswim.verdict.risk import VERDICTS, Level, Likelihood

SCHEMA = 1


def write(screening: Screening) -> str:
    """The screening as JSON text."""
    return json_text(as_data(screening))


def as_data(screening: Screening) -> dict[str, Any]:
    """The screening as plain data."""
    return {
        "coswim": __version__,
        "schema": SCHEMA,
        "plan": screening.read.name,
        "draws": screening.effort.draws,
        "seed": screening.effort.seed,
        "months": screening.horizon,
        "note": "model output for ranking and explaining, not calibrated odds",
        "assumed": [*screening.read.plan.assumed(), *screening.read.assumed],
        "as_it_stands_verdict": screening.as_it_stands.verdict.words,
        "as_it_stands_close_to": list(screening.as_it_stands.verdict.close_to),
        "as_it_stands_risk": screening.as_it_stands.risk_number,
        "as_it_stands": [_told(one, screening.as_it_stands) for one in screening.as_it_stands.told],
        "proposals": [_proposal(proposal) for proposal in screening.proposals],
    }


def _proposal(proposal: Screened) -> dict[str, Any]:
    return {
        "name": proposal.name,
        **decided(proposal.verdict),
        "risk": proposal.risk.risk if proposal.risk else 0,
        "level": str(proposal.risk.level) if proposal.risk else str(Level.LOW),
        "likelihood": round(proposal.risk.likelihood, 4) if proposal.risk else 0.0,
        "consequence": str(proposal.risk.consequence) if proposal.risk else None,
        "rated": not proposal.unrated,
        "findings": [_told(one, proposal) for one in proposal.told],
        "remedies_searched": proposal.remedies_searched,
        "best_change": _remedy(proposal.best_change) if proposal.best_change else None,
        "sensitivity": proposal.sensitivity.words,
        "watch": list(proposal.watch),
        "narrowest_margin": proposal.margin,
        "was": proposal.was,
        "cautions": list(proposal.cautions),
    }


def _told(told: Finding | Unrated, screened: Screened) -> dict[str, Any]:
    found, rated = told.found, told if isinstance(told, Finding) else None
    return {
        "hazard": found.hazard,
        "from": found.blamed.profile.scientific_name if found.blamed else None,
        "to": found.target.profile.scientific_name,
        "from_group": found.blamed_label,
        "to_group": found.target_label,
        "sentence": found.sentence,
        "likelihood": round(rated.likelihood, 4) if rated else None,
        "likelihood_without": round(rated.without, 4) if rated else None,
        "likelihood_level": " to ".join(rated.likelihood_levels) if rated else None,
        "consequence": str(rated.consequence) if rated else None,
        "risk": rated.risk if rated else 0,
        "level": str(rated.level) if rated else "cannot rate",
        "from_month": found.from_month,
        "to_month": found.to_month,
        "figures": {figure.key: float(f"{figure.value:.4g}") for figure in found.figures},
        "because": list(found.because),
        "cannot_rate": found.missing or None,
        "confidence": told.confidence,
        "rests_on": list(told.rests_on),
        "remedies": [_remedy(remedy) | {"finding_risk": remedy.finding_risk} for remedy in screened.remedies_for(told)],
    }


def _remedy(remedy: Remedy) -> dict[str, Any]:
    return {"change": remedy.change, "risk": remedy.risk, "level": str(remedy.level), **decided(remedy.verdict)}


def decided(verdict: Verdict) -> dict[str, Any]:
    """A verdict, and the others that the draws cannot tell from it."""
    return {"verdict": verdict.words, "close_to": list(verdict.close_to)}


def schema() -> dict[str, Any]:
    """JSON Schema of `as_data`, for programs that read screenings."""
    text, number, whole = {"type": "string"}, {"type": "number"}, {"type": "integer"}
    texts = list_of(text)
    level = {"enum": [str(level) for level in Level]}
    share = {"type": "number", "minimum": 0, "maximum": 1}
    consequence = {"enum": [*map(str, Consequence), None]}
    remedy = mapping(change=text, risk=whole, level=level, verdict=text, close_to=texts)
    finding = mapping(
        hazard=text,
        **{"from": {"type": ["string", "null"]}},
        to=text,
        from_group={"type": ["string", "null"], "description": "as sentences call it; tells groups of a species apart"},
        to_group=text,
        sentence=text,
        likelihood={**share, "type": ["number", "null"]},
        likelihood_without={
            **share,
            "type": ["number", "null"],
            "description": "draws in which it happens without the newcomers too, where only the others count",
        },
        likelihood_level={"type": ["string", "null"], "description": " | ".join(Likelihood)},
        consequence=consequence,
        risk={**whole, "minimum": 0, "maximum": 20},
        level={"enum": [*map(str, Level), "cannot rate"]},
        from_month={"type": ["integer", "null"]},
        to_month={"type": ["integer", "null"]},
        figures={"type": "object", "additionalProperties": number},
        because=texts,
        cannot_rate={"type": ["string", "null"]},
        confidence=text,
        rests_on=texts,
        remedies=list_of(mapping(**remedy["properties"], finding_risk=whole)),
    )
    findings = list_of(finding)
    proposal = mapping(
        name=text,
        verdict={"type": "string", "description": " | ".join((*VERDICTS.values(), CANNOT_BE_JUDGED))},
        close_to={**texts, "description": "other verdicts that so many draws cannot tell from it"},
        risk=whole,
        level=level,
        likelihood={**share, "description": "draws in which any finding of that consequence happens"},
        consequence=consequence,
        rated={"type": "boolean"},
        findings=findings,
        remedies_searched={"type": "boolean"},
        best_change={"anyOf": [remedy, {"type": "null"}]},
        sensitivity=text,
        watch=texts,
        narrowest_margin=text,
        was={"type": ["integer", "null"], "description": "the risk that an earlier screening found"},
        cautions=texts,
    )
    whole_screening = mapping(
        coswim=text,
        schema={"const": SCHEMA},
        plan=text,
        draws=whole,
        seed=whole,
        months=whole,
        note=text,
        assumed=texts,
        as_it_stands_verdict=text,
        as_it_stands_close_to=texts,
        as_it_stands_risk=whole,
        as_it_stands=findings,
        proposals=list_of(proposal),
    )
    return {"$schema": "https://json-schema.org/draft/2020-12/schema", "title": "coswim screening", **whole_screening}


def list_of(items: dict[str, Any]) -> dict[str, Any]:
    """The schema of a list of such items."""
    return {"type": "array", "items": items}


def mapping(**properties: Any) -> dict[str, Any]:
    """The schema of a mapping with all of these keys and no others."""
    return {"type": "object", "properties": properties, "required": list(properties), "additionalProperties": False}
