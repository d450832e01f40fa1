"""Text from a plan or profile is untrusted: what must not reach a reader's screen, and how wide the rest is.

Control characters can drive a terminal, direction overrides can make a sentence read as another one, and
line breaks can leave the place that a text was given. Each format escapes its own signs besides.
"""

from __future__ import annotations

import re
import unicodedata
from types import MappingProxyType

SPACES = re.compile(r" {2,}")
REPLACEMENT = "\N{REPLACEMENT CHARACTER}"
JOINERS = "\N{ZERO WIDTH NON-JOINER}\N{ZERO WIDTH JOINER}"  # scripts and pictographs need them; they only join
LINE_BREAKS = "\t\n\v\f\r\x1c\x1d\x1e\x1f\x85\N{LINE SEPARATOR}\N{PARAGRAPH SEPARATOR}"
UNPRINTABLE = frozenset({"Cc", "Cf", "Cs", "Zl", "Zp"})
WIDTHLESS = frozenset({"Mn", "Me", "Cf"})
PLAIN_SIGNS = MappingProxyType(
    str.maketrans(
        {
            "–": "-", "—": "-", "−": "-", "×": "x", "·": "-", "…": "...", "≤": "<=", "≥": ">=", "≈": "~",
            "°": " deg ", "µ": "u", "“": '"', "”": '"', "‘": "'", "’": "'", "→": "->", "±": "+/-",
            "▁": "_", "▂": ".", "▃": "-", "▄": "=", "▅": "+", "▆": "*", "▇": "%", "█": "#",
            "\N{NO-BREAK SPACE}": " ", "\N{NARROW NO-BREAK SPACE}": " ", REPLACEMENT: "?",
        }
    )
)  # fmt: skip
"""Signs of the trade in ASCII, for readers whose machine may lack them. Letters stay as they are."""


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


def cells(text: str) -> int:
    """How many columns the text takes on a screen with fixed width: East Asian wide letters take two.

    >>> cells("fish"), cells("金魚")
    (4, 4)
    """
    return len(text) if text.isascii() else sum(map(_cells_of, text))


def longest_run(text: str, sign: str) -> int:
    """The length of the longest unbroken run of one sign.

    >>> longest_run("a `` b ```", "`")
    3
    """
    longest = run = 0
    for character in text:
        run = run + 1 if character == sign else 0
        longest = max(longest, run)
    return longest


def _shown(character: str) -> str:
    if character in LINE_BREAKS:
        return " "
    if character in JOINERS or unicodedata.category(character) not in UNPRINTABLE:
        return character
    return REPLACEMENT


def _cells_of(character: str) -> int:
    if unicodedata.category(character) in WIDTHLESS:
        return 0
    return 2 if unicodedata.east_asian_width(character) in "WF" else 1
