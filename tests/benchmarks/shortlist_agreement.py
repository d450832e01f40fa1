"""Shortlists beside what keepers expect; run by hand: `python tests/benchmarks/shortlist_agreement.py [ID ...]`.

The expectations (`tests/panel/shortlists.yaml`) are common practice without source, written by someone who saw no
rule. Prints the top ten, species by species, with what is expected of each; for a species that is welcome and not
among them where it stands, or why it failed; and for one that is unwelcome whether it is kept out. Asserts nothing.
"""

from __future__ import annotations

import sys
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import yaml

from coswim.plans.reading import resolve
from coswim.profiles.catalog import BUILT_IN, Catalog
from coswim.shortlist.making import Shortlist, shortlist
from coswim.simulation.scene import Effort
from coswim.text.document import YamlDocument

EXPECTED = Path(__file__).parents[1] / "panel" / "shortlists.yaml"
TEN = 10
Case = dict[str, Any]


def made(case: Case, catalog: Catalog) -> Shortlist:
    """The shortlist for a case."""
    data = {"title": case["id"], "tank": case["tank"], "residents": case["residents"]}
    read = resolve(YamlDocument(case["id"], data, None), catalog, may_be_empty=True)
    return shortlist(read, catalog, effort=Effort(), processes=2)


def told(case: Case, found: Shortlist, catalog: Catalog) -> Iterator[str]:
    """The comparison, line by line."""
    doubtful = {catalog.find(name).scientific_name for name in case["with_reservations"]}
    welcome = {catalog.find(name).scientific_name: name for name in case["welcome"]}
    unwelcome = {catalog.find(name).scientific_name: name for name in case["not_in_top_ten"]}
    places = {entry.profiles[0].scientific_name: number for number, entry in enumerate(found.entries, start=1)}
    reasons = {one.scientific_name: one.reason.words.of_many for one in found.excluded}
    named = wrong = 0
    for number, entry in enumerate(found.entries[:TEN], start=1):
        kind, group = entry.profiles[0].scientific_name, entry.add[0]
        expected = "not named"
        if kind in welcome:
            expected, named = f"welcome{' with reservations' if kind in doubtful else ''}", named + 1
        if kind in unwelcome:
            expected, wrong = "NOT EXPECTED", wrong + 1
        decides = entry.reason.words.short if entry.reason else "nothing found"
        yield (
            f"  {number:2} {entry.profiles[0].name:28} {group.count:2} at {group.length:4g} cm  "
            f"{entry.verdict} ({entry.risk_number}, {decides}): {expected}"
        )
    for kind, name in welcome.items():
        if places.get(kind, TEN + 1) > TEN:
            where = f"place {places[kind]}" if kind in places else reasons.get(kind, "lives there")
            yield f"   - {name}{' (with reservations)' if kind in doubtful else ''}: {where}"
    for kind, name in unwelcome.items():
        if kind in places:
            yield f"   ! {name} is unwelcome in the top ten; it stands at place {places[kind]}"
    possible = sum(kind in places for kind in welcome)
    yield (
        f"  {len(found.entries)} would do; of the top ten {named} are welcome, {wrong} unwelcome; "
        f"of {len(welcome)} welcome {possible} would do."
    )


def main() -> None:
    """Compare the cases that are named, or all."""
    catalog = Catalog((BUILT_IN,))
    cases = yaml.load(EXPECTED.read_text(encoding="utf-8"), yaml.BaseLoader)  # noqa: S506 - makes text and nothing else
    for case in cases:
        if case["id"] in sys.argv[1:] or not sys.argv[1:]:
            print(case["id"])  # noqa: T201
            for line in told(case, made(case, catalog), catalog):
                print(line)  # noqa: T201


if __name__ == "__main__":
    main()
