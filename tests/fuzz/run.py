"""The long run: `python tests/fuzz/run.py --inputs 100000` tries that many odd and extreme inputs.

Each is made from the seed and its number alone: `--only NUMBER` runs one again and shows it. What is wrong is
told at the end, one line a kind, with the numbers; the status is 1 then. `--jobs 2` takes two processes.
"""

from __future__ import annotations

import argparse
import os

os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")

import re
import sys
import tempfile
from collections import Counter
from collections.abc import Iterator
from concurrent.futures import ProcessPoolExecutor
from pathlib import Path
from time import monotonic

from inputs import case
from judge import apart, ending

PORTION = 250
SHOWN = 10


def portion(seed: int, start: int, end: int) -> tuple[Counter[str], dict[int, tuple[str, ...]]]:
    """Run some inputs in a row: how many of each command, and what was wrong with which."""
    wrong: dict[int, tuple[str, ...]] = {}
    tried: Counter[str] = Counter()
    with tempfile.TemporaryDirectory() as folder, apart(Path(folder) / "data"):
        for number in range(start, end):
            made = case(seed, number)
            ended = ending(made, Path(folder) / "work")
            command = " ".join(made.words[: 2 if made.words[0] in ("profile", "plan", "diary") else 1])
            tried[f"{command}, {'sound' if made.must_do else 'odd'}: status {ended.status}"] += 1
            if ended.faults:
                wrong[number] = ended.faults
                print(f"\n{number}: {ended.faults[0][:300]}", file=sys.stderr, flush=True)  # noqa: T201
    return tried, wrong


def kinds(wrong: dict[int, tuple[str, ...]]) -> Iterator[str]:
    """What was wrong, numbers and names left out, the most frequent first."""
    by_kind: dict[str, list[int]] = {}
    for number, found in wrong.items():
        for fault in found:
            by_kind.setdefault(re.sub(r"\d+", "#", fault)[:160], []).append(number)
    for fault, numbers in sorted(by_kind.items(), key=lambda item: -len(item[1])):
        yield f"{len(numbers)} x {fault}: {', '.join(map(str, numbers[:SHOWN]))}"


def main() -> int:
    """Run what was asked for."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--inputs", type=int, default=100_000)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--first", type=int, default=0)
    parser.add_argument("--jobs", type=int, default=1)
    parser.add_argument("--only", type=int)
    asked = parser.parse_args()
    if asked.only is not None:
        return show(asked.seed, asked.only)
    start, tried, wrong = monotonic(), Counter[str](), dict[int, tuple[str, ...]]()
    ends = range(asked.first, asked.first + asked.inputs, PORTION)
    with ProcessPoolExecutor(asked.jobs) as pool:
        last = asked.first + asked.inputs
        for done in [pool.submit(portion, asked.seed, first, min(first + PORTION, last)) for first in ends]:
            some, bad = done.result()
            tried.update(some)
            wrong |= bad
            print(f"\r{tried.total():,} inputs, {len(wrong)} wrong", end="", file=sys.stderr, flush=True)  # noqa: T201
    lines = [f"{count:8,} {what}" for what, count in sorted(tried.items())]
    lines += [f"{tried.total():8,} inputs of seed {asked.seed} in {monotonic() - start:,.0f} s, {len(wrong)} wrong"]
    print("", *lines, *kinds(wrong), sep="\n")  # noqa: T201
    return 1 if wrong else 0


def show(seed: int, number: int) -> int:
    """One input: its command, its files, and what is wrong with it."""
    made = case(seed, number)
    with tempfile.TemporaryDirectory() as folder, apart(Path(folder) / "data"):
        found = ending(made, Path(folder) / "work").faults
    print(" ".join(made.words), *(f"--- {name}\n{content!r}" for name, content in made.files.items()), *found, sep="\n")  # noqa: T201
    return 1 if found else 0


if __name__ == "__main__":
    sys.exit(main())
