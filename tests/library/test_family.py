"""What is read off a family's sorted figures is what one would get from the others one by one."""

from __future__ import annotations

from statistics import median

import pytest
from hypothesis import given
from hypothesis import strategies as st

from coswim.library.family import Figures, Library
from coswim.profiles.catalog import Catalog
from coswim.profiles.profile import Profile


@given(st.lists(st.integers(0, 5), min_size=2, max_size=9), st.data())
def test_the_figures_of_the_others_pass_over_one_own(values: list[int], data: st.DataObject) -> None:
    """oracle: min, max and statistics.median of the list without one element."""
    own = data.draw(st.sampled_from(values))
    everyone, others = sorted(values), list(values)
    others.remove(own)
    found = Figures(everyone, everyone.index(own))
    assert (found.count, found.low, found.high) == (len(others), min(others), max(others))
    assert found.median == median(others)
    whole = Figures(everyone, None)
    assert (whole.count, whole.low, whole.high, whole.median) == (
        *(len(values), min(values), max(values)),
        median(values),
    )


def test_each_member_is_measured_once_however_many_ask(catalog: Catalog) -> None:
    """So a check takes twice as long for twice the family, not four times."""
    profiles = {entry.scientific_name: catalog.read(entry) for entry in catalog.entries.values()}
    family = [profile for profile in profiles.values() if profile.family == "Cyprinidae"]
    assert len(family) > 10
    library, measured = Library(profiles), list[int]()

    def measure(group: int) -> float:
        measured.append(group)
        return group

    for profile in family:
        assert library.relatives(profile).figures("schooling.smallest_group", measure).count == len(family) - 1
    assert len(measured) == 2 * len(family)  # once to sort them, once for each that passes over itself


@pytest.mark.parametrize(("family", "count"), [("Cyprinidae", -1), ("Characidae", 0), ("Nullidae", None)])
def test_a_species_is_passed_over_in_its_own_family_only(catalog: Catalog, family: str, count: int | None) -> None:
    """A corrected profile may stand in another family than the one that the library still holds."""
    profiles = {entry.scientific_name: catalog.read(entry) for entry in catalog.entries.values()}
    known = [profile for profile in profiles.values() if profile.family == family]
    assert bool(known) == (count is not None)
    barb = next(profile for profile in profiles.values() if profile.family == "Cyprinidae")
    moved: Profile = barb.model_copy(update={"family": family})
    assert Library(profiles).relatives(moved).count == (0 if count is None else len(known) + count)
