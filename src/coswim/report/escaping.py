"""How wide text stands on a screen, and which signs of the trade have an ASCII form."""

from __future__ import annotations

import re
import unicodedata
from types import MappingProxyType

from coswim.text.printable import REPLACEMENT

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
    return max(map(len, re.findall(f"{re.escape(sign)}+", text)), default=0)


def _cells_of(character: str) -> int:
    if unicodedata.category(character) in WIDTHLESS:
        return 0
    return 2 if unicodedata.east_asian_width(character) in "WF" else 1
