"""Typed fields for models that are read from text: each knows its unit, limits and an example.

A model field is declared once, `adult_length: LengthRange`, and from that declaration come the
parsing, the messages and the JSON Schema.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Annotated, Any

from pydantic import BaseModel, BeforeValidator, ConfigDict, WithJsonSchema

from coswim.text import quantities as q
from coswim.text.near import did_you_mean


class Strict(BaseModel):
    """A frozen model that refuses keys it does not know."""

    model_config = ConfigDict(extra="forbid", frozen=True, arbitrary_types_allowed=True)


def from_text(parse: Callable[[str], Any], *, schema: dict[str, Any]) -> tuple[BeforeValidator, WithJsonSchema]:
    """The pair of annotations that reads a field from text with `parse` and describes it."""

    def read(value: Any) -> Any:
        if isinstance(value, dict | list):
            kind = "a mapping" if isinstance(value, dict) else "a list"
            raise ValueError(f"{kind} is not allowed here; write one value, e.g. {_example(schema)!r}")
        return parse(value) if isinstance(value, str) else value

    return BeforeValidator(read), WithJsonSchema(schema)


def _example(schema: dict[str, Any]) -> Any:
    examples = schema.get("examples") or schema.get("enum") or ["text"]
    return examples[0]


def _schema(kind: q.Kind) -> dict[str, Any]:
    unit = f" {kind.unit}" if kind.unit else ""
    text = f"{kind.name}, {kind.low:g} to {kind.high:g}{unit}"
    return {"type": ["string", "number"], "description": text, "examples": [kind.example or "1"]}


def _one(kind: q.Kind) -> tuple[BeforeValidator, WithJsonSchema]:
    return from_text(kind.parse, schema=_schema(kind))


def _range(kind: q.Kind) -> tuple[BeforeValidator, WithJsonSchema]:
    return from_text(kind.parse_range, schema=_schema(kind))


def whole_number(low: int, high: int) -> tuple[BeforeValidator, WithJsonSchema]:
    """A whole number between two bounds."""
    schema = {"type": ["integer", "string"], "minimum": low, "maximum": high, "examples": [max(low, 1)]}
    return from_text(lambda text: q.parse_whole(text, low=low, high=high), schema=schema)


def one_of(words: tuple[str, ...], *, what: str) -> tuple[BeforeValidator, WithJsonSchema]:
    """One word of a closed vocabulary; a near match is offered."""

    def parse(text: str) -> str:
        if text not in words:
            raise ValueError(f"{text!r} is not a {what}; allowed: {', '.join(words)}{did_you_mean(text, words)}")
        return text

    return from_text(parse, schema={"type": "string", "enum": list(words)})


def _plain_text(text: str) -> str:
    if not text.strip():
        raise ValueError("is empty; write some text")
    if len(text) > LONGEST_TEXT:
        raise ValueError(f"is longer than {LONGEST_TEXT} characters")
    return " ".join(text.split())


LONGEST_TEXT = 500

Text = Annotated[str, *from_text(_plain_text, schema={"type": "string", "examples": ["text"]})]
YesNo = Annotated[bool, *from_text(q.parse_yes_no, schema={"type": ["boolean", "string"], "examples": ["yes"]})]
Length = Annotated[float, *_one(q.FISH_LENGTH)]
LengthRange = Annotated[q.Range, *_range(q.FISH_LENGTH)]
BodyFraction = Annotated[q.Range, *_range(q.BODY_FRACTION)]
LengthFraction = Annotated[float, *_one(q.LENGTH_FRACTION)]
Share = Annotated[float, *_one(q.SHARE)]
GrowthRange = Annotated[q.Range, *_range(q.GROWTH_RATE)]
TemperatureRange = Annotated[q.Range, *_range(q.TEMPERATURE)]
PhRange = Annotated[q.Range, *_range(q.PH)]
HardnessRange = Annotated[q.Range, *_range(q.HARDNESS)]
Volume = Annotated[float, *_one(q.VOLUME)]
Drip = Annotated[float, *_one(q.VOLUME_PER_DAY)]
Concentration = Annotated[float, *_one(q.CONCENTRATION)]
Days = Annotated[float, *_one(q.DURATION)]
Months = Annotated[float, *_one(q.HORIZON)]
Meals = Annotated[float, *_one(q.MEALS)]
TankSize = Annotated[
    q.Box, *from_text(q.parse_box, schema={"type": "string", "examples": ["180 x 60 x 60 cm"]})
]  # fmt: skip
