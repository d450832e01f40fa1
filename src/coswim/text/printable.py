"""Text from a file is untrusted: what a screen would obey instead of show never reaches one.

Control characters can drive a terminal, direction overrides can make a sentence read as another one, and
line breaks can leave the place that a text was given. Each format of a report escapes its own signs besides.
"""

from __future__ import annotations

import json
import re
import unicodedata
from typing import Any

SPACES = re.compile(r" {2,}")
REPLACEMENT = "\N{REPLACEMENT CHARACTER}"
JOINERS = "\N{ZERO WIDTH NON-JOINER}\N{ZERO WIDTH JOINER}"  # scripts and pictographs need them; they only join
LINE_BREAKS = "\t\n\v\f\r\x1c\x1d\x1e\x1f\x85\N{LINE SEPARATOR}\N{PARAGRAPH SEPARATOR}"
UNPRINTABLE = frozenset({"Cc", "Cf", "Cs", "Zl", "Zp"})
LONGEST_QUOTE = 80
"""Characters of a foreign text that a message repeats. Source: judgement, a line of a terminal."""


def printable(text: str) -> str:
    """The text without line breaks and without anything that a screen would obey instead of show.

    >>> printable("a\\x1b[31mred\\nfish")
    'a�[31mred fish'
    """
    return text if text.isascii() and text.isprintable() else "".join(map(_shown, text))


def one_line(text: str) -> str:
    """The same with single spaces between words.

    >>> one_line("red\\n\\n  fish")
    'red fish'
    """
    return SPACES.sub(" ", printable(text))


def printable_lines(text: str) -> list[str]:
    """The lines of a text that keeps its line breaks, each of them printable."""
    return [printable(line) for line in text.replace("\r\n", "\n").rstrip("\n").split("\n")]


def shortened(text: str) -> str:
    """The text, or its beginning where it is longer than a message should repeat.

    >>> len(shortened("x" * 5000))
    80
    """
    return text if len(text) <= LONGEST_QUOTE else f"{text[: LONGEST_QUOTE - 3]}..."


def quoted(text: str) -> str:
    r"""The text as a message repeats it: shortened, in quotes, what cannot be seen escaped.

    >>> print(quoted("260\x1b C"))
    '260\x1b C'
    """
    return repr(shortened(text))


def json_text(data: Any) -> str:
    r"""Data as JSON; what a screen would obey is escaped, half a character is replaced, and NaN is refused.

    >>> print(json_text("26 °C\x9b\u202e"), end="")
    "26 °C\u009b\u202e"
    """
    text = json.dumps(data, ensure_ascii=False, indent=2, allow_nan=False)
    return "\n".join(map(_escaped, text.split("\n"))) + "\n"


def _escaped(line: str) -> str:
    return line if line.isascii() and line.isprintable() else "".join(map(_in_json, line))


def _in_json(character: str) -> str:
    shown = _shown(character)
    return shown if shown == character or unicodedata.category(character) == "Cs" else _by_number(character)


def _by_number(character: str) -> str:
    pair = character.encode("utf-16-be")
    return "".join(f"\\u{pair[at : at + 2].hex()}" for at in range(0, len(pair), 2))


def json_in_ascii(text: str) -> str:
    r"""The same JSON for an output that takes no other characters.

    >>> print(json_in_ascii('"26 °C"'))
    "26 \u00b0C"
    """
    return "".join(sign if sign.isascii() else _by_number(sign) for sign in text)


def yaml_escape(character: str) -> str:
    """A character by its code, as YAML writes it within double quotes; half a character is replaced.

    >>> yaml_escape("["), yaml_escape("\N{ZERO WIDTH SPACE}")
    ('\\\\x5B', '\\\\u200B')
    """
    code = ord(character)
    if unicodedata.category(character) == "Cs":
        return REPLACEMENT
    return f"\\x{code:02X}" if code < 0x100 else f"\\u{code:04X}" if code < 0x10000 else f"\\U{code:08X}"


def _shown(character: str) -> str:
    if character in LINE_BREAKS:
        return " "
    if character in JOINERS or unicodedata.category(character) not in UNPRINTABLE:
        return character
    return REPLACEMENT
