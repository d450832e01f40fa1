"""In which units a plan is written; bare numbers that fit another unit better are asked about, not guessed."""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import Any

from coswim.text.document import Path_, YamlDocument
from coswim.text.printable import shortened
from coswim.text.problems import Problem
from coswim.text.quantities import QuantityError, parse_box
from coswim.text.units import Units

INCHES = re.compile(r"\d\s*(?:in|inch|inches|ft|feet|foot|\"|”|″|'')(?![a-z])", re.IGNORECASE)
FAHRENHEIT = re.compile(r"\d\s*(?:°\s*)?(?:f|deg f|fahrenheit)\b", re.IGNORECASE)
PPM = re.compile(r"\d\s*(?:ppm|mg/l)", re.IGNORECASE)
GALLONS = re.compile(r"\d\s*(?:us )?gal", re.IGNORECASE)
IMPERIAL = re.compile(r"\d\s*(?:imp|uk|imperial) gal", re.IGNORECASE)
BARE = re.compile(r"\s*\d+(?:[.,]\d+)?(?:\s*(?:-|–|to)\s*\d+(?:[.,]\d+)?)?\s*")
BARE_BOX = re.compile(r"[\d.,\s]+(?:[x×*]|by)[\d.,\s]+(?:[x×*]|by)[\d.,\s]+", re.IGNORECASE)
SMALL = 12.0
"""Litres below which a tank without a unit was more likely measured in inches. Source: judgement."""
HOT, HARD = 45.0, 40.0
"""Degrees and dGH above which a bare number is more likely Fahrenheit or ppm. Source: judgement."""


def units_of(document: YamlDocument) -> Units:
    """The units of the tank, else of the fish; gallons go with inches."""
    tank = _mapping(document.data, "tank")
    size = str(tank.get("size", ""))
    lengths = " ".join(str(entry.get("length", "")) for _, entry in _groups(document.data))
    inches = bool(INCHES.search(size)) or (bool(BARE_BOX.fullmatch(size)) and bool(INCHES.search(lengths)))
    drip = str(_mapping(tank, "water_change").get("drip", ""))
    gallons = "imp gal" if IMPERIAL.search(drip) else "gal" if inches or GALLONS.search(drip) else "L"
    return Units(
        length="in" if inches else "cm",
        temperature="F" if FAHRENHEIT.search(str(tank.get("temperature", ""))) else "C",
        volume=gallons,
        hardness="ppm" if PPM.search(str(tank.get("hardness", ""))) else "dGH",
    )


def unit_questions(document: YamlDocument) -> Iterator[Problem]:
    """Bare numbers that are more likely meant in another unit than the plan's own."""
    tank = _mapping(document.data, "tank")
    yield from _asked(document, ("tank", "temperature"), tank.get("temperature"), HOT, "F")
    yield from _asked(document, ("tank", "hardness"), tank.get("hardness"), HARD, "ppm")
    size = str(tank.get("size", ""))
    if BARE_BOX.fullmatch(size):
        yield from _box_question(document, size)
    elif INCHES.search(size):
        for path, entry in _groups(document.data):
            length = str(entry.get("length", ""))
            if BARE.fullmatch(length):
                words = shortened(length.strip())
                message = f"'{words}' has no unit, and the tank is in inches; write {words} in or {words} cm"
                yield document.problem((*path, "length"), message)


def _asked(document: YamlDocument, path: Path_, value: Any, above: float, unit: str) -> Iterator[Problem]:
    words = str(value).strip() if value is not None else ""
    if BARE.fullmatch(words) and float(re.split(r"[\s–-]|to", words.replace(",", "."))[-1]) > above:
        told = shortened(words)
        yield document.problem(path, f"'{told}' has no unit; {told} {unit}? Write it with its unit")


def _box_question(document: YamlDocument, size: str) -> Iterator[Problem]:
    try:
        metric, inches = parse_box(size), parse_box(f"{size} in")
    except QuantityError:
        return  # said where the size itself is read
    if metric.litres < SMALL:
        words = size.strip()
        message = (
            f"'{words}' has no unit: in cm it holds {metric.litres:.2g} L, in inches {inches.litres:.0f} L; "
            f"write {words} in or {words} cm"
        )
        yield document.problem(("tank", "size"), message)


def _mapping(data: Any, key: str) -> dict[str, Any]:
    found = data.get(key) if isinstance(data, dict) else None
    return found if isinstance(found, dict) else {}


def _groups(data: Any) -> Iterator[tuple[Path_, dict[str, Any]]]:
    if not isinstance(data, dict):
        return
    for index, entry in enumerate(_list(data.get("residents"))):
        if isinstance(entry, dict):
            yield ("residents", index), entry
    for number, proposal in enumerate(_list(data.get("proposals"))):
        for index, entry in enumerate(_list(proposal.get("add")) if isinstance(proposal, dict) else ()):
            if isinstance(entry, dict):
                yield ("proposals", number, "add", index), entry


def _list(value: Any) -> list[Any]:
    return value if isinstance(value, list) else []
