"""What a scene holds: who is told apart, and what the residents ate by themselves."""

from __future__ import annotations

import pytest

from coswim.plans.reading import read_plan
from coswim.profiles.catalog import Catalog
from coswim.simulation import temper
from coswim.simulation.phrases import label
from coswim.simulation.scene import Effort, Scene, build_scene

TANK = "tank: {size: 200 x 60 x 60 cm, temperature: 26 C, ph: 7, hardness: 8 dGH}\n"


def scene(catalog: Catalog, residents: str, newcomers: str = "", *, months: int = 24) -> Scene:
    proposals = f"proposals: [{{name: p, add: [{newcomers}]}}]\n" if newcomers else ""
    read = read_plan(f"{TANK}residents: [{residents}]\n{proposals}", "plan.yaml", catalog)
    proposal = read.plan.proposals[0] if newcomers else None
    return build_scene(read, proposal, catalog, Effort(draws=400, months=months))


@pytest.mark.parametrize(
    ("residents", "newcomers", "labels"),
    [
        ("{species: oscar, length: 20 cm}", "{species: bala shark, count: 3, length: 9 cm}", ["the oscar", "the 3 bala sharks"]),
        ("{species: oscar, length: 20 cm}", "{species: oscar, count: 2, length: 9 cm}", ["the resident oscar", "the 2 new oscars"]),
        ("{species: oscar, length: 20 cm}, {species: oscar, length: 12 cm}", "", ["the oscar of 20 cm", "the oscar of 12 cm"]),
    ],
)  # fmt: skip
def test_groups_of_one_species_are_told_apart(
    catalog: Catalog, residents: str, newcomers: str, labels: list[str]
) -> None:
    assert sorted(label(fish) for fish in scene(catalog, residents, newcomers).groups) == sorted(labels)


def test_the_residents_eat_by_themselves_before_the_newcomers_come(catalog: Catalog) -> None:
    resident, newcomer = "{species: oscar, length: 20 cm}", "{species: bala shark, count: 3, length: 9 cm}"
    alone, together = scene(catalog, resident), scene(catalog, resident, newcomer)
    assert together.food_before == pytest.approx(alone.course.given[:, 0])
    assert (together.course.given[:, 0] > alone.course.given[:, 0]).all()


@pytest.mark.parametrize(("count", "share"), [(1, 0.0), (2, 0.5), (3, 0.75), (5, 0.9375)])
def test_both_sexes_are_there_by_chance(catalog: Catalog, count: int, share: float) -> None:
    """Derived: of n fish of unknown sex all are of one in 1 of 2^(n-1) cases."""
    (oscars,) = scene(catalog, f"{{species: oscar, count: {count}, length: 20 cm}}").groups
    males = temper.males_among(oscars, [oscars])
    assert ((males > 0) & (males < count)).mean() == pytest.approx(share, abs=2 / 400)


def test_the_plan_tells_the_sexes_and_both_groups_of_a_kind_count(catalog: Catalog) -> None:
    first, second = "{species: guppy, count: 3, length: 3 cm, males: 1}", "{species: guppy, count: 2, length: 3 cm}"
    groups = scene(catalog, first, second).groups
    males = temper.males_among(groups[0], groups)
    assert set(males.tolist()) == {1.0, 2.0, 3.0}
    assert males.mean() == pytest.approx(2.0, abs=0.02)


@pytest.mark.parametrize(
    ("said", "low", "high"), [("males: 1", 10, 12), ("males: 0", 8, 10)], ids=["a male", "a female"]
)
def test_a_fish_grows_as_long_as_its_sex(catalog: Catalog, said: str, low: float, high: float) -> None:
    """The lengths stand in the profile of the peacock cichlid."""
    (fish,) = scene(catalog, f"{{species: peacock cichlid, length: 5 cm, {said}}}").groups
    assert low <= fish.asymptote.min() <= fish.asymptote.max() <= high


def test_length_tells_the_sex_where_one_stays_smaller(catalog: Catalog) -> None:
    long, short = (scene(catalog, f"{{species: peacock cichlid, length: {length} cm}}").groups[0] for length in (11, 6))
    assert long.is_male.all()
    assert short.is_male.mean() == pytest.approx(0.5, abs=0.01)
