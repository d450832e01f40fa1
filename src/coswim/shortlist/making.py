"""`shortlist` screens every species of the library as company for a tank and ranks those that would do."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from typing import NamedTuple

from coswim.effort import refuse_what_would_not_fit
from coswim.plans.plan import GroupEntry
from coswim.plans.reading import ReadPlan
from coswim.profiles.catalog import Catalog
from coswim.profiles.names import Entry as Names
from coswim.profiles.profile import Profile
from coswim.shortlist.bench import Bench
from coswim.shortlist.funnel import Share, funnel
from coswim.shortlist.instead import Replaced, replaced
from coswim.shortlist.judged import Advice, Excluded
from coswim.shortlist.pairs import pairs
from coswim.shortlist.ranking import ranked
from coswim.shortlist.wish import Wish
from coswim.shortlist.workers import judged
from coswim.simulation.scene import Effort

ANY = Wish()
Progress = Callable[[str, int, int], None]


class Shortlist(NamedTuple):
    """A plan's tank, what was looked for, the species that would do, best first, and the others.

    `known` is how many species the library has; `pairs` are additions of two species, None where not asked for;
    `instead` is a proposal in whose place something is looked for.
    """

    read: ReadPlan
    effort: Effort
    horizon: int
    wish: Wish
    known: int
    entries: tuple[Advice, ...]
    excluded: tuple[Excluded, ...]
    pairs: tuple[Advice, ...] | None = None
    instead: Replaced | None = None

    @property
    def looked_at(self) -> int:
        """The species that were looked for and screened."""
        return len(self.entries) + len(self.excluded)

    @property
    def unusual(self) -> dict[str, int]:
        """The draws, the seed and the months where they were asked for, without which it comes out otherwise."""
        usual, asked = Effort(), self.effort
        pairs = {"draws": (asked.draws, usual.draws), "seed": (asked.seed, usual.seed), "months": (asked.months, None)}
        return {name: value for name, (value, other) in pairs.items() if value is not None and value != other}

    @property
    def funnel(self) -> tuple[Share, ...]:
        """Why the others failed, with counts, most first."""
        return funnel(excluded.reason for excluded in self.excluded)


def shortlist(
    read: ReadPlan,
    catalog: Catalog,
    wish: Wish = ANY,
    effort: Effort | None = None,
    *,
    with_pairs: bool = False,
    instead: tuple[Profile, GroupEntry] | None = None,
    processes: int = 1,
    on_progress: Progress = lambda *_: None,
) -> Shortlist:
    """Screen every species that is looked for and does not live in the tank yet, each as if it alone were added.

    The answer is that of screening each by itself with the number and length named. The plan's own proposals take no
    part. With `instead` only species are looked for that do the job of those fish. `on_progress` is told what is
    being done, how many are done and how many there are. InputProblems where the tank is too much to screen.
    """
    effort = effort or Effort()
    without_proposals = read._replace(plan=read.plan.model_copy(update={"proposals": ()}))
    refuse_what_would_not_fit(without_proposals, effort, remedies=False)
    bench = Bench.of(read, catalog, effort)
    wish = replace(wish, like=instead[0]) if instead else wish
    species = _candidates(read, catalog, wish)
    found = list(
        judged(
            bench,
            wish,
            species,
            processes=processes,
            on_progress=lambda done: on_progress("screening species", done, len(species)),
        )
    )
    entries = ranked(one for one in found if isinstance(one, Advice))
    excluded = sorted((one for one in found if isinstance(one, Excluded)), key=lambda one: one.scientific_name)
    made = Shortlist(
        read, bench.effort, bench.alone.scene.horizon, wish, len(catalog.entries), entries, tuple(excluded)
    )
    if instead:
        made = made._replace(instead=replaced(bench, *instead))
    if with_pairs:
        together = pairs(bench, entries, lambda done, whole: on_progress("screening pairs", done, whole))
        made = made._replace(pairs=together)
    return made


def _candidates(read: ReadPlan, catalog: Catalog, wish: Wish) -> list[Names]:
    """The species whose names fit and that do not live in the tank, by scientific name."""
    residents = {read.profile(each).scientific_name for each in read.plan.residents}
    fitting = (each for each in catalog.entries.values() if wish.names_fit(each))
    return sorted((each for each in fitting if each.scientific_name not in residents), key=lambda e: e.scientific_name)
