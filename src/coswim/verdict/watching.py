"""What to look at first once the fish are together, for each kind of trouble. Source: common practice."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from types import MappingProxyType

from coswim.verdict.rating import Finding

WATCH: Mapping[str, str] = MappingProxyType(
    {
        "gape-fit": "count the small ones every morning; after the first that is missing, part them",
        "spine-choking": "look for a fish that gapes, hangs or swims with something in its mouth",
        "feeding-competition": "see who eats at every meal, and whether a back turns thin or a belly hollow",
        "water-overlap": "see who breathes fast, clamps its fins or pales, and measure the water weekly",
        "aggression": "see who hides, is kept in a corner or has split fins, in the first two weeks daily",
        "nipping": "look at fins, barbels and eyes daily for two weeks; part them at the second tear",
        "injury": "look for wounds, missing scales and cloudy eyes after every night",
        "schooling": "see whether they dart, hide or hang apart instead of moving together",
        "space": "measure the grown ones every three months, and plan the larger tank early",
        "water-load": "measure ammonia, nitrite and nitrate before each water change",
        "escape": "close every gap and look on the floor in the first mornings",
    }
)
"""By hazard."""


def watch(findings: Iterable[Finding], *, most: int) -> tuple[str, ...]:
    """What to look at for the leading findings, most serious first, each once."""
    return tuple(dict.fromkeys(WATCH[finding.found.hazard] for finding in findings))[:most]
