"""What to look at first once the fish are together, for each kind of trouble. Source: common practice."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from types import MappingProxyType

from coswim.verdict.rating import Finding

WATCH: Mapping[str, str] = MappingProxyType(
    {
        "gape-fit": "count the small ones every morning",
        "spine-choking": "look for a fish that gapes, hangs or has something in its mouth",
        "feeding-competition": "see who eats at every meal, and look for thin backs and hollow bellies",
        "water-overlap": "see who breathes fast, clamps its fins or pales; measure the water weekly",
        "aggression": "see who hides, keeps to a corner or has split fins, daily for two weeks",
        "nipping": "look at fins, barbels and eyes daily for two weeks",
        "injury": "look for wounds and cloudy eyes every morning",
        "schooling": "see whether they dart, hide or hang apart instead of moving together",
        "space": "measure the grown ones every three months; plan the larger tank early",
        "water-load": "measure ammonia, nitrite and nitrate before each water change",
        "escape": "close every gap; look on the floor in the first mornings",
    }
)
"""By hazard."""


def watch(findings: Iterable[Finding], *, most: int) -> tuple[str, ...]:
    """What to look at for the leading findings, most serious first, each once."""
    return tuple(dict.fromkeys(WATCH[finding.found.hazard] for finding in findings))[:most]
