"""The built-in library against what every keeper knows: who eats whom, who eats first, who shares a temperature.

All expectations are common practice, no source, unless a check names one.
"""

from __future__ import annotations

import pytest

from coswim.biology import mouth
from coswim.profiles import scales
from coswim.profiles.catalog import Catalog

MIDDLE_STRETCH = sum(mouth.STRETCH) / 2


def _swallows(catalog: Catalog, eater: tuple[str, float], prey: tuple[str, float], stretch: float) -> bool:
    """A typical eater of a total length wants the prey and gets it into its mouth."""
    hunter, meal = catalog.profile(eater[0]), catalog.profile(prey[0])
    assert hunter.feeding_style
    assert hunter.mouth_gape
    assert hunter.body.standard_length
    assert meal.body.standard_length
    assert meal.body.width
    ratio = prey[1] / eater[1]
    girth = max(meal.body.depth.middle, meal.body.width.middle) * meal.body.standard_length * prey[1]
    gape = hunter.mouth_gape.middle * hunter.body.standard_length * eater[1]
    fits = mouth.tightness(girth, gape, stretch=stretch, length_ratio=ratio) <= 1
    return bool(fits) and ratio <= scales.EATS_FISH.number(hunter.feeding_style.eats_fish)


@pytest.mark.parametrize(
    ("eater", "prey"),
    [
        (("angelfish", 12), ("neon tetra", 2.5)),
        (("oscar", 30), ("tinfoil barb", 8)),
        (("saddled bichir", 40), ("Congo tetra", 5)),
        (("silver arowana", 60), ("bala shark", 12)),
        (("pictus catfish", 12), ("neon tetra", 2.5)),
        (("goldfish", 25), ("white cloud mountain minnow", 2.5)),
        (("tinfoil barb", 25), ("neon tetra", 3)),
        (("bala shark", 25), ("neon tetra", 3)),
        (("redtail catfish", 80), ("oscar", 20)),
        (("marble goby", 35), ("kribensis", 7)),
        (("pike killifish", 15), ("guppy", 3)),
        (("clown knifefish", 50), ("angelfish", 6)),
        (("Guyana leaffish", 7), ("neon tetra", 2.5)),
        (("severum", 18), ("neon tetra", 3)),
    ],
)
def test_the_classic_accidents_happen(catalog: Catalog, eater: tuple[str, float], prey: tuple[str, float]) -> None:
    """common practice, no source."""
    assert _swallows(catalog, eater, prey, MIDDLE_STRETCH)


@pytest.mark.parametrize(
    ("eater", "prey"),
    [
        (("Siamese fighting fish", 6.5), ("neon tetra", 3)),
        (("kribensis", 9), ("neon tetra", 3)),
        (("clown loach", 25), ("neon tetra", 3)),
        (("kuhli loach", 9), ("ember tetra", 2)),
        (("Congo tetra", 9), ("ember tetra", 2)),
        (("discus", 15), ("cardinal tetra", 3)),
        (("bronze corydoras", 6.5), ("ember tetra", 2)),
        (("common pleco", 35), ("neon tetra", 3)),
        (("angelfish", 12), ("black skirt tetra", 4)),
        (("oscar", 25), ("silver dollar", 12)),
        (("saddled bichir", 40), ("silver dollar", 10)),
        (("Senegal bichir", 25), ("angelfish", 8)),
        (("firemouth cichlid", 12), ("harlequin rasbora", 4)),
    ],
)
def test_what_lives_together_is_not_eaten(catalog: Catalog, eater: tuple[str, float], prey: tuple[str, float]) -> None:
    """common practice, no source; not even with the widest stretch."""
    assert not _swallows(catalog, eater, prey, mouth.STRETCH[1])


@pytest.mark.parametrize(("bass", "longest"), [(10.5, 3.51), (16.5, 5.72), (22.5, 8.77)])
def test_the_bass_swallows_the_published_bluegill(catalog: Catalog, bass: float, longest: float) -> None:
    """published: Lawrence 1958, Proc. SEAFWA 11:220-225, inches, within 20 %."""
    hunter, meal = catalog.profile("largemouth bass"), catalog.profile("bluegill")
    assert hunter.mouth_gape
    assert hunter.body.standard_length
    assert meal.body.standard_length
    length = mouth.longest_prey(
        hunter.mouth_gape.middle * hunter.body.standard_length * bass,
        cross_section_per_length=meal.body.depth.middle * meal.body.standard_length,
        predator_length=bass,
        stretch=MIDDLE_STRETCH,
    )
    assert float(length) == pytest.approx(longest, rel=0.2)


@pytest.mark.parametrize(
    ("faster", "slower"),
    [
        ("goldfish", "fancy goldfish"),
        ("tinfoil barb", "saddled bichir"),
        ("giant danio", "discus"),
        ("tiger barb", "pearl gourami"),
        ("zebra mbuna", "frontosa"),
        ("zebra danio", "Siamese fighting fish"),
        ("red rainbowfish", "threadfin rainbowfish"),
        ("oscar", "common pleco"),
        ("molly", "elephantnose fish"),
    ],
)
def test_the_feeding_race_is_won_by_whom_keepers_see_win(catalog: Catalog, faster: str, slower: str) -> None:
    """common practice, no source."""
    minutes = [
        scales.PACE.number(style.pace) for name in (faster, slower) if (style := catalog.profile(name).feeding_style)
    ]
    assert minutes == sorted(set(minutes))


@pytest.mark.parametrize(
    ("one", "other", "share"),
    [
        ("discus", "goldfish", False),
        ("discus", "neon tetra", False),
        ("discus", "white cloud mountain minnow", False),
        ("discus", "cardinal tetra", True),
        ("discus", "rummynose tetra", True),
        ("goldfish", "white cloud mountain minnow", True),
        ("fancy goldfish", "weather loach", True),
        ("neon tetra", "bronze corydoras", True),
        ("tinfoil barb", "saddled bichir", True),
    ],
)
def test_who_shares_a_temperature(catalog: Catalog, one: str, other: str, share: bool) -> None:
    """common practice, no source."""
    first, second = (catalog.profile(name).water_ranges for name in (one, other))
    assert first
    assert second
    window = min(first.temperature.high, second.temperature.high) - max(first.temperature.low, second.temperature.low)
    assert (window > 0) is share
