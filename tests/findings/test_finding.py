"""A finding tells who suffers what apart from whom it is blamed on, and says what is missing where it cannot tell."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from coswim.findings.finding import Found, Used, cannot_rate
from coswim.simulation.group import Group
from coswim.simulation.scene import Scene

PLAN = """
    tank: {size: 100 x 40 x 50 cm, temperature: 25 C, ph: 7, hardness: 8 dGH}
    residents: [{species: neon tetra, count: 10, length: 3 cm}]
    proposals: [{name: p, add: [{species: oscar, length: 9 cm}, {species: guppy, count: 2, length: 3 cm}]}]
"""


@pytest.fixture(scope="module")
def fish(simulated: Callable[..., Scene]) -> dict[str, Group]:
    """Three groups by name."""
    return {group.name: group for group in simulated(PLAN, draws=1).groups}


def found(fish: dict[str, Group], doer: str, target: str, topic: str = "", likeliest: str = "") -> Found:
    """A finding about some of them; no doer for an empty name."""
    return Found("a-hazard", fish.get(doer), fish[target], "It is.", topic=topic, likeliest=fish.get(likeliest))


def test_two_that_do_the_same_are_two_findings_of_one_trouble(fish: dict[str, Group]) -> None:
    one, other = found(fish, "oscar", "neon tetra"), found(fish, "guppy", "neon tetra")
    assert one.key != other.key
    assert one.trouble == other.trouble
    assert one.trouble != found(fish, "oscar", "guppy").trouble
    assert one.trouble != found(fish, "oscar", "neon tetra", "fins").trouble


def test_what_would_be_the_same_with_another_is_one_finding(fish: dict[str, Group]) -> None:
    one, other = (found(fish, "", "neon tetra", likeliest=rival) for rival in ("oscar", "guppy"))
    assert one.key == other.key
    assert (one.blamed_label, other.blamed_label) == ("the oscar", "the 2 guppies")


def test_what_nobody_does_to_a_tank_is_one_trouble_whichever_fish_it_strikes_hardest(fish: dict[str, Group]) -> None:
    one, other = found(fish, "", "neon tetra", "nitrate"), found(fish, "", "oscar", "nitrate")
    assert one.key != other.key
    assert one.trouble == other.trouble
    assert found(fish, "", "neon tetra").trouble != found(fish, "", "oscar").trouble


def test_a_finding_that_nobody_does_has_no_pair(fish: dict[str, Group]) -> None:
    assert [group.name for group in found(fish, "oscar", "guppy").pair] == ["oscar", "guppy"]
    with pytest.raises(ValueError, match="a-hazard: nobody does it"):
        _ = found(fish, "", "guppy").pair


def test_what_is_missing_is_what_the_profiles_do_not_state_unless_told_otherwise(fish: dict[str, Group]) -> None:
    guppy = fish["guppy"]
    uses = (Used(guppy.profile.model_copy(update={"growth": None}), ("growth", "body")),)
    unknown = cannot_rate("a-hazard", "whether it grows", target=guppy, uses=uses)
    assert unknown.sentence == "Whether it grows is not known."
    assert unknown.missing == "guppy: the profile does not state growth"
    assert cannot_rate("a-hazard", "whether", target=guppy, uses=uses, missing="test it").missing == "test it"
