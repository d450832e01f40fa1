"""More food goes in than the water can carry.

How it is judged: from the feeding race follows the food that must really go in, for the slowest eater too. All of it
ends as ammonia. After an introduction the filter has to grow from the residents' load to the new one (or from the
little that a tank turns over anyway once it has run for months); until then ammonia and nitrite rise, and the
un-ionised part of the ammonia, which depends on pH and warmth, harms. What the filter turns over piles up as nitrate,
held down only by water changes and drip, now and when all have grown. Group and filter also use oxygen, of which warm
water holds less. In each simulated future the food, its protein, the filter, plants, the movement of the surface and
what each fish stands are drawn.

What it cannot see: how densely the tank is planted; salt that protects from nitrite; dead fish, medicine
or a cleaned filter; a pump that stops; a pH that slides when the buffer is used up.

Triggers: coswim screen --tank "60x30x30 cm" --temperature 21 --ph 7.5 --hardness 10 --resident
"goldfish, 8 cm" --add "5 goldfish, 8 cm"

Does not: coswim screen --tank "80x35x40 cm" --temperature 25 --ph 7 --hardness 6 --resident "6 bronze
corydoras, 5 cm" --add "12 neon tetra, 3 cm"

Sources: Timmons & Ebeling (ammonia from food, memory); Emerson et al. 1975, J. Fish. Res. Board Can.
32:2379-2383 (un-ionised part); UF/IFAS FA-16 (harm above 0.05 mg/L); Zhu & Chen 1999, Aquacult. Eng. 20
(biofilm); Camargo, Alonso & Salamanca 2005, Chemosphere 58:1255-1267 (nitrate); Benson & Krause 1984,
Limnol. Oceanogr. 29:620-632 (oxygen). Harm from nitrite above 1 mg/L: common practice. What other fish
stand, growth of filters, exchange of gas: judgement.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence

import numpy as np

from coswim.arrays import Floats
from coswim.biology import nitrogen, water
from coswim.findings.finding import MOSTLY, Consequence, Figure, Found, Later, Outcome, Used, cannot_rate, outcomes
from coswim.findings.pictures import CurvesPicture, Window, curve
from coswim.simulation import tolerance
from coswim.simulation.group import Group
from coswim.simulation.keeper import MG_PER_G
from coswim.simulation.phrases import label, verb
from coswim.simulation.quantiles import fullest, median, middle
from coswim.simulation.scene import Scene
from coswim.simulation.tolerance import Limits
from coswim.simulation.waste import HELD_IN, Routine, Waste
from coswim.text import wording
from coswim.text.quantities import DAYS_PER_WEEK, PPM_PER_DGH
from coswim.text.wording import number

ID = "water-load"
LABEL = "load"
WATCH = "measure ammonia, nitrite and nitrate before each water change"
LOAD_TRAITS = ("adult_length", "growth", "feeding_style.diet", "feeding_style.pace")
TRAITS = (*LOAD_TRAITS, "temperament.stamina", "features")
NITRATE, OXYGEN = "nitrate", "oxygen"
TARGETS = (50.0, 20.0)
"""Nitrate (NO3) that keepers aim for, mg/L. Source: common practice."""
UNTESTED_PH = (8.5, 8.5)
"""pH at which the ammonia of a tank with unknown pH is held against the limit. Source: judgement."""
LARGE_PART = 0.1
"""Part of the food from which a group counts among those that load the water."""

Judge = Callable[[Group], tuple[Outcome, ...]]
Held = Sequence[tuple[float, Routine | None]]


def find(scene: Scene) -> Iterator[Found]:
    """Findings on nitrate, the filter catching up and oxygen, each for the newcomers and the residents harmed most."""
    lacking = [used for fish in scene.groups if (used := Used(fish.profile, TRAITS)).missing()]
    if lacking:
        target = next(fish for fish in scene.groups if fish.profile is lacking[0].profile)
        yield cannot_rate(ID, "whether the water can carry all fish", target=target, uses=tuple(lacking))
        return
    waste = Waste(scene)
    yield from _nitrate(scene, waste)
    yield from _catching_up(scene, waste)
    yield from _oxygen(scene, waste)


def pictures(scene: Scene, found: Found) -> tuple[CurvesPicture, ...]:
    """Nitrate or oxygen over the months; the filter catches up within one."""
    waste, months = Waste(scene), scene.course.times
    if found.topic == OXYGEN:
        return (CurvesPicture("oxygen", "mg/L", (curve("oxygen", months, waste.oxygen),)),)
    if found.topic == NITRATE:
        title = f"nitrate just before a change, with {_planned_changes(scene)}"
        aim = Window("what keepers aim for", min(TARGETS), max(TARGETS))
        return (CurvesPicture(title, "mg/L", (curve("nitrate", months, waste.nitrate),), aim),)
    return ()


def _most_harmed(scene: Scene, judge: Judge) -> Iterator[tuple[Group, tuple[Outcome, ...]]]:
    """The newcomers that are harmed most often, and the residents that are; each where any are."""
    for are_residents in (False, True):
        judged = [(fish, judge(fish)) for fish in scene.groups if fish.is_resident is are_residents]
        most = max(judged, key=lambda item: _harm_done(item[1]), default=None)
        if most and most[1][-1].happens.any():
            yield most


def _harm_done(harm: tuple[Outcome, ...]) -> float:
    """How often a fish is harmed; worse harm counts for more, since each outcome includes the worse ones."""
    return sum(float(outcome.happens.mean()) for outcome in harm)


def _beyond(levels: Floats, limits: Limits) -> tuple[Outcome, ...]:
    """Each outcome includes the worse ones, so that less of a load never raises any of them."""
    return outcomes(
        catastrophic=levels > limits.deadly, critical=levels > limits.lasting, marginal=levels > limits.stress
    )


def _uses(scene: Scene, target: Group) -> tuple[Used, ...]:
    parts = scene.course.fair_shares.mean(axis=(0, 1))
    loads = [f.profile for f, part in zip(scene.groups, parts, strict=True) if part >= LARGE_PART and f is not target]
    return (Used(target.profile, TRAITS), *(Used(profile, LOAD_TRAITS) for profile in loads))


def _nitrate(scene: Scene, waste: Waste) -> Iterator[Found]:
    highest = waste.nitrate.max(axis=1)
    if highest.max() <= tolerance.NITRATE_FROM:
        return

    def judge(fish: Group) -> tuple[Outcome, ...]:
        harm = _beyond(highest, tolerance.nitrate_limits(fish))
        return (*harm, Outcome(Consequence.NEGLIGIBLE, (highest > TARGETS[0]) | harm[-1].happens))

    shares = (waste.nitrate > tolerance.NITRATE_FROM).mean(axis=0)
    held = Later(_held, waste)
    because, figures = Later(_nitrate_reasons, scene, waste, held), Later(_nitrate_figures, scene, waste, held)
    for fish, harm in _most_harmed(scene, judge):
        certainty = "more" if harm[-2].happens.mean() >= MOSTLY else "perhaps more"
        yield Found(
            ID,
            None,
            fish,
            f"Nitrate climbs to about {number(median(waste.nitrate).max())} mg/L, "
            f"{certainty} than {label(fish)} {verb(fish, 'stands', 'stand')} in the long run.",
            outcomes=harm,
            because=because,
            figures=figures,
            from_month=round(scene.course.times[fullest(shares)[0]]),
            to_month=scene.horizon,
            uses=_uses(scene, fish),
            topic=NITRATE,
        )


def _held(waste: Waste) -> Iterator[tuple[float, Routine | None]]:
    """The water changes that hold nitrate below what keepers aim for."""
    yield from ((target, waste.routine_that_holds(target)) for target in TARGETS)


def _nitrate_reasons(scene: Scene, waste: Waste, held: Held) -> Iterator[str]:
    now, grown = (number(middle(waste.food[:, month])) for month in (0, -1))
    planned = number(middle(scene.course.normal[:, 0]))
    more = "" if planned == now else f" ({planned} g planned for all; only then has the slowest eater had enough)"
    yield (
        f"{now} g of dry food a day must go in today{more}, {grown} g at month {scene.horizon}: "
        f"{number(middle(waste.tan[:, -1]) * MG_PER_G)} mg of ammonia nitrogen a day."
    )
    today, later = (middle(waste.settled_nitrate[:, month]) for month in (0, -1))
    settles = f"rises without end, in about {waste.litres:.0f} L of water"
    if np.isfinite(later):
        settles = (
            f"settles near {number(today)} mg/L under the load of today and near {number(later)} mg/L under that of "
            f"month {scene.horizon}, just before a change (about {waste.litres:.0f} L of water; new water with "
            f"{scene.tank.water_change.nitrate_in:g} mg/L)"
        )
    yield f"With {_planned_changes(scene)} nitrate {settles}."
    yield from (_workload(scene, target, routine) for target, routine in held)
    used = _alkalinity_per_week(waste)
    yield (
        f"The filter uses up {number(used)} mg/L of alkalinity a week ({number(used / PPM_PER_DGH)} dKH) that "
        "changes must bring back, or the pH slides."
    )


def _planned_changes(scene: Scene) -> str:
    plan = scene.tank.water_change
    batch = str(Routine(plan.share, plan.every)) if plan.share else ""
    drip = f"a drip of {plan.drip:g} L a day" if plan.drip else ""
    return " and ".join(part for part in (batch, drip) if part) or "no water changes"


def _workload(scene: Scene, target: float, routine: Routine | None) -> str:
    if scene.tank.water_change.nitrate_in >= target:
        return f"No change of water holds {target:g} mg/L: the new water brings as much."
    if routine is None:
        return f"Not even half of the water every day would hold {target:g} mg/L at month {scene.horizon}."
    if routine.share == 0:
        return f"The drip alone holds {target:g} mg/L at month {scene.horizon}."
    often = wording.futures(HELD_IN)
    return f"Holding {target:g} mg/L at month {scene.horizon} {often} takes {routine}."


def _alkalinity_per_week(waste: Waste) -> float:
    return float(nitrogen.alkalinity_used(middle(waste.tan[:, -1]))) * DAYS_PER_WEEK * MG_PER_G / waste.litres


def _nitrate_figures(scene: Scene, waste: Waste, held: Held) -> Iterator[Figure]:
    for key, when, month in (("now", "today", 0), ("grown", f"at month {scene.horizon}", -1)):
        yield Figure(f"food_g_per_day_{key}", f"dry food that must go in {when}", middle(waste.food[:, month]), "g")
        level = middle(waste.settled_nitrate[:, month])
        if np.isfinite(level):
            yield Figure(f"nitrate_mg_per_l_{key}", f"nitrate settled under the load {when}", level, "mg/L")
    yield Figure("tan_mg_per_day", "ammonia nitrogen a day then", middle(waste.tan[:, -1]) * MG_PER_G, "mg")
    for target, routine in held:
        if routine:
            yield Figure(f"change_for_{target:.0f}_mg_per_l", f"change that holds {target:g} mg/L", routine.share, "")
            yield Figure(f"change_for_{target:.0f}_mg_per_l_days", "every so many days", routine.every, "days")
    yield Figure("alkalinity_mg_per_l_per_week", "alkalinity used a week", _alkalinity_per_week(waste), "mg/L CaCO3")


def _catching_up(scene: Scene, waste: Waste) -> Iterator[Found]:
    ph = scene.tank.ph
    part = waste.un_ionised_part((ph.low, ph.high) if ph else UNTESTED_PH)
    if (waste.peak_tan * part).max() <= tolerance.AMMONIA_FROM and waste.peak_nitrite.max() <= tolerance.NITRITE_FROM:
        return
    for fish, harm in _most_harmed(scene, lambda fish: _poisoned(fish, waste, part)):
        known = harm if ph else _poisoned(fish, waste, np.zeros_like(part))
        certainty = "rise" if known[-1].happens.mean() >= MOSTLY else "may rise"
        found = Found(
            ID,
            None,
            fish,
            f"Ammonia and nitrite {certainty} to what harms {label(fish)} before the filter has grown to the load.",
            outcomes=known,
            because=Later(_catching_up_reasons, scene, waste, part),
            figures=Later(_catching_up_figures, waste, part if ph else None),
            from_month=0,
            to_month=1,
            uses=_uses(scene, fish),
            topic="catching up",
        )
        if _harm_done(known) > 0:
            yield found
        if not ph and _harm_done(harm) > _harm_done(known):
            question = f"how much harm the ammonia does to {label(fish)} before the filter has grown"
            missing = "the plan does not state the tank's pH; test it"
            unknown = cannot_rate(ID, question, target=fish, uses=found.uses, topic="ammonia", missing=missing)
            yield unknown._replace(because=found.because, figures=found.figures, from_month=0, to_month=1)


def _catching_up_figures(waste: Waste, part: Floats | None) -> Iterator[Figure]:
    yield Figure("days_to_catch_up", "days until the filter has grown", middle(waste.catching_up_days), "days")
    yield Figure("peak_tan_mg_per_l", "highest ammonia, as nitrogen", middle(waste.peak_tan), "mg/L")
    if part is not None:
        yield Figure("peak_un_ionised_mg_per_l", "its un-ionised part", middle(waste.peak_tan * part), "mg/L")
    yield Figure("peak_nitrite_mg_per_l", "highest nitrite, as nitrogen", middle(waste.peak_nitrite), "mg/L")


def _poisoned(fish: Group, waste: Waste, part: Floats) -> tuple[Outcome, ...]:
    """What the worse of ammonia and nitrite does, draw by draw."""
    by_ammonia = _beyond(waste.peak_tan * part, tolerance.ammonia_limits(fish))
    by_nitrite = _beyond(waste.peak_nitrite, tolerance.nitrite_limits(fish))
    return tuple(a._replace(happens=a.happens | b.happens) for a, b in zip(by_ammonia, by_nitrite, strict=True))


def _catching_up_reasons(scene: Scene, waste: Waste, part: Floats) -> Iterator[str]:
    before, after = middle(waste.tan_before) * MG_PER_G, middle(waste.tan[:, 0]) * MG_PER_G
    change = f"goes from {number(before)} to" if number(before) != number(after) else "is"
    yield (
        f"The load {change} {number(after)} mg of ammonia nitrogen a day; the {scene.tank.filter} filter needs about "
        f"{number(middle(waste.catching_up_days))} days to grow to it, and longer for nitrite."
    )
    yield f"Ammonia peaks near {number(middle(waste.peak_tan))} mg/L as nitrogen" + (
        f": at pH {scene.tank.ph} and {scene.tank.temperature} C {number(middle(part) * 100)} % of it is un-ionised, "
        f"{number(middle(waste.peak_tan * part))} mg/L, where harm begins above {tolerance.AMMONIA_FROM:g}."
        if scene.tank.ph
        else "; how much of it is un-ionised hangs on the pH, which the plan does not state."
    )
    nitrite, harms = middle(waste.peak_nitrite), tolerance.NITRITE_FROM
    yield (
        f"Nitrite peaks near {number(nitrite * nitrogen.NO2_PER_N)} mg/L (NO2), where harm begins above "
        f"{number(harms * nitrogen.NO2_PER_N)}. A filter that has run in elsewhere, fewer fish at a time, little food, "
        "and water changes until tests read zero keep both down."
    )


def _oxygen(scene: Scene, waste: Waste) -> Iterator[Found]:
    lowest = waste.oxygen.min(axis=1)

    def judge(fish: Group) -> tuple[Outcome, ...]:
        return _beyond(-lowest, Limits(*(-needed for needed in tolerance.oxygen_limits(fish))))

    for fish, harm in _most_harmed(scene, judge):
        needed = tolerance.oxygen_limits(fish).stress
        shares = (waste.oxygen < needed).mean(axis=0)
        holds = float(water.oxygen_saturation(scene.temperature))
        certainty = "leaves" if harm[-1].happens.mean() >= MOSTLY else "may leave"
        yield Found(
            ID,
            None,
            fish,
            f"The load {certainty} too little oxygen for {label(fish)} in water of {scene.tank.temperature} C.",
            outcomes=harm,
            because=(
                f"This water holds {number(holds)} mg/L of oxygen at most, less the warmer it is. About "
                f"{number(middle(lowest))} mg/L is left where fish and filter use as much as the surface lets in, "
                f"{wording.futures(float(harm[-1].happens.mean()))} less than the {needed:g} mg/L "
                f"that {label(fish)} should have.",
                "An outlet or air stone that keeps the surface moving lets more in; an ordinary filter is reckoned.",
            ),
            figures=(
                Figure("oxygen_saturation_mg_per_l", "oxygen that the water can hold", holds, "mg/L"),
                Figure("oxygen_mg_per_l", "oxygen left when most is used", middle(lowest), "mg/L"),
            ),
            from_month=round(scene.course.times[fullest(shares)[0]]),
            to_month=scene.horizon,
            uses=_uses(scene, fish),
            topic=OXYGEN,
        )
