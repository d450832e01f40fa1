"""The installed command, and `python -m coswim`: what has to be settled before anything large is loaded."""

from __future__ import annotations

import gc
import os
import sys
from contextlib import suppress
from pathlib import Path
from typing import NoReturn

RARELY = 100_000  # new objects between two collections: a short run has next to no garbage


def run() -> NoReturn:
    """Run the command that was typed, and leave with its status."""
    gc.set_threshold(RARELY)
    os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")  # no linear algebra is done, so numpy need not start threads
    for name in ("stdout", "stderr"):
        if getattr(sys, name) is None:  # closed by the caller, who wants none of it
            setattr(sys, name, Path(os.devnull).open("w", encoding="utf-8"))  # noqa: SIM115 - open to the end
    from coswim.cli.main import main  # loads the large packages

    status = main()
    with suppress(OSError):
        sys.stderr.flush()
    os._exit(status)  # all is written and the system takes the memory back: nothing is left to tidy up


if __name__ == "__main__":
    run()
