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
    from coswim.cli.main import main  # loads the large packages

    if may_be_interrupted:
        signal.signal(signal.SIGINT, signal.default_int_handler)
    status = main()
    try:
        sys.stderr.flush()
    finally:
        os._exit(status)  # all is written and the system takes the memory back: nothing is left to tidy up


if __name__ == "__main__":
    run()
