"""The longest fish that a largemouth bass swallows, by the built-in profiles, the simulation and gape-fit.

Published: Lawrence J.M. 1958, Proc. Southeast. Assoc. Game Fish Comm. 11:220-225 (rows as reproduced in
pond-management literature, second-hand); Proc. SEAFWA 1980, West Point Lake size-selection study (0.4 of
the predator's length for bluegill, 0.5 for gizzard shad). The model is held to within 20 %.
"""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path
from textwrap import dedent

import pytest

from coswim.hazards import gape_fit
from coswim.plans.reading import read_plan
from coswim.profiles.catalog import BUILT_IN, Catalog
from coswim.simulation.group import Group
from coswim.simulation.scene import Effort, build_scene
from coswim.text.quantities import Range

CM_PER_INCH = 2.54
DRAWS = 600
WITHIN = 0.20
BASS = "largemouth bass"

ROWS = [  # published: length of the bass, of the longest bluegill and of the longest bass it takes, inches
    (10.5, 3.51, 5.71),
    (16.5, 5.72, 9.80),
    (22.5, 8.77, 13.98),
]
LAWRENCE = [pytest.param(*row, id=f"bass of {row[0]} in") for row in ROWS]
SHAD = """
scientific_name: Dorosoma cepedianum
common_names: [gizzard shad]
family: Dorosomatidae
adult_length: 25-35 cm
record_length: 57 cm
body: {form: fusiform, standard_length: 0.8, depth: 0.33-0.40}
growth: 0.3-0.6
sources: {adult_length: memory, body: memory, growth: memory}
"""


def share_that_fits(catalog: Catalog, eater_cm: float, prey: str, prey_cm: float) -> float:
    """Share of draws in which the prey fits the bass's mouth on the first day."""
    plan = f"""
        tank: {{size: 400 x 150 x 100 cm, temperature: 22 C, ph: 7.5, hardness: 10 dGH}}
        residents: [{{species: {BASS}, length: {eater_cm:.4f} cm}}]
        proposals: [{{name: prey, add: [{{species: {prey}, length: {prey_cm:.4f} cm}}]}}]
        horizon: 1 month
    """
    read = read_plan(dedent(plan), "bass.yaml", catalog)
    scene = build_scene(read, read.plan.proposals[0], catalog, Effort(draws=DRAWS))
    for found in gape_fit.find(scene):
        if found.doer is not None and found.doer.is_resident:
            return gape_fit.pictures(scene, found)[0].shares[0]
    return 0.0


def longest_swallowed(catalog: Catalog, eater_cm: float, prey: str) -> float:
    """The length, cm, at which half of the draws still fit, found by halving."""
    short, long = 1.0, eater_cm
    while long - short > 0.05:
        middle = (short + long) / 2
        if share_that_fits(catalog, eater_cm, prey, middle) >= 0.5:
            short = middle
        else:
            long = middle
    return short


@pytest.mark.parametrize(("bass", "bluegill", "smaller_bass"), LAWRENCE)
def test_lawrence(catalog: Catalog, bass: float, bluegill: float, smaller_bass: float) -> None:
    longest_bluegill = longest_swallowed(catalog, bass * CM_PER_INCH, "bluegill") / CM_PER_INCH
    longest_bass = longest_swallowed(catalog, bass * CM_PER_INCH, BASS) / CM_PER_INCH
    assert longest_bluegill == pytest.approx(bluegill, rel=WITHIN)
    assert longest_bass == pytest.approx(smaller_bass, rel=WITHIN)
    assert longest_bluegill < longest_bass


def share_eaten(catalog: Catalog, eater_cm: float, prey: str, prey_cm: float) -> float:
    """The share of futures in which a bass that has done growing eats such a prey within two years."""
    plan = f"""
        tank: {{size: 400 x 150 x 100 cm, temperature: 22 C, ph: 7.5, hardness: 10 dGH}}
        residents: [{{species: {BASS}, length: {eater_cm:.4f} cm}}]
        proposals: [{{name: prey, add: [{{species: {prey}, length: {prey_cm:.4f} cm}}]}}]
        horizon: 24 months
    """
    read = read_plan(dedent(plan), "bass.yaml", catalog)
    scene = build_scene(read, read.plan.proposals[0], catalog, Effort(draws=DRAWS))
    still = replace(scene, groups=tuple(map(as_long_as_now, scene.groups)))
    found = [each for each in gape_fit.find(still) if each.doer is not None and each.doer.is_resident]
    return float(found[0].outcomes[0].happens.mean()) if found else 0.0


def as_long_as_now(fish: Group) -> Group:
    """The same fish that grows no more, as the published lengths are those of one day."""
    full_grown = {"adult_length": Range(fish.start_length, fish.start_length)}
    return replace(fish, profile=fish.profile.model_copy(update=full_grown))


@pytest.mark.parametrize(("bass", "bluegill", "smaller_bass"), LAWRENCE)
@pytest.mark.parametrize("prey", ["bluegill", BASS])
def test_prey_is_eaten_as_published(
    catalog: Catalog, bass: float, bluegill: float, smaller_bass: float, prey: str
) -> None:
    """Within two years: in nearly all futures at half of Lawrence's maximum, in most at three quarters, in few at it."""
    largest = CM_PER_INCH * (bluegill if prey == "bluegill" else smaller_bass)
    half, three_quarters, at_most = (
        share_eaten(catalog, bass * CM_PER_INCH, prey, part * largest) for part in (0.5, 0.75, 1.0)
    )
    assert half > 0.85
    assert three_quarters > 0.5
    assert at_most < 0.45
    assert three_quarters > 1.7 * at_most


def test_few_are_eaten_at_the_maximum(catalog: Catalog) -> None:
    """Over all of Lawrence's rows, as each row of the model lies within 20 % of the published one."""
    shares = [
        share_eaten(catalog, bass * CM_PER_INCH, prey, longest * CM_PER_INCH)
        for bass, bluegill, smaller_bass in ROWS
        for prey, longest in (("bluegill", bluegill), (BASS, smaller_bass))
    ]
    assert sum(shares) / len(shares) < 0.25


def test_west_point_lake(catalog: Catalog, tmp_path: Path) -> None:
    """Published: 120 mm of bluegill, 150 mm of shad for a bass of 300 mm; the shad's shape is from memory."""
    (tmp_path / "dorosoma-cepedianum.yaml").write_text(SHAD, encoding="utf-8")
    with_shad = Catalog((BUILT_IN, tmp_path))
    bluegill = longest_swallowed(catalog, 30.0, "bluegill")
    shad = longest_swallowed(with_shad, 30.0, "gizzard shad")
    assert bluegill == pytest.approx(12.0, rel=WITHIN)
    assert shad == pytest.approx(15.0, rel=WITHIN)
    assert bluegill < shad


@pytest.mark.parametrize("prey", ["bluegill", BASS])
def test_a_longer_prey_never_fits_more_often(catalog: Catalog, prey: str) -> None:
    shares = [share_that_fits(catalog, 40.0, prey, length) for length in range(4, 40, 4)]
    assert shares == sorted(shares, reverse=True)
    assert shares[0] == 1.0
    assert shares[-1] == 0.0
