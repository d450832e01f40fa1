"""Writing a file whole or not at all: at any moment, even when the power goes, the old or the new is there."""

from __future__ import annotations

import os
import stat
import tempfile
from pathlib import Path

from coswim.text.problems import InputProblems, whole_file

NEW_FILE = 0o644


def write_whole(path: Path, content: bytes, *, make_folder: bool = False) -> None:
    """Write a file so that it is never seen half-written: a new one beside it takes its place in one step.

    A link stays a link; what is no file (a device, a pipe) is written to and stays what it is.
    Raises InputProblems when it cannot be written; the old file is then as it was.
    """
    try:
        if path.exists() and not path.is_file():
            path.write_bytes(content)
            return
        if make_folder:
            path.parent.mkdir(parents=True, exist_ok=True)
        _replace(path.resolve(), content)
    except OSError as error:
        raise _unwritable(path, error) from None


def _replace(path: Path, content: bytes) -> None:
    handle, name = tempfile.mkstemp(prefix=f".{path.name}.", suffix=".part", dir=path.parent)
    partial = Path(name)
    try:
        with os.fdopen(handle, "wb") as stream:
            stream.write(content)
            stream.flush()
            os.fsync(stream.fileno())
        partial.chmod(stat.S_IMODE(path.stat().st_mode) if path.exists() else NEW_FILE)
        partial.replace(path)
    finally:
        partial.unlink(missing_ok=True)
    _sync_folder(path.parent)


def _unwritable(path: Path, error: OSError) -> InputProblems:
    return whole_file(str(path), f"cannot be written: {error.strerror or 'unknown reason'}")


def _sync_folder(folder: Path) -> None:
    """Have the new name on the disk too, where the system can do that for a folder."""
    if not hasattr(os, "O_DIRECTORY"):
        return
    handle = os.open(folder, os.O_RDONLY | os.O_DIRECTORY)
    try:
        os.fsync(handle)
    finally:
        os.close(handle)
