"""Instead of a proposal: how it is typed, what is wrong with it, and what has not got that failing."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from coswim.profiles.catalog import Catalog, UnknownSpecies
from coswim.shortlist.instead import typed_group
from coswim.shortlist.making import Shortlist
from coswim.text.quantities import QuantityError

BICHIR = """
    tank: {size: 180 x 60 x 60 cm, temperature: 26 C, ph: 7.0, hardness: 6 dGH}
    residents: [{species: saddled bichir, length: 38 cm}]
    horizon: 6 months
    """


@pytest.mark.parametrize(
    ("typed", "count", "length"),
    [
        ("eight tinfoil barbs", 8, None),
        ("8 tinfoil barb, 10 cm", 8, 10.0),
        ("8x tinfoil barb, 4 in", 8, 10.16),
        ("a tinfoil barb", 1, None),
        ("tinfoil barb", 6, None),
        ("Barbonymus schwanenfeldii, 12 cm", 6, 12.0),
    ],
)
def test_typed(catalog: Catalog, typed: str, count: int, length: float | None) -> None:
    """A number in words or figures; without one the smallest group, without a length the usual size."""
    profile, group = typed_group(typed, catalog)
    assert profile.scientific_name == "Barbonymus schwanenfeldii"
    assert group.count == count
    assert group.length == pytest.approx(length or profile.usual_size)


@pytest.mark.parametrize(
    ("typed", "wrong"),
    [
        ("", QuantityError),
        ("8 gribbles", UnknownSpecies),
        ("0 tinfoil barb", QuantityError),
        ("2 oscar, far", QuantityError),
    ],
)
def test_mistyped(catalog: Catalog, typed: str, wrong: type[Exception]) -> None:
    with pytest.raises(wrong):
        typed_group(typed, catalog)


@pytest.mark.filterwarnings("ignore:overflow encountered:RuntimeWarning")
def test_what_is_offered_does_the_job_without_the_failing(listed: Callable[..., Shortlist], catalog: Catalog) -> None:
    """Small tinfoil barbs are swallowed by a grown bichir; what is offered instead is not (common practice)."""
    found = listed(BICHIR, instead=typed_group("eight tinfoil barbs", catalog))
    assert found.instead is not None
    assert found.instead.verdict.words == "do not stock"
    assert any("swallow the 8 tinfoil barbs" in failing for failing in found.instead.failings)
    names = [entry.profiles[0].name for entry in found.entries]
    assert "silver dollar" in names
    assert "tinfoil barb" not in names
    assert all(entry.verdict.words.startswith(("possible", "reasonable")) for entry in found.entries)
