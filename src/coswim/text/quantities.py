"""Quantities as people write them: `28 cm`, `11 in`, `75 gal`, `79 F`, `140 ppm`, `25-35 cm`.

House units are cm, L, C, dGH, days, g and plain fractions. A plain number takes the field's own unit.
Conversions are the definitions (NIST for inch and gallons; 1 dGH = 10 mg/L CaO = 17.848 mg/L CaCO3)
and the tests hold them against pint. A whole degree Fahrenheit is read to the half degree Celsius, which is as
near as a thermometer shows it and as it was meant: `75-79 F` is `24-26 C` and no wider.
"""

from __future__ import annotations

import math
import re
from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType
from typing import NamedTuple

from coswim.text.printable import quoted

CM_PER_INCH = 2.54
CM_PER_FOOT = 30.48
L_PER_US_GALLON = 3.785411784
L_PER_IMPERIAL_GALLON = 4.54609
PPM_PER_DGH = 17.848
G_PER_OUNCE = 28.349523125
G_PER_POUND = 453.59237
ML_PER_CUBIC_CM = 1000.0
MM_PER_CM = 10.0
CM2_PER_M2 = 10_000.0
DAYS_PER_WEEK = 7.0
MONTHS_PER_YEAR = 12.0
DAYS_PER_MONTH = 30.44
"""The mean month: 365.25 days over 12."""

LONGEST_QUANTITY = 60
"""Characters of a quantity; what is longer is none and is not looked at. Source: judgement."""
NUMBER = r"[0-9]++(?:[.,][0-9]++)?+"
SIGNED = re.compile(rf"([+-]?{NUMBER})\s*+(.*)")
SPAN = re.compile(rf"({NUMBER})\s*+([^\d\s.,–-][^\d–-]*?)?(?:-|–|\bto\b)\s*+({NUMBER})\s*+(.*)")
BOX = re.compile(r"[x×*]|\bby\b", re.IGNORECASE)
FRACTION = re.compile(r"(?:([0-9]{1,9})[\s-]+)?([0-9]{1,9})\s*[/⁄]\s*([0-9]{1,9})")
WHOLE = re.compile(r"[+-]?[0-9]{1,12}")
GROUPED = re.compile(r"[1-9][0-9]{0,2},[0-9]{3}")
SPELLED = MappingProxyType({"": "a plain number", "f": "F"})
"""How a unit is shown in a message, where that is not how it is compared."""


HALVES = 2
"""A whole degree Fahrenheit is read to so many parts of a degree Celsius. An aquarium thermometer is marked in whole
degrees and read half way between (judgement); half a degree Celsius is 0.9 F, so no two whole degrees become one."""


class QuantityError(ValueError):
    """The text is not such a quantity; the message says what is allowed."""


@dataclass(frozen=True)
class Range:
    """A low and a high value in house units; equal when only one value is given."""

    low: float
    high: float

    @property
    def middle(self) -> float:
        """Half way between the two ends."""
        return (self.low + self.high) / 2

    def __str__(self) -> str:
        return f"{self.low:g}" if self.low == self.high else f"{self.low:g}-{self.high:g}"


@dataclass(frozen=True)
class Box:
    """Inside length, width and height of a tank, cm; length is the longer side of the floor."""

    length: float
    width: float
    height: float

    @property
    def floor(self) -> float:
        """Length by width, cm2."""
        return self.length * self.width

    @property
    def litres(self) -> float:
        """Gross volume, L."""
        return self.length * self.width * self.height / ML_PER_CUBIC_CM

    def __str__(self) -> str:
        return f"{self.length:g} x {self.width:g} x {self.height:g} cm"


class Quantity(NamedTuple):
    """What a number measures: its house unit, the units people write, and what is possible.

    `units` maps a unit (lower case) to factor and offset: house = written * factor + offset.
    """

    name: str
    unit: str
    low: float
    high: float
    units: Mapping[str, tuple[float, float]] = MappingProxyType({})
    example: str = ""

    def parse(self, text: str) -> float:
        """The value in house units; raises QuantityError naming what is allowed."""
        written = _short(text)
        _refuse_fractions(text)
        if SPAN.fullmatch(written):
            raise QuantityError(f"{quoted(text)} is a range; one value is wanted here, e.g. '{self.example}'")
        match = SIGNED.fullmatch(written)
        if not match:
            raise QuantityError(f"{quoted(text)} is not a {self.name}; write e.g. '{self.example}'")
        return self._checked(self._convert(match[1], match[2], text), text)

    def parse_range(self, text: str) -> Range:
        """A range `low-high` (or one value, taken as both ends) in house units."""
        written = _short(text)
        match = None if FRACTION.search(text) else SPAN.fullmatch(written)
        if not match:
            value = self.parse(text)
            return Range(value, value)
        low = self._checked(self._convert(match[1], match[2] or match[4], text), text)
        high = self._checked(self._convert(match[3], match[4], text), text)
        if low > high:
            raise QuantityError(f"{quoted(text)} runs backwards; write the lower value first")
        return Range(low, high)

    def _convert(self, number: str, unit: str, text: str) -> float:
        if GROUPED.fullmatch(number):
            raise QuantityError(_ambiguous(number, unit, text))
        key = " ".join(unit.split()).casefold().replace("°", "").strip() or self.unit.casefold()
        if key not in self.units and len(key) > 1:
            key = key.removesuffix(".")
        if key not in self.units:
            known = ", ".join(self.usual_units)
            raise QuantityError(f"{quoted(text)} has the unknown unit {quoted(unit.strip())}; allowed: {known}")
        factor, offset = self.units[key]
        value = float(number.replace(",", ".")) * factor + offset
        return round(value * HALVES) / HALVES if offset and WHOLE.fullmatch(number) else value

    @property
    def usual_units(self) -> tuple[str, ...]:
        """The units to name to a reader: the house unit, then one spelling of each other."""
        spellings = {self.units[self.unit.casefold()]: self.unit}
        for unit, scale in self.units.items():
            spellings.setdefault(scale, unit)
        return tuple(SPELLED.get(unit, unit) for unit in spellings.values())

    def _checked(self, value: float, text: str) -> float:
        if not math.isfinite(value) or not self.low <= value <= self.high:
            unit = f" {self.unit}" if self.unit else ""
            is_percent = "%" in self.units and text.strip()[-1:].isdigit() and self.low <= value / 100 <= self.high
            percent = f"; for percent write '{text.strip()} %'" if is_percent else ""
            raise QuantityError(f"{quoted(text)} is outside {self.low:g} to {self.high:g}{unit}{percent}")
        return value


def _short(text: str, *, quantities: int = 1) -> str:
    """The text without white space around it; QuantityError where it is too long to be so many quantities."""
    written, longest = text.strip(), LONGEST_QUANTITY * quantities
    if len(written) > longest:
        raise QuantityError(f"{quoted(written)} is too long; allowed: {longest} characters")
    return written


def _refuse_fractions(text: str) -> None:
    """QuantityError with the decimal numbers to write, where there is a `1/2` or `1 1/2`."""

    def decimal(match: re.Match[str]) -> str:
        return f"{int(match[1] or 0) + int(match[2]) / int(match[3]):.3g}" if int(match[3]) else match[0]

    wanted = FRACTION.sub(decimal, text.strip())
    if wanted != text.strip():
        raise QuantityError(f"{quoted(text)} has a fraction; write {wanted}")


def _ambiguous(number: str, unit: str, text: str) -> str:
    """Why a comma that may stand between thousands or before decimals is not read."""
    if unit.startswith(","):
        return f"{quoted(text)} has several commas; write the number without them"
    whole, decimal = number.replace(",", ""), float(number.replace(",", "."))
    return f"{quoted(text)} may mean {whole} or {decimal}; write {whole} or {decimal}"


def _units(**units: float) -> dict[str, tuple[float, float]]:
    return {name: (factor, 0.0) for name, factor in units.items()}


_LENGTHS = MappingProxyType(
    _units(cm=1, mm=0.1, m=100, ft=CM_PER_FOOT, feet=CM_PER_FOOT, foot=CM_PER_FOOT)
    | dict.fromkeys(("in", "inch", "inches", '"', "”", "“", "″", "''"), (CM_PER_INCH, 0.0))
)
_FRACTIONS = MappingProxyType({"": (1.0, 0.0), "%": (0.01, 0.0), "percent": (0.01, 0.0)})
_VOLUMES = MappingProxyType(
    _units(l=1, litre=1, litres=1, liter=1, liters=1, ml=0.001)
    | dict.fromkeys(("gal", "gallon", "gallons", "us gal", "us gallon"), (L_PER_US_GALLON, 0.0))
    | dict.fromkeys(("imp gal", "imperial gallon", "imperial gallons", "uk gal"), (L_PER_IMPERIAL_GALLON, 0.0))
)
_TEMPERATURES = MappingProxyType(
    dict.fromkeys(("c", "celsius", "deg c"), (1.0, 0.0))
    | dict.fromkeys(("f", "fahrenheit", "deg f"), (5 / 9, -160 / 9))
)
_HARDNESS = MappingProxyType(
    dict.fromkeys(("dgh", "dh", "gh", "d"), (1.0, 0.0))
    | dict.fromkeys(("ppm", "mg/l", "mg/l caco3", "ppm caco3"), (1 / PPM_PER_DGH, 0.0))
)
_DAYS = MappingProxyType(_units(day=1, days=1, d=1, week=DAYS_PER_WEEK, weeks=DAYS_PER_WEEK))
_MONTHS = MappingProxyType(_units(month=1, months=1) | dict.fromkeys(("year", "years", "y"), (MONTHS_PER_YEAR, 0.0)))
_STAYS = MappingProxyType(
    _MONTHS
    | dict.fromkeys(("day", "days", "d"), (1 / DAYS_PER_MONTH, 0.0))
    | dict.fromkeys(("week", "weeks"), (DAYS_PER_WEEK / DAYS_PER_MONTH, 0.0))
)
_OPENINGS = MappingProxyType(
    _units(mm=1, cm=10) | dict.fromkeys(("in", "inch", "inches", '"'), (10 * CM_PER_INCH, 0.0))
)
_WEIGHTS = MappingProxyType(
    _units(g=1, gram=1, grams=1, kg=1000, mg=0.001)
    | dict.fromkeys(("oz", "ounce", "ounces"), (G_PER_OUNCE, 0.0))
    | dict.fromkeys(("lb", "lbs", "pound", "pounds"), (G_PER_POUND, 0.0))
)

FISH_LENGTH = Quantity("length", "cm", 0.5, 500, _LENGTHS, "28 cm")
FISH_WEIGHT = Quantity("weight", "g", 0.01, 200_000, _WEIGHTS, "40 g")
TANK_SIDE = Quantity("tank side", "cm", 10, 2000, _LENGTHS, "180 cm")
VOLUME = Quantity("volume", "L", 1, 100_000, _VOLUMES, "560 L")
VOLUME_PER_DAY = Quantity(
    "drip rate", "L/day", 0, 100_000,
    {f"{unit}{per}": scale for unit, scale in _VOLUMES.items() for per in ("/day", " a day", " per day")},
    "10 L/day",
)  # fmt: skip
TEMPERATURE = Quantity("temperature", "C", 0, 45, _TEMPERATURES, "26 C")
PH = Quantity("pH", "", 3, 11, {"": (1.0, 0.0), "ph": (1.0, 0.0)}, "7.0")
HARDNESS = Quantity("hardness", "dGH", 0, 100, _HARDNESS, "6 dGH")
CONCENTRATION = Quantity("concentration", "mg/L", 0, 1000, {"mg/l": (1.0, 0.0), "ppm": (1.0, 0.0)}, "5 mg/L")
BODY_FRACTION = Quantity("fraction of standard length", "", 0.005, 1.5, _FRACTIONS, "0.12-0.15")
LENGTH_FRACTION = Quantity("fraction of total length", "", 0.3, 1, _FRACTIONS, "0.85")
SHARE = Quantity("share", "", 0, 1, _FRACTIONS, "35 %")
GROWTH_RATE = Quantity(
    "growth coefficient", "per year", 0.01, 20, {"per year": (1.0, 0.0), "/year": (1.0, 0.0)}, "0.4-0.7"
)
DURATION = Quantity("number of days", "days", 0.1, 365, _DAYS, "7 days")
HORIZON = Quantity("horizon", "months", 1, 240, _MONTHS, "24 months")
MEALS = Quantity(
    "number of meals", "a day", 0.1, 24, {"a day": (1.0, 0.0), "per day": (1.0, 0.0), "/day": (1.0, 0.0)}, "2 a day"
)
STAY = Quantity("time", "months", 0.03, 600, _STAYS, "8 months")
OPENING = Quantity("measure", "mm", 0.2, 500, _OPENINGS, "41 mm")
FOOD = Quantity(
    "weight of food", "g a day", 0.001, 10_000,
    {f"{unit}{per}": scale for unit, scale in _WEIGHTS.items() for per in ("", "/day", " a day", " per day", " daily")},
    "6 g a day",
)  # fmt: skip
RATION = Quantity("part of their weight", "", 0.0005, 0.5, _FRACTIONS, "2 %")


def parse_whole(text: str, *, low: int = 0, high: int = 10_000) -> int:
    """A whole number between `low` and `high`."""
    if not WHOLE.fullmatch(_short(text)):
        raise QuantityError(f"{quoted(text)} is not a whole number; allowed: {low} to {high}")
    number = int(text)
    if not low <= number <= high:
        raise QuantityError(f"{quoted(text)} is outside {low} to {high}")
    return number


def parse_yes_no(text: str) -> bool:
    """`yes` or `no` (also true, false, on, off)."""
    word = text.strip().casefold()
    if word in {"yes", "true", "on"}:
        return True
    if word in {"no", "false", "off"}:
        return False
    raise QuantityError(f"{quoted(text)} is not yes or no")


def parse_box(text: str) -> Box:
    """A tank's inside size `length x width x height`; one unit at the end serves all three."""
    parts = [part.strip() for part in BOX.split(_short(text, quantities=3))]
    if len(parts) != 3:
        match = SIGNED.fullmatch(text.strip())
        is_volume = match and match[2].strip().casefold().removesuffix(".") in VOLUME.units
        why = " but a volume; the three sides are needed" if is_volume else ""
        raise QuantityError(
            f"{quoted(text)} is not a size{why}; write length x width x height, e.g. '180 x 60 x 60 cm'"
        )
    _refuse_fractions(text)
    unit = match[2] if (match := SIGNED.fullmatch(parts[-1])) else ""
    sides = [part if re.search(r"[^\d.,\s]", part) else f"{part} {unit}" for part in parts]
    length, width, height = (TANK_SIDE.parse(side) for side in sides)
    return Box(max(length, width), min(length, width), height)
