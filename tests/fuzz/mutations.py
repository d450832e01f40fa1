"""How a sound text becomes an odd one: by its bytes, by its words and signs, by the shape of its data."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from random import Random
from typing import Any

import yaml
from seeds import HOSTILE, KEYS, NUMBERS, TOKENS, UNITS, WORDS

Place = tuple[Any, Any]
"""A mapping or list, and the key or index of one thing in it."""
TOKEN = re.compile(r"\w+|\s+|[^\w\s]")
RAW = (
    b"\x00",
    b"\xff",
    b"\xfe\xff",
    b"\xef\xbb\xbf",
    b"\x1b[2J",
    b"\xc2\x9b",
    b"\xe2\x80\xae",
    b"\xed\xa0\x80",
    b"\r",
    b"\t",
    b"\n",
    b"\xf4\x90\x80\x80",
)


def by_bytes(random: Random, text: str, other: str) -> bytes:
    """Some bytes changed, lost, doubled, or a part of another text put in; sometimes another encoding."""
    raw = bytearray(text.encode("utf-8", "surrogatepass"))
    for _ in range(random.choice((1, 1, 2, 5, 20))):
        at = random.randrange(len(raw) + 1)
        match random.randrange(6):
            case 0:
                raw[at:at] = random.choice(RAW)
            case 1:
                raw[at : at + 1] = bytes([random.randrange(256)])
            case 2:
                del raw[at : at + random.choice((1, 1, 10, 200))]
            case 3:
                raw[at:at] = raw[at : at + random.choice((1, 20, 500))] * random.choice((1, 2, 50))
            case 4:
                begin = random.randrange(len(other) + 1)
                raw[at:at] = other[begin : begin + random.choice((5, 50, 500))].encode()
            case 5:
                raw = raw[:at] or raw
    if random.random() < 0.05:
        return (
            bytes(raw)
            .decode("utf-8", "replace")
            .encode(random.choice(("utf-16", "utf-32", "cp037", "utf-8-sig")), "replace")
        )
    return bytes(raw[:200_000])


def by_tokens(random: Random, text: str, other: str) -> bytes:
    """Some words, numbers and signs changed for others, lines moved, lost and doubled."""
    tokens = TOKEN.findall(text)
    for _ in range(random.choice((1, 1, 2, 4, 12))):
        at = random.randrange(len(tokens) + 1) if tokens else 0
        match random.randrange(5):
            case 0:
                tokens[at : at + 1] = [random.choice(TOKENS)]
            case 1:
                tokens[at:at] = [random.choice(TOKENS)]
            case 2:
                del tokens[at : at + random.choice((1, 1, 3, 10))]
            case 3:
                tokens[at:at] = TOKEN.findall(other)[at : at + random.choice((1, 5, 30))]
            case 4:
                tokens[at:at] = tokens[at : at + random.choice((1, 5, 30))] * random.choice((1, 3, 30))
    lines = "".join(tokens).split("\n")
    if random.random() < 0.3:
        at = random.randrange(len(lines))
        lines[at] = random.choice(("  ", "\t", " ", "> ", "- ", "# ", "")) + lines[at].lstrip(random.choice((" ", "x")))
    if random.random() < 0.1:
        random.shuffle(lines)
    return "\n".join(lines).encode("utf-8", "surrogatepass")[:200_000]


def by_structure(random: Random, text: str, other: str) -> bytes:
    """The data with values of another kind, keys lost, renamed, moved, and lists grown; written in some style."""
    data = yaml.load(text, yaml.CBaseLoader)  # noqa: S506 - it makes text and nothing else
    for _ in range(random.choice((1, 1, 2, 4, 10))):
        places = list(_places(data))
        if not places:
            break
        _change(random, random.choice(places), places, other)
    written: str = yaml.dump(
        data,
        allow_unicode=random.random() < 0.7,
        width=random.choice((20, 80, 10_000)),
        default_flow_style=random.choice((True, False, None)),
        default_style=random.choice((None, None, None, '"', "'")),
    )
    return written.encode("utf-8", "surrogatepass")[:1_000_000]


def _places(node: Any) -> Iterator[Place]:
    """Every (container, key) of some data."""
    inside = node.items() if isinstance(node, dict) else enumerate(node) if isinstance(node, list) else ()
    for key, value in list(inside):
        yield node, key
        yield from _places(value)


def _change(random: Random, place: Place, places: list[Place], other: str) -> None:
    container, key = place
    match random.randrange(7):
        case 0 | 1:
            container[key] = value_of(random)
        case 2:
            del container[key]
        case 3 if isinstance(container, list):
            container.extend([container[key]] * random.choice((1, 5, 70, 400)))
        case 4 if isinstance(container, dict):
            container[random.choice((*KEYS, *HOSTILE))] = container.pop(key)
        case 5:
            source, at = random.choice(places)
            if not isinstance(source[at], dict | list):  # a part within itself could not be written
                container[key] = source[at]
        case 6:
            container[key] = yaml.load(other, yaml.CBaseLoader)  # noqa: S506 - likewise


def value_of(random: Random) -> Any:
    """A value of any kind."""
    kinds: tuple[Callable[[], Any], ...] = (
        lambda: random.choice(NUMBERS),
        lambda: f"{random.choice(NUMBERS)} {random.choice(UNITS)}",
        lambda: random.choice(HOSTILE),
        lambda: random.choice(WORDS),
        lambda: "",
        list,
        dict,
        lambda: [value_of(random) for _ in range(random.randrange(4))],
        lambda: {random.choice((*KEYS, *HOSTILE)): value_of(random) for _ in range(random.randrange(3))},
        lambda: [random.choice(WORDS)] * random.choice((2, 30, 2000)),
        lambda: _nested(random.choice((5, 20, 60))),
    )
    return random.choice(kinds)()


def _nested(depth: int) -> Any:
    node: Any = "x"
    for _ in range(depth):
        node = [node]
    return node


WAYS: dict[str, Callable[[Random, str, str], bytes]] = {
    "bytes": by_bytes,
    "tokens": by_tokens,
    "structure": by_structure,
}
