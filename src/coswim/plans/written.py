"""A plan as YAML that others can paste and run: what the keeper stated, quantities with units, nothing private.

What was not stated stays out, so that a plan that is read back takes the same things for granted. Text
that could be markup in a forum post or could steer a screen is escaped the way YAML has for it, so the
plan survives in a code block of any format.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Iterator, Mapping
from contextvars import ContextVar
from dataclasses import dataclass
from decimal import Decimal
from types import MappingProxyType
from typing import Any

from pydantic import BaseModel

from coswim.plans.amount import Amount
from coswim.plans.carried import Carried
from coswim.plans.plan import Plan
from coswim.text import quantities as q
from coswim.text.printable import yaml_escape
from coswim.text.quantities import Box, Quantity, Range
from coswim.text.units import HOUSE, Units


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
        "adult_length": Written(q.FISH_LENGTH, ("cm", "in")),
        "mouth": Written(q.OPENING, ("mm", "in")),
        "depth": Written(q.OPENING, ("mm", "in")),
        "width": Written(q.OPENING, ("mm", "in")),
        "weight": Written(q.FISH_WEIGHT, ("g", "oz")),
        "time": Written(q.STAY, ("months", "weeks", "days")),
        "horizon": Written(q.HORIZON, ("months",)),
    }
)
"""By field name. A number in another field is written bare, which is read in the field's own unit."""
GRAMS_A_DAY = Written(q.FOOD, ("g a day",))
PART_OF_WEIGHT = Written(q.RATION, ("%",))
PRIVATE, PROFILES = "private", "profiles"
KEPT_OPEN = "tank:"  # what a reader changes first stands on lines of its own
LONGEST = 70
PREFERRED: ContextVar[Units] = ContextVar("PREFERRED", default=HOUSE)
"""The units of the plan that is being written: taken where another one is no rounder."""
DIGITS = 6
PLAIN_TEXT = re.compile(r"[^\W_][\w .,'()/+-]*")
FLOW_TEXT = re.compile(r"[^\W_][\w .'()/+-]*")
MARKUP = frozenset('"\\[]<>&`~')
STEP = "  "


def write_plan(plan: Plan, *, units: Units = HOUSE, own: Iterable[Carried] = ()) -> str:
    """The plan as YAML text that reads back to the same plan, in the units it was written in where these are round.

    `own` are the blocks of profiles that a reader's library does not have.
    """
    token = PREFERRED.set(units)
    try:
        lines = [*_mapping(plan, "")]
    finally:
        PREFERRED.reset(token)
    carried = [line for each in own for line in _carried(each)]
    return "\n".join([*lines, *([f"{PROFILES}:", *carried] if carried else [])]) + "\n"


def _carried(carried: Carried) -> Iterator[str]:
    """One profile's blocks as an entry of a list."""
    start = f"{STEP}- "
    for key, value in carried.blocks.items():
        yield from _block(start, key, value)
        start = f"{STEP}  "


def _block(start: str, key: str, value: Any) -> Iterator[str]:
    """A block in one line where it fits, else its parts below it."""
    flow = _raw(value)
    inner = " " * len(start) + STEP
    if len(start) + len(key) + len(flow) <= LONGEST or not isinstance(value, Mapping | list):
        yield from _text(f"{start}{key}: ", value, inner) if isinstance(value, str) else [f"{start}{key}: {flow}"]
        return
    yield f"{start}{key}:"
    for part in value.items() if isinstance(value, Mapping) else value:
        if isinstance(part, tuple):
            yield from _block(inner, *part)
        else:
            yield from _text(f"{inner}- ", part, inner + STEP) if isinstance(part, str) else [f"{inner}- {_raw(part)}"]


def _raw(value: Any) -> str:
    """Text as it stood in a profile, with its lists and mappings, on one line."""
    if isinstance(value, Mapping):
        return f"{{{', '.join(f'{_raw(key)}: {_raw(part)}' for key, part in value.items())}}}"
    if isinstance(value, list):
        return f"[{', '.join(map(_raw, value))}]"
    return "".join(_quoted_if_needed(str(value or ""), FLOW_TEXT))


def _stated(model: BaseModel) -> list[tuple[str, Any]]:
    """The fields that the keeper wrote and their values, in the model's order."""
    hidden = (PRIVATE, PROFILES)
    names = (name for name in type(model).model_fields if name in model.model_fields_set and name not in hidden)
    return [(name, value) for name in names if (value := getattr(model, name)) is not None]


def _mapping(model: BaseModel, indent: str) -> Iterator[str]:
    for name, value in _stated(model):
        start = f"{indent}{name}:"
        if isinstance(value, BaseModel):
            yield from _inner(value, start, indent + STEP)
        elif _is_words(value):
            yield f"{start} {_words(value)}"
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
        if isinstance(value, BaseModel) or (isinstance(value, tuple) and not _is_words(value)):
            return ""
        words = _words((value,))[1:-1] if isinstance(value, str) else _quantity(name, value)
        parts.append(f"{name}: {words}")
    flow = f"{{{', '.join(parts)}}}"
    return flow if len(flow) <= room else ""


def _is_words(value: Any) -> bool:
    return isinstance(value, tuple) and all(isinstance(word, str) for word in value) and bool(value)


def _words(words: tuple[str, ...]) -> str:
    """`[saddled bichir, ropefish]`."""
    return f"[{', '.join(''.join(_quoted_if_needed(word, FLOW_TEXT)) for word in words)}]"


def _quantity(name: str, value: Any) -> str:
    if _is_words(value):
        return _words(value)
    if isinstance(value, Amount):
        return _amount(value)
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, int):
        return str(value)
    if isinstance(value, Box):
        return _box(value)
    ends = (value.low, value.high) if isinstance(value, Range) else (value,)
    return _number(tuple(dict.fromkeys(ends)), QUANTITIES.get(name))


def _amount(amount: Amount) -> str:
    """`6 g a day`, `2 % of their weight a day`, or `as needed`."""
    if amount.grams is not None:
        return _number((amount.grams,), GRAMS_A_DAY)
    if amount.part_of_weight is not None:
        return f"{_number((amount.part_of_weight,), PART_OF_WEIGHT)} of their weight a day"
    return str(amount)


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
    preferred = PREFERRED.get()
    for unit in written.units:
        factor, offset = written.quantity.units[unit.casefold()]
        sides = [(value - offset) / factor for value in values]
        for numbers in ([f"{side:.0f}" for side in sides], list(map(_rounded, sides))):
            words = _with_unit(numbers, between, unit)
            if _reads_back(is_same, words):
                choices.append((len("".join(numbers)) + (unit not in preferred), words))
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


def _rounded(value: float) -> str:
    """Few digits, no exponent."""
    return _exact(float(f"{value:.{DIGITS}g}"))


def _exact(value: float) -> str:
    """All digits that tell this number from its neighbours, no exponent."""
    return format(Decimal(repr(value)), "f").removesuffix(".0")


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
    is_plain = character == " " or (character.isprintable() and character not in MARKUP)
    return character if is_plain else yaml_escape(character)
