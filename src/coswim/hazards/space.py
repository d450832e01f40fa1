"""The tank is too small for what a fish grows into, for the places it holds, or for all fish together.

How it is judged: a fish wants so many of its full-grown lengths of tank by the way it swims (`swimming`;
more of them where it is small or its group large), twice its body length in width, three depths of its body in
height, and the smallest sensible tank of its profile (`smallest_tank`). Below 7/8 of those lengths or of that
tank, or 0.8 of its own length in width, it is cramped, which is chronic stress; so is a fish that within the months
looked ahead is below a legal minimum. One that is 1.4 times too long by then is lastingly harmed. Slim fish, which
turn within themselves, count for less. Full-grown size decides even where it comes after those months, since a fish
lives for years.

Ground: each fish that holds a place takes floor by its length and the kind of place (`territory`; the smallest
advised group, or a couple that guards its brood, holds one together); where the floor is short, someone is always
in the wrong place.

Stock: the water that Swiss law asks for all fish when grown, by number and length, is held against the
tank, with deep bodies counted more and slim ones less. That law is a floor, not an aim, so a tank below 1.2
times of it counts as crowded.

What it cannot see: décor, currents, the keeper's next tank, fish that are sold or bred.

Triggers: coswim screen --tank "80x35x40 cm" --temperature 25 --ph 7 --hardness 8 --resident "8 zebrafish,
4 cm" --add "5 bala shark, 8 cm"

Does not: coswim screen --tank "120x50x50 cm" --temperature 28.5 --ph 6.4 --hardness 4 --resident "5 blue
discus, 12 cm" --add "12 cardinal tetra, 3.5 cm"

Sources: Swiss Animal Protection Ordinance SR 455.1, Annex 2, Table 8 (3 lengths, 2 widths, 1 depth, litres
by length). Four to six lengths, its own length of width: common practice. All other steps: judgement.
"""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from coswim.arrays import Flags
from coswim.biology import space
from coswim.findings.finding import MOSTLY, Figure, Found, Later, Used, cannot_rate, gaps, outcomes
from coswim.findings.pictures import CurvesPicture, curve
from coswim.profiles import scales
from coswim.simulation import room, stock
from coswim.simulation.group import Group
from coswim.simulation.phrases import label, plural, subject, verb
from coswim.simulation.quantiles import middle
from coswim.simulation.room import SwimmingRoom, swimming_room
from coswim.simulation.scene import Scene
from coswim.simulation.stock import Ground, Stock
from coswim.text import wording

ID = "space"
LABEL = "room"
WATCH = "measure the grown ones every three months; plan the larger tank early"
ROOM_TRAITS = ("adult_length", "swimming", "growth", "body.depth")
GROUND_TRAITS = ("adult_length", "temperament.own_kind", "temperament.other_fish", "schooling")
TRAITS = (*ROOM_TRAITS, *GROUND_TRAITS[1:])
ROOM = "room"
NAMED_FROM = 0.1
"""Part of the water from which a newcomer is named as the cause of a crowded tank. Source: judgement."""
YEAR = 12


def find(scene: Scene) -> Iterator[Found]:
    """A finding for every fish without room, every kind without ground, and a stock without water."""
    for fish in scene.groups:
        yield from _room(scene, fish)
    for ground in stock.grounds(scene):
        yield from _ground(scene, ground)
    yield from _stock(scene)


def pictures(scene: Scene, found: Found) -> tuple[CurvesPicture, ...]:
    """How long a fish gets that the tank may be too small for."""
    fish = found.target
    if found.topic != ROOM or fish.profile.swimming is None:
        return ()
    given = swimming_room(scene, fish, fish.profile.swimming)
    if given.cramped.mean() < room.NOTABLE:
        return ()
    limit = np.repeat(given.held[:, None], 2, axis=1)
    curves = (
        curve(f"length, {fish.name}", scene.months, fish.total_length),
        curve("longest not cramped here", scene.months[[0, -1]], limit),
    )
    return (CurvesPicture(f"how long {label(fish)} {verb(fish, 'gets', 'get')}", "cm", curves),)


def _room(scene: Scene, fish: Group) -> Iterator[Found]:
    swimming, uses = fish.profile.swimming, (Used(fish.profile, ROOM_TRAITS),)
    if swimming is None:
        if _may_be_short(scene, fish):
            question = f"whether {label(fish)} {verb(fish, 'has', 'have')} room to swim"
            missing = gaps([Used(fish.profile, ("swimming",))])
            yield cannot_rate(ID, question, target=fish, uses=uses, topic=ROOM, missing=missing)
        return
    given = swimming_room(scene, fish, swimming)
    if not given.limited.any():
        return
    month = given.outgrown_month
    yield Found(
        ID,
        None,
        fish,
        sentence=_room_sentence(scene, fish, given),
        # each holds the worse ones too: more room then lowers every share, and with it the risk
        outcomes=outcomes(critical=given.harmed, marginal=given.cramped, negligible=given.limited),
        because=Later(_room_reasons, scene, fish, given),
        figures=Later(_room_figures, fish, given),
        from_month=month,
        to_month=scene.horizon if month is not None and month <= scene.horizon else None,
        uses=uses,
        topic=ROOM,
    )


def _room_figures(fish: Group, given: SwimmingRoom) -> Iterator[Figure]:
    yield Figure("adult_length_cm", f"a full-grown {fish.name}", middle(given.adult), "cm")
    yield Figure("longest_held_cm", f"longest {fish.name} not cramped here", middle(given.held), "cm")


def _may_be_short(scene: Scene, fish: Group) -> bool:
    most = room.wants(fish, scales.SWIMMING.words[-1], number=fish.count, least=False)
    return bool((most.longest(scene.tank.size) < room.adult_length(fish)).any())


def _room_sentence(scene: Scene, fish: Group, given: SwimmingRoom) -> str:
    who, outgrows, month = subject(fish), verb(fish, "outgrows", "outgrow"), given.outgrown_month
    share = float(given.cramped.mean())
    if share < room.NOTABLE:
        uses = "will use" if given.limited.mean() >= MOSTLY else "may use"
        return f"{who} {uses} all the room there is, full-grown."
    if share < MOSTLY:
        return f"{who} may outgrow the tank."
    if month == 0:
        return f"The tank is too small for {label(fish)} already today."
    if month is None:
        return f"{who} {outgrows} the tank."
    if month > scene.horizon:
        return f"{who} {outgrows} the tank, though only after {_years(month)}."
    return f"{who} {outgrows} the tank within about {wording.counted(month, 'month')}."


def _room_reasons(scene: Scene, fish: Group, given: SwimmingRoom) -> Iterator[str]:
    adult, month = middle(given.adult), given.outgrown_month
    meaning = next(step.meaning for step in scales.SWIMMING.steps if step.word == given.swimming)
    plan, least = (_box(wants.box(adult)) for wants in (given.wanted, given.least))
    yield (
        f"A full-grown {fish.name} ({fish.profile.adult_length} cm) {meaning}: by rule of thumb it wants {plan}, below "
        f"{least} it is cramped, and this tank has {scene.tank.size}."
    )
    if fish.profile.smallest_tank is not None and fish.profile.smallest_tank > scene.tank.size.length:
        yield f"The smallest sensible tank for its kind is {fish.profile.smallest_tank:g} cm long."
    harmed = float(given.harmed.mean())
    if harmed >= room.NOTABLE:
        yield (
            f"By month {scene.horizon} it is far too long for the tank {wording.futures(harmed)}: bent, stunted or "
            "sore, not only stressed."
        )
    if fish.profile.growth is None:
        yield "How fast it grows is not stated, so the month cannot be told."
    elif month is not None and month > scene.horizon and given.cramped.mean() >= room.NOTABLE:
        ahead = f"the {wording.counted(scene.horizon, 'month')} looked ahead"
        yield f"That comes after {ahead}, but the fish lives on: after {_years(month)}."
    body = adult * fish.standard_fraction
    if body > room.legal_length(scene.tank.size):
        yield (
            f"For its {wording.number(body)} cm from snout to tail base the tank is below a legal minimum used in "
            f"Switzerland, {_box(space.legal_box(body))}."
        )


def _ground(scene: Scene, ground: Ground) -> Iterator[Found]:
    short: Flags = ground.needed > ground.floor
    if not short.any():
        return
    fish = next((k.group for k in ground.kinds if not k.group.is_resident), ground.kinds[0].group)
    names = wording.listed([f"{kind.count} {plural(kind.group.name)}" for kind in ground.kinds])
    uses = tuple(Used(kind.group.profile, GROUND_TRAITS) for kind in ground.kinds)
    topic = "ground" if len(ground.kinds) == 1 else "ground between kinds"
    unknown = [k.group.name for k in ground.kinds if k.group.profile.temperament is None]
    if unknown:
        missing = f"{wording.listed(unknown)}: the profile does not state temperament"
        question = f"whether {names} need ground of their own"
        yield cannot_rate(ID, question, target=fish, uses=uses, topic=topic, missing=missing)
        return
    needed = middle(ground.needed)
    yield Found(
        ID,
        None,
        fish,
        sentence=f"The floor {'is' if short.mean() >= MOSTLY else 'may be'} too small for all who hold a place on it.",
        outcomes=outcomes(marginal=short),
        because=(
            f"{names} would hold {ground.holders} places and take about {needed:,.0f} cm2; the tank has "
            f"{ground.floor:,.0f} cm2.",
        ),
        figures=(
            Figure("ground_needed_cm2", "floor that the places take", needed, "cm2"),
            Figure("ground_cm2", "floor of the tank", ground.floor, "cm2"),
        ),
        from_month=0,
        to_month=scene.horizon,
        uses=uses,
        topic=topic,
    )


def _stock(scene: Scene) -> Iterator[Found]:
    given = Stock(scene)
    if sum(fish.count for fish in scene.groups) == 1 or not given.full.any():
        return
    month = given.crowded_month
    yield Found(
        ID,
        None,
        _cause(given),
        sentence=_stock_sentence(float(given.crowded.mean()), float(given.full.mean())),
        outcomes=outcomes(critical=given.crammed, marginal=given.crowded, negligible=given.full),
        because=Later(_stock_reasons, scene, given),
        figures=Later(_stock_figures, scene, given),
        from_month=month,
        to_month=scene.horizon if month is not None else None,
        uses=tuple(Used(fish.profile, ("adult_length", "growth")) for fish in scene.groups),
        topic="stock",
    )


def _cause(given: Stock) -> Group:
    """The newcomer that needs most of the water, unless that is little; else the resident that does."""
    newcomers = [f for f in given.scene.groups if not f.is_resident and given.share_of(f) >= NAMED_FROM]
    return max(newcomers or given.scene.groups, key=given.share_of)


def _stock_sentence(crowded: float, full: float) -> str:
    if crowded >= MOSTLY:
        return "The tank is crowded once all fish are grown."
    if crowded >= room.NOTABLE:
        return "The tank may be crowded once all fish are grown."
    return f"The tank {'is' if full >= MOSTLY else 'may be'} full once all are grown."


def _stock_figures(scene: Scene, given: Stock) -> Iterator[Figure]:
    yield Figure("legal_litres_when_grown", "legal floor for all fish when grown", middle(given.legal), "L")
    yield Figure("crowded_below_litres", "crowded below", given.wanted, "L")
    yield Figure("tank_litres", "the tank", scene.tank.litres, "L")


def _stock_reasons(scene: Scene, given: Stock) -> Iterator[str]:
    parts = sorted(((given.share_of(fish), label(fish)) for fish in scene.groups), reverse=True)
    shares = wording.listed([f"{label} {wording.share(share)}" for share, label in parts])
    yield (
        f"By their number, full-grown length and bulk the fish are crowded in less than {given.wanted:.0f} L "
        f"({shares}); the tank has {scene.tank.litres:.0f} L."
    )
    legal = middle(given.legal)
    if legal > scene.tank.litres:
        yield f"That is below a legal minimum used in Switzerland, {legal:.0f} L for fish of this number and length."
    month = given.crowded_month
    if month is not None:
        yield f"At average length they are crowded {'today' if month == 0 else f'from month {month}'}."


def _box(sides: tuple[float, float, float]) -> str:
    return f"{' x '.join(wording.number(side) for side in sides)} cm"


def _years(months: int) -> str:
    return f"about {wording.number(months / YEAR)} years"
