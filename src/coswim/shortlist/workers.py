"""The species of the library judged one by one, by one process or by several that share the work.

Every species is judged by itself and from the seed, so the answer does not depend on who judges it or in which order.
A process that is forked has all that was prepared; one that is started anew is sent the plan and reads the library
for itself. An interruption is the main process's business: the others pay no heed to it and are ended.
"""

from __future__ import annotations

import signal
import sys
from collections.abc import Callable, Iterator, Sequence
from pathlib import Path
from typing import NamedTuple

from coswim.hazards import BY_ID
from coswim.plans.plan import Plan
from coswim.plans.reading import ReadPlan
from coswim.profiles.catalog import Catalog
from coswim.profiles.names import Entry as Names
from coswim.profiles.profile import Profile
from coswim.shortlist.bench import Bench
from coswim.shortlist.judged import Advice, Excluded, judge
from coswim.shortlist.wish import Wish
from coswim.simulation.scene import Effort

WORTH_SHARING = 60
"""Species from which more processes are worth their start. Source: measured, about 0.1 s for each."""
AT_A_TIME = 4
"""Species handed out at a time."""
CAN_FORK = sys.platform == "linux"
"""Processes may be forked; elsewhere that is not there or not safe."""
FRESH_AFTER = 250
"""Species after which what was drawn for them is let go: about 0.4 MB each at 1,000 draws."""


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
        self._known = {profile.scientific_name: profile for profile in bench.read.profiles.values()}

    def __call__(self, names: Names) -> Advice | Excluded | None:
        """What becomes of a species; None where it is not looked for."""
        profile = self._known.get(names.scientific_name) or self._bench.catalog.completed(names)
        if not self._wish.fits(profile):
            return None
        self._judged += 1
        if self._judged % FRESH_AFTER == 0:
            self._bench = self._bench.fresh()
        return judge(self._bench, profile)


def judged(
    bench: Bench, wish: Wish, species: Sequence[Names], *, processes: int, on_progress: Callable[[int], None]
) -> Iterator[Advice | Excluded]:
    """What becomes of every species that is looked for, in any order; `on_progress` is told how many are done."""
    results = (
        _shared(bench, wish, species, processes)
        if processes > 1 and len(species) >= WORTH_SHARING
        else map(Judge(bench, wish), species)
    )
    for done, result in enumerate(results, start=1):
        on_progress(done)
        if result is not None:
            yield result


_judges: list[Judge] = []
"""The judge of this process, in a process that was started to judge."""


def _shared(bench: Bench, wish: Wish, species: Sequence[Names], processes: int) -> Iterator[Advice | Excluded | None]:
    import multiprocessing  # not loaded where one process does

    context = multiprocessing.get_context("fork" if CAN_FORK else "spawn")
    with context.Pool(processes, _begin, (_judge_to_share(bench, wish) if CAN_FORK else _job(bench, wish),)) as pool:
        yield from pool.imap_unordered(_judge, species, AT_A_TIME)


def _judge_to_share(bench: Bench, wish: Wish) -> Judge:
    """A judge for whom what is the same for all species is worked out, once, before the processes part."""
    for hazard in BY_ID:
        bench.alone.answer(hazard)
    return Judge(bench, wish)


def _job(bench: Bench, wish: Wish) -> Job:
    effort = bench.effort._replace(belief={})  # worked out anew from the plan
    return Job(bench.read.name, bench.read.plan, dict(bench.read.profiles), bench.catalog.folders, effort, wish)


def _begin(given: Judge | Job) -> None:
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    _judges.append(given if isinstance(given, Judge) else Judge(given.bench(), given.wish))


def _judge(names: Names) -> Advice | Excluded | None:
    return _judges[0](names)
