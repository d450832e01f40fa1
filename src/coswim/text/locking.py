"""A file for one process alone, until it is done or ends in any other way."""

from __future__ import annotations

import os
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from coswim.text.saving import AS_THE_KEEPER_HAS_IT


class Busy(Exception):
    """Another process has the file."""


@contextmanager
def locked(path: Path, *, wait: bool = True) -> Iterator[int]:
    """The open file, which is made where there is none; Busy where another has it and is not waited for.

    An editor may put a new file in the place of the one that was opened; then the new one is taken.
    """
    while True:
        handle = os.open(path, os.O_RDWR | os.O_CREAT | getattr(os, "O_BINARY", 0), AS_THE_KEEPER_HAS_IT)
        try:
            _lock(handle, wait=wait)
            if _is_still(handle, path):
                yield handle
                return
        finally:
            os.close(handle)  # gives up the lock too


def _is_still(handle: int, path: Path) -> bool:
    try:
        return os.path.samestat(os.fstat(handle), path.stat())
    except FileNotFoundError:
        return False


if sys.platform == "win32":
    import msvcrt

    FAR = 1 << 30  # a lock may lie past the end; reading and writing stay free

    def _lock(handle: int, *, wait: bool) -> None:
        os.lseek(handle, FAR, os.SEEK_SET)
        try:
            msvcrt.locking(handle, msvcrt.LK_LOCK if wait else msvcrt.LK_NBLCK, 1)
        except OSError:
            if wait:
                raise
            raise Busy from None

else:
    import fcntl

    def _lock(handle: int, *, wait: bool) -> None:
        try:
            fcntl.flock(handle, fcntl.LOCK_EX if wait else fcntl.LOCK_EX | fcntl.LOCK_NB)
        except BlockingIOError:
            raise Busy from None
