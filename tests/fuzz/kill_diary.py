"""Kill a writer of a diary at random moments, and see that no entry that it reported is lost or torn.

Run: python tests/fuzz/kill_diary.py --kills 200 --seed 16
"""

from __future__ import annotations

import argparse
import os
import random
import signal
import sys
import tempfile
import time
from datetime import date
from pathlib import Path

from coswim.aftercare.appending import append
from coswim.aftercare.diary import DiaryEntry
from coswim.aftercare.stream import read_diary

LONGEST = 0.01  # seconds until the kill, counted from the first entry that was reported
ENTRY = DiaryEntry(date=date(2026, 1, 5), group="oscar", note="padding " * 40)


def killed_once(path: Path, seconds: float) -> int:
    """How many entries a writer had reported when it was killed."""
    told, tell = os.pipe()
    child = os.fork()
    if child == 0:
        while True:
            append(ENTRY, path)
            os.write(tell, b"x")
    os.close(tell)
    reported = len(os.read(told, 1))
    time.sleep(seconds)
    os.kill(child, signal.SIGKILL)
    os.waitpid(child, 0)
    reported += len(os.read(told, 100_000))
    os.close(told)
    return reported


def main() -> int:
    """Kill so many times; 1 when an entry that was reported is not there whole."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--kills", type=int, default=200)
    parser.add_argument("--seed", type=int, default=16)
    parser.add_argument("--diary", type=Path, default=Path(tempfile.mkdtemp()) / "d.yaml")
    asked = parser.parse_args()
    chance, told, before = random.Random(asked.seed), 0, 0  # noqa: S311 - any moment will do
    for kill in range(asked.kills):
        reported = killed_once(asked.diary, chance.uniform(0, LONGEST))
        there = len(read_diary(asked.diary.read_bytes(), asked.diary.name).entries)
        if not before + reported <= there <= before + reported + 1:
            print(f"kill {kill}: {reported} reported after {before}, {there} there", file=sys.stderr)  # noqa: T201
            return 1
        before, told = there, told + reported
    print(f"{asked.kills} kills: {told} entries reported, {before} whole in the diary")  # noqa: T201
    return 0


if __name__ == "__main__":
    sys.exit(main())
