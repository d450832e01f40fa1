"""What a keeper looks for, and which fish do the job of another."""

from __future__ import annotations

from typing import Any

import pytest

from coswim.profiles.catalog import Catalog
from coswim.shortlist.wish import Wish
from coswim.text.quantities import Range


@pytest.mark.parametrize(
    ("asked", "found", "not_found"),
    [
        ({"text": "tetra"}, "cardinal tetra", "zebrafish"),
        ({"family": "Cichl"}, "oscar", "zebrafish"),
        ({"level": "bottom"}, "bronze corydoras", "marbled hatchetfish"),
        ({"size": Range(5.0, 5.0)}, "neon tetra", "oscar"),
        ({"size": Range(30.0, 40.0)}, "oscar", "neon tetra"),
        ({"diet": "algae"}, "otocinclus", "oscar"),
        ({"is_lively": True}, "tiger barb", "blue discus"),
    ],
    ids=lambda value: str(value) if isinstance(value, dict) else "",
)
def test_a_wish(catalog: Catalog, asked: dict[str, Any], found: str, not_found: str) -> None:
    wish = Wish(**asked)

    def fits(name: str) -> bool:
        return wish.names_fit(catalog.find(name)) and wish.fits(catalog.profile(name))

    assert fits(found)
    assert not fits(not_found)


@pytest.mark.parametrize(
    ("fish", "others", "unlike"),
    [
        ("tinfoil barb", ["bala shark", "silver dollar"], ["neon tetra", "tinfoil barb", "common pleco"]),
        ("neon tetra", ["cardinal tetra", "ember tetra"], ["oscar", "bronze corydoras", "Siamese fighting fish"]),
        ("bronze corydoras", ["panda corydoras"], ["neon tetra", "bristlenose pleco"]),
    ],
)
def test_who_does_the_job(catalog: Catalog, fish: str, others: list[str], unlike: list[str]) -> None:
    """Common practice, no source: what keepers name in place of each other."""
    wish = Wish(like=catalog.profile(fish))
    assert [name for name in others if not wish.fits(catalog.profile(name))] == []
    assert [name for name in unlike if wish.fits(catalog.profile(name))] == []
