"""What fish stand, held against published limits of sensitive animals."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
import pytest

from coswim.biology.nitrogen import NO2_PER_N, NO3_PER_N
from coswim.plans.reading import read_plan
from coswim.profiles.catalog import Catalog
from coswim.simulation import tolerance
from coswim.simulation.group import Group
from coswim.simulation.scene import Effort, build_scene
from coswim.simulation.tolerance import Limits

TANK = "tank: {size: 100 x 40 x 50 cm, temperature: 25 C, ph: 7, hardness: 6 dGH}\n"
JUDGED = (tolerance.nitrate_limits, tolerance.ammonia_limits, tolerance.nitrite_limits)


def fish(catalog: Catalog, species: str, length: float) -> Group:
    read = read_plan(f"{TANK}residents: [{{species: {species}, length: {length} cm}}]\n", "plan.yaml", catalog)
    return build_scene(read, None, catalog, Effort(draws=200)).groups[0]


def test_nitrate_of_the_most_sensitive() -> None:
    """Published: 10 mg NO3-N/L (44 mg NO3/L), Camargo, Alonso & Salamanca 2005, Chemosphere 58:1255-1267."""
    assert pytest.approx(10 * NO3_PER_N, abs=0.05) == tolerance.NITRATE_FROM


def test_un_ionised_ammonia_that_harms() -> None:
    """Published: above 0.05 mg/L, UF/IFAS FA-16."""
    assert tolerance.AMMONIA_FROM == 0.05


def test_nitrite_that_harms() -> None:
    """Common practice, no source: 1 mg/L of NO2."""
    assert pytest.approx(1.0, abs=0.05) == tolerance.NITRITE_FROM * NO2_PER_N


@pytest.mark.parametrize("limits_of", JUDGED, ids=lambda limits_of: limits_of.__name__)
def test_no_fish_stands_less_than_the_published_limit(catalog: Catalog, limits_of: Callable[[Group], Limits]) -> None:
    published = {"nitrate_limits": 44.3, "ammonia_limits": 0.05, "nitrite_limits": 0.3}[limits_of.__name__]
    delicate, ordinary, hardy = (
        limits_of(fish(catalog, name, length))
        for name, length in (("blue discus", 10), ("neon tetra", 3), ("oscar", 15))
    )
    assert np.min(delicate.stress) >= published
    assert np.median(delicate.stress) < np.median(ordinary.stress) < np.median(hardy.stress)
    for limits in (delicate, ordinary, hardy):
        assert np.all(limits.stress < limits.lasting)
        assert np.all(limits.lasting < limits.deadly)


def test_oxygen_by_what_the_fish_breathes(catalog: Catalog) -> None:
    torrent = tolerance.oxygen_limits(fish(catalog, "reticulated hillstream loach", 5))
    ordinary = tolerance.oxygen_limits(fish(catalog, "neon tetra", 3))
    gourami = tolerance.oxygen_limits(fish(catalog, "pearl gourami", 9))
    assert torrent.stress > ordinary.stress > gourami.stress == -np.inf
    assert torrent.lasting > ordinary.lasting > gourami.lasting == -np.inf
