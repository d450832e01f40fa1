"""The traits of a model of a species, read from its fields, so that nothing which goes through them keeps a list."""

from __future__ import annotations

from functools import cache
from typing import NamedTuple

from pydantic import BaseModel
from pydantic.fields import FieldInfo

from coswim.profiles import scales
from coswim.text.fields import model_in, reader_in


class Trait(NamedTuple):
    """One field of a profile: its path, what a reader calls it, its unit or scale, and its parts if it has any."""

    name: str
    label: str
    unit: str
    scale: scales.Scale | None
    parts: tuple[Trait, ...]


@cache
def traits(model: type[BaseModel], block: str = "") -> tuple[Trait, ...]:
    """Every field of a model, in its order; `block` is the trait that the model stands for."""
    return tuple(_trait(f"{block}.{name}" if block else name, field) for name, field in model.model_fields.items())


def _trait(name: str, field: FieldInfo) -> Trait:
    words = name.rpartition(".")[2].replace("_", " ").capitalize()
    model, reader = model_in(field.annotation), reader_in(*field.metadata, field.annotation)
    spoken = tuple(reader.schema.get("enum", ())) if reader else ()
    return Trait(
        name,
        field.title or words,
        reader.unit if reader else "",
        next((scale for scale in scales.SCALES if scale.words == spoken), None),
        traits(model, name) if model else (),
    )
