"""The times at which a course is reckoned: dense in the first weeks, then by the season."""

from __future__ import annotations

import numpy as np

from coswim.arrays import REAL, Floats
from coswim.text.quantities import DAYS_PER_MONTH, DAYS_PER_WEEK, MONTHS_PER_YEAR

WEEKS = (0, 1, 2, 4, 6, 8, 13)
"""Weeks after they meet."""
SEASON, HALF_YEAR, YEAR = 3.0, 6.0, MONTHS_PER_YEAR
SEASONS_UNTIL, HALF_YEARS_UNTIL = 24.0, 60.0
"""Months between two times, and up to which month."""
CLOSE = 0.5
"""Months before the horizon within which no further time is needed."""


def times(horizon: float) -> Floats:
    """Months from the day they meet, up to the horizon, shape (times,).

    >>> [round(float(month), 1) for month in times(9)]
    [0.0, 0.2, 0.5, 0.9, 1.4, 1.8, 3.0, 6.0, 9.0]
    """
    weeks = [week * DAYS_PER_WEEK / DAYS_PER_MONTH for week in WEEKS]
    later: list[float] = []
    month = 2 * SEASON
    while month < horizon:
        later.append(month)
        month += SEASON if month < SEASONS_UNTIL else HALF_YEAR if month < HALF_YEARS_UNTIL else YEAR
    return np.array([time for time in (*weeks, *later) if time < horizon - CLOSE] + [float(horizon)], dtype=REAL)


def when(month: float) -> str:
    """A time in words: weeks in the first three months, then months.

    >>> when(0), when(1.38), when(9.0)
    ('on the first day', 'in week 6', 'at month 9')
    """
    if month <= 0:
        return "on the first day"
    weeks = round(month * DAYS_PER_MONTH / DAYS_PER_WEEK)
    return f"in week {weeks}" if weeks <= WEEKS[-1] else f"at month {round(month)}"
