"""Sound plans and profiles at the very ends of what the models allow, made from the models' own fields."""

from __future__ import annotations

from random import Random
from typing import Any

import yaml
from pydantic import BaseModel
from pydantic.fields import FieldInfo
from seeds import HOSTILE

from coswim.plans.plan import Plan
from coswim.profiles.catalog import BUILT_IN, Catalog
from coswim.profiles.profile import Profile
from coswim.text.fields import FromText, model_in, reader_in
from coswim.text.quantities import Quantity

CATALOG = Catalog((BUILT_IN,))
SPECIES = tuple(sorted(CATALOG.entries))
TEXTS = tuple(text for text in HOSTILE if text.strip() and len(text) < 500 and not set(text) & set("\x00\ufffe\udcff"))
BOXES = ("10 x 10 x 10 cm", "2000 x 2000 x 2000 cm", "2000 x 10 x 10 cm", "180 x 60 x 60 cm")
GIVEN = frozenset(
    {"residents", "proposals", "sources", "scientific_name", "common_names", "private", "earlier", "profiles"}
)
"""What is made by hand, since its parts must agree."""
STATED = 0.6
"""How often a field is stated that may be left out."""


def plan(random: Random) -> bytes:
    """A plan of extremes."""
    data = _mapping(random, Plan)
    if "feeding" in data:
        data["feeding"] |= _fed(random, data["feeding"])
    data["residents"] = _groups(random, *random.choices((1, 2, 4, 12), (50, 30, 15, 5)))
    data["proposals"] = [
        {"name": f"{number} {random.choice(TEXTS)}", "add": _groups(random, *random.choices((1, 2, 5), (70, 25, 5)))}
        for number in range(*random.choices((1, 2, 5), (80, 15, 5)))
    ]
    return _written(data)


def _fed(random: Random, feeding: dict[str, Any]) -> dict[str, Any]:
    """What the fields of feeding take that no text of theirs tells."""
    foods = [food for food in feeding.get("food", ()) if food != "mixed"] or ["mixed"]
    stated = {
        "amount": random.choice(("as needed", "0.001 g a day", "10000 g a day", "0.05 % of their weight a day")),
        "by_hand": random.sample(SPECIES, k=min(2, len(SPECIES))),
        "food": foods,
    }
    return {name: value for name, value in stated.items() if name in feeding}


def profile(random: Random) -> bytes:
    """A profile of extremes."""
    data = _mapping(random, Profile)
    data |= {"scientific_name": "Fictus exemplaris", "common_names": ["example fish"]}
    data["sources"] = {block: "memory" for block in data if block in ("adult_length", "body", "growth", "mouth_gape")}
    return _written(data)


def _written(data: Any) -> bytes:
    return bytes(yaml.dump(data, allow_unicode=True, encoding="utf-8", sort_keys=False))


def _groups(random: Random, number: int) -> list[dict[str, Any]]:
    groups = []
    for _ in range(number):
        species = random.choice(SPECIES)
        lengths = CATALOG.profile(species).adult_length
        length = min(500.0, random.choice((0.5, lengths.low, lengths.high, lengths.high * 1.2)))
        count = random.choice((1, 1, 2, 30, 1000))
        groups.append({"species": species, "count": str(count), "length": f"{length:.6g} cm"})
    return groups


def _mapping(random: Random, model: type[BaseModel]) -> dict[str, Any]:
    return {
        name: _value(random, field)
        for name, field in model.model_fields.items()
        if name not in GIVEN and (field.is_required() or random.random() < STATED)
    }


def _value(random: Random, field: FieldInfo) -> Any:
    inner, reader = model_in(field.annotation), reader_in(*field.metadata, field.annotation)
    if inner is not None:
        return _mapping(random, inner)
    assert reader is not None
    if "tuple" in str(field.annotation):
        return list(dict.fromkeys(_text(random, reader) for _ in range(random.randint(1, 3))))
    return _text(random, reader)


def _text(random: Random, reader: FromText) -> str:
    """A text that a field takes, at an end of what it takes."""
    parse = getattr(reader.parse, "__wrapped__", reader.parse)  # what remembers its answers wraps the reading
    quantity, schema = getattr(parse, "__self__", None), reader.schema
    if isinstance(quantity, Quantity):
        ends = [f"{quantity.low:.10g} {quantity.unit}", f"{quantity.high:.10g} {quantity.unit}"]
        return random.choice(
            (*ends, f"{quantity.low:.10g}-{quantity.high:.10g} {quantity.unit}")[
                : 3 if "range" in parse.__name__ else 2
            ]
        ).strip()
    if "enum" in schema:
        return str(random.choice(schema["enum"]))
    if "minimum" in schema:
        return str(random.choice((schema["minimum"], schema["maximum"])))
    if "boolean" in schema["type"]:
        return random.choice(("yes", "no"))
    return random.choice(BOXES if "x 60" in str(schema.get("examples")) else TEXTS)
