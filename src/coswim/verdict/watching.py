"""What the hazards say of themselves in a word, and what to look at first once the fish are together."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from types import MappingProxyType

from coswim.hazards import BY_ID
from coswim.verdict.rating import Finding

LABELS: Mapping[str, str] = MappingProxyType({name: hazard.LABEL for name, hazard in BY_ID.items()})
"""One word for each hazard."""


def watch(findings: Iterable[Finding], *, most: int) -> tuple[str, ...]:
    """What to look at for the leading findings, most serious first, each once. Source: common practice."""
    return tuple(dict.fromkeys(BY_ID[finding.found.hazard].WATCH for finding in findings))[:most]
