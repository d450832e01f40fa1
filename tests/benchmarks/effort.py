"""Measures what a screening takes and prints it beside the estimate that may refuse it.

Run it with `python tests/benchmarks/effort.py` after a change to the simulation or to the search for
remedies, and correct the constants of `coswim/effort.py` where it is off by more than half.
"""

from __future__ import annotations

import json
import resource
import subprocess
import sys
from pathlib import Path
from time import process_time

MEGABYTE = 1e6
KILOBYTE = 1024
CASES: tuple[dict[str, int], ...] = (
    *({"groups": groups} for groups in (2, 8, 32, 60)),
    *({"groups": 4, "draws": draws} for draws in (100, 5000, 30_000)),
    *({"groups": 4, "months": months} for months in (1, 60, 240)),
    {"groups": 4, "proposals": 20},
    *({"groups": groups, "remedies": 1} for groups in (2, 4, 8, 16)),
    {"groups": 4, "draws": 10_000, "remedies": 1},
)


def measured(groups: int, draws: int = 1000, months: int = 24, proposals: int = 1, remedies: int = 0) -> str:
    """One screening in this process: estimate and measure of time and memory."""
    from coswim.effort import estimate
    from coswim.plans.reading import read_plan
    from coswim.profiles.catalog import BUILT_IN, Catalog
    from coswim.screening import screen
    from coswim.simulation.scene import Effort

    catalog = Catalog((BUILT_IN,))
    small = [name for name in sorted(catalog.entries) if catalog.profile(name).adult_length.high < 20]
    fish = [f"{{species: {name}, count: 6, length: 2 cm}}" for name in small[:: len(small) // groups][:groups]]
    residents, newcomers = ", ".join(fish[: groups // 2]), ", ".join(fish[groups // 2 :])
    named = ", ".join(f"{{name: p{number}, add: [{newcomers}]}}" for number in range(proposals))
    text = (
        "tank: {size: 200 x 70 x 70 cm, temperature: 25, ph: 7, hardness: 8}\n"
        f"residents: [{residents}]\nproposals: [{named}]\nhorizon: {months}\n"
    )
    read, effort = read_plan(text, "plan.yaml", catalog), Effort(draws)
    expected = estimate(read, effort, remedies=bool(remedies))
    before, start = _peak(), process_time()
    screen(read, catalog, effort, remedies=bool(remedies))
    return (
        f"{process_time() - start:7.2f} s (estimate {expected.seconds:7.2f})"
        f"{_peak() - before:7.0f} MB (estimate {expected.memory / MEGABYTE:7.0f})"
    )


def _peak() -> float:
    """The most memory that this process had so far, MB."""
    return resource.getrusage(resource.RUSAGE_SELF).ru_maxrss * KILOBYTE / MEGABYTE


def main() -> None:
    """Measure each case in a process of its own."""
    for case in CASES:
        run = subprocess.run(
            [sys.executable, Path(__file__), json.dumps(case)], capture_output=True, text=True, check=True
        )
        print(f"{json.dumps(case):60} {run.stdout.strip()}", flush=True)  # noqa: T201 - this is a report


if __name__ == "__main__":
    if len(sys.argv) > 1:
        print(measured(**json.loads(sys.argv[1])))  # noqa: T201
    else:
        main()
