"""Runs one input through the command, in this process, and says what was wrong with how it ended."""

from __future__ import annotations

import io
import json
import os
import shutil
import signal
import sys
import unicodedata
import warnings
from collections.abc import Callable, Iterator, Mapping
from contextlib import contextmanager
from functools import cache, lru_cache
from pathlib import Path
from time import process_time
from types import FrameType, MappingProxyType
from typing import Any, NamedTuple

import typer

from coswim.aftercare.appending import ASIDE
from coswim.aftercare.stream import split_torn
from coswim.cli import after_buying
from coswim.cli.main import OnDemand, main
from coswim.library import listing
from coswim.plans.reading import ReadPlan
from coswim.profiles import catalog as catalogs
from coswim.profiles import names, sources
from coswim.screening import Screening, screen
from coswim.simulation.scene import Effort
from coswim.text.printable import UNPRINTABLE
from coswim.text.problems import MOST_SHOWN

SECONDS, SOUND_SECONDS = 2.0, 15.0
"""Time of the processor that a command may take; a sound plan of 17 groups and 20 years is a work of its own."""
PATIENCE, AT_WORK = 60, 0.1
"""Seconds by the clock after which it is hanging, and time of the processor in them that tells a slow machine."""
DOCUMENTED = frozenset({0, 1, 2, 3})
LONGEST_LINE = 1000
FEWEST_DRAWS = 50
JOINERS = "\N{ZERO WIDTH JOINER}\N{ZERO WIDTH NON-JOINER}"


class Case(NamedTuple):
    """A command with the files and the standard input that it finds.

    `must_do`: the input is sound, so anything but success is wrong. `added_to`: a file that may grow, and
    what was cut off at its end may be put aside.
    """

    words: tuple[str, ...]
    files: dict[str, bytes]
    report: str = ""
    must_do: bool = False
    typed: bytes = b""
    added_to: str = ""


class Hang(BaseException):
    """The command took too long; no handler of the command's own may swallow it."""


class Ending(NamedTuple):
    """The status with which a command ended, -1 where it did not, and what was wrong, in words."""

    status: int
    faults: tuple[str, ...]


def ending(case: Case, folder: Path, *, slack: float = 1.0) -> Ending:
    """How a command ended, given so many times the time that it may take. The folder is emptied first."""
    _lay_out(case, folder)
    before = {path: path.read_bytes() for path in folder.rglob("*") if path.is_file()}
    start, longest = process_time(), slack * (SOUND_SECONDS if case.must_do else SECONDS)
    try:
        status, out, err = _run(case, folder, longest)
    except Hang:
        return Ending(-1, (f"took longer than {2 * longest:g} s",))
    found = [f"took {process_time() - start:.1f} s"] if process_time() - start > longest else []
    after = {path: path.read_bytes() for path in folder.rglob("*") if path.is_file()}
    found += _said_wrong(case, status, out, err)
    for path, content in before.items():
        kept = split_torn(content)[0] if path.name == case.added_to and status == 0 else content
        now = after.get(path, b"")
        if not now.startswith(kept) or (now != content and path.name != case.added_to):
            found.append(f"changed {path.name}")
    found += _written_wrong(case, status, {path: after[path] for path in after if path not in before})
    return Ending(status, tuple(found))


def _lay_out(case: Case, folder: Path) -> None:
    shutil.rmtree(folder, ignore_errors=True)
    folder.mkdir(parents=True)
    for name, content in case.files.items():
        path = folder / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_bytes(content)


def _said_wrong(case: Case, status: int, out: str, err: str) -> Iterator[str]:
    if status not in DOCUMENTED or (case.must_do and status not in (0, 3)):
        yield f"status {status}: {err[-300:]!r}"
    if "Traceback" in err or "this should not have happened" in err:
        yield f"said {err[-300:]!r}"
    obeyed = {sign for sign in set(out + err) if unicodedata.category(sign) in UNPRINTABLE and sign not in JOINERS} - {
        "\n"
    }
    if obeyed:
        yield f"a terminal would obey {obeyed}"
    if status == 1 and not err:
        yield "gave no reason"
    lines = err.splitlines()
    problems = [line for line in lines if not line.startswith("warning: ")]
    if case.words[0] != "profile" and len(problems) > MOST_SHOWN + 1:
        yield f"said {len(problems)} lines"
    if max(map(len, lines), default=0) > LONGEST_LINE:
        yield f"said a line of {max(map(len, lines))} characters"
    if status == 0 and "json" in case.words and not case.report:
        yield from _data_wrong(out)


def _written_wrong(case: Case, status: int, new: dict[Path, bytes]) -> Iterator[str]:
    for path, content in new.items():
        if path.name not in (case.report, "profile.schema.json", f"{case.added_to}{ASIDE}"):
            yield f"left {path.name}"
        elif path.suffix == ".json" and path.name == case.report:
            yield from _data_wrong(content.decode())
        elif path.suffix == ".html" and not content.endswith(b"</html>\n"):
            yield "wrote half a page"
    written = any(path.name == case.report for path in new)
    if case.report and case.report in case.words and written is not (status in (0, 3)):
        yield f"status {status}, but a report was {'written' if written else 'not written'}"


def _data_wrong(text: str) -> Iterator[str]:
    def refuse(word: str) -> Any:
        raise ValueError(f"JSON holds {word}")

    try:
        json.loads(text, parse_constant=refuse)
    except ValueError as error:
        yield str(error)


def _run(case: Case, folder: Path, longest: float) -> tuple[int, str, str]:
    """The command's status, and what it wrote to standard output and standard error."""
    content = {"stdin": case.typed, "stdout": b"", "stderr": b""}
    streams = {name: io.TextIOWrapper(io.BytesIO(raw), encoding="utf-8") for name, raw in content.items()}
    before, where = {name: getattr(sys, name) for name in streams}, Path.cwd()
    try:
        for name, stream in streams.items():
            setattr(sys, name, stream)
        os.chdir(folder)
        with _limited(2 * longest), warnings.catch_warnings():
            warnings.simplefilter("error")
            status = main(list(case.words))
    finally:
        os.chdir(where)
        for name, stream in before.items():
            setattr(sys, name, stream)
    for stream in streams.values():
        stream.flush()
    return status, *(streams[name].buffer.getvalue().decode() for name in ("stdout", "stderr"))  # type: ignore[return-value]


@contextmanager
def _limited(seconds: float) -> Iterator[None]:
    """Ends what takes too much of the processor, or waits for ever."""

    worked = process_time()

    def stop(number: int, _frame: FrameType | None) -> None:
        nonlocal worked
        if number == signal.SIGALRM and process_time() - worked > AT_WORK:
            worked = process_time()
            return
        raise Hang

    former = [signal.signal(number, stop) for number in (signal.SIGPROF, signal.SIGALRM)]
    signal.setitimer(signal.ITIMER_PROF, seconds)
    signal.setitimer(signal.ITIMER_REAL, PATIENCE, PATIENCE)
    try:
        yield
    finally:
        signal.setitimer(signal.ITIMER_PROF, 0)
        signal.setitimer(signal.ITIMER_REAL, 0)
        for number, handler in zip((signal.SIGPROF, signal.SIGALRM), former, strict=True):
            signal.signal(number, handler)


@contextmanager
def apart(data: Path) -> Iterator[None]:
    """The keeper's own folder is an empty one, and no editor waits for anybody."""
    wanted = {"XDG_DATA_HOME": str(data), "EDITOR": "true", "COLUMNS": "80"}
    former = {name: os.environ.pop(name, None) for name in (*wanted, "VISUAL", "COSWIM_PROFILES")}
    os.environ |= wanted
    before = {(place, name): getattr(place, name) for place, name in KEPT}
    for (place, name), kept in KEPT.items():
        setattr(place, name, kept)
    try:
        yield
    finally:
        for (place, name), function in before.items():
            setattr(place, name, function)
        for name, value in former.items():
            os.environ.pop(name, None)
            os.environ |= {name: value} if value is not None else {}


def _built_in(function: Callable[..., Any]) -> Callable[..., Any]:
    """The function with its answers about the built-in library kept."""
    known = cache(function)

    def ask(path: Path, **options: Any) -> Any:
        return (known if path.is_relative_to(catalogs.BUILT_IN) else function)(path, **options)

    return ask


def _once_by_name(function: Callable[..., Any]) -> Callable[..., Any]:
    known: dict[str, Any] = {}

    def ask(group: OnDemand, ctx: Any, name: str) -> Any:
        if name not in known:
            known[name] = function(group, ctx, name)
        return known[name]

    return ask


def _quick(read: ReadPlan, catalog: catalogs.Catalog, *, remedies: bool, pictures: bool) -> Screening:
    return screen(read, catalog, Effort(FEWEST_DRAWS), remedies=remedies, pictures=pictures)


KEPT: Mapping[tuple[Any, str], Callable[..., Any]] = MappingProxyType(
    {
        **{
            (catalogs, name): _built_in(getattr(catalogs, name))
            for name in ("read_names", "profile_files", "read_profile")
        },
        (catalogs, "name_key"): lru_cache(100_000)(names.name_key),
        (listing, "_glance"): _built_in(listing._glance),
        (typer.main, "get_command"): cache(typer.main.get_command),
        (OnDemand, "get_command"): _once_by_name(OnDemand.get_command),
        (sources, "read_bibliography"): _built_in(sources.read_bibliography),
        (after_buying, "screen"): _quick,
    }
)
"""What is the same for all inputs and is done once in a process; and calendar and diary, which take no number of draws,
draw few."""
