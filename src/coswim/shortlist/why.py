"""Why one species is not on the shortlist, and what would have to change."""

from __future__ import annotations

from collections.abc import Callable

from coswim.plans.reading import ReadPlan
from coswim.profiles.catalog import Catalog
from coswim.screening import Screening, screen
from coswim.shortlist.bench import Bench, with_profiles
from coswim.shortlist.judged import Candidate
from coswim.simulation.scene import Effort


def why(
    read: ReadPlan, catalog: Catalog, species: str, effort: Effort, *, on_progress: Callable[[str], None]
) -> Screening:
    """The whole screening of one species as the shortlist would have it bought, with the changes that would help.

    UnknownSpecies where none answers to the name.
    """
    profile = catalog.profile(species)
    add, _ = Candidate(Bench.of(read, catalog, effort), profile).found
    known = with_profiles(read, profile)
    plan = known.plan.model_copy(update={"proposals": (add,)})
    return screen(known._replace(plan=plan), catalog, effort, on_progress=on_progress)
