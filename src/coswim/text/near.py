"""Near matches: the word that was probably meant."""

from __future__ import annotations

from collections.abc import Iterable

from coswim.text.printable import LONGEST_QUOTE, quoted


def near_matches(word: str, known: Iterable[str], *, most: int = 3) -> list[str]:
    """Up to `most` known words that look like `word`, best first.

    >>> near_matches("temprature", ["temperature", "ph"])
    ['temperature']
    """
    spelled: dict[str, str] = {}
    for name in known:
        spelled.setdefault(name.casefold(), name)
    if not spelled or len(word) > LONGEST_QUOTE:
        return []
    from difflib import get_close_matches  # only wanted when something is wrong

    found = get_close_matches(word.casefold(), list(spelled), n=most, cutoff=0.6)
    return [spelled[name] for name in found]


def did_you_mean(word: str, known: Iterable[str], *, most: int = 3) -> str:
    """`; did you mean 'x'?` or nothing, to be put behind a message."""
    found = near_matches(word, known, most=most)
    return f"; did you mean {' or '.join(quoted(name) for name in found)}?" if found else ""
