"""A diary arranged for judging: what is known of each group, of the water and of the whole tank, up to a day."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import date
from functools import cached_property
from typing import NamedTuple

from coswim.aftercare.company import Companion, Company, UnknownGroup
from coswim.aftercare.diary import Diary, DiaryEntry
from coswim.aftercare.signs import Count, ReadSign, Sign, count_in, signs_in
from coswim.profiles.names import name_key
from coswim.simulation.phrases import plural
from coswim.text.problems import Problem, refuse_any


class Noted(NamedTuple):
    """One entry with the group it is of (None: the whole tank), its place in the diary, and its note's signs."""

    entry: DiaryEntry
    fish: Companion | None
    line: int
    signs: tuple[ReadSign, ...] = ()
    counted: Count | None = None

    @property
    def date(self) -> date:
        """The day of the entry."""
        return self.entry.date

    def says(self, *wanted: Sign) -> ReadSign | None:
        """The first of these signs that its note holds."""
        return next((read for read in self.signs if read.sign in wanted), None)


def days_between(first: Noted, last: Noted | date) -> int:
    """Days from one entry to another, both counted: two entries of one day span one day."""
    end = last if isinstance(last, date) else last.date
    return (end - first.date).days + 1


@dataclass(frozen=True)
class Watched:
    """All that was seen up to `on`, in order."""

    company: Company
    noted: tuple[Noted, ...]
    on: date
    parted_at: int | None
    joined_at: int | None

    @property
    def is_parted(self) -> bool:
        """A divider or a second tank stands between them."""
        return self.parted_at is not None and (self.joined_at is None or self.joined_at < self.parted_at)

    @property
    def is_second_attempt(self) -> bool:
        """They were parted once and are together again."""
        return self.parted_at is not None and not self.is_parted

    @cached_property
    def since(self) -> int:
        """From which entry on the fish have been as they are now: together, or parted."""
        return max((at + 1 for at in (self.parted_at, self.joined_at) if at is not None), default=0)

    def of(self, fish: Companion, *, ever: bool = False) -> tuple[Noted, ...]:
        """The entries of a group, since the fish have been as they are now or `ever`."""
        return tuple(noted for noted in self.noted[0 if ever else self.since :] if noted.fish == fish)

    @cached_property
    def tests(self) -> tuple[Noted, ...]:
        """The entries with a test of the water."""
        return tuple(noted for noted in self.noted if noted.entry.water)

    def about(self, fish: Companion) -> tuple[Noted, ...]:
        """Entries whose note speaks of a group: by name, or without a name in an entry of its own."""
        return tuple(noted for noted in self.noted[self.since :] if _speaks_of(noted, fish, self.company.fish))

    def standing(self, *signs: Sign, within: int) -> Noted | None:
        """The last entry of so many days whose note holds such a sign and to which no later note says `better`."""
        found = None
        for noted in self.noted[self.since :]:
            if noted.says(*signs) and (self.on - noted.date).days <= within:
                found = noted
            elif noted.says(Sign.BETTER, Sign.WELL_FED):
                found = None
        return found


def watched(diary: Diary, company: Company, *, on: date | None = None) -> Watched:
    """The diary up to a day (its last one where none is given); InputProblems for a group that the plan lacks."""
    noted = tuple(_noted(diary, company))
    last = on or max((one.date for one in noted), default=company.start)
    past = tuple(one for one in noted if one.date <= last)
    return Watched(company, past, last, _last_at(past, Sign.APART), _last_at(past, Sign.TOGETHER))


def _noted(diary: Diary, company: Company) -> Iterator[Noted]:
    problems: list[Problem] = []
    found = []
    for entry, line in zip(diary.entries, diary.lines, strict=True):
        note = entry.note or ""
        try:
            fish = company.find(entry.group) if entry.group else None
        except UnknownGroup as error:
            problems.append(Problem(diary.file, line, 1, "group", str(error.args[0])))
            continue
        found.append(Noted(entry, fish, line, signs_in(note), count_in(note)))
    refuse_any(problems)
    yield from found


def _last_at(noted: tuple[Noted, ...], sign: Sign) -> int | None:
    """The place of the last entry that parts the fish, or that lets them together again."""
    says = (
        at for at, one in enumerate(noted) if one.says(sign) and (sign is Sign.TOGETHER or not one.says(Sign.TOGETHER))
    )
    return max(says, default=None)


def _speaks_of(noted: Noted, fish: Companion, company: Iterable[Companion]) -> bool:
    named = [one for one in company if _is_named(noted.entry.note or "", one)]
    return fish in named if named else noted.fish == fish


def _is_named(note: str, fish: Companion) -> bool:
    """The last word of one of its names stands in the note, in the singular or plural."""
    lasts = {name_key(name).split()[-1] for name in (fish.called, fish.name, *fish.profile.common_names)}
    words = "|".join(re.escape(word) for last in lasts for word in {last, plural(last)})
    return re.search(rf"\b(?:{words})\b", name_key(note)) is not None
