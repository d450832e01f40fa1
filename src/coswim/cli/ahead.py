"""The built-in library parsed ahead by a second process, while the first still loads what it works with.

Parsing some hundred files takes about as long as judging half of their species, and at the start a second core has
nothing to do. Only plain data comes back, and it is checked as ever. A file that cannot be parsed is left out: it is
read, and complained about, when it is asked for; so are all where there is no second process, or where it died.
"""

from __future__ import annotations

import os
from collections.abc import Mapping, Sequence
from contextlib import suppress
from functools import partial
from pathlib import Path
from typing import Any

from coswim.profiles.catalog import BUILT_IN, profile_files
from coswim.second_process import CAN_PART, SecondProcess
from coswim.text.document import document_of
from coswim.text.problems import InputProblems

WHOLE_LIBRARY = "shortlist"
"""The command that reads it."""
THREADS = Path("/proc/self/task")
"""Where Linux has an entry for each thread of a process."""


class Ahead:
    """The files of a folder, being parsed."""

    def __init__(self, folder: Path) -> None:
        self._parsing: SecondProcess[Mapping[str, Any]] | None = None
        if may_part():
            with suppress(OSError):  # no room for it: all is read when it is asked for
                self._parsing = SecondProcess(partial(parsed_in, folder))

    def parsed(self) -> Mapping[str, Any]:
        """The plain data in each file that could be parsed, by its path; waits for it, and is asked once."""
        parsing, self._parsing = self._parsing, None
        try:
            return parsing.made() if parsing else {}
        except ChildProcessError:  # all is read when it is asked for
            return {}

    def close(self) -> None:
        """End it where nobody has asked."""
        if self._parsing:
            self._parsing.close()


def begun_for(arguments: Sequence[str]) -> Ahead | None:
    """The built-in library, being parsed, for the command that reads it; None for any other."""
    return Ahead(BUILT_IN) if [*arguments[:1]] == [WHOLE_LIBRARY] else None


def may_part() -> bool:
    """There is a core for a second process, and no thread whose work would be lost in it."""
    return CAN_PART and (os.cpu_count() or 1) > 1 and len([*THREADS.glob("*")]) == 1


def parsed_in(folder: Path) -> Mapping[str, Any]:
    """The plain data in each file of a folder that can be parsed, by its path."""
    found: dict[str, Any] = {}
    for path in profile_files(folder):
        with suppress(InputProblems):
            found[str(path)] = document_of(path).data
    return found
