"""How many of a species a keeper would buy, of which sex, and at which lengths."""

from __future__ import annotations

from typing import Any

import pytest

from coswim.profiles.catalog import Catalog
from coswim.profiles.profile import Profile, Sexes
from coswim.shortlist.offer import offer


def species(catalog: Catalog, name: str, group: int, **sexes: Any) -> Profile:
    """A profile of the library with another group and ratio of the sexes."""
    profile = catalog.profile(name)
    assert profile.schooling is not None
    schooling = profile.schooling.model_copy(update={"smallest_group": group})
    return profile.model_copy(
        update={"schooling": schooling, "sexes": Sexes.model_construct(**sexes) if sexes else None}
    )


@pytest.mark.parametrize(
    ("group", "sexes", "present", "number", "males"),
    [
        (6, {}, 0, 6, None),
        (6, {}, 4, 2, None),
        (6, {}, 8, 1, None),
        (0, {}, 0, 1, None),
        (1, {"females_per_male": 3}, 0, 1, None),
        (2, {"females_per_male": 2}, 0, 3, 1),
        (6, {"females_per_male": 2}, 0, 6, 2),
        (6, {"females_per_male": 2, "males": "territorial"}, 0, 6, 1),
        (4, {"males": "aggressive"}, 0, 4, 1),
        (6, {"males": "assertive"}, 0, 6, None),
    ],
    ids=[
        "a shoal",
        "completes the shoal that is there",
        "one more of a whole shoal",
        "kept singly",
        "alone, whatever the sexes want",
        "a pair becomes a trio",
        "one male for two females",
        "rivals: one male",
        "one male though no ratio is known",
        "males that bear each other",
    ],
)
def test_number_and_sexes(
    catalog: Catalog, group: int, sexes: dict[str, Any], present: int, number: int, males: int | None
) -> None:
    bought = offer(species(catalog, "platy", group, **sexes), present=present)
    assert (bought.number, bought.males) == (number, males)


def test_lengths_go_from_the_usual_size_to_the_middle_of_the_adults(catalog: Catalog) -> None:
    dollar = catalog.profile("Metynnis argenteus")
    lengths = offer(dollar).lengths
    assert lengths[0] == dollar.usual_size
    assert lengths[-1] <= dollar.adult_length.middle < lengths[-1] + 1
    assert list(lengths) == sorted(set(lengths))


def test_every_species_of_the_library_can_be_bought(catalog: Catalog) -> None:
    for entry in catalog.entries.values():
        bought = offer(catalog.completed(entry))
        assert bought.number >= 1
        assert bought.lengths
        assert bought.males is None or 1 <= bought.males < bought.number
