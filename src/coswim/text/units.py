"""The units in which a keeper thinks, and sentences in house units said in those.

Everything inside is in cm, L, C and dGH. A report on a plan that was written in inches or Fahrenheit says its
figures so. Only words change: no value that was judged is touched, so rounding never changes a verdict.
"""

from __future__ import annotations

import math
import re
from collections.abc import Mapping
from types import MappingProxyType
from typing import NamedTuple

from coswim.text.quantities import CM_PER_INCH, L_PER_IMPERIAL_GALLON, L_PER_US_GALLON, PPM_PER_DGH


class Units(NamedTuple):
    """One unit for each thing that is measured, as it is written."""

    length: str = "cm"
    temperature: str = "C"
    volume: str = "L"
    hardness: str = "dGH"


HOUSE = Units()


class Conversion(NamedTuple):
    """How a house unit becomes another one: value * factor + offset."""

    unit: str
    factor: float
    offset: float = 0.0


OTHERS: Mapping[tuple[str, str], Conversion] = MappingProxyType(
    {
        ("cm", "in"): Conversion("in", 1 / CM_PER_INCH),
        ("mm", "in"): Conversion("in", 0.1 / CM_PER_INCH),
        ("cm2", "in"): Conversion("sq in", 1 / CM_PER_INCH**2),
        ("C", "F"): Conversion("F", 1.8, 32.0),
        ("L", "gal"): Conversion("gal", 1 / L_PER_US_GALLON),
        ("L", "imp gal"): Conversion("imp gal", 1 / L_PER_IMPERIAL_GALLON),
        ("dGH", "ppm"): Conversion("ppm", PPM_PER_DGH),
    }
)
"""By house unit and wanted unit."""
KIND = MappingProxyType({"cm": 0, "mm": 0, "cm2": 0, "C": 1, "L": 2, "dGH": 3})
"""Which of `Units` a house unit belongs to."""
NUMBER = r"[0-9]{1,3}(?:,[0-9]{3})+|[0-9]+(?:\.[0-9]+)?"
BETWEEN = r"–|-| against | to | and | x | instead of | or "
SAID = re.compile(
    rf"(?<![\w.])((?:{NUMBER})(?:(?:{BETWEEN})(?:{NUMBER})){{0,5}})(?: (cm2|cm|mm|C|L|dGH))(?![\w])( a day)?"
)
DIFFERENCE_AFTER = re.compile(
    r"\s+(?:above|below|outside|warmer|cooler|colder|too|within|inside|left|beyond|of swing)\b"
)
DIFFERENCE_BEFORE = re.compile(
    r"\b(?:by|swing of|swings by|give or take|within|margin of|margin is|swing is|half a?)\s*(?:about )?$"
)
ONE = re.compile(NUMBER)


def in_units(words: str, units: Units) -> str:
    """A sentence with its figures in a keeper's units.

    >>> in_units("At 26 C it measures 6.0 against 1.8 cm; 1 C below the most.", Units("in", "F", "gal"))
    'At 79 F it measures 2.4 against 0.71 in; 1.8 F below the most.'
    """
    if units == HOUSE:
        return words

    def said(match: re.Match[str]) -> str:
        scale = scale_of(match[2], units)
        if scale is None:
            return match[0]
        is_difference = DIFFERENCE_AFTER.match(match.string, match.end()) or DIFFERENCE_BEFORE.search(
            match.string, 0, match.start()
        )
        offset = 0.0 if is_difference else scale.offset
        numbers = ONE.sub(lambda number: converted(number[0], scale.factor, offset), match[1])
        return f"{numbers} {scale.unit}{match[3] or ''}"

    return SAID.sub(said, words)


def scale_of(unit: str, units: Units) -> Conversion | None:
    """How a house unit is said to this keeper; None where it is said as it is.

    >>> scale_of("mm", Units(length="in")).unit, scale_of("mm", HOUSE)
    ('in', None)
    """
    return OTHERS.get((unit, units[KIND[unit]])) if unit in KIND else None


def converted(number: str, factor: float, offset: float = 0.0) -> str:
    """A written number in another unit, with about as many digits.

    >>> converted("60", 1 / 2.54), converted("1.8", 1 / 2.54), converted("26", 1.8, 32), converted("1,920", 0.155)
    ('24', '0.71', '79', '298')
    """
    digits = max(2, len(number.replace(",", "").replace(".", "").strip("0")))
    value = float(number.replace(",", "")) * factor + offset
    if value == 0:
        return "0"
    places = max(0, digits - 1 - math.floor(math.log10(abs(value))))
    if offset:  # degrees are told apart by the reader's thermometer, not by the digits of the other scale
        places = 1 if "." in number else 0
    rounded = f"{value:,.{places}f}"
    return rounded.rstrip("0").rstrip(".") if "." in rounded else rounded
