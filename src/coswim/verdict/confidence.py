"""How well a finding is supported follows from the sources of the traits it used.

Every block of a profile names its source, and every source is of a kind: measured (on the species),
published (a reference work, second-hand), common practice (what experienced keepers recommend, no
measurement) or memory (recalled or judged). A finding is as strong as its weakest trait, and it names
the traits that are as weak as that: these are the ones to look up or to measure on your own fish.

The spread of the draws is a second measure: a likelihood within a tenth of a band's edge is shown with
both bands. Confidence says nothing about the model itself: rules marked judgement in `coswim explain`
are judgement however well the traits are known.
"""

from __future__ import annotations

from coswim.findings.finding import Found
from coswim.profiles.catalog import Catalog
from coswim.profiles.sources import weakest


def confidence_of(found: Found, catalog: Catalog) -> tuple[str, tuple[str, ...]]:
    """The weakest kind of source behind a finding, and the traits that rest on it."""
    evidence = {
        f"{trait.rpartition('.')[2].replace('_', ' ')} of the {used.profile.name}": catalog.evidence(
            used.profile, trait
        )
        for used in found.uses
        for trait in used.traits
        if used.profile.has(trait)
    }
    confidence = weakest(list(evidence.values()))
    return confidence, tuple(trait for trait, how in evidence.items() if how == confidence)
