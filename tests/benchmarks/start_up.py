"""How long the commands take beside the import floor; run by hand: `python tests/benchmarks/start_up.py`.

The floor is the time that importing the packages alone takes on the same machine. Asserts nothing.
"""

from __future__ import annotations

import statistics
import subprocess
import sys
import time
from pathlib import Path

EXAMPLE = str(Path(__file__).parents[2] / "examples" / "bichir.yaml")
FLOOR = [sys.executable, "-c", "import typer, pydantic, yaml, rich.console, numpy"]
COMMANDS = {
    "import floor": FLOOR,
    "screen, no remedies": [sys.executable, "-m", "coswim", "screen", EXAMPLE, "--no-remedies"],
    "screen": [sys.executable, "-m", "coswim", "screen", EXAMPLE],
    "profile list": [sys.executable, "-m", "coswim", "profile", "list"],
}
RUNS = 11


def seconds(command: list[str]) -> float:
    """Wall time of one run."""
    started = time.perf_counter()
    subprocess.run(command, check=True, stdout=subprocess.DEVNULL)
    return time.perf_counter() - started


def main() -> None:
    """Run every command in turn, so that a busy moment hits all, and print medians and best times."""
    times: dict[str, list[float]] = {name: [] for name in COMMANDS}
    for _ in range(RUNS):
        for name, command in COMMANDS.items():
            times[name].append(seconds(command))
    floor = statistics.median(times["import floor"])
    for name, runs in times.items():
        middle = statistics.median(runs)
        print(f"{name:22} median {middle:.3f} s, best {min(runs):.3f} s, {middle / floor:.2f} times the floor")  # noqa: T201


if __name__ == "__main__":
    main()
