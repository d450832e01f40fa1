"""A problem is a value: where in the keeper's text something is wrong, and what would be right."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from heapq import nsmallest
from typing import NamedTuple

from coswim.text import wording
from coswim.text.printable import LONGEST_QUOTE, one_line, quoted

MOST_SHOWN = 20
"""Problems of one reading that are told in words; the rest is counted. Source: judgement, what one corrects at once."""

MOST_OFFERED = 3
LONGEST_PATH = 400
"""Characters of a file's path up to which a message repeats it whole. Source: judgement."""


class Problem(NamedTuple):
    """One thing wrong in one place; line and column count from 1, 0 means the whole file."""

    file: str
    line: int
    column: int
    path: str
    message: str

    def __str__(self) -> str:
        file = self.file
        if len(file) > LONGEST_PATH:  # its beginning and its end tell which it is
            file = f"{file[: LONGEST_PATH // 2]}...{file[-LONGEST_PATH // 2 :]}"
        place = f"{file}:{self.line}:{self.column}" if self.line else file
        return one_line(": ".join(part for part in (place, self.path, self.message) if part))


class InputProblems(Exception):
    """The problems of what was read, sorted by position and raised once: the first few, and how many more there are."""

    def __init__(self, problems: Iterable[Problem]) -> None:
        first, number = _first_of(problems)
        self.problems = tuple(first[:MOST_SHOWN])
        if number > MOST_SHOWN:
            more = wording.counted(number - MOST_SHOWN, "more problem")
            self.problems += (first[MOST_SHOWN]._replace(path="", message=f"and {more} from here on"),)
        super().__init__("\n".join(str(problem) for problem in self.problems))

    def __reduce__(self) -> tuple[object, ...]:
        """It goes from one process to another as it is; made anew, it would count its problems again."""
        return InputProblems, ((),), {"args": self.args, "problems": self.problems}


def _first_of(problems: Iterable[Problem]) -> tuple[list[Problem], int]:
    """The first few different problems and one more, and how many there are; the others are not kept."""
    seen = set[int]()

    def different() -> Iterator[Problem]:
        for problem in problems:
            if hash(problem) not in seen:
                seen.add(hash(problem))
                yield problem

    return nsmallest(MOST_SHOWN + 1, different()), len(seen)


def whole_file(file: str, message: str) -> InputProblems:
    """A problem that has no line: the file as such cannot be used."""
    return InputProblems([Problem(file, 0, 0, "", message)])


def refuse_any(problems: Iterable[Problem]) -> None:
    """Raise InputProblems where there is at least one problem."""
    found = InputProblems(problems)
    if found.problems:
        raise found


def near_matches(word: str, known: Iterable[str]) -> list[str]:
    """A few known words that look like `word`, best first.

    >>> near_matches("temprature", ["temperature", "ph"])
    ['temperature']
    """
    spelled: dict[str, str] = {}
    for name in known:
        spelled.setdefault(name.casefold(), name)
    if not spelled or len(word) > LONGEST_QUOTE:
        return []
    from difflib import get_close_matches  # only wanted when something is wrong

    return [spelled[name] for name in get_close_matches(word.casefold(), list(spelled), n=MOST_OFFERED, cutoff=0.6)]


def did_you_mean(word: str, known: Iterable[str]) -> str:
    """`; did you mean 'x'?` or nothing, to be put behind a message."""
    found = near_matches(word, known)
    return f"; did you mean {' or '.join(quoted(name) for name in found)}?" if found else ""
