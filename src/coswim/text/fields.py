"""Typed fields for models that are read from text: each knows its unit, limits and an example.

A model field is declared once, `adult_length: LengthRange`, and from that declaration come the
parsing, the messages and the JSON Schema.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from functools import lru_cache
from typing import Annotated, Any, get_args

from pydantic import BaseModel, ConfigDict, GetCoreSchemaHandler, GetJsonSchemaHandler
from pydantic_core import CoreSchema, core_schema

from coswim.text import quantities as q
from coswim.text.printable import quoted
from coswim.text.problems import did_you_mean

LONGEST_TEXT = 500
REMEMBERED = 512
"""Different texts of one field that are read once."""


class Strict(BaseModel):
    """A frozen model that refuses keys it does not know."""

    model_config = ConfigDict(extra="forbid", frozen=True, defer_build=True)  # most are only read as parts of another


@dataclass(frozen=True, eq=False)  # hashed by identity, as an annotation must be
class FromText:
    """Reads a field from text with `parse` and describes it by a JSON Schema.

    A value that is no text comes from code building a model; it is validated as the field's type alone.
    """

    parse: Callable[[str], Any]
    schema: Mapping[str, Any]
    unit: str = ""

    def read(self, value: Any) -> Any:
        """The value that a text stands for; ValueError saying what is allowed."""
        if isinstance(value, str):
            return self.parse(value)
        if isinstance(value, dict | list):
            shape = "a mapping" if isinstance(value, dict) else "a list"
            raise ValueError(f"{shape} is not allowed here; write one value, e.g. {_example(self.schema)!r}")
        return value

    def __get_pydantic_core_schema__(self, source: Any, handler: GetCoreSchemaHandler) -> CoreSchema:
        return core_schema.no_info_before_validator_function(self.read, handler(source))

    def __get_pydantic_json_schema__(self, schema: CoreSchema, handler: GetJsonSchemaHandler) -> dict[str, Any]:
        return dict(self.schema)


def as_list(value: Any) -> Any:
    """One text where a list is wanted is a list of one."""
    return [value] if isinstance(value, str) else value


def no_repeats(words: tuple[str, ...]) -> tuple[str, ...]:
    """The words, each of them only once; ValueError naming one that is repeated."""
    repeated = next((word for word, times in Counter(words).items() if times > 1), None)
    if repeated is not None:
        raise ValueError(f"{quoted(repeated)} is listed twice")
    return words


def model_in(annotation: Any) -> type[BaseModel] | None:
    """The model that a field holds, itself or in a list or as one that may be left out."""
    if isinstance(annotation, type) and issubclass(annotation, BaseModel):
        return annotation
    return next((found for inner in get_args(annotation) if (found := model_in(inner))), None)


def reader_in(*pieces: Any) -> FromText | None:
    """What reads a field from text, out of its metadata and annotation."""
    for piece in pieces:
        inner = (*getattr(piece, "__metadata__", ()), *get_args(piece))
        found = piece if isinstance(piece, FromText) else reader_in(*inner)
        if found:
            return found
    return None


def _example(schema: Mapping[str, Any]) -> Any:
    return (schema.get("examples") or schema.get("enum") or ["text"])[0]


def _schema(quantity: q.Quantity) -> dict[str, Any]:
    unit = f" {quantity.unit}" if quantity.unit else ""
    text = f"{quantity.name}, {quantity.low:g} to {quantity.high:g}{unit}"
    return {"type": ["string", "number"], "description": text, "examples": [quantity.example or "1"]}


def _remembering(parse: Callable[[str], Any]) -> Callable[[str], Any]:
    """The same reading of a text; a library repeats its words and figures, and what they stand for never changes."""
    return lru_cache(maxsize=REMEMBERED)(parse)


def _one(quantity: q.Quantity) -> FromText:
    return FromText(_remembering(quantity.parse), schema=_schema(quantity), unit=quantity.unit)


def _range(quantity: q.Quantity) -> FromText:
    return FromText(_remembering(quantity.parse_range), schema=_schema(quantity), unit=quantity.unit)


def whole_number(low: int, high: int) -> FromText:
    """A whole number between two bounds."""
    schema = {"type": ["integer", "string"], "minimum": low, "maximum": high, "examples": [max(low, 1)]}
    return FromText(lambda text: q.parse_whole(text, low=low, high=high), schema=schema)


def one_of(words: tuple[str, ...], *, what: str) -> FromText:
    """One word of a closed vocabulary; a near match is offered."""

    def parse(text: str) -> str:
        if text not in words:
            raise ValueError(f"{quoted(text)} is not a {what}; allowed: {', '.join(words)}{did_you_mean(text, words)}")
        return text

    return FromText(parse, schema={"type": "string", "enum": list(words)})


def _plain_text(text: str) -> str:
    if not text.strip():
        raise ValueError("is empty; write some text")
    if len(text) > LONGEST_TEXT:
        raise ValueError(f"is longer than {LONGEST_TEXT} characters")
    return " ".join(text.split())


Text = Annotated[str, FromText(_remembering(_plain_text), schema={"type": "string", "examples": ["text"]})]
YesNo = Annotated[bool, FromText(q.parse_yes_no, schema={"type": ["boolean", "string"], "examples": ["yes"]})]
Length = Annotated[float, _one(q.FISH_LENGTH)]
TankLength = Annotated[float, _one(q.TANK_SIDE)]
Weight = Annotated[float, _one(q.FISH_WEIGHT)]
LengthRange = Annotated[q.Range, _range(q.FISH_LENGTH)]
BodyFraction = Annotated[q.Range, _range(q.BODY_FRACTION)]
LengthFraction = Annotated[float, _one(q.LENGTH_FRACTION)]
Share = Annotated[float, _one(q.SHARE)]
GrowthRange = Annotated[q.Range, _range(q.GROWTH_RATE)]
Temperature = Annotated[float, _one(q.TEMPERATURE)]
Ph = Annotated[float, _one(q.PH)]
Hardness = Annotated[float, _one(q.HARDNESS)]
TemperatureRange = Annotated[q.Range, _range(q.TEMPERATURE)]
PhRange = Annotated[q.Range, _range(q.PH)]
HardnessRange = Annotated[q.Range, _range(q.HARDNESS)]
Drip = Annotated[float, _one(q.VOLUME_PER_DAY)]
Concentration = Annotated[float, _one(q.CONCENTRATION)]
Days = Annotated[float, _one(q.DURATION)]
Stay = Annotated[float, _one(q.STAY)]
Opening = Annotated[float, _one(q.OPENING)]
Months = Annotated[float, _one(q.HORIZON)]
Meals = Annotated[float, _one(q.MEALS)]
TankSize = Annotated[q.Box, FromText(q.parse_box, schema={"type": "string", "examples": ["180 x 60 x 60 cm"]})]
