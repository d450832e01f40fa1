"""A shock, a bite, a sting or a rasping mouth wounds a fish, or it dashes against glass and rock.

How it is judged: each weapon by its own rule, and only where the profile names it.

Shock (`electric`): a kind that attacks or hunts other fish is taken to be strongly electric and may kill
what shares its tank; other electric fish sense with weak fields, and two kinds of them may disturb each other.

Bite (`strong-bite`): as dangerous as the fish is aggressive or given to nipping; a peaceful fruit eater
with the same jaws hardly is. Small fish are killed, larger ones wounded unless several bite; armour helps.

Scales (`scale-eater`): takes scales or mucus off living fish; a grazer that does so wants broad or slow ones.

Rasping: a large suckermouth (armoured, grazing on the bottom) may rasp a broad and slow or bare-skinned
fish at rest, mostly by night; a small one seldom does.

Sting (`venomous-spine`): wounds the fish that attacks it where they meet, more gravely the larger the stinger.

Dashing: a large or quick fish that chases, flees or takes fright wants some of its lengths to stop in. In a shorter
tank it hits the glass, and worse roots and rocks (`tank.furnishing`), and loses scales, barbels or an eye.

What it cannot see: a suckermouth's hunger for protein, a ray that is startled, how strong a shock is (strong
and weak electricity are told apart by temper and appetite alone). One individual stands for each group. What
shows in fewer than one future in 200 is not reported.

Triggers: coswim screen --tank "200 x 60 x 60 cm" --temperature 26 --ph 7 --hardness 8
--resident "6 red-bellied piranha, 15 cm" --add "5 silver dollar, 12 cm"

Does not: coswim screen --tank "300 x 100 x 80 cm" --temperature 26 --ph 7 --hardness 8
--resident "tambaqui, 30 cm" --add "5 silver dollar, 12 cm"

Sources: which fish carries which weapon stands in the profiles. Shares and steps: judgement.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

import numpy as np

from coswim.arrays import Flags, Floats
from coswim.findings.finding import Figure, Found, Later, Used, cannot_rate, gaps, outcomes
from coswim.findings.hazard import no_pictures
from coswim.profiles import scales
from coswim.simulation import shelter, temper
from coswim.simulation.dashing import Dash
from coswim.simulation.group import Group
from coswim.simulation.meeting import overlap
from coswim.simulation.phrases import label, subject, verb, whom
from coswim.simulation.quantiles import middle
from coswim.simulation.scene import Scene
from coswim.text import wording

ID = "injury"
LABEL = "injury"
WATCH = "look for wounds and cloudy eyes every morning"
DOER_TRAITS = (
    "features",
    "temperament.own_kind",
    "temperament.other_fish",
    "temperament.nips",
    "feeding_style.diet",
    "feeding_style.eats_fish",
    "adult_length",
    "growth",
)
TARGET_TRAITS = ("features", "body.depth", "temperament.stamina", "adult_length", "growth")
DASH_TRAITS = ("swimming", "adult_length", "growth")
TRAITS = (*DOER_TRAITS, "body.depth", "temperament.stamina", "swimming")
WOUNDS, KILLS = 0.5, 0.75
"""Readiness to use a weapon, 0 to 1, from which it leaves lasting wounds and from which it kills. Judgement."""
NIPPER_BITES = 0.6
"""What nipping, as the chance that one fish nips, adds to the readiness to bite. Source: judgement."""
HUNTER_SHOCKS = 0.6
"""What hunting fish adds to the readiness to use a strong shock. Source: judgement."""
ARMOUR = 1.25
"""How much armour takes off a bite. Source: judgement."""
BITE_SIZE = 0.6
"""Length over the biter's below which a fish is killed rather than wounded. Source: judgement."""
MOB = 3
"""Biters that together kill fish of any size. Source: judgement."""
DISTURBED = 0.3
"""Chance that two kinds of weakly electric fish disturb each other. Source: judgement."""
TAKES_SCALES = 0.7
"""Share of scale-eaters that take to a tankmate. Source: judgement."""
RASPS = 0.4
"""Share of suckermouths of 30 cm that rasp a broad, slow, fragile fish; it grows with the square of the
length. Source: judgement; that large ones do is common practice."""
RASPS_SIZE = 30.0
SCALE_GRAZER_SIZE = 12.0
"""The same length for a grazer known for taking mucus, cm. Source: judgement."""
RASPS_BY_DAY = 0.5
BROAD_ONLY = 0.3
"""Rasping of a broad fish that can leave, over one that is slow or bare-skinned too. Source: judgement."""
BROAD = 0.45
"""Depth or width over standard length from which a flank or disc is broad. Source: judgement."""
ATTACKS = 0.6
"""Drive from which a fish is taken to attack a stinger. Source: judgement."""
GRAVE_STING = 15.0
"""Length of the stinger from which a sting does lasting harm, cm. Source: judgement."""
GRAZES = ("algae", "herbivore")


class _Harm(NamedTuple):
    """What one weapon does: topic, a verb phrase, the draws in which it kills, wounds or bothers, and why."""

    topic: str
    does: str
    kills: Flags
    wounds: Flags
    bothers: Flags
    because: tuple[str, ...]


def find(scene: Scene) -> Iterator[Found]:
    """A finding for every weapon, its bearer and a target, where it is used in at least one draw."""
    for doer in scene.groups:
        if not _is_armed(doer):
            continue
        for target in scene.targets(doer):
            uses = (Used(doer.profile, DOER_TRAITS), Used(target.profile, TARGET_TRAITS))
            if gaps(uses):
                question = f"whether {label(doer)} would wound {whom(doer, target)}"
                yield cannot_rate(ID, question, target=target, uses=uses, doer=doer)
                continue
            for harm in _harms(scene, doer, target):
                if (harm.kills | harm.wounds | harm.bothers).any():
                    yield _found(scene, doer, target, harm, uses)
    for fish in scene.groups:
        yield from _dashing(scene, fish)


pictures = no_pictures


def _is_armed(fish: Group) -> bool:
    weapons = {"electric", "strong-bite", "scale-eater", "venomous-spine"}
    return bool(weapons & {*fish.profile.features}) or _is_suckermouth(fish)


def _is_suckermouth(fish: Group) -> bool:
    style = fish.profile.feeding_style
    grazes = style is not None and style.diet in GRAZES and "bottom" in style.level
    return grazes and bool({"armoured", "scale-eater"} & {*fish.profile.features})


def _harms(scene: Scene, doer: Group, target: Group) -> Iterator[_Harm]:
    features = doer.profile.features
    if "electric" in features:
        yield _shock(scene, doer, target)
    if "strong-bite" in features:
        yield _bite(scene, doer, target)
    if _is_suckermouth(doer):
        yield _rasping(doer, target)
    elif "scale-eater" in features:
        yield _scales(scene, doer, target)
    if "venomous-spine" in features and not _same_kind(doer, target):
        yield _sting(scene, doer, target)


def _never(scene: Scene) -> Flags:
    """In no draw."""
    return np.zeros(scene.draws.number, dtype=bool)


def _same_kind(doer: Group, target: Group) -> bool:
    return temper.relation(doer, target) == "own kind"


def _left_by_company(scene: Scene, doer: Group, target: Group) -> float:
    if not _same_kind(doer, target):
        return 1.0
    return temper.company(doer, temper.number_of_kind(doer, scene.groups))


def _drive(doer: Group, target: Group) -> Floats:
    return temper.drive(doer, _temper(doer, target))


def _temper(doer: Group, target: Group) -> str:
    """The word for how it treats its own kind or others, whichever the target is."""
    return doer.temperament.own_kind if _same_kind(doer, target) else doer.temperament.other_fish


def _shock(scene: Scene, doer: Group, target: Group) -> _Harm:
    none = _never(scene)
    if temper.is_strongly_electric(doer):
        ready = 1 - (1 - _drive(doer, target)) * (1 - HUNTER_SHOCKS * doer.hunts)
        why = "It stuns prey and rivals with strong shocks; a fish needs no wound to die of them."
        return _Harm("shock", "may shock", ready >= KILLS, (ready >= WOUNDS) & (ready < KILLS), none, (why,))
    senses = "electric" in target.profile.features and not temper.is_strongly_electric(target)
    disturbed = (doer.uniform("weak field") < DISTURBED) & (senses and not _same_kind(doer, target))
    why = "Both find their way and their food by weak electric fields, and each other's field may be in the way."
    return _Harm("shock", "may disturb the electric sense of", none, none, disturbed, (why,))


def _bite(scene: Scene, doer: Group, target: Group) -> _Harm:
    nips = scales.NIPS.number(doer.temperament.nips)
    ready = 1 - (1 - _drive(doer, target)) * (1 - NIPPER_BITES * nips)
    ready = ready * _left_by_company(scene, doer, target)
    if "armoured" in target.profile.features:
        ready = ready / ARMOUR
    bite_size = np.asarray((target.total_length < BITE_SIZE * doer.total_length).any(axis=1))
    kills = (ready >= KILLS) & (bite_size | (doer.count >= MOB))
    why = f"Its jaws take pieces out of other fish; it is {_temper(doer, target)} and nips {doer.temperament.nips}."
    does = "may bite pieces out of"
    return _Harm("bite", does, kills, (ready >= WOUNDS) & ~kills, _never(scene), (why,))


def _scales(scene: Scene, doer: Group, target: Group) -> _Harm:
    none = _never(scene)
    left = _left_by_company(scene, doer, target)
    wounds = doer.uniform("scales") < TAKES_SCALES * (left - temper.COMPANY) / (1 - temper.COMPANY)
    why = "It lives in part on the scales of other fish, and wounds from it become infected."
    return _Harm("scales", "may tear scales off", none, wounds, none, (why,))


def _rasping(doer: Group, target: Group) -> _Harm:
    takes_mucus = "scale-eater" in doer.profile.features
    full = SCALE_GRAZER_SIZE if takes_mucus else RASPS_SIZE
    size = np.minimum(1.0, doer.total_length.max(axis=1) / full) ** 2
    style = doer.profile.feeding_style
    by_night = 1.0 if takes_mucus or (style and style.active == "night") else RASPS_BY_DAY
    fragile = scales.STAMINA.number("fragile") / target.stamina
    chance = RASPS * size * by_night * fragile * _broad_and_slow(target) * (not _same_kind(doer, target))
    place = doer.uniform("rasping")
    bothers = place < chance
    wounds = place < chance * fragile / 2
    why = (
        f"At up to {wording.number(middle(doer.total_length[:, -1]))} cm it may graze the mucus of a fish "
        "that rests with a broad or bare flank; the raw spots become infected."
    )
    return _Harm("rasping", "may rasp the skin of", np.zeros_like(wounds), wounds, bothers & ~wounds, (why,))


def _broad_and_slow(target: Group) -> float:
    shape, features = target.profile.body, target.profile.features
    broad = max(shape.depth.middle, shape.width.middle if shape.width else 0.0) >= BROAD
    if not broad or "armoured" in features:
        return 0.0
    return 1.0 if {"slow-swimmer", "scaleless"} & {*features} else BROAD_ONLY


def _sting(scene: Scene, doer: Group, target: Group) -> _Harm:
    none = _never(scene)
    attacks = temper.drive(target, target.temperament.other_fish) >= ATTACKS
    attacks &= scene.pair_uniform(target, doer, "sting") < overlap(target, doer)
    grave = np.asarray(doer.total_length[:, -1] >= GRAVE_STING)
    why = f"{subject(target)} may attack it and be stung; the spine injects venom."
    return _Harm("sting", "may sting", none, attacks & grave, attacks & ~grave, (why,))


def _found(scene: Scene, doer: Group, target: Group, harm: _Harm, uses: tuple[Used, ...]) -> Found:
    hurt = harm.kills | harm.wounds
    return Found(
        ID,
        doer,
        target,
        sentence=f"{subject(doer)} {harm.does} {whom(doer, target)}.",
        outcomes=outcomes(catastrophic=harm.kills, critical=hurt, marginal=hurt | harm.bothers),
        because=harm.because,
        from_month=0,
        to_month=scene.horizon,
        uses=uses,
        topic=harm.topic,
    )


def _dashing(scene: Scene, fish: Group) -> Iterator[Found]:
    """Nothing where it is not known how it swims or grows: that is said where room is judged."""
    uses, swimming = (Used(fish.profile, DASH_TRAITS),), fish.profile.swimming
    if swimming is None or gaps(uses):
        return
    dash = Dash(scene, fish, swimming)
    hurt = dash.hurt
    if not hurt.any():
        return
    lengths = middle(dash.lengths)
    walls = "glass, roots and rocks" if scene.tank.furnishing == shelter.HARD else "the glass"
    yield Found(
        ID,
        None,
        fish,
        sentence=f"{subject(fish)} may dash against {walls} and lose {_lost(fish)}.",
        outcomes=outcomes(critical=dash.blinded, marginal=hurt),
        because=Later(_why_it_dashes, scene, dash, lengths),
        figures=(Figure("lengths_to_stop_in", "its lengths that the tank has", lengths, ""),),
        from_month=0,
        to_month=scene.horizon,
        uses=uses,
        topic="dashing",
    )


def _lost(fish: Group) -> str:
    parts = [] if "scaleless" in fish.profile.features else ["scales"]
    return wording.listed([*parts, *(["barbels"] if "barbels" in fish.profile.features else []), "an eye"], last="or")


def _why_it_dashes(scene: Scene, dash: Dash, lengths: float) -> Iterator[str]:
    fish = dash.fish
    yield (
        f"By month {scene.horizon} the tank is {wording.number(lengths)} of its lengths long; a fish that swims so "
        f"wants about {dash.to_stop:g} to stop in."
    )
    if dash.driver:
        yield f"{subject(dash.driver)} may drive {verb(fish, 'it', 'them')}."
    if fish.temperament.boldness == "timid":
        yield "It is timid and takes fright easily."
    if shelter.is_useless(scene):
        yield "The roots and rocks shelter none of these fish, so they cost and give nothing."
