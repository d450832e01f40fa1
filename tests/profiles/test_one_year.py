"""How long a fish is a year after it was bought, against what keepers see.

Every figure is common practice, no source: the length in a roomy, warm and well-fed tank, for the fish as shops sell it.
Those of oscar, silver arowana, redtail catfish and discus come from a keeper asked for them, the others are recalled.
"""

from __future__ import annotations

import pytest

from coswim.biology.growth import length_after
from coswim.profiles.catalog import Catalog

TOLERANCE = 0.2
KEEPERS = {
    # name: (length when bought, shortest and longest that keepers see a year later), cm
    "oscar": (5, 20, 25),
    "silver arowana": (12, 45, 60),
    "redtail catfish": (8, 50, 65),
    "discus": (6, 12, 14),
    # fast and large
    "iridescent shark": (8, 28, 38),
    "giant snakehead": (10, 40, 50),
    "tiger shovelnose catfish": (12, 30, 40),
    "red-bellied pacu": (6, 25, 35),
    "butterfly peacock bass": (8, 25, 35),
    "giant gourami": (6, 22, 30),
    "koi": (10, 22, 32),
    "jaguar cichlid": (5, 18, 24),
    "common pleco": (6, 18, 23),
    "ocellate river stingray": (15, 28, 38),
    # middling
    "tinfoil barb": (5, 15, 20),
    "red-bellied piranha": (4, 13, 17),
    "bala shark": (6, 13, 17),
    "severum": (4, 12, 16),
    "Jack Dempsey": (5, 12, 15),
    "common goldfish": (5, 11, 16),
    "freshwater angelfish": (3, 10, 13),
    # slow and large
    "fire eel": (12, 25, 35),
    "frontosa": (5, 10, 12),
    "clown loach": (5, 8, 10),
    # small
    "bristlenose pleco": (3, 8, 11),
    "convict cichlid": (3, 8, 10),
    "Siamese fighting fish": (3, 5.5, 7),
    "zebra pleco": (3, 5, 6.5),
    "bronze corydoras": (2.5, 5, 6.5),
    "zebra danio": (1.5, 3.6, 4.5),
}


def test_the_table_is_long_enough() -> None:
    assert len(KEEPERS) >= 25


@pytest.mark.parametrize(("name", "seen"), KEEPERS.items(), ids=KEEPERS)
def test_a_year_after_it_was_bought_it_is_as_long_as_keepers_see(
    catalog: Catalog, name: str, seen: tuple[float, float, float]
) -> None:
    """At the middle of adult length and growth, in water at the middle of its range."""
    bought, shortest, longest = seen
    profile = catalog.profile(name)
    assert profile.growth is not None
    after = length_after(bought, 1, asymptote=profile.adult_length.middle, rate=profile.growth.middle)
    assert float(after) == pytest.approx((shortest + longest) / 2, rel=TOLERANCE)
