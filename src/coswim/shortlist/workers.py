"""The species of the library judged one by one, by one process or by several that share the work.

Every species is judged by itself and from the seed, so the answer does not depend on who judges it or in which order.
Each process takes the next species that nobody has taken yet, the first process among them.
"""

from __future__ import annotations

from collections.abc import Callable, Generator, Iterable, Iterator, Sequence

from coswim.hazards import BY_ID
from coswim.profiles.names import Entry as Names
from coswim.second_process import shared
from coswim.shortlist.bench import Bench
from coswim.shortlist.judged import Advice, Candidate, Excluded
from coswim.shortlist.wish import Wish
from coswim.simulation.course import Course, run_together

WORTH_SHARING = 60
"""Species from which more processes are worth their start. Source: measured, about 0.1 s for each."""
AT_ONCE = 10
"""Species that go through their courses together. Source: measured; with more one process waits longer for the other
at the end, and a course alone takes four times as long as one of ten."""
FORGET_AFTER = 100
"""Species after which what was drawn for them is let go: about 0.4 MB each at 1,000 draws."""


Judged = Advice | Excluded | None
Judging = Generator[Course, None, Advice | Excluded]


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
    judge = Judge(bench, wish)
    if len(species) < WORTH_SHARING:
        processes = 1
    if processes > 1:  # what is the same for all species is worked out once, before the processes part
        for hazard in BY_ID:
            bench.alone.answer(hazard)
    for done, result in shared(
        lambda places: judge(species[place] for place in places), len(species), processes=processes
    ):
        on_progress(done)
        if result is not None:
            yield result
