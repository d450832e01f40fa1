"""A plan as YAML that others can paste and run: what the keeper stated, quantities with units, nothing private.

What was not stated stays out, so that a plan that is read back takes the same things for granted. Text
that could be markup in a forum post or could steer a screen is escaped the way YAML has for it, so the
plan survives in a code block of any format.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from decimal import Decimal
from types import MappingProxyType
from typing import Any

from pydantic import BaseModel

from coswim.plans.plan import Plan
from coswim.text import quantities as q
from coswim.text.quantities import Box, Quantity, Range


@dataclass(frozen=True)
class Written:
    """How a field's quantity is written: its quantity and the units to try, its own first."""

    quantity: Quantity
    units: tuple[str, ...]


QUANTITIES: Mapping[str, Written] = MappingProxyType(
    {
        "temperature": Written(q.TEMPERATURE, ("C", "F")),
        "ph": Written(q.PH, ("",)),
        "hardness": Written(q.HARDNESS, ("dGH", "ppm")),
        "share": Written(q.SHARE, ("%",)),
        "every": Written(q.DURATION, ("days",)),
        "drip": Written(q.VOLUME_PER_DAY, ("L/day", "gal/day")),
        "nitrate_in": Written(q.CONCENTRATION, ("mg/L",)),
        "meals": Written(q.MEALS, ("a day",)),
        "length": Written(q.FISH_LENGTH, ("cm", "in")),
        "horizon": Written(q.HORIZON, ("months",)),
    }
)
"""By field name. A number in another field is written bare, which is read in the field's own unit."""
PRIVATE = "private"
KEPT_OPEN = "tank:"  # what a reader changes first stands on lines of its own
LONGEST = 70
DIGITS = 6
PLAIN_TEXT = re.compile(r"[^\W_][\w .,'()/+-]*")
FLOW_TEXT = re.compile(r"[^\W_][\w .'()/+-]*")
MARKUP = frozenset('"\\[]<>&`~')
STEP = "  "
REPLACEMENT = "\N{REPLACEMENT CHARACTER}"


def write_plan(plan: Plan) -> str:
    """The plan as YAML text that reads back to the same plan."""
    return "\n".join(_mapping(plan, "")) + "\n"


def _stated(model: BaseModel) -> list[tuple[str, Any]]:
    """The fields that the keeper wrote and their values, in the model's order."""
    names = (name for name in type(model).model_fields if name in model.model_fields_set and name != PRIVATE)
    return [(name, value) for name in names if (value := getattr(model, name)) is not None]


def _mapping(model: BaseModel, indent: str) -> Iterator[str]:
    for name, value in _stated(model):
        start = f"{indent}{name}:"
        if isinstance(value, BaseModel):
            yield from _inner(value, start, indent + STEP)
        elif isinstance(value, tuple):
            yield start if value else f"{start} []"
            for entry in value:
                yield from _entry(entry, indent + STEP)
        elif isinstance(value, str):
            yield from _text(f"{start} ", value, indent + STEP)
        else:
            yield f"{start} {_quantity(name, value)}"


def _inner(model: BaseModel, start: str, indent: str) -> Iterator[str]:
    """A mapping in one line where it fits, else below its key."""
    flow = "" if start == KEPT_OPEN else _flow(model, LONGEST - len(start) - 1)
    yield f"{start} {flow}" if flow else start
    if not flow:
        yield from _mapping(model, indent)


def _entry(model: BaseModel, indent: str) -> Iterator[str]:
    flow = _flow(model, LONGEST - len(indent) - len(STEP))
    first, *others = [flow] if flow else _mapping(model, indent + STEP)
    yield f"{indent}- {first.lstrip()}"
    yield from others


def _flow(model: BaseModel, room: int) -> str:
    """`{count: 8, length: 10 cm}`; nothing where it is too long, or nested."""
    parts = []
    for name, value in _stated(model):
        if isinstance(value, BaseModel | tuple):
            return ""
        words = "".join(_quoted_if_needed(value, FLOW_TEXT)) if isinstance(value, str) else _quantity(name, value)
        parts.append(f"{name}: {words}")
    flow = f"{{{', '.join(parts)}}}"
    return flow if len(flow) <= room else ""


def _quantity(name: str, value: Any) -> str:
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, int):
        return str(value)
    if isinstance(value, Box):
        return _box(value)
    ends = (value.low, value.high) if isinstance(value, Range) else (value,)
    return _number(tuple(dict.fromkeys(ends)), QUANTITIES.get(name))


def _number(ends: tuple[float, ...], written: Written | None) -> str:
    """One value or the two of a range, in the unit in which they are roundest."""
    if written is None:
        return "-".join(map(_exact, ends))
    wanted = Range(ends[0], ends[-1])
    return _roundest(ends, "-", written, lambda words: bool(written.quantity.parse_range(words) == wanted))


def _box(box: Box) -> str:
    sides = (box.length, box.width, box.height)
    return _roundest(sides, " x ", Written(q.TANK_SIDE, ("cm", "in")), lambda words: q.parse_box(words) == box)


def _roundest(values: tuple[float, ...], between: str, written: Written, is_same: Callable[[str], bool]) -> str:
    """The shortest numbers, of all units, that read back to exactly these values."""
    choices = []
    for unit in written.units:
        numbers = [_rounded(_in_unit(written.quantity, unit, value)) for value in values]
        words = _with_unit(numbers, between, unit)
        if _reads_back(is_same, words):
            choices.append((len("".join(numbers)), words))
    if choices:
        return min(choices, key=lambda choice: choice[0])[1]
    return _with_unit(list(map(_exact, values)), between, written.quantity.unit)


def _with_unit(numbers: list[str], between: str, unit: str) -> str:
    return f"{between.join(numbers)} {unit.removesuffix('s') if numbers == ['1'] else unit}".rstrip()


def _reads_back(is_same: Callable[[str], bool], words: str) -> bool:
    try:
        return is_same(words)
    except q.QuantityError:  # rounding went over a bound
        return False


def _in_unit(quantity: Quantity, unit: str, value: float) -> float:
    factor, offset = quantity.units[unit.casefold()]
    return (value - offset) / factor


def _rounded(value: float) -> str:
    """Few digits, no exponent."""
    return _exact(float(f"{value:.{DIGITS}g}"))


def _exact(value: float) -> str:
    """All digits that tell this number from its neighbours, no exponent."""
    words = format(Decimal(repr(value)), "f")
    return words.removesuffix(".0")


def _text(start: str, words: str, hanging: str) -> Iterator[str]:
    """A text on one line where it fits; folded otherwise."""
    *pieces, end = _quoted_if_needed(words, PLAIN_TEXT if len(start) + len(words) <= LONGEST else None)
    line = start
    for piece in pieces:
        if len(line) + len(piece) >= LONGEST and not piece.isspace():
            yield line + "\\"
            line = hanging
        line += piece
    yield line + end


def _quoted_if_needed(words: str, plain: re.Pattern[str] | None) -> Iterator[str]:
    """The text in pieces between which a quoted text may be folded; one piece when it needs no quotes."""
    if plain and plain.fullmatch(words) and not words.endswith(" "):
        yield words
    else:
        yield '"'
        yield from _pieces(words)
        yield '"'


def _pieces(words: str) -> Iterator[str]:
    """Words with their escapes, and the single spaces between; a long word in parts."""
    piece = ""
    for character in words:
        escaped = _escaped(character)
        if piece and (escaped == " " or piece == " " or len(piece) + len(escaped) > LONGEST // 2):
            yield piece
            piece = ""
        piece += escaped
    yield piece


def _escaped(character: str) -> str:
    code = ord(character)
    if 0xD800 <= code <= 0xDFFF:
        return REPLACEMENT
    if character == " " or (character.isprintable() and character not in MARKUP):
        return character
    return f"\\x{code:02X}" if code < 0x100 else f"\\u{code:04X}" if code < 0x10000 else f"\\U{code:08X}"
