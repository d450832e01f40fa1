"""Reasons and figures that are worked out when somebody looks at them, once."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from coswim.findings.finding import Later
from coswim.hazards import BY_ID
from coswim.simulation.scene import Scene


def test_nothing_is_worked_out_before_it_is_looked_at_and_then_once() -> None:
    asked: list[str] = []

    def reasons(of: str) -> Iterator[str]:
        asked.append(of)
        yield f"{of} is rough"
        yield f"{of} is long"

    later = Later(reasons, "it")
    assert not asked
    assert (later[0], later[1:], list(later), len(later)) == (
        "it is rough",
        ("it is long",),
        ["it is rough", "it is long"],
        2,
    )
    assert asked == ["it"]


def test_they_come_out_the_same_when_they_are_asked_after_all_hazards(simulated: Callable[..., Scene]) -> None:
    """A hazard lets go of arrays as it goes on; what is asked later is worked out from the same figures."""
    text = """
        tank: {size: 100 x 40 x 40 cm, temperature: 26 C, ph: 7.2, hardness: 8 dGH}
        residents: [{species: oscar, length: 14 cm}, {species: convict cichlid, count: 2, length: 9 cm}]
        proposals: [{add: [{species: neon tetra, count: 10, length: 3 cm}]}]
        """
    scene = simulated(text, draws=100)
    at_once = [one.in_full() for hazard in BY_ID.values() for one in hazard.find(scene)]
    later = [one.in_full() for one in [one for hazard in BY_ID.values() for one in hazard.find(scene)]]
    assert len(at_once) > 5
    assert [(one.because, one.figures) for one in later] == [(one.because, one.figures) for one in at_once]
