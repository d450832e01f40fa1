"""What a keeper knows of one fish stands for its species' value, and is evidence of its own."""

from __future__ import annotations

from coswim.plans.this_fish import ThisFish
from coswim.profiles.catalog import Catalog


def test_a_word_stands_for_the_species_and_names_its_keeper_as_the_source(catalog: Catalog) -> None:
    species = catalog.profile("oscar")
    fish = ThisFish.model_validate({"eats_fish": "no", "adult_length": "28-30 cm"}).applied(species)
    assert fish.feeding_style is not None
    assert fish.feeding_style.eats_fish == "no"
    assert catalog.evidence(fish, "feeding_style.eats_fish") == "own-observation"
    assert catalog.evidence(fish, "adult_length") == "own-observation"
    assert catalog.evidence(fish, "feeding_style.pace") == catalog.evidence(species, "feeding_style.pace")


def test_a_measure_alone_leaves_the_profile_as_it_is(catalog: Catalog) -> None:
    species = catalog.profile("oscar")
    assert ThisFish.model_validate({"mouth": "41 mm"}).applied(species) is species
