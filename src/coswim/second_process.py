"""A second process that works something out while the first goes on, or that shares its work.

Linux alone lets one part safely.
"""

from __future__ import annotations

import copyreg
import os
import pickle
import signal
import sys
from collections.abc import Callable, Iterable, Iterator
from contextlib import suppress
from types import MappingProxyType
from typing import Any, Generic, NoReturn, TypeVar

CAN_PART = sys.platform == "linux"
"""A process may part into two; elsewhere that is not there or not safe, and one process does all."""
MOST = 2
"""Processes that share work where the machine has as many cores. Source: judgement, what leaves a machine of use."""
MadeT = TypeVar("MadeT")
TOKEN = 4
"""Bytes in which a place is written."""
MOST_TOKENS = 1000
"""Tokens that wait at most: what the smallest pipe holds, of 4,096 bytes, so that nothing waits for a reader."""


class SecondProcess(Generic[MadeT]):
    """What a function makes, being worked out by a process with all that this one has.

    An interruption is the first one's business: the second pays no heed to it. OSError where the system has no room
    for another process.
    """

    def __init__(self, make: Callable[[], MadeT]) -> None:
        receiver, sender = os.pipe()
        try:
            self._process = os.fork()
        except OSError:
            os.close(receiver)
            os.close(sender)
            raise
        if self._process == 0:
            os.close(receiver)
            _make(make, sender)
        os.close(sender)
        self._receiver = os.fdopen(receiver, "rb")

    def made(self) -> MadeT:
        """What was made; waits for it, and is asked once. What was raised is raised here.

        ChildProcessError where the process was ended before all was sent.
        """
        sent = self._receiver.read()
        self._leave()
        try:
            made = pickle.loads(sent)  # noqa: S301 - our own
        except (EOFError, pickle.UnpicklingError):
            raise ChildProcessError("a second process of coswim was ended by the system") from None
        if isinstance(made, Exception):
            raise made
        return made  # type: ignore[no-any-return]

    def close(self) -> None:
        """End it where nobody has asked."""
        if self._process:
            os.kill(self._process, signal.SIGKILL)
            self._leave()

    def _leave(self) -> None:
        os.waitpid(self._process, 0)
        self._process = 0
        self._receiver.close()


class Places:
    """Places 0, 1, ... that several processes take in turn, each place once; made before they part."""

    def __init__(self, number: int) -> None:
        self._number, self._step = number, -(-number // MOST_TOKENS) or 1
        self._waiting, writer = os.pipe()
        os.write(writer, b"".join(first.to_bytes(TOKEN) for first in range(0, number, self._step)))
        os.close(writer)
        self._first_process = os.getpid()
        self.begun = 0

    def __iter__(self) -> Iterator[int]:
        """Those that nobody has taken yet; none any more where the first process is gone and nobody waits."""
        while os.getpid() == self._first_process or os.getppid() == self._first_process:
            token = os.read(self._waiting, TOKEN)
            if not token:
                return
            first = int.from_bytes(token)
            self.begun = min(first + self._step, self._number)
            yield from range(first, self.begun)

    def close(self) -> None:
        """Let go of them."""
        os.close(self._waiting)


def at_work() -> int:
    """How many processes may share work on this machine."""
    return min(MOST, os.cpu_count() or 1) if CAN_PART else 1


def shared(
    work: Callable[[Iterable[int]], Iterable[MadeT]], number: int, *, processes: int
) -> Iterator[tuple[int, MadeT]]:
    """What `work` makes of the places 0 to `number` - 1, with how many places are begun; in any order.

    It is given places as it asks for them. Each process takes those that nobody has taken yet, this one among them.
    ChildProcessError where another was ended before all that it made was sent.
    """
    places = Places(number)
    others: list[SecondProcess[list[MadeT]]] = []
    try:
        with suppress(OSError):  # no room for another: those that there are do all
            others += (SecondProcess(lambda: list(work(places))) for _ in range(processes - 1))
        yield from ((places.begun, made) for made in work(places))
        for other in others:
            yield from ((number, made) for made in other.made())
    finally:
        places.close()
        for other in others:
            other.close()


def _sent(mapping: MappingProxyType[Any, Any]) -> tuple[Callable[..., MappingProxyType[Any, Any]], tuple[Any, ...]]:
    """How a read-only mapping, which cannot be sent as it is, is made again where it arrives."""
    return _read_only, (dict(mapping),)


def _read_only(mapping: dict[Any, Any]) -> MappingProxyType[Any, Any]:
    return MappingProxyType(mapping)


copyreg.pickle(MappingProxyType, _sent)


def _make(make: Callable[[], object], sender: int) -> NoReturn:
    """In the second process: work it out and send it; whatever happens, that is all it does."""
    try:
        signal.signal(signal.SIGINT, signal.SIG_IGN)
        try:
            made = make()
        except Exception as error:
            made = error
        with os.fdopen(sender, "wb") as stream:
            pickle.dump(made, stream, pickle.HIGHEST_PROTOCOL)
    finally:
        os._exit(0)
