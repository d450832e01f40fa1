"""`coswim plan new --ask`: a plan from answers to one question at a time."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from coswim.cli import asking, output
from coswim.plans.plan import GroupEntry, Plan, Proposal, Tank
from coswim.profiles.catalog import Catalog, UnknownSpecies
from coswim.text import quantities as q
from coswim.text.quantities import Quantity, QuantityError, Range
from coswim.text.units import HOUSE, Units, in_units

MOST_ASKED = 20
"""Kinds of fish that are asked for, residents and newcomers each."""


def plan(catalog: Catalog) -> tuple[Plan, Units]:
    """The plan that a keeper's answers make, and the units in which it was told."""
    size, unit = asking.until_right("Inside length x width x height of the tank, e.g. 60 x 30 x 30 cm", _box)
    temperature, degrees = asking.until_right("Temperature, e.g. 25 C, 77 F or 23-26 C", _temperature)
    ph = asking.until_right("pH, or Enter if you have not tested it", _unless_empty(q.PH))
    hardness = asking.until_right("General hardness in dGH or ppm, or Enter", _unless_empty(q.HARDNESS))
    stated = {"size": size, "temperature": temperature, "ph": ph, "hardness": hardness}
    tank = Tank(**{name: value for name, value in stated.items() if value is not None})
    units = HOUSE._replace(length=unit, temperature=degrees, volume="gal" if unit == "in" else "L")
    residents = tuple(_fish("lives there", catalog, units))
    newcomers = tuple(_fish("might be added", catalog, units))
    told = {"tank": tank, "residents": residents, "proposals": (Proposal(add=newcomers),) if newcomers else ()}
    return Plan(**{name: value for name, value in told.items() if value}), units


def _box(text: str) -> tuple[q.Box, str]:
    if not any(letter.isalpha() and letter not in "xX" for letter in text) and '"' not in text:
        raise QuantityError("write the unit too: cm or in")
    return q.parse_box(text), "in" if '"' in text or "in" in text or "ft" in text else "cm"


def _temperature(text: str) -> tuple[Range, str]:
    return q.TEMPERATURE.parse_range(text), "F" if text.rstrip().casefold().endswith("f") else "C"


def _unless_empty(quantity: Quantity) -> Callable[[str], Range | None]:
    return lambda text: quantity.parse_range(text) if text else None


def _fish(where: str, catalog: Catalog, units: Units) -> Iterator[GroupEntry]:
    """Every kind that is named, until Enter alone."""
    for number in range(MOST_ASKED):
        more = "Another kind that" if number else "Fish that"
        entry = asking.until_right(f"{more} {where} (a name, or Enter for no more)", _species(catalog))
        if entry is None:
            return
        profile = catalog.profile(entry)
        output.complain(in_units(f"  {profile.name} ({entry}), {profile.adult_length} cm when grown", units))
        count = asking.until_right("  How many", q.parse_whole, default="1")
        usual = in_units(f"{profile.usual_size:g} cm", units) if profile.usual_size else ""
        length = asking.until_right("  Total length now, snout to tail tip", q.FISH_LENGTH.parse, default=usual)
        yield GroupEntry(species=profile.name, count=count, length=length)


def _species(catalog: Catalog) -> Callable[[str], str | None]:
    """Reads a name; what is wrong with it is said where it was typed."""

    def read(text: str) -> str | None:
        try:
            return catalog.find(text).scientific_name if text else None
        except UnknownSpecies as error:
            raise QuantityError(str(error.args[0])) from None

    return read
