"""The way out: whether a divider serves, and what a second tank must be."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest

from coswim.aftercare.way_out import divided, words

PLAN = """
    tank: {{size: {size}, temperature: 26 C}}
    residents: [{{species: oscar, length: {length} cm}}]
    proposals: [{{name: green terror, add: [{{species: green terror, length: 10 cm}}]}}]
"""


@pytest.mark.parametrize(
    ("size", "length", "halves", "weeks"),
    [
        ("200 x 60 x 60 cm", 20, True, True),
        ("100 x 50 x 50 cm", 30, False, True),  # derived: two lengths of 30 and of 10 cm are 80 of 100 cm
        ("60 x 50 x 50 cm", 25, False, False),  # derived: 50 + 20 is more than 60 cm
        ("120 x 25 x 40 cm", 30, False, False),  # it cannot turn
    ],
)
def test_a_divider(size: str, length: float, halves: bool, weeks: bool, bought: Callable[..., Any]) -> None:
    theirs = bought(PLAN.format(size=size, length=length))
    parted = divided(theirs.company, theirs.concerns)
    assert parted is not None
    assert (parted.halves_serve, parted.serves_for_weeks) == (halves, weeks)
    assert not parted.serves_for_good


def test_a_second_tank_is_no_smaller_than_the_law(bought: Callable[..., Any]) -> None:
    """Published: Swiss Animal Protection Ordinance, Annex 2, Table 8: 3 x 2 x 1 body lengths."""
    theirs = bought(PLAN.format(size="200 x 60 x 60 cm", length=25))
    parted = divided(theirs.company, theirs.concerns)
    assert parted is not None
    eater = parted.one.fish[0]
    body = eater.length * eater.standard_fraction
    (second,) = [line for line in words(theirs.company, theirs.concerns) if line.startswith("A second tank")]
    length, width, height = (float(side) for side in second.split("about ")[1].split(" cm")[0].split(" x "))
    assert (length >= 3 * body, width >= 2 * body, height >= body) == (True, True, True)
    litres = float(second.split("at least ")[1].split(" L")[0])
    assert length * width * height >= 1000 * litres


def test_never_release(bichir: Any) -> None:
    assert any(line.startswith("Never release") for line in words(bichir.company, bichir.concerns))
