"""No verdict flips with the seed without saying so; `flips.py` tries every pairing with thirty seeds, by hand."""

from __future__ import annotations

import pytest
from tests.panel.flips import plans, verdicts


@pytest.mark.parametrize(
    ("panel", "pairing", "seeds"),
    [
        ("general", "GG020", (1, 3)),
        ("general_third", "G3-043", (1, 3)),
        ("feeding_second", "F2B04", (1, 2)),
    ],
    ids=["few futures in all", "hardly in the tank as it stands", "residents or newcomers harmed by the water"],
)
def test_of_two_seeds_each_names_the_verdict_of_the_other(panel: str, pairing: str, seeds: tuple[int, int]) -> None:
    (plan,) = (plan for plan in plans([panel]) if plan[0].endswith(f":{pairing}"))
    (runs,) = verdicts(plan, seeds).values()
    for run in runs:
        assert {other.words for other in runs} <= {run.words, *run.close_to}
