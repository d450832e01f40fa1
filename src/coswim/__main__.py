"""The installed command, and `python -m coswim`: what has to be settled before anything large is loaded."""

from __future__ import annotations

import gc
import os
import sys

INTERRUPTED = 130
try:
    import signal  # takes long enough to be interrupted, and brings what is needed against it
except KeyboardInterrupt:
    raise SystemExit(INTERRUPTED) from None

RARELY = 100_000  # new objects between two collections: a short run has next to no garbage
TRIM_THRESHOLD, MMAP_THRESHOLD = -1, -3  # as glibc's malloc.h numbers them
KEPT, MAPPED_FROM = 256 << 20, 32 << 20  # bytes; the most that glibc takes for the second


def run() -> None:
    """Run the command that was typed, and leave with its status."""
    may_be_interrupted = signal.getsignal(signal.SIGINT) is signal.default_int_handler
    if may_be_interrupted:  # while packages load there is nothing to tidy up: just end
        signal.signal(signal.SIGINT, signal.SIG_DFL)
    gc.set_threshold(RARELY)
    os.environ.setdefault("PYDANTIC_DISABLE_PLUGINS", "__all__")  # none is needed, and a look reads all packages
    os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")  # no linear algebra is done, so numpy need not start threads
    for name in ("stdout", "stderr"):
        if getattr(sys, name) is None:  # closed by the caller, who wants none of it
            setattr(sys, name, open(os.devnull, "w", encoding="utf-8"))  # noqa: SIM115, PTH123 - open to the end
    from coswim.cli.ahead import begun_for

    ahead = begun_for(sys.argv[1:])
    from coswim.cli.main import main  # loads the large packages

    gc.freeze()  # what was loaded stays, so that no collection need ever go through it
    _keep_memory()
    if may_be_interrupted:
        signal.signal(signal.SIGINT, signal.default_int_handler)
    status = main(ahead=ahead)
    try:
        sys.stderr.flush()
    finally:
        os._exit(status)  # all is written and the system takes the memory back: nothing is left to tidy up


def _keep_memory() -> None:
    """Have the C library keep the memory of arrays that are done with for the next ones.

    Otherwise it hands that of each larger one back to the system, which costs as much as working an array out. Only
    glibc is asked; where there is another library, all is as it was.
    """
    if sys.platform == "linux":
        import ctypes  # numpy has loaded it already

        adjust = getattr(ctypes.CDLL(None), "mallopt", None)
        if adjust:
            adjust(TRIM_THRESHOLD, KEPT)
            adjust(MMAP_THRESHOLD, MAPPED_FROM)


if __name__ == "__main__":
    run()
