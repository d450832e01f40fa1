"""A problem is a value: where in the keeper's text something is wrong, and what would be right."""

from __future__ import annotations

from collections.abc import Iterable
from typing import NamedTuple


class Problem(NamedTuple):
    """One thing wrong in one place; line and column count from 1, 0 means the whole file."""

    file: str
    line: int
    column: int
    path: str
    message: str

    def __str__(self) -> str:
        place = f"{self.file}:{self.line}:{self.column}" if self.line else self.file
        return ": ".join(part for part in (place, self.path, self.message) if part)


class InputProblems(Exception):
    """All problems of what was read, sorted by position and raised once."""

    def __init__(self, problems: Iterable[Problem]) -> None:
        self.problems = tuple(sorted(set(problems)))
        super().__init__("\n".join(str(problem) for problem in self.problems))


def whole_file(file: str, message: str) -> InputProblems:
    """A problem that has no line: the file as such cannot be used."""
    return InputProblems([Problem(file, 0, 0, "", message)])
