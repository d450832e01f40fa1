"""What a diary hands on to the next screening."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from coswim.aftercare.in_short import in_short
from coswim.aftercare.learning import lengths_learned, outlook, weeks, with_lengths
from coswim.plans.reading import read_plan
from coswim.profiles.catalog import Catalog
from coswim.screening import screen
from coswim.simulation.scene import Effort


def test_what_was_eaten_counts_by_weeks(bichir: Any) -> None:
    seen = bichir.watched("""
        {date: 2026-01-05, group: bichir, ate: no, chased: some, weight: 400 g}
        {date: 2026-01-08, group: bichir, ate: yes, chased: no}
        {date: 2026-01-11, group: bichir, ate: some, damage: {grade: 1, place: fins}}
        {date: 2026-01-25, group: bichir, length: 39 cm}
        {date: 2026-01-27, group: bichir, ate: yes}
        {date: 2026-01-06, group: silver dollar, ate: yes}
    """)
    found = list(weeks(seen, bichir.company.find("bichir")))
    assert found == [(0, ("no", "yes", "some")), (21, ("yes",))]  # days since they met


def test_the_next_screening_knows_the_measured_lengths(bought: Callable[..., Any], catalog: Catalog) -> None:
    theirs = bought("""
        tank: {size: 180 x 60 x 60 cm, temperature: 26 C, ph: 7.0, hardness: 7 dGH}
        residents: [{species: oscar, length: 9 cm}]
        proposals: [{name: tetras, add: [{species: Buenos Aires tetra, count: 10, length: 5 cm}]}]
    """)
    seen = theirs.watched(
        "{date: 2026-01-26, group: oscar, length: 11 cm}\n{date: 2026-03-09, group: oscar, length: 17 cm}"
    )
    assert [(fish.name, length) for fish, length in lengths_learned(seen)] == [("oscar", 17)]
    changed = with_lengths(theirs.read, theirs.screened.proposal, seen).plan
    assert [entry.length for entry in (*changed.residents, *changed.proposals[0].add)] == [17, 5]
    told = outlook(theirs.read, seen, theirs.screened, catalog)
    assert told[0].startswith("Screened again with the oscar 17 cm (was 9): ")


def test_without_a_length_nothing_is_screened_again(bichir: Any, catalog: Catalog) -> None:
    (told,) = outlook(bichir.read, bichir.watched("{date: 2026-01-26, note: x}"), bichir.screened, catalog)
    assert told.startswith("Neither meals nor lengths were noted")


def test_three_lines_for_the_end_of_a_report(bichir: Any) -> None:
    found = in_short(bichir.screened, bichir.read)
    assert found.order.startswith("after 30 days of quarantine, in the ")
    assert found.watch == bichir.screened.watch
    assert found.stop.startswith("part them the same day when ")
    assert found.stop.startswith(found.stop_first)


def test_who_moves_in_first_is_told_where_there_are_several(bought: Callable[..., Any]) -> None:
    theirs = bought("""
        tank: {size: 150 x 60 x 60 cm, temperature: 26 C, ph: 7.0, hardness: 7 dGH}
        residents: []
        proposals: [{name: both, add: [{species: blue acara, count: 1}, {species: bronze corydoras, count: 8}]}]
    """)
    order = in_short(theirs.screened, theirs.read).order
    assert order.index("corydoras") < order.index("blue acara")
    assert "14 days apart" in order


def test_nobody_moves_in_where_nothing_is_added(catalog: Catalog) -> None:
    text = "tank: {size: 80 x 35 x 40 cm, temperature: 25}\nresidents: [{species: tiger barb, count: 5}]\n"
    read = read_plan(text, "plan.yaml", catalog)
    found = in_short(screen(read, catalog, Effort(draws=50), remedies=False).as_it_stands, read)
    assert found.order == ""
    assert found.stop
