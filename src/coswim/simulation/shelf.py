"""The arrays of a screening that stay in memory: those of the courses that were asked last."""

from __future__ import annotations

from collections.abc import Callable
from weakref import WeakSet, WeakValueDictionary, ref

from coswim.arrays import forget
from coswim.simulation.course import Course

ROOM = 3e6
"""Groups in draws at times whose arrays are kept together, about 400 MB. Source: measured; less costs time where many
changes are tried on many fish, more costs memory where 100,000 draws are asked for."""


class Shelf:
    """Courses in the order in which they were asked; where there is no room left the arrays of the oldest go.

    They are made again when they are asked for, with the same numbers.
    """

    def __init__(self) -> None:
        self._kept: WeakValueDictionary[int, Course] = WeakValueDictionary()
        self._let_go: WeakSet[Course] = WeakSet()
        self._last: Callable[[], Course | None] = lambda: None

    def take(self, course: Course) -> bool:
        """Keep a course that is about to be asked; whether it was let go of before, so that all should be asked now."""
        if self._last() is not course:
            self._last = ref(course)
            self._kept.pop(id(course), None)
            self._kept[id(course)] = course
            self._make_room(list(self._kept.values()))
        return course in self._let_go

    def _make_room(self, kept: list[Course]) -> None:
        """Let go of the first of some courses where they are too many together; the last one stays."""
        size, gone = sum(one.size for one in kept), 0
        while gone < len(kept) - 1 and size > ROOM:
            size, gone = size - kept[gone].size, gone + 1
        if not gone:
            return
        needed = {id(group) for course in kept[gone:] for group in course.groups}
        for course in kept[:gone]:
            del self._kept[id(course)]
            self._let_go.add(course)
            forget(course)
            for group in course.groups:
                if id(group) not in needed:
                    forget(group)
