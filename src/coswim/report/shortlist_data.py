"""A shortlist as data: a documented, versioned JSON contract, and its JSON Schema.

Everything under `private:` in a plan stays out. Lengths are cm, food g of dry food a day; shares are rounded.
"""

from __future__ import annotations

from math import isfinite
from typing import Any

from coswim import __version__
from coswim.plans.plan import GroupEntry
from coswim.profiles.profile import Profile
from coswim.report.data import decided, list_of, mapping
from coswim.shortlist.burden import Burden
from coswim.shortlist.instead import Replaced
from coswim.shortlist.judged import Advice, Excluded
from coswim.shortlist.making import Shortlist
from coswim.text.printable import json_text
from coswim.verdict.risk import VERDICTS, Level

SCHEMA = 1
DIGITS = 4


def write(found: Shortlist) -> str:
    """The shortlist as JSON text."""
    return json_text(as_data(found))


def as_data(found: Shortlist) -> dict[str, Any]:
    """The shortlist as plain data, every species of it."""
    return {
        "coswim": __version__,
        "schema": SCHEMA,
        "plan": found.read.name,
        "draws": found.effort.draws,
        "seed": found.effort.seed,
        "months": found.horizon,
        "note": "model output for ranking and explaining, not a calibrated probability",
        "known": found.known,
        "looked_at": found.looked_at,
        "instead": _replaced(found.instead) if found.instead else None,
        "entries": [_entry(entry) for entry in found.entries],
        "pairs": None if found.pairs is None else [_entry(entry) for entry in found.pairs],
        "funnel": [{"reason": share.words, "count": share.species} for share in found.funnel],
        "excluded": [_excluded(one) for one in found.excluded],
    }


def _entry(entry: Advice) -> dict[str, Any]:
    return {
        "add": [_group(*each) for each in zip(entry.add, entry.profiles, strict=True)],
        **decided(entry.verdict),
        "risk": entry.risk_number,
        "level": str(entry.risk.level) if entry.risk else str(Level.LOW),
        "decides": entry.decides or None,
        "hazard": entry.reason.hazard if entry.reason else None,
        "cannot_rate": list(entry.unrated),
        "takes": _takes(entry.burden),
        "cautions": list(entry.cautions),
    }


def _group(group: GroupEntry, profile: Profile) -> dict[str, Any]:
    return {
        "species": profile.scientific_name,
        "name": profile.name,
        "count": group.count,
        "males": group.males,
        "length": group.length,
        "in_trade": profile.in_trade,
    }


def _takes(costs: Burden) -> dict[str, Any]:
    return {
        "food_added": round(costs.added, DIGITS),
        "food_before": round(costs.before, DIGITS),
        "food_over_normal": round(costs.price, DIGITS) if isfinite(costs.price) else None,
        "water_change": costs.share,
        "water_change_days": costs.every if costs.share is not None else None,
    }


def _excluded(one: Excluded) -> dict[str, Any]:
    return {
        "species": one.scientific_name,
        "name": one.name,
        "hazard": one.reason.hazard,
        "reason": one.reason.words.of_many,
        "decides": one.decides,
    }


def _replaced(fish: Replaced) -> dict[str, Any]:
    return {"fish": _group(fish.group, fish.profile), **decided(fish.verdict), "failings": list(fish.failings)}


def schema() -> dict[str, Any]:
    """JSON Schema of `as_data`, for programs that read shortlists."""
    text, whole, number = {"type": "string"}, {"type": "integer"}, {"type": "number"}
    maybe_text, maybe_number = {"type": ["string", "null"]}, {"type": ["number", "null"]}
    texts = list_of(text)
    verdict = {"type": "string", "description": " | ".join(VERDICTS.values())}
    group = mapping(
        species=text, name=text, count=whole, males={"type": ["integer", "null"]}, length=number, in_trade=maybe_text
    )
    takes = mapping(
        food_added={**number, "description": "dry food beyond what the tank takes without them, g a day"},
        food_before={**number, "description": "dry food that the tank takes without them, g a day"},
        food_over_normal={
            **maybe_number,
            "description": "food over what all need at which the slowest keeps its weight; null where none does",
        },
        water_change={**maybe_number, "description": "share that holds 50 mg/L of nitrate; null where none does"},
        water_change_days=maybe_number,
    )
    entry = mapping(
        add=list_of(group),
        verdict=verdict,
        close_to=texts,
        risk={**whole, "minimum": 0, "maximum": 20},
        level={"enum": [str(level) for level in Level]},
        decides=maybe_text,
        hazard=maybe_text,
        cannot_rate=texts,
        takes=takes,
        cautions=texts,
    )
    replaced = mapping(fish=group, verdict=verdict, close_to=texts, failings=texts)
    shortlist = mapping(
        coswim=text,
        schema={"const": SCHEMA},
        plan=text,
        draws=whole,
        seed=whole,
        months=whole,
        note=text,
        known=whole,
        looked_at=whole,
        instead={"anyOf": [replaced, {"type": "null"}]},
        entries=list_of(entry),
        pairs={"anyOf": [list_of(entry), {"type": "null"}]},
        funnel=list_of(mapping(reason=text, count=whole)),
        excluded=list_of(mapping(species=text, name=text, hazard=text, reason=text, decides=text)),
    )
    return {"$schema": "https://json-schema.org/draft/2020-12/schema", "title": "coswim shortlist", **shortlist}
