"""What is pinned, compared but for rounding: another processor or numpy may differ in the last digit of a figure.

Numbers are of single precision, and of those that are shown some lie between two digits.
"""

from __future__ import annotations

import re
from itertools import zip_longest

FIGURE = re.compile(r"\d+(?:\.\d+)?")


def without_figures(text: str) -> str:
    """The text with every number the same."""
    return FIGURE.sub("#", text)


def differing(text: str, pinned: str) -> list[tuple[str, str]]:
    """The lines that are not the same, but for one in the last place of a number; whole numbers are the same.

    >>> differing("risk 12, 0.305 of it", "risk 12, 0.306 of it"), differing("risk 12", "risk 13")
    ([], [('risk 12', 'risk 13')])
    """
    pairs = zip_longest(text.splitlines(), pinned.splitlines(), fillvalue="")
    return [(one, other) for one, other in pairs if one != other and not _but_for_rounding(one, other)]


def _but_for_rounding(one: str, other: str) -> bool:
    if without_figures(one) != without_figures(other):
        return False
    return all(_are_near(*pair) for pair in zip(FIGURE.findall(one), FIGURE.findall(other), strict=True))


def _are_near(one: str, other: str) -> bool:
    places = max(len(number.partition(".")[2]) for number in (one, other))
    return one == other or (places > 0 and abs(float(one) - float(other)) < 1.5 * 10.0**-places)
