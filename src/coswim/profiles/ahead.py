"""The built-in library parsed ahead by a second process, while the first still loads what it works with.

Parsing some hundred files takes about as long as judging half of their species, and at the start a second core has
nothing to do. Only plain data comes back, and it is checked as ever. A file that cannot be parsed is left out: it is
read, and complained about, when it is asked for; so are all where there is no second process, or where it died.
"""

from __future__ import annotations

import json
import os
import signal
import sys
from collections.abc import Mapping
from contextlib import suppress
from pathlib import Path
from typing import Any, NoReturn

from coswim.profiles.catalog import profile_files
from coswim.text.document import document_of
from coswim.text.problems import InputProblems

THREADS = Path("/proc/self/task")
"""Where Linux has an entry for each thread of a process."""


class Ahead:
    """The files of a folder, being parsed."""

    def __init__(self, folder: Path) -> None:
        self._parser = 0
        if may_part():
            self._receiver, sender = os.pipe()
            self._parser = os.fork()
            if self._parser == 0:
                _parse(folder, sender)
            os.close(sender)

    def parsed(self) -> Mapping[str, Any]:
        """The plain data in each file that could be parsed, by its path; waits for it, and is asked once."""
        if not self._parser:
            return {}
        with open(self._receiver, "rb") as receiver:  # noqa: PTH123 - a pipe
            sent = receiver.read()
        self._leave()
        try:
            found: dict[str, Any] = json.loads(sent)
        except ValueError:  # it was ended before all was sent
            return {}
        return found

    def close(self) -> None:
        """End it where nobody has asked."""
        if self._parser:
            os.close(self._receiver)
            os.kill(self._parser, signal.SIGKILL)
            self._leave()

    def _leave(self) -> None:
        os.waitpid(self._parser, 0)
        self._parser = 0


def may_part() -> bool:
    """There is a core for a second process, and no thread whose work would be lost in it."""
    return sys.platform == "linux" and (os.cpu_count() or 1) > 1 and len([*THREADS.glob("*")]) == 1


def parsed_in(folder: Path) -> Mapping[str, Any]:
    """The plain data in each file of a folder that can be parsed, by its path."""
    found: dict[str, Any] = {}
    for path in profile_files(folder):
        with suppress(InputProblems):
            found[str(path)] = document_of(path).data
    return found


def _parse(folder: Path, sender: int) -> NoReturn:
    """In the second process: parse all and send it; whatever happens, that is all it does."""
    try:
        signal.signal(signal.SIGINT, signal.SIG_IGN)  # an interruption is the first one's business
        with open(sender, "wb") as stream:
            stream.write(json.dumps(parsed_in(folder)).encode())
    finally:
        os._exit(0)
