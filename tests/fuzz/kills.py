"""Writers killed at random moments: `python tests/fuzz/kills.py --kills 1000` ends that many in the middle of their work.

A child writes reports, new profiles, edits of one, or entries of a diary without a pause, until it is killed. After each
kill every file is whole: one of the texts that were being written, or all entries that were reported. At last one
writer is left to finish, and nothing that the killed ones left half-written is there any more.
"""

from __future__ import annotations

import argparse
import os

os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")  # a process with threads cannot be forked safely

import io
import signal
import sys
import tempfile
from collections import Counter
from collections.abc import Callable, Iterator
from contextlib import redirect_stderr, redirect_stdout
from datetime import date
from itertools import count
from pathlib import Path
from random import Random
from time import monotonic, sleep
from typing import Any, NamedTuple
from unittest.mock import patch

from coswim.aftercare.appending import append
from coswim.aftercare.diary import DiaryEntry
from coswim.aftercare.stream import read_diary
from coswim.cli.main import main as coswim
from coswim.library import editing
from coswim.library.schema import FILE, schema_text
from coswim.profiles.catalog import BUILT_IN, Catalog
from coswim.screening import screen

PLAN = """\
title: TITLE
tank: {size: 120 x 50 x 50 cm, temperature: 25 C, ph: 7.0, hardness: 6 dGH}
residents: [{species: oscar, length: 20 cm}]
proposals: [{name: tetras, add: [{species: neon tetra, count: 8, length: 3 cm}]}]
"""
WRITINGS = 2.0
"""How many more times a child writes after the first before it is killed, at most, as fast as one that is left alone."""
PARTIAL = "*.part"


class Writer(NamedTuple):
    """Writes for the so-manieth time; and says what is wrong after so many writings were reported."""

    write: Callable[[int], object]
    wrong: Callable[[int], Iterator[str]]


def reports(folder: Path) -> Writer:
    """Two reports that take turns in one file; each is screened once, so that most of the time goes into the writing."""
    plans, target = [folder / "one.yaml", folder / "two.yaml"], folder / "report.html"
    for plan in plans:
        plan.write_text(PLAN.replace("TITLE", plan.stem), encoding="utf-8")
    patch("coswim.cli.screen.screen_plan", _once(screen)).start()

    def write(number: int) -> bytes:
        quick = ("--draws", "50", "--no-remedies")
        _coswim("screen", str(plans[number % 2]), *quick, "--report", str(target))
        return target.read_bytes()

    return Writer(write, _whole(target, {write(0), write(1)}))


def _once(function: Callable[..., Any]) -> Callable[..., Any]:
    known: dict[str, Any] = {}

    def screened(read: Any, *arguments: Any, **options: Any) -> Any:
        if read.name not in known:
            known[read.name] = function(read, *arguments, **options)
        return known[read.name]

    return screened


def new_profiles(folder: Path) -> Writer:
    """A template that is written, taken away and written again."""
    target = folder / "new.yaml"

    def write(_number: int) -> bytes:
        target.unlink(missing_ok=True)
        _coswim("profile", "new", "Danio novus", "--like", "zebra danio", "--to", str(target))
        return target.read_bytes()

    return Writer(write, _whole(target, {write(0)}))


def edits(folder: Path) -> Writer:
    """A built-in profile that becomes the keeper's own and is edited on: a long remark comes and goes."""
    own = folder / "profiles"
    built_in = Catalog((BUILT_IN,)).find("Danio rerio").path.read_bytes()
    texts = (built_in + b"# short\n", built_in + b"# " + b"long " * 100_000 + b"\n")

    def write(number: int) -> object:
        catalog = Catalog((BUILT_IN, own)) if own.exists() else Catalog((BUILT_IN,))
        edit = editing.begin_edit(catalog.find("Danio rerio"), own)
        edit.draft.write_bytes(texts[number % 2])
        return editing.finish(edit, catalog)

    return Writer(write, _whole(own / "danio-rerio.yaml", set(texts)))


def diaries(folder: Path) -> Writer:
    """Entries that are added to one diary."""
    diary, there = folder / "tank.diary.yaml", 0

    def write(number: int) -> None:
        append(DiaryEntry(date=date(2026, 1, 5), group="oscar", note=f"{number} " + "padding " * 40), diary)

    def wrong(told: int) -> Iterator[str]:
        nonlocal there
        found = len(read_diary(diary.read_bytes(), diary.name).entries)
        if not there + told <= found <= there + told + 1:
            yield f"there were {there} entries, {told} more were reported, and {found} are there"
        there = found

    return Writer(write, wrong)


KINDS: dict[str, Callable[[Path], Writer]] = {
    "report": reports,
    "new profile": new_profiles,
    "edited profile": edits,
    "diary": diaries,
}


def _whole(target: Path, texts: set[bytes]) -> Callable[[int], Iterator[str]]:
    """What is wrong where the file is another text; beside it the schema must be whole too."""
    schema = schema_text().encode()

    def wrong(_told: int) -> Iterator[str]:
        if target.exists() and target.read_bytes() not in texts:
            yield f"{target.name} is torn"
        beside = target.with_name(FILE)
        if beside.exists() and beside.read_bytes() != schema:
            yield f"{FILE} is torn"

    return wrong


def _coswim(*words: str) -> None:
    with redirect_stdout(io.StringIO()), redirect_stderr(io.StringIO()) as said:
        status = coswim(list(words))
    if status:
        raise AssertionError(said.getvalue())


def killed(writer: Writer, after: float) -> int:
    """How often a child reported that it had written, before it was killed."""
    reading, telling = os.pipe()
    child = os.fork()
    if child == 0:
        os.close(reading)
        for number in count():
            writer.write(number)
            os.write(telling, b"x")
    os.close(telling)
    with os.fdopen(reading, "rb") as told:
        first = told.read(1)  # is waited for, so that the end falls into one of the next, however slow the machine
        sleep(after)
        os.kill(child, signal.SIGKILL)
        os.waitpid(child, 0)
        return len(first + told.read())


def tried(kind: str, kills: int, random: Random) -> tuple[Counter[str], list[str]]:
    """What some kills of one kind of writer came to, in numbers, and what was wrong."""
    seen, faults = Counter[str](), list[str]()
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        writer = KINDS[kind](folder)
        start = monotonic()
        writer.write(0)
        took = monotonic() - start
        faults += writer.wrong(1)
        for _ in range(kills):
            told = killed(writer, random.uniform(0, WRITINGS * took))
            seen += Counter({"kills": 1, "writings": told, "left a partial file": any(folder.rglob(PARTIAL))})
            faults += writer.wrong(told) if told else ("a child wrote nothing",)
        for number in range(2):
            writer.write(number)
        faults += (f"{path.name} was left" for path in folder.rglob(PARTIAL))
    return seen, [f"{kind}: {fault}" for fault in faults]


def main() -> int:
    """Kill as many as were asked for, of each kind a quarter."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--kills", type=int, default=1000)
    parser.add_argument("--seed", type=int, default=1)
    asked = parser.parse_args()
    random, faults = Random(asked.seed), []  # noqa: S311 - to be repeated, not to be kept secret
    for kind in KINDS:
        seen, wrong = tried(kind, asked.kills // len(KINDS), random)
        faults += wrong
        print(f"{kind}: {', '.join(f'{number:,} {what}' for what, number in seen.items())}; {len(wrong)} wrong")  # noqa: T201
    print(*faults, sep="\n", end="\n" if faults else "")  # noqa: T201
    return 1 if faults else 0


if __name__ == "__main__":
    sys.exit(main())
