"""The library as data for programs: house units (cm, C, dGH, fractions of standard length), ranges as low and high."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import asdict
from typing import TYPE_CHECKING, Any

from coswim.text.printable import json_text

if TYPE_CHECKING:
    from coswim.library.evidence import Support
    from coswim.library.listing import Listed
    from coswim.profiles.profile import Profile
    from coswim.text.quantities import Range


def species(found: Iterable[Listed]) -> str:
    """The species of a list."""
    return json_text([_species(each) for each in found])


def support(found: Iterable[Support]) -> str:
    """How many profiles support each block how well."""
    return json_text([asdict(each) for each in found])


def profile(shown: Profile) -> str:
    """One whole profile; what it does not state is left out."""
    return json_text(shown.model_dump(mode="json", exclude_none=True))


def _species(each: Listed) -> dict[str, Any]:
    entry = each.entry
    return {
        "scientific_name": entry.scientific_name,
        "also_known_as": list(entry.also_known_as),
        "common_names": list(entry.common_names),
        "family": entry.family,
        "built_in": entry.built_in,
        "adult_length": _range(each.adult_length),
        "temperature": _range(each.temperature),
        "ph": _range(each.ph),
        "hardness": _range(each.hardness),
        "smallest_group": each.smallest_group,
    }


def _range(found: Range | None) -> dict[str, float] | None:
    return {"low": found.low, "high": found.high} if found else None
