"""What a new profile starts with when its keeper names no similar species: what its genus tells."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any, NamedTuple

from coswim.profiles.borrowing import BORROWED, borrow, most_frequent
from coswim.profiles.catalog import Catalog
from coswim.profiles.names import is_hybrid
from coswim.text.quantities import Range


class Draft(NamedTuple):
    """Values as they are written in a profile, by block, and the species that lent them."""

    values: Mapping[str, Any]
    lenders: tuple[str, ...]


def drafted(scientific_name: str, catalog: Catalog) -> Draft | None:
    """What the other species of its genus lend; None where the library has none of them, and for a hybrid."""
    genus = [profile for profile in catalog.genus(scientific_name) if not profile.is_hybrid]
    if not genus or is_hybrid(scientific_name):
        return None
    form = most_frequent([profile.body.form for profile in genus])
    found = {"family": most_frequent([profile.family for profile in genus]), "body.form": form}
    found |= borrow(BORROWED, genus, form=form)
    values: dict[str, Any] = {}
    for trait, value in found.items():
        block, _, part = trait.rpartition(".")
        (values.setdefault(block, {}) if block else values)[part] = _written(value)
    return Draft(values, tuple(profile.scientific_name for profile in genus))


def _written(value: Any) -> Any:
    if isinstance(value, Range):
        return f"{value.low:g}-{value.high:g}"
    return list(value) if isinstance(value, tuple) else str(value)
