"""Sparklines and trends."""

from __future__ import annotations

from typing import Any

import pytest

from coswim.aftercare.trends import BARS, LONGEST, sparkline, trends


@pytest.mark.parametrize(
    ("values", "bars"),
    [
        ([1], "▁"),
        ([0, 7], "▁█"),
        (list(range(8)), BARS),  # derived: eight values, eight heights
        ([3, 3, 3], "▁▁▁"),
    ],
)
def test_sparkline(values: list[float], bars: str) -> None:
    assert sparkline(values) == bars


def test_a_long_line_shows_its_end() -> None:
    assert sparkline([0.0] * 100 + [1.0]) == "▁" * (LONGEST - 1) + "█"


def test_the_trends_of_a_diary(bichir: Any) -> None:
    seen = bichir.watched("""
        {date: 2026-01-06, group: bichir, ate: yes, weight: 400 g}
        {date: 2026-01-07, group: bichir, ate: no}
        {date: 2026-01-08, group: bichir, ate: some, weight: 380 g}
        {date: 2026-01-09, water: {ammonia: 0, ph: 7}}
        {date: 2026-01-10, water: {ammonia: 1, ph: 7.5}}
    """)
    found = {(trend.of, trend.what): (trend.bars, trend.first, trend.last) for trend in trends(seen)}
    assert found["saddled bichir", "ate"] == ("█▁▅", "yes", "some")
    assert found["saddled bichir", "weight"] == ("█▁", "400 g", "380 g")
    assert found["water", "total ammonia"] == ("▁█", "0 mg/L", "1 mg/L")
    assert found["water", "pH"] == ("▁█", "7", "7.5")
    assert ("saddled bichir", "length") not in found
