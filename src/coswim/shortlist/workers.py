"""The species of the library judged one by one, by one process or by several that share the work.

Every species is judged by itself and from the seed, so the answer does not depend on who judges it or in which order.
Each process takes the next species that nobody has taken yet, the main process among them. One that is forked has all
that was prepared; one that is started anew is sent the plan and reads the library for itself. An interruption is the
main process's business: the others pay no heed to it and are ended, and without a main process they end themselves.
"""

from __future__ import annotations

import signal
import sys
from collections.abc import Callable, Generator, Iterable, Iterator, Sequence
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING, NamedTuple

from coswim.hazards import BY_ID
from coswim.plans.plan import Plan
from coswim.plans.reading import ReadPlan
from coswim.profiles.catalog import Catalog
from coswim.profiles.names import Entry as Names
from coswim.profiles.profile import Profile
from coswim.shortlist.bench import Bench
from coswim.shortlist.judged import Advice, Candidate, Excluded
from coswim.shortlist.wish import Wish
from coswim.simulation.course import Course, run_together
from coswim.simulation.scene import Effort

WORTH_SHARING = 60
"""Species from which more processes are worth their start. Source: measured, about 0.1 s for each."""
CAN_FORK = sys.platform == "linux"
"""Processes may be forked; elsewhere that is not there or not safe."""
AT_ONCE = 10
"""Species that go through their courses together. Source: measured; with more one process waits longer for the other
at the end, and a course alone takes four times as long as one of ten."""
FORGET_AFTER = 100
"""Species after which what was drawn for them is let go: about 0.4 MB each at 1,000 draws."""


if TYPE_CHECKING:
    from multiprocessing.connection import Connection
    from multiprocessing.context import ForkContext, ForkProcess, SpawnContext, SpawnProcess
    from multiprocessing.sharedctypes import Synchronized
Judged = Advice | Excluded | None
Judging = Generator[Course, None, Advice | Excluded]


class Job(NamedTuple):
    """All that a process must know to judge species, in parts that can be sent to it."""

    name: str
    plan: Plan
    profiles: dict[str, Profile]
    folders: tuple[Path, ...]
    effort: Effort
    wish: Wish

    def bench(self) -> Bench:
        """The plan's tank, made anew."""
        return Bench.of(ReadPlan(self.name, self.plan, self.profiles), Catalog(self.folders), self.effort)


class Judge:
    """Judges species in one tank; what was drawn for them is let go now and then."""

    def __init__(self, bench: Bench, wish: Wish) -> None:
        self._bench, self._wish, self._judged = bench, wish, 0
        self._draws = bench.alone.scene.draws
        self._drawn_before = self._draws.kept
        self._known = {profile.scientific_name: profile for profile in bench.read.profiles.values()}

    def __call__(self, species: Iterable[Names]) -> Iterator[Judged]:
        """What becomes of each species, in any order; None for one that is not looked for.

        What is settled without meals is told at once; the others wait for each other and go through their courses
        together, and those whose next length is to be screened wait again.
        """
        waiting: dict[Judging, Course] = {}
        for names in species:
            look = self._look(names)
            if look is None:
                yield None
                continue
            yield from _go_on([look.judging()], waiting)
            if len(waiting) >= min([AT_ONCE, *(course.side_by_side for course in waiting.values())]):
                yield from _run(waiting)
        while waiting:
            yield from _run(waiting)

    def _look(self, names: Names) -> Candidate | None:
        """A look at a species; None where it is not looked for."""
        profile = self._known.get(names.scientific_name) or self._bench.catalog.completed(names)
        if not self._wish.fits(profile):
            return None
        self._judged += 1
        if self._judged % FORGET_AFTER == 0:
            self._draws.forget_after(self._drawn_before)
        return Candidate(self._bench, profile)


def _run(waiting: dict[Judging, Course]) -> Iterator[Judged]:
    """What becomes of those that waited, their courses run side by side, as far as they need no further one."""
    run_together(waiting.values())
    judging = [*waiting]
    waiting.clear()
    yield from _go_on(judging, waiting)


def _go_on(judging: Iterable[Judging], waiting: dict[Judging, Course]) -> Iterator[Judged]:
    """What becomes of some species, but for those that wait for a course."""
    for one in judging:
        try:
            waiting[one] = next(one)
        except StopIteration as end:
            yield end.value


def judged(
    bench: Bench, wish: Wish, species: Sequence[Names], *, processes: int, on_progress: Callable[[int], None]
) -> Iterator[Advice | Excluded]:
    """What becomes of every species that is looked for, in any order; `on_progress` is told how many are done."""
    results = (
        _shared(bench, wish, species, processes)
        if processes > 1 and len(species) >= WORTH_SHARING
        else enumerate(Judge(bench, wish)(species), start=1)
    )
    for done, result in results:
        on_progress(done)
        if result is not None:
            yield result


def _shared(bench: Bench, wish: Wish, species: Sequence[Names], processes: int) -> Iterator[tuple[int, Judged]]:
    """What becomes of each, with how many were taken so far."""
    import multiprocessing  # not loaded where one process does

    context: ForkContext | SpawnContext
    context = multiprocessing.get_context("fork") if CAN_FORK else multiprocessing.get_context("spawn")
    judge = _judge_to_share(bench, wish)
    taken = context.Value("i", 0)
    others: list[tuple[ForkProcess | SpawnProcess, Connection]] = []
    try:
        for _ in range(processes - 1):
            receiver, sender = context.Pipe(duplex=False)
            given = judge if CAN_FORK else _job(bench, wish)
            with _without_interruption():
                process = context.Process(target=_help, args=(given, species, taken, sender))
                process.start()
                others.append((process, receiver))
            sender.close()
        yield from ((min(taken.value, len(species)), result) for result in judge(_shares(species, taken)))
        for _, receiver in others:
            yield from ((len(species), result) for result in _answers(receiver))
    finally:
        for process, _ in others:
            process.terminate()
            process.join()


@contextmanager
def _without_interruption() -> Iterator[None]:
    """An interruption waits until this is over, and for ever in a process that is started meanwhile."""
    if not hasattr(signal, "pthread_sigmask"):
        yield
        return
    before = signal.pthread_sigmask(signal.SIG_BLOCK, {signal.SIGINT})
    try:
        yield
    finally:
        signal.pthread_sigmask(signal.SIG_SETMASK, before)


def _shares(species: Sequence[Names], taken: Synchronized[int]) -> Iterator[Names]:
    """One species after the other that nobody has taken; all end where the main process is gone."""
    while not _is_orphaned():
        with taken:
            place, taken.value = taken.value, taken.value + 1
        if place >= len(species):
            return
        yield species[place]


def _is_orphaned() -> bool:
    """The main process is gone, and nobody waits for an answer."""
    from multiprocessing import parent_process

    main = parent_process()
    return main is not None and not main.is_alive()


def _judge_to_share(bench: Bench, wish: Wish) -> Judge:
    """A judge for whom what is the same for all species is worked out, once, before the processes part."""
    for hazard in BY_ID:
        bench.alone.answer(hazard)
    return Judge(bench, wish)


def _job(bench: Bench, wish: Wish) -> Job:
    effort = bench.effort._replace(belief={})  # worked out anew from the plan
    return Job(bench.read.name, bench.read.plan, dict(bench.read.profiles), bench.catalog.folders, effort, wish)


def _help(given: Judge | Job, species: Sequence[Names], taken: Synchronized[int], sender: Connection) -> None:
    """Judge what nobody else has taken, and send all answers at the end, or the exception that stopped it."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    try:
        judge = given if isinstance(given, Judge) else Judge(given.bench(), given.wish)
        answers = list(judge(_shares(species, taken)))
    except Exception as error:  # raised in the main process
        sender.send(error)
    else:
        if not _is_orphaned():
            sender.send(answers)


def _answers(receiver: Connection) -> list[Judged]:
    """What another process found; the exception that stopped it, or ChildProcessError where it died."""
    try:
        answers: list[Judged] | Exception = receiver.recv()
    except EOFError:
        raise ChildProcessError("a process that screened species was ended by the system") from None
    if isinstance(answers, Exception):
        raise answers
    return answers
