"""What a keeper can change, and that a change is made to a copy and to nothing else."""

from __future__ import annotations

import itertools
from collections.abc import Callable
from textwrap import dedent

import pytest

from coswim.plans.reading import read_plan
from coswim.profiles.catalog import Catalog
from coswim.remedies.change import Change, go_together, together
from coswim.remedies.changed_plan import ChangedPlan
from coswim.remedies.ladders import LAST_RESORT, ladders
from coswim.remedies.stocking import FITS_A_HOME

PLAN = """
    tank: {{size: 100 x 40 x 50 cm, temperature: {temperature}, ph: 7, hardness: 8 dGH, hiding_places: 2{tank}}}
    feeding: {{food: frozen, at: day, places: 2}}
    residents: [{{species: saddled bichir, length: 38 cm}}]
    proposals:
      - name: mixed company
        add: [{{species: Congo tetra, count: 4, length: 5 cm}}, {{species: angelfish, count: 1, length: 8 cm}}]
      - name: other
        add: [{{species: Congo tetra, count: 9, length: 5 cm}}]
"""

MakePlan = Callable[..., ChangedPlan]


@pytest.fixture
def planned(catalog: Catalog) -> MakePlan:
    """The plan above (or another) with its first proposal."""

    def make(text: str = PLAN, *, tank: str = "", temperature: str = "26 C", proposal: int = 0) -> ChangedPlan:
        plan = dedent(text.format(tank=tank, temperature=temperature))
        read = read_plan(plan, "plan.yaml", catalog)
        return ChangedPlan.of(read, read.plan.proposals[proposal])

    return make


def ladder(plan: ChangedPlan, start: str) -> list[Change]:
    """The first ladder whose words begin so."""
    return next((list(one.steps) for one in ladders(plan) if one.steps[0].words.startswith(start)), [])


@pytest.mark.parametrize(
    ("start", "first", "last"),
    [
        # derived from the plan above and the profiles: adult length, smallest group, ranges
        ("feed by", "feed by night", "feed by night"),
        ("feed sinking", "feed sinking pellets", "feed sinking pellets"),
        ("spread", "spread the food over 3 places", "spread the food over 4 places"),
        ("give", "give 4 hiding places", "give 12 hiding places"),
        ("change", "change 40 % of the water every 7 days", "change 50 % of the water every day"),
        ("add 5", "add 5 Congo tetras instead of 4", "add 6 Congo tetras instead of 4"),
        ("buy the Congo", "buy the Congo tetras at 5.5 cm or longer", "buy the Congo tetras at 10 cm or longer"),
        ("leave the Congo", "leave the Congo tetras out", "leave the Congo tetras out"),
        ("use a tank", "use a tank of 120 x 50 x 50 cm (300 L) or larger", None),
    ],
)
def test_a_ladder_runs_from_the_smallest_to_the_largest_step(
    planned: MakePlan, start: str, first: str, last: str | None
) -> None:
    steps = ladder(planned(tank=", water_change: {share: 35 %, every: 7 days}"), start)
    assert steps[0].words == first
    assert last is None or steps[-1].words == last


def test_a_change_is_made_to_a_copy_and_touches_only_its_own(planned: MakePlan) -> None:
    before = planned()
    untouched = before.read.plan.model_dump()
    for steps in ladders(before):
        change = steps.steps[-1]
        after = change.apply(before)
        assert before.read.plan.model_dump() == untouched
        assert after.read.plan != before.read.plan, change.words
        differ = {name for name in untouched if getattr(after.read.plan, name) != getattr(before.read.plan, name)}
        assert len(differ) == 1, change.words
        assert after.read.plan.proposals[1] == before.read.plan.proposals[1]
        assert after.read.plan.proposals[0] == after.proposal


def test_no_change_adds_a_species(planned: MakePlan) -> None:
    before = planned()
    species = {entry.species for _, entry, _ in before.groups()}
    for steps in ladders(before):
        for change in steps.steps:
            after = change.apply(before).proposal.add
            assert after
            assert {entry.species for entry in after} <= species


def test_a_single_kind_is_not_left_out_and_not_named(planned: MakePlan) -> None:
    words = [steps.steps[0].words for steps in ladders(planned(proposal=1))]
    assert not [one for one in words if one.startswith("leave")]
    assert "buy at 5.5 cm or longer" in words


@pytest.mark.parametrize(("lid", "offered"), [("yes", 0), ("no", 1)])
def test_a_lid_is_offered_to_an_open_tank(planned: MakePlan, lid: str, offered: int) -> None:
    assert len(ladder(planned(tank=f", lid: {lid}"), "keep a lid")) == offered


@pytest.mark.parametrize(("state", "offered"), [("mature", 0), ("young", 1), ("new", 1)])
def test_a_filter_that_is_not_mature_may_mature(planned: MakePlan, state: str, offered: int) -> None:
    assert len(ladder(planned(tank=f", filter: {state}"), "let the filter")) == offered


@pytest.mark.parametrize("temperature", ["20 C", "22-25 C", "26 C", "31 C"])
def test_temperatures_lie_in_the_window_that_all_fish_share(planned: MakePlan, temperature: str) -> None:
    before = planned(temperature=temperature)
    ranges = [profile.water_ranges.temperature for profile in before.profiles() if profile.water_ranges]
    for change in ladder(before, "keep the water at"):
        after = change.apply(before).tank.temperature
        assert after.low == after.high
        assert all(span.low <= after.low <= span.high for span in ranges)


def test_no_temperature_is_offered_where_none_suits_all(planned: MakePlan) -> None:
    plan = """
        tank: {{size: 100 x 40 x 50 cm, temperature: {temperature}{tank}}}
        residents: [{{species: blue discus, count: 5, length: 12 cm}}]
        proposals: [{{name: cool fish, add: [{{species: white cloud mountain minnow, count: 8, length: 3 cm}}]}}]
    """
    assert ladder(planned(plan), "keep the water at") == []


def test_larger_tanks_grow_in_every_side_and_can_be_built(planned: MakePlan) -> None:
    before = planned()
    sizes = [before.tank.size, *(change.apply(before).tank.size for change in ladder(before, "use a tank"))]
    for smaller, larger in itertools.pairwise(sizes):
        assert larger.litres > smaller.litres
        assert larger.length >= smaller.length
        assert larger.width >= smaller.width
        assert larger.height >= smaller.height
    assert sizes[-1].length <= 400


def test_water_changes_become_more_work_step_by_step(planned: MakePlan) -> None:
    before = planned()
    plans = [change.apply(before).tank.water_change for change in ladder(before, "change")]
    a_day = [before.tank.water_change.share / before.tank.water_change.every] + [one.share / one.every for one in plans]
    assert a_day == sorted(set(a_day))


def test_a_fish_that_is_kept_singly_is_not_multiplied(planned: MakePlan) -> None:
    plan = """
        tank: {{size: 100 x 40 x 50 cm, temperature: {temperature}{tank}}}
        residents: [{{species: saddled bichir, length: 38 cm}}]
        proposals: [{{name: fighter, add: [{{species: Siamese fighting fish, count: 1, length: 6 cm}}]}}]
    """
    assert not [steps for steps in ladders(planned(plan)) if steps.steps[0].words.startswith("add")]


SHOAL = """
    tank: {{size: 100 x 40 x 50 cm, temperature: {temperature}{tank}}}
    residents: [{{species: Congo tetra, count: %d, length: 5 cm}}, {{species: angelfish, length: 8 cm}}]
    proposals: [{{name: shoal, add: [{{species: Congo tetra, count: %d, length: 5 cm}}]}}]
"""


@pytest.mark.parametrize(
    ("resident", "added", "numbers"),
    [
        # derived: the smallest group advised for a Congo tetra is 6, counted in the whole tank; three quarters
        # of 8 are 6, of 3 they are 2.25
        (1, 8, [6, 5]),
        (6, 3, [2, 1]),
        (1, 5, []),
        (1, 2, [3, 4, 5]),
        (9, 1, []),
    ],
)
def test_a_group_is_offered_no_smaller_and_no_larger_than_the_smallest_advised(
    planned: MakePlan, resident: int, added: int, numbers: list[int]
) -> None:
    before = planned(SHOAL % (resident, added))
    counts = [change for steps in ladders(before) for change in steps.steps if change.words.startswith("add ")]
    assert [entry.count for change in counts for entry in change.apply(before).proposal.add] == numbers


def test_company_is_offered_only_where_company_may_be_lacking(planned: MakePlan) -> None:
    before = planned(SHOAL % (1, 2))
    more = next(steps for steps in ladders(before) if steps.steps[0].words.startswith("add "))
    assert [more.is_against(hazard) for hazard in ("schooling", "nipping", "feeding-competition")] == [
        True,
        True,
        False,
    ]


def test_tanks_that_few_homes_hold_are_kept_apart_and_said_to_be_large(planned: MakePlan) -> None:
    """Of the steps from 200 x 60 x 60 cm the last are over 2,000 L; none from 60 x 30 x 30 cm is."""
    plan = """
        tank: {{size: 200 x 60 x 60 cm, temperature: {temperature}{tank}}}
        residents: [{{species: angelfish, length: 8 cm}}]
        proposals: [{{name: tetras, add: [{{species: Congo tetra, count: 8, length: 5 cm}}]}}]
    """
    before = planned(plan)
    at_home, (vast,) = ladder(before, "use a tank"), ladders(before, LAST_RESORT)
    assert [change.words for change in at_home] == [change.words for change in vast.steps[: len(at_home)]]
    for change in vast.steps:
        litres = change.apply(before).tank.size.litres
        assert (change.words in [one.words for one in at_home]) == (litres <= FITS_A_HOME)
        assert change.words.endswith("more than most homes can hold") == (litres > FITS_A_HOME)
    small = planned(plan.replace("200 x 60 x 60", "60 x 30 x 30"))
    assert ladders(small, LAST_RESORT) == ()


def test_changes_together_are_all_made(planned: MakePlan) -> None:
    before = planned(tank=", lid: no")
    changes = [ladder(before, start)[0] for start in ("keep a lid", "feed by", "buy the Congo", "leave the fresh")]
    both = together(changes)
    after = both.apply(before)
    assert after.tank.lid
    assert after.feeding.at == "night"
    assert [(entry.species, entry.length) for entry in after.proposal.add] == [("Congo tetra", 5.5)]
    assert both.words == "keep a lid on the tank, feed by night, buy the Congo tetras at 5.5 cm or longer and " + (
        changes[-1].words
    )


def test_two_changes_of_one_thing_do_not_go_together(planned: MakePlan) -> None:
    before = planned()
    longer, longest = ladder(before, "buy the Congo")[:2]
    left_out, other = ladder(before, "leave the Congo")[0], ladder(before, "leave the fresh")[0]
    lid = ladder(planned(tank=", lid: no"), "keep a lid")[0]
    assert not go_together([longer, longest])
    assert not go_together([longer, lid, left_out])
    assert go_together([longer, lid, other])
