"""Adding to a diary: two at once lose nothing, and whatever ends the writing, the entries before stay whole.

An entry goes to the end of the file in one write, under the file's lock, and is on the disk before the lock
is given up. What an earlier writer left unfinished at the end is moved to a file beside the diary first.
"""

from __future__ import annotations

import os
import stat
from pathlib import Path
from typing import NamedTuple

from coswim.aftercare.diary import DiaryEntry
from coswim.aftercare.stream import split_torn, write_entry
from coswim.text.problems import whole_file
from coswim.text.saving import AS_THE_KEEPER_HAS_IT, locked, may_replace

ENDING = ".diary.yaml"
ASIDE = ".torn"


class Added(NamedTuple):
    """The diary that an entry was added to, and where a torn one went that stood at its end."""

    path: Path
    put_aside: Path | None = None


def diary_of(plan: Path) -> Path:
    """The diary beside a plan.

    >>> diary_of(Path("my-tank.yaml")).name
    'my-tank.diary.yaml'
    """
    return plan.with_name(plan.stem + ENDING)


def append(entry: DiaryEntry, path: Path) -> Added:
    """Add an entry to a diary, which is made where there is none; InputProblems when it cannot be written."""
    try:
        with locked(path) as handle:
            _check_kind(handle, path)
            return Added(path, _append(write_entry(entry).encode(), handle, path))
    except OSError as error:
        raise whole_file(str(path), f"cannot be written: {error.strerror or 'unknown reason'}") from None


def _check_kind(handle: int, path: Path) -> None:
    if not stat.S_ISREG(os.fstat(handle).st_mode):
        raise whole_file(str(path), "is no file but a pipe or device")
    if not may_replace(path):
        raise whole_file(str(path), "is read-only; allow writing to it first")


def _append(line: bytes, handle: int, path: Path) -> Path | None:
    whole, tail = split_torn(_all_of(handle))
    aside = None
    if tail:
        aside = path.with_name(path.name + ASIDE)
        _keep(tail, aside)
        os.ftruncate(handle, len(whole))
    gap = b"" if not whole or whole.endswith(b"\n") else b"\n"
    try:
        _write(handle, gap + line)
    except OSError:
        os.ftruncate(handle, len(whole))  # a full disk leaves no half entry
        raise
    os.fsync(handle)
    return aside


def _all_of(handle: int) -> bytes:
    os.lseek(handle, 0, os.SEEK_SET)
    parts = []
    while part := os.read(handle, 1 << 20):
        parts.append(part)
    return b"".join(parts)


def _write(handle: int, content: bytes) -> None:
    os.lseek(handle, 0, os.SEEK_END)
    while content:
        content = content[os.write(handle, content) :]


def _keep(tail: bytes, aside: Path) -> None:
    """Kept on the disk before it leaves the diary: a kill in between leaves it in both, never in neither."""
    flags = os.O_WRONLY | os.O_CREAT | os.O_APPEND | getattr(os, "O_BINARY", 0) | getattr(os, "O_NOFOLLOW", 0)
    with os.fdopen(os.open(aside, flags, AS_THE_KEEPER_HAS_IT), "ab") as stream:
        stream.write(tail + b"\n")
        stream.flush()
        os.fsync(stream.fileno())
