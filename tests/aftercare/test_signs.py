"""What is read from notes: invented notes as keepers write them; common practice, no source."""

from __future__ import annotations

import pytest

from coswim.aftercare.signs import count_in, signs_in


@pytest.mark.parametrize(
    ("note", "signs"),
    [
        ("one tetra is missing", ["missing"]),
        ("none missing, all eat", []),
        ("no gasping any more", []),
        ("gasping at the surface", ["short of breath"]),
        ("breathes fast", ["short of breath"]),
        ("found one dead behind the filter", ["dead"]),
        ("half-eaten tetra on the sand", ["eaten"]),
        ("jumped, found on the carpet", ["out of the tank"]),
        ("scales missing on the flank", ["hurt"]),
        ("three scales standing out", ["ill"]),
        ("white spots on the fins", ["ill"]),
        ("not swollen", []),
        ("belly hollow, lies still", ["emaciated"]),
        ("looks thinner", ["thinner"]),
        ("bellies round", ["well fed"]),
        ("not a bite mark anywhere", []),
        ("divider put in", ["parted"]),
        ("divider taken out", ["together again"]),
        ("should put in a divider tomorrow", []),
        ("moved the oscar into the second tank", ["parted"]),
        ("I want a second tank", []),
        ("divider taken out, will watch them", ["together again"]),
        ("divider in tomorrow", []),
        ("the filter stopped overnight", ["a filter that stands still"]),
        ("pump off for cleaning", ["a filter that stands still"]),
        ("swims in the open", []),
        ("will eat from the surface", []),
        ("stays still at the back", []),
    ],
)
def test_signs(note: str, signs: list[str]) -> None:
    assert sorted(str(read.sign) for read in signs_in(note)) == signs


@pytest.mark.parametrize(
    ("note", "count"),
    [
        ("counted twelve, shoal swims in the open", (12, None)),
        ("counted eight tetras of ten", (8, 10)),
        ("only 7 left", (7, None)),
        ("there are five of the six", (5, 6)),
        ("saw 3 cm of new growth", None),
        ("still two days to go", None),
        ("two on the courgette", None),
    ],
)
def test_counts(note: str, count: tuple[int, int | None] | None) -> None:
    assert count_in(note) == count
