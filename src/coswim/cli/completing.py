"""What a shell offers when Tab is pressed: species, topics, and the words of options.

A name is offered with hyphens for its spaces, which needs no quotes in any shell and is understood as well.
"""

from __future__ import annotations

import re
from collections.abc import Iterator

COUNT = re.compile(r"^\s*(\d+)[\s-]+")


def species(incomplete: str) -> list[str]:
    """Common and scientific names that begin so."""
    return sorted(set(_names(incomplete)))


def fish(incomplete: str) -> list[str]:
    """The same behind a number: `8-neon-tetra`."""
    counted = COUNT.match(incomplete)
    return [(f"{counted[1]}-" if counted else "") + name for name in species(COUNT.sub("", incomplete))]


def topics(incomplete: str) -> list[str]:
    """Topics of `coswim explain` that begin so."""
    from coswim.explaining import TOPICS

    return [topic for topic in TOPICS if topic.startswith(incomplete)]


def starters(incomplete: str) -> list[str]:
    """Kinds of plan to start from that begin so."""
    from coswim.plans.starter import STARTERS

    return [kind for kind in STARTERS if kind.startswith(incomplete)]


def formats(incomplete: str) -> list[str]:
    """Formats of a report that begin so."""
    from coswim.cli.typed import ALL_FORMATS

    return [name for name in ALL_FORMATS if name.startswith(incomplete)]


def _names(incomplete: str) -> Iterator[str]:
    from coswim.profiles.catalog import Catalog

    wanted = _as_offered(incomplete).casefold()
    for entry in Catalog.standard().entries.values():
        for name in (entry.scientific_name, *entry.common_names):
            if _as_offered(name).casefold().startswith(wanted):
                yield _as_offered(name)


def _as_offered(name: str) -> str:
    return re.sub(r"[\s-]+", "-", re.sub(r"['’`]", "", name))
