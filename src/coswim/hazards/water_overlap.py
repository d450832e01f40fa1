"""The water suits one fish and not the other, or suits neither.

How it is judged: each fish has ranges of temperature, pH, hardness and salt in which it is kept long and
well. The tank's own values, with their swings, are held against every range; the shared window is what
all ranges have in common, and the narrowest margin decides. A range that a plan states is where the tank
moves over the year: every simulated future meets both of its ends. Each is moved by an ordinary swing, and the
ends of the fish's range are moved out by a slack, since care ranges are cautious and sources differ. Beyond it
is chronic stress; far beyond lasting harm or death. Where the ranges of a newcomer and another fish do not meet
within their slack, no water suits both: each is judged half way between. A current two steps from what a fish
wants (still, moderate, strong) is chronic stress to most of its kind; one step is none.

What it cannot see: acclimatisation, strains bred to other water, a heater that fails, other chemistry.

Triggers: coswim screen --tank "120x50x50 cm" --temperature 24 --ph 7 --hardness 6 --resident "5 blue
discus, 14 cm" --add "2 goldfish, 10 cm"

Does not: coswim screen --tank "150x60x60 cm" --temperature 28.5 --ph 6.4 --hardness 4 --resident "5
blue discus, 14 cm" --add "20 cardinal tetra, 3 cm"

Sources: the ranges and their sources stand in the profiles; 1 dGH = 17.848 mg/L CaCO3 by definition.
Swings, slack and the steps from stress to harm: judgement.
"""

from __future__ import annotations

from collections.abc import Iterator
from types import MappingProxyType
from typing import NamedTuple

import numpy as np

from coswim.arrays import Floats
from coswim.biology import water
from coswim.findings.finding import Figure, Found, Later, Outcome, Used, cannot_rate, gaps, outcomes
from coswim.findings.pictures import Window, WindowsPicture
from coswim.plans.plan import Tank
from coswim.profiles import scales
from coswim.profiles.profile import WaterRanges
from coswim.simulation.group import Group
from coswim.simulation.phrases import label, subject, verb
from coswim.simulation.scene import Scene
from coswim.text import wording
from coswim.text.quantities import Range

ID = "water-overlap"
LABEL = "water"
WATCH = "see who breathes fast, clamps its fins or pales; measure the water weekly"
TRAITS = (
    "water_ranges.temperature",
    "water_ranges.ph",
    "water_ranges.hardness",
    "water_ranges.salinity",
    "water_ranges.current",
)
NEEDS_SALT = MappingProxyType({"brackish": 2.0})
"""Salt that a fish needs, g/L, by the word of its profile, which says how much it stands. Source: judgement."""
SALT_IN_TANK = MappingProxyType({"fresh": 0.3, "fresh-brackish": 2.5, "brackish": 9.0})
"""Salt in the tank, g/L, by the word of the plan. Source: judgement."""


class Measure(NamedTuple):
    """One property of water: how far sources differ, and how far outside does what.

    `slack` is how far outside its range a fish takes no harm (care ranges are cautious and sources differ);
    `harm` further outside lasting injury follows, `death` further outside death. All in the unit.
    """

    name: str
    trait: str
    unit: str
    slack: float
    harm: float
    death: float

    @property
    def swing(self) -> float:
        """Half the ordinary daily swing."""
        return water.SWING[self.trait]

    def in_tank(self, tank: Tank) -> Range | None:
        """The tank's value; None when the plan does not state it."""
        if self.trait == "salinity":
            salt = SALT_IN_TANK[tank.salinity]
            return Range(salt, salt)
        value = getattr(tank, self.trait)
        return value if isinstance(value, Range) else None

    def of_fish(self, ranges: WaterRanges) -> Range:
        """The fish's range."""
        value = getattr(ranges, self.trait)
        return value if isinstance(value, Range) else Range(NEEDS_SALT.get(value, 0.0), scales.SALINITY.number(value))


MEASURES = (
    Measure("temperature", "temperature", "C", slack=1.0, harm=4.0, death=8.0),
    Measure("pH", "ph", "", slack=0.7, harm=1.5, death=2.5),
    Measure("hardness", "hardness", "dGH", slack=4.0, harm=15.0, death=40.0),
    Measure("salt", "salinity", "g/L", slack=0.5, harm=4.0, death=10.0),
)
"""Slack, and how far outside it a fish is lastingly harmed or dies. Source: judgement."""
SLACK_SPREAD = 0.5
"""How much individuals and sources differ in that slack, log standard deviation. Source: judgement."""
CURRENT = "current"
STEPS_APART = 2
"""Steps between the current that a fish wants and the tank's from which it suffers. Source: judgement."""
MINDS_CURRENT = 0.7
"""Share of a kind that suffers then; some find a lee or a brisk corner. Source: judgement."""


def find(scene: Scene) -> Iterator[Found]:
    """A finding for every fish and measure outside its range in at least one draw, and for what is unknown."""
    for measure in MEASURES:
        for fish in scene.groups:
            trait = f"water_ranges.{measure.trait}"
            uses = (Used(fish.profile, (trait,)),)
            ranges = fish.profile.water_ranges
            tank = measure.in_tank(scene.tank)
            if ranges is None:
                if measure is MEASURES[0]:
                    missing = gaps([Used(fish.profile, ("water_ranges",))])
                    yield _unknown(fish, uses, "water", missing)
            elif tank is None:
                yield _unknown(fish, uses, measure.name, f"the plan does not state the tank's {measure.name}; test it")
            else:
                found = _found(scene, measure, fish, tank, measure.of_fish(ranges))
                if found is not None:
                    yield found
        yield from _apart(scene, measure)
    for fish in scene.groups:
        yield from _current(scene, fish)


def _current(scene: Scene, fish: Group) -> Iterator[Found]:
    """Nothing where it is not stated what it wants: few fish mind."""
    wanted, given = (fish.profile.water_ranges.current if fish.profile.water_ranges else None), scene.tank.current
    if wanted is None or abs(scales.CURRENT.number(wanted) - scales.CURRENT.number(given)) < STEPS_APART:
        return
    yield Found(
        ID,
        None,
        fish,
        sentence=f"{subject(fish)} {verb(fish, 'wants', 'want')} {_flow(wanted)}; the tank has {_flow(given)}.",
        outcomes=outcomes(marginal=fish.uniform("current") < MINDS_CURRENT),
        because=(
            "It wears itself out in the flow or hides from it."
            if given == scales.CURRENT.words[-1]
            else "It is built for moving water, rich in oxygen, and lacks both.",
        ),
        from_month=0,
        to_month=scene.horizon,
        uses=(Used(fish.profile, ("water_ranges.current",)),),
        topic=CURRENT,
    )


def _flow(word: str) -> str:
    return "still water" if word == scales.CURRENT.words[0] else f"a {word} current"


def pictures(scene: Scene, found: Found) -> tuple[WindowsPicture, ...]:
    """Every fish's range of one measure, with the tank's value marked; a current is told well enough in words."""
    if found.topic == CURRENT:
        return ()
    measure = next(each for each in MEASURES if found.topic in (each.name, _for_both(each)))
    windows = tuple(
        Window(fish.name, measure.of_fish(ranges).low, measure.of_fish(ranges).high)
        for fish in scene.groups
        if (ranges := fish.profile.water_ranges) is not None
    )
    tank = measure.in_tank(scene.tank)
    marker = Window("the tank", tank.low, tank.high) if tank else None
    return (WindowsPicture(measure.name, measure.unit, windows, marker),)


def _for_both(measure: Measure) -> str:
    return f"{measure.name} for both"


def _apart(scene: Scene, measure: Measure) -> Iterator[Found]:
    """For each newcomer the fish whose water lies furthest from its own, where no water suits both in some draw."""
    ranges = [(fish, measure.of_fish(water)) for fish in scene.groups if (water := fish.profile.water_ranges)]
    for fish, suits in ranges:
        others = [one for one in ranges if one[0] is not fish]
        if fish.is_resident or not others:
            continue
        other, wanted = max(others, key=lambda one: _gap(suits, one[1]))
        if _gap(suits, wanted) <= 0:
            continue  # nor does slack take them apart
        outside = (_gap(suits, wanted) - _slack(measure, fish) - _slack(measure, other)) / 2
        if not (outside > 0).any():
            continue
        spans = (_span(suits, measure), _span(wanted, measure))
        half = f"{wording.number(_gap(suits, wanted) / 2)} {measure.unit}".strip()
        yield Found(
            ID,
            None,
            fish,
            sentence=f"No {measure.name} suits both {label(fish)} ({spans[0]}) and {label(other)} ({spans[1]}).",
            outcomes=_outcomes(measure, outside),
            because=(
                f"Half way between them each is {half} outside its own range; elsewhere one of them is further out.",
            ),
            figures=(Figure(f"{measure.trait}_gap", "from one range to the other", _gap(suits, wanted), measure.unit),),
            from_month=0,
            to_month=scene.horizon,
            uses=tuple(Used(one.profile, (f"water_ranges.{measure.trait}",)) for one in (fish, other)),
            topic=_for_both(measure),
        )


def _gap(one: Range, other: Range) -> float:
    """From the end of one range to the beginning of the other; 0 or less where they meet."""
    return max(one.low, other.low) - min(one.high, other.high)


def _slack(measure: Measure, fish: Group) -> Floats:
    """How far outside its range this individual takes no harm, shape (draws,)."""
    return np.asarray(measure.slack * np.exp(SLACK_SPREAD * fish.normal(measure.trait)))


def _outcomes(measure: Measure, outside: Floats) -> tuple[Outcome, ...]:
    return outcomes(catastrophic=outside > measure.death, critical=outside > measure.harm, marginal=outside > 0)


def _unknown(fish: Group, uses: tuple[Used, ...], what: str, missing: str) -> Found:
    question = f"whether the {what} suits {label(fish)}"
    return cannot_rate(ID, question, target=fish, uses=uses, topic=what, missing=missing)


def _found(scene: Scene, measure: Measure, fish: Group, tank: Range, suits: Range) -> Found | None:
    if _plain_margin(tank, suits) >= measure.swing:
        return None  # no swing takes it out of its range
    margins = _margins(scene, measure, fish, tank, suits)
    outside = -margins
    if not (outside > 0).any():
        return None
    return Found(
        ID,
        None,
        fish,
        sentence=_sentence(measure, fish, tank, suits),
        outcomes=_outcomes(measure, outside),
        because=Later(_reasons, scene, measure, tank, suits),
        figures=(
            Figure(f"{measure.trait}_margin", f"margin of {measure.name}", _plain_margin(tank, suits), measure.unit),
        ),
        from_month=0,
        to_month=scene.horizon,
        uses=(Used(fish.profile, (f"water_ranges.{measure.trait}",)),),
        topic=measure.name,
    )


def _margins(scene: Scene, measure: Measure, fish: Group, tank: Range, suits: Range) -> Floats:
    """Margin of the tank inside the fish's drawn range and its slack, shape (draws,).

    A range is where the tank moves over the year, so every future meets both of its ends and the worse one counts.
    """
    swing = measure.swing * (2 * scene.draws.uniform("tank", measure.trait) - 1)
    slack = _slack(measure, fish)
    low, high = (water.margin(end + swing, suits.low - slack, suits.high + slack) for end in (tank.low, tank.high))
    return np.minimum(low, high)


def _plain_margin(tank: Range, suits: Range) -> float:
    """How far the whole of the tank's range lies inside the fish's; negative outside."""
    return min(tank.low - suits.low, suits.high - tank.high)


def _sentence(measure: Measure, fish: Group, tank: Range, suits: Range) -> str:
    value, wanted = _span(tank, measure), _span(suits, measure)
    want = verb(fish, "wants", "want")
    if tank.high < suits.low or tank.low > suits.high:
        side = "below" if tank.high < suits.low else "above"
        return f"{subject(fish)} {want} a {measure.name} of {wanted}; the tank's {value} is {side} that."
    lies = "goes beyond that" if _plain_margin(tank, suits) < 0 else "is at its edge"
    return f"{subject(fish)} {want} a {measure.name} of {wanted}; the tank's {value} {lies}."


def _reasons(scene: Scene, measure: Measure, tank: Range, suits: Range) -> Iterator[str]:
    gap = _plain_margin(tank, suits)
    if gap < 0:
        outside = f"{wording.number(-gap)} {measure.unit}".strip()
        yield f"The tank lies {outside} outside the range, without any swing."
    else:
        margin, swing = (f"{wording.number(value)} {measure.unit}".strip() for value in (gap, measure.swing))
        yield f"The margin is {margin}; an ordinary swing is {swing}."
    known = [fish for fish in scene.groups if fish.profile.water_ranges]
    ranges = [measure.of_fish(fish.profile.water_ranges) for fish in known if fish.profile.water_ranges]
    low, high = water.shared_window([r.low for r in ranges], [r.high for r in ranges])
    if low <= high:
        yield f"All fish share a {measure.name} of {wording.span(low, high, unit=measure.unit)}."
    else:
        yield f"There is no {measure.name} that suits all fish of this plan."


def _span(value: Range, measure: Measure) -> str:
    return wording.span(value.low, value.high, unit=measure.unit)
