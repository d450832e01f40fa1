"""A fish with locking spines sticks in the throat of the one that tries to eat it, and the eater dies of it.

How it is judged: the eater is the one in danger. Its mouth may take the body of the prey (depth or width
D up to 1.1 times the gape G and the stretch) while the spines, locked upright, span about 1.9 depths and do
not pass the throat, which is narrower than the mouth: 0.6 to 0.85 of the gape. A hunter of fish
(`eats_fish: any that fit`) tries whatever it can get in, gladly up to a quarter of its own length and no
more beyond half of it; one that only snaps up small fish tries what slips in with ease (D up to 0.6 G).
Both fish grow, so there is a window in months. In each simulated future size, shape, gape, stretch and
throat are drawn; month by month in the window each spiny fish may stick with small odds in each eater, so more of
either make it likelier; half of those that stick kill the eater, the others injure it. The spine that loaches flick
out under the eye does not keep the body from going down, but it wounds the throat on the way.

What it cannot see: a fish that has learnt to leave spiny prey alone, spines that break, help in time.

Triggers: coswim screen --tank "180x60x60 cm" --temperature 25 --ph 7 --hardness 6 --resident "oscar, 26 cm"
--add "8 bronze corydoras, 6 cm"

Does not: coswim screen --tank "120x40x50 cm" --temperature 25 --ph 6.8 --hardness 6 --resident "4
freshwater angelfish, 8 cm" --add "8 bronze corydoras, 5 cm"

Sources: McAda 1983; Wick et al. 1985; Pimentel et al. 1985 (pikeminnow and channel catfish, second-hand);
Timmerman, Annett & Bailey 2000, Trans. Am. Fish. Soc. 129:618-623 (throat 0.85 of the gape in young bass).
The span of 1.9 depths is derived on Corydoras; odds, and the narrow end of the throat: judgement.
"""

from __future__ import annotations

from collections.abc import Iterator
from types import MappingProxyType

import numpy as np

from coswim.arrays import Flags, Floats
from coswim.biology import mouth
from coswim.findings.finding import Figure, Found, Later, Outcome, Used, cannot_rate, gaps, outcomes
from coswim.findings.pictures import CurvesPicture, MonthsPicture, curve
from coswim.simulation.group import Group
from coswim.simulation.phrases import label, subject, verb
from coswim.simulation.quantiles import fullest, middle
from coswim.simulation.scene import Scene
from coswim.text import wording

ID = "spine-choking"
LABEL = "spines"
WATCH = "look for a fish that gapes, hangs or has something in its mouth"
NEEDED = ("mouth_gape", "feeding_style.eats_fish")
EATER_TRAITS = (*NEEDED, "adult_length", "growth")
PREY_TRAITS = ("features", "body.depth", "adult_length", "growth")
TRAITS = (*EATER_TRAITS, "features", "body.depth")
SPINES = frozenset({"locking-spines", "cheek-spines"})
"""Features that wound the one that swallows them."""
THROAT = (0.6, 0.85)
"""Width of the throat over the gape. Source: 3.87 mm between the shoulder bones against a gape of 4.55 mm
in bass of 40 mm, Timmerman, Annett & Bailey 2000; narrower where throat teeth stand in the way: judgement."""
TAKEN_UP_TO = MappingProxyType({"small": 0.6, "any that fit": 1.1})
"""Cross-section over gape (stretched, for a hunter) up to which a spiny fish is tried. Source: judgement."""
EAGER, UNWILLING = 0.25, 0.5
"""Length of a spiny fish over that of the eater up to which it is tried gladly, and from which not at all.
Source: prey eaten in the field have a median of 0.10 to 0.20 and a 99th percentile of 0.32 to 0.46, Gaeta et
al. 2018, PLoS ONE 13:e0194092; the ends judgement. A prey that a hunter folds counts by its bulk."""
STICKS_PER_MONTH = MappingProxyType({"no": 0.0, "small": 0.001, "any that fit": 0.02})
"""Chance in a month in reach that one gladly tried fish sticks in one eater. Source: judgement: of a shoal of eight
one sticks within two years in one of seven eaters of small fish and in nearly every hunter. Most are spat out: 88 % of
intact channel catfish survived a bass's mouth at least once (Bosher, Newton & Fine 2006), and pikeminnows spat out all
of some 60 that they seized in the first half hour (Pimentel & Bulkley 1983)."""
LETHAL = 0.5
"""Part of the stuck spines that kill the eater. Source: judgement."""


def find(scene: Scene) -> Iterator[Found]:
    """A finding for every eater of fish and every spiny prey that would go in and stick in at least one draw."""
    for eater, prey in scene.pairs():
        if not SPINES & set(prey.profile.features):
            continue
        uses = (
            Used(eater.profile, eater.unmeasured(EATER_TRAITS)),
            Used(prey.profile, prey.unmeasured(PREY_TRAITS)),
        )
        if eater.profile.feeding_style is None or not eater.mouth_is_known:
            if eater.profile.adult_length.high > prey.start_length:
                yield _unknown(eater, prey, uses)
        elif eater.eats_fish != "no" and gaps(uses):
            yield _unknown(eater, prey, uses)
        elif eater.eats_fish != "no":
            yield from _found(scene, eater, prey, uses)


def pictures(scene: Scene, found: Found) -> tuple[MonthsPicture, CurvesPicture]:
    """In how many futures spines would stick, month by month, and their span against the mouth."""
    prey, eater = found.pair
    shares = tuple(map(float, _wounds(scene, eater, prey).mean(axis=0)))
    what, title = "body", f"body of {label(prey)} against the mouth of {label(eater)}"
    size = prey.girth_mm
    if _locks(prey):
        what, title = "spines", f"locked spines of {label(prey)} against the mouth of {label(eater)}"
        size = mouth.SPINE_SPAN * prey.depth_mm
    opens = curve(f"mouth, {eater.name}", scene.months, eater.gape_mm)
    return (
        MonthsPicture("share of futures in which spines would stick, month by month", "of futures", shares),
        CurvesPicture(title, "mm", (curve(f"{what}, {prey.name}", scene.months, size), opens)),
    )


def _unknown(eater: Group, prey: Group, uses: tuple[Used, ...]) -> Found:
    question = f"whether the spines of {label(prey)} endanger {label(eater)}"
    missing = gaps([Used(eater.profile, eater.unmeasured(NEEDED))])
    return cannot_rate(ID, question, target=eater, uses=uses, doer=prey, missing=missing)


def _wounds(scene: Scene, eater: Group, prey: Group) -> Flags:
    """Draws and months in which the prey is tried and its spines stick, or wound."""
    wounds = _is_tried(eater, prey) & (_eagerness(eater, prey) > 0)
    if _locks(prey):
        wounds &= _throat_mm(scene, eater, prey) < mouth.SPINE_SPAN * prey.depth_mm
    return np.asarray(wounds)


def _found(scene: Scene, eater: Group, prey: Group, uses: tuple[Used, ...]) -> Iterator[Found]:
    wounds = _wounds(scene, eater, prey)
    if not wounds.any():
        return
    odds = wounds * _eagerness(eater, prey) * STICKS_PER_MONTH[eater.eats_fish]
    first, last = fullest(wounds.mean(axis=0))
    yield Found(
        ID,
        prey,
        eater,
        sentence=_sentence(eater, prey),
        outcomes=_outcomes(scene, eater, prey, odds),
        because=Later(_reasons, scene, eater, prey, wounds, (first, last)),
        figures=Later(_figures, eater, prey, first),
        from_month=first,
        to_month=last,
        uses=uses,
    )


def _locks(prey: Group) -> bool:
    """Its fin spines lock and span the throat; a spine under the eye only wounds."""
    return "locking-spines" in prey.profile.features


def _sentence(eater: Group, prey: Group) -> str:
    if _locks(prey):
        return f"{subject(eater)} may choke on the locked spines of {label(prey)}."
    return f"{subject(eater)} may be hurt in the throat by the spines under the eyes of {label(prey)}."


def _throat_mm(scene: Scene, eater: Group, prey: Group) -> Floats:
    low, high = THROAT
    share = low + (high - low) * scene.pair_uniform(eater, prey, "throat")
    return np.asarray(share[:, None] * eater.gape_mm)


def _is_tried(eater: Group, prey: Group) -> Flags:
    give = TAKEN_UP_TO[eater.eats_fish] * (eater.stretch[:, None] if eater.hunts else 1.0)
    ratio = eater.prey_ratio(prey)
    tight = mouth.tightness(prey.girth_mm, eater.gape_mm, stretch=give, length_ratio=ratio, longest=eater.longest_prey)
    return np.asarray(tight <= 1)


def _eagerness(eater: Group, prey: Group) -> Floats:
    """How gladly a fish of that length is tried, 0 to 1."""
    return np.asarray(np.clip((UNWILLING - eater.prey_ratio(prey)) / (UNWILLING - EAGER), 0.0, 1.0))


def _outcomes(scene: Scene, eater: Group, prey: Group, odds: Floats) -> tuple[Outcome, ...]:
    """The draws in which an eater is hurt before the window closes, and for locking spines those in which one dies.

    `odds` is the chance in each month of one prey in one eater.
    """
    met = eater.count * prey.count

    def happens(odds: Floats) -> Flags:
        spared = np.prod(1 - odds[:, :-1], axis=1) ** met
        return np.asarray(scene.pair_uniform(eater, prey, ID) >= spared)

    hurt = happens(odds)
    return outcomes(catastrophic=happens(LETHAL * odds), critical=hurt) if _locks(prey) else outcomes(critical=hurt)


def _reasons(scene: Scene, eater: Group, prey: Group, wounds: Flags, window: tuple[int, int]) -> Iterator[str]:
    first, last = window
    body, gape = _at(prey.girth_mm, first), _at(eater.gape_mm, first)
    span = mouth.SPINE_SPAN * _at(prey.depth_mm, first)
    low, high = (gape * share for share in THROAT)
    sizes = (
        f"At month {first} {label(prey)} {verb(prey, 'measures', 'measure')} {_mm(body)}{_each(prey)} at the thickest, "
    )
    sizes += f"the mouth of {label(eater)} opens {_mm(gape)}{_each(eater)}"
    if _locks(prey):
        yield (
            f"{sizes}, but locked spines span about {_mm(span)} and the throat is only {_mm(low)} to {_mm(high)} wide."
        )
    else:
        yield f"{sizes}; the spines flick out when {verb(prey, 'it is', 'they are')} seized."
    until = f"until month {last}" if last < scene.horizon else "for as long as was looked ahead"
    when = f"in month {first}" if first == last else f"from month {first} {until}"
    yield (
        f"{verb(prey, 'It goes', 'They go')} in and may {'stick' if _locks(prey) else 'wound'} "
        f"{wording.futures(float(wounds.mean(axis=0).max()))} at worst, mostly {when}."
    )
    yield "Such prey is mostly spat out; when a spine sticks, see a veterinarian at once and do not pull."


def _each(fish: Group) -> str:
    return " each" if fish.count > 1 else ""


def _at(values: Floats, month: int) -> float:
    return middle(values[:, month])


def _mm(value: float) -> str:
    return f"{wording.number(value)} mm"


def _figures(eater: Group, prey: Group, month: int) -> tuple[Figure, ...]:
    span = mouth.SPINE_SPAN * _at(prey.depth_mm, month)
    spines = (Figure("spine_span_mm", f"locked spines of the {prey.name}", span, "mm"),) if _locks(prey) else ()
    return (
        *spines,
        Figure("prey_depth_mm", f"body of the {prey.name}", _at(prey.girth_mm, month), "mm"),
        Figure("gape_mm", f"mouth of the {eater.name}", _at(eater.gape_mm, month), "mm"),
    )
