"""Writing a file whole or not at all: at any moment, even when the power goes, the old or the new is there.

Everything that coswim writes to a disk goes through here, or is written under a lock that is taken here.
"""

from __future__ import annotations

import os
import re
import stat
import sys
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path
from time import time

from coswim.text.problems import whole_file

AS_THE_KEEPER_HAS_IT = 0o666
"""What a new file allows before the keeper's umask takes away from it."""
LEFT_OVER = re.compile(r"\.coswim([0-9]{1,10})\.part")
NAME_IN_PARTIAL = 40
HOUR = 3600.0


def write_whole(path: Path, content: bytes, *, make_folder: bool = False, new: bool = False) -> None:
    """Write a file so that it is never seen half-written: a new one beside it takes its place in one step.

    A link stays a link; what is no file (a device, a pipe) is written to and stays what it is. What is
    read-only is not replaced, and with `new` nothing is.
    Raises InputProblems when it cannot be written; the old file is then as it was.
    """
    try:
        if make_folder:
            path.parent.mkdir(parents=True, exist_ok=True)
        mode = _mode(path)
        if new and (mode is not None or path.is_symlink()):
            raise whole_file(str(path), "is there already; name another file or move it away")
        if mode is not None and not stat.S_ISREG(mode):
            path.write_bytes(content)
            return
        if mode is not None and not may_replace(path):
            raise whole_file(str(path), "is read-only; allow writing to it first, or name another file")
        _replace(path.resolve(), content, mode)
    except OSError as error:
        raise whole_file(str(path), f"cannot be written: {error.strerror or 'unknown reason'}") from None


def may_replace(path: Path) -> bool:
    """The keeper may write to it; a file marked read-only is left alone even by an administrator."""
    writable = stat.S_IWUSR | stat.S_IWGRP | stat.S_IWOTH
    return bool(path.stat().st_mode & writable) and os.access(path, os.W_OK)


def _mode(path: Path) -> int | None:
    """What kind of file it is and what it allows; None where there is none yet."""
    try:
        return path.stat().st_mode
    except FileNotFoundError:
        return None


def _replace(path: Path, content: bytes, mode: int | None) -> None:
    start = f".{path.name[:NAME_IN_PARTIAL]}"
    with suppress(OSError):  # a folder that may be written to but not listed
        _tidy(path.parent, start)
    partial = path.with_name(f"{start}.coswim{os.getpid()}.part")
    handle = os.open(partial, os.O_WRONLY | os.O_CREAT | os.O_EXCL, AS_THE_KEEPER_HAS_IT)
    try:
        with os.fdopen(handle, "wb") as stream:
            stream.write(content)
            stream.flush()
            os.fsync(stream.fileno())
        if mode is not None:
            partial.chmod(stat.S_IMODE(mode))
        partial.replace(path)
    finally:
        partial.unlink(missing_ok=True)
    _sync_folder(path.parent)


def _tidy(folder: Path, start: str) -> None:
    """Remove what earlier writers of the file left behind when they were killed."""
    for name in os.listdir(folder):  # noqa: PTH208 - names are all that is wanted
        owner = LEFT_OVER.fullmatch(name, len(start)) if name.startswith(start) else None
        if owner and _is_left_over(folder / name, int(owner[1])):
            (folder / name).unlink(missing_ok=True)


def _is_left_over(partial: Path, owner: int) -> bool:
    """The process that wrote it is no more, or it is too old to be still written to."""
    if owner == os.getpid():
        return True
    try:
        if os.name == "posix":  # elsewhere the question would end the process
            os.kill(owner, 0)
    except (ProcessLookupError, OverflowError):
        return True
    except OSError:
        pass
    try:
        return time() - partial.stat().st_mtime > HOUR
    except OSError:
        return False


def _sync_folder(folder: Path) -> None:
    """Have the new name on the disk too, where the system can do that for a folder."""
    if not hasattr(os, "O_DIRECTORY"):
        return
    with suppress(OSError):
        handle = os.open(folder, os.O_RDONLY | os.O_DIRECTORY)
        try:
            os.fsync(handle)
        finally:
            os.close(handle)


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
