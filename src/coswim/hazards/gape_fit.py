"""One fish ends up in the mouth of another.

How it is judged: prey is swallowed head first, so its larger cross-section (depth or width) must pass
the widest opening of the mouth. Both fish grow, so the answer is a window in months: the newcomer may
outgrow the resident's mouth, or the resident may one day fit into the newcomer's. In each simulated
future the cross-section D, the gape G (what its kind's may be, and how this individual differs), a stretch
of mouth and prey between 1.0 and 1.3, the adult lengths and the speeds of growth are drawn; the prey fits
while D <= stretch x G and it is no longer than the eater swallows: 0.65 of its own length where its kind has
no published figure, 0.3 where it only snaps up small fish. A prey that folds counts by its bulk. Locked
spines, where the prey has them, keep it out until their span passes too, about 1.9 times the depth: most fish that
were seized spat such prey out alive, and learn after very few trials.
Whether a fish that fits is eaten follows from the eater's appetite for fish (`eats_fish`, and one draw for
each eater, the same towards all prey), from how well it fits, and from how many there are: month by month
each is taken readily up to about 0.6 of the largest that goes in, less and less beyond, and not at the limit.
Of several eaters the keenest and the one with the largest mouth count. Three in a hundred never take a tankmate,
so few that only the record of a fish makes that likely.

What it cannot see: hiding places, a hungry week, a bite that kills without swallowing, whether the eater lies in
wait or gives chase (over months both eat what they can).

Triggers: coswim screen --tank "150x60x60 cm" --temperature 25 --ph 7 --hardness 6 --resident "oscar, 20
cm" --add "10 neon tetra, 3 cm"

Does not: coswim screen --tank "150x60x60 cm" --temperature 25 --ph 7 --hardness 6 --resident "oscar, 20
cm" --add "5 silver dollar, 12 cm"

Sources: Lawrence 1958, Proc. SEAFWA 11:220-225 (bass and bluegill); Nilsson & Broenmark 2000, Oikos
88:539-546 (pike); Doerner & Wagner 2003, J. Fish Biol. 62, and Davis 1985 (longest prey); Dunic & Baum 2017, J. Anim.
Ecol. 86:577-589 (spread of gape); Hartman 2000, Mar. Ecol. Prog. Ser. 194:263-268 (captures and handling by size of
prey); Bosher, Newton & Fine 2006, Ethology 112:188-195 (88 of 100 spiny catfish survive a bass's mouth), and Hoogland,
Morris & Tinbergen 1956, Behaviour 10 (pike and perch learn of spines). Monthly odds and appetite: judgement.
"""

from __future__ import annotations

from collections.abc import Iterator
from types import MappingProxyType

import numpy as np

from coswim.arrays import Flags, Floats
from coswim.biology import mouth
from coswim.findings.finding import MOSTLY, Figure, Found, Later, Used, cannot_rate, gaps, outcomes
from coswim.findings.pictures import CurvesPicture, MonthsPicture, curve
from coswim.simulation.group import Group
from coswim.simulation.phrases import a, label, subject, verb
from coswim.simulation.quantiles import fullest, middle, quantile, quantiles
from coswim.simulation.scene import Scene
from coswim.text import wording
from coswim.text.quantities import MM_PER_CM

ID = "gape-fit"
LABEL = "mouths"
WATCH = "count the small ones every morning"
EATER_TRAITS = ("mouth_gape", "feeding_style.eats_fish", "adult_length", "growth")
PREY_TRAITS = ("body.depth", "adult_length", "growth")
TRAITS = (*EATER_TRAITS, "body.depth")
EATEN_PER_MONTH = MappingProxyType({"no": 0.0, "small": 0.3, "any that fit": 0.8})
"""Chance that one fish that fits with ease is eaten within a month, by the word, for the keenest eater. Source:
judgement; wolf fish of 17 to 25 cm ate up to 65 tetras of a quarter of their length in 30 days (Petry et al. 2007, J.
Fish Biol. 70:1855-1864)."""
SHYEST = 0.3
"""What the least keen individual has of those odds. Source: judgement."""
GLADLY = (0.5, 0.7)
"""Part of the largest prey that goes in up to which the shyest and the keenest take prey gladly. Source: about 0.6,
half to three quarters of the largest being the cheapest to handle (Hoyle & Keast 1987 with Lawrence 1958, derived)."""
ARMOUR = 0.25
"""What bony armour leaves of those odds. Source: judgement; large predators mostly refuse plated catfish."""
REFUSES = 0.03
"""Share of individuals that never take a tankmate, whatever fits: so few that only a record makes one likely. Source:
judgement; keepers tell of a large hunter that never took a small barb (common practice, no source)."""
SAFE_SHARE = 0.95
"""The share of draws in which a length must not fit to be called too large for the mouth."""


def find(scene: Scene) -> Iterator[Found]:
    """A finding for every eater and every prey that fits its mouth in at least one draw."""
    for eater, prey in scene.pairs():
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
            found = _found(scene, eater, prey, uses)
            if found is not None:
                yield found


def pictures(scene: Scene, found: Found) -> tuple[MonthsPicture, CurvesPicture]:
    """In how many futures the prey fits, month by month, and its body against the mouth."""
    eater, prey = found.pair
    body = curve(f"body, {prey.name}", scene.months, prey.girth_mm)
    opens = curve(
        f"mouth as far as it gives, {eater.name}", scene.months, eater.widest_gape_mm * eater.stretch[:, None]
    )
    title = f"body of {label(prey)} against the mouth of {label(eater)}"
    shares = tuple(map(float, (_tightness(eater, prey) <= 1).mean(axis=0)))
    return (
        MonthsPicture("share of futures in which it fits, month by month", "of futures", shares),
        CurvesPicture(title, "mm", (body, opens)),
    )


def _unknown(eater: Group, prey: Group, uses: tuple[Used, ...]) -> Found:
    return cannot_rate(ID, f"whether {label(eater)} can swallow {label(prey)}", target=prey, uses=uses, doer=eater)


def _found(scene: Scene, eater: Group, prey: Group, uses: tuple[Used, ...]) -> Found | None:
    tightness = _tightness(eater, prey)
    fits = tightness <= 1
    if not fits.any():
        return None
    shares = fits.mean(axis=0)
    first, last = fullest(shares)
    return Found(
        ID,
        eater,
        prey,
        sentence=_sentence(eater, prey, shares, (first, last)),
        outcomes=outcomes(catastrophic=_eaten(scene, eater, prey, tightness)),
        because=Later(_reasons, scene, eater, prey, shares, last),
        figures=Later(_figures, eater, prey, last),
        from_month=first,
        to_month=last,
        uses=uses,
    )


def _tightness(eater: Group, prey: Group) -> Floats:
    """How near the prey comes to the largest that goes into the largest mouth, shape (draws, months)."""
    return mouth.tightness(
        _cross_section(prey),
        eater.widest_gape_mm,
        stretch=eater.stretch[:, None],
        length_ratio=eater.prey_ratio(prey),
        longest=eater.longest_prey,
    )


def _cross_section(prey: Group) -> Floats:
    """What the mouth must pass, mm: the girth, or the span of the spines where they are locked upright."""
    if "locking-spines" not in prey.profile.features:
        return prey.girth_mm
    return np.asarray(np.maximum(prey.girth_mm, mouth.SPINE_SPAN * prey.depth_mm))


def _eaten(scene: Scene, eater: Group, prey: Group, tightness: Floats) -> Flags:
    """The draws in which at least one of the prey is eaten before the months looked ahead are over."""
    keen = eater.foremost("appetite for fish")
    low, high = GLADLY
    ready = mouth.readiness(tightness[:, :-1], full_to=(low + (high - low) * keen)[:, None])
    odds = EATEN_PER_MONTH[eater.eats_fish] * (SHYEST + (1 - SHYEST) * keen)[:, None] * ready
    odds = odds * (keen >= REFUSES)[:, None]
    if "armoured" in prey.profile.features:
        odds = odds * ARMOUR
    spared = np.prod(1 - odds, axis=1) ** prey.count
    return np.asarray(scene.pair_uniform(eater, prey, ID) >= spared)


def _safe_length(eater: Group, prey: Group) -> float:
    """Total length from which the prey does not fit the grown eater in 95 % of draws, cm."""
    length, ratio = prey.total_length[:, -1], eater.prey_ratio(prey)[:, -1]
    longest = mouth.longest_prey(
        eater.widest_gape_mm[:, -1] / MM_PER_CM,
        cross_section_per_length=prey.girth_fraction * prey.standard_fraction,
        predator_length=length / ratio,
        stretch=eater.stretch,
        longest=eater.longest_prey,
    )
    return float(quantile(longest, SAFE_SHARE))


def _sentence(eater: Group, prey: Group, shares: Floats, window: tuple[int, int]) -> str:
    first, last = window
    who, whom = subject(eater), label(prey)
    certainty = "can" if shares.max() >= MOSTLY else "may"
    if first > 0:
        return f"{who} may grow large enough to swallow {whom} within about {wording.counted(first, 'month')}."
    if last < len(shares) - 1:
        until = f"until month {last}" if last else "in the first weeks"
        return f"{who} {certainty} swallow {whom}, most likely {until}."
    return f"{who} {certainty} swallow {whom}, now and for as long as was looked ahead."


def _reasons(scene: Scene, eater: Group, prey: Group, shares: Floats, last: int) -> Iterator[str]:
    gape = eater.widest_gape_mm
    each = " each" if prey.count > 1 else ""
    yield (
        f"Today {label(prey)} {verb(prey, 'measures', 'measure')} {_mm(prey.girth_mm[:, 0])}{each} at the thickest, "
        f"the {'largest ' if eater.count > 1 else ''}mouth of {label(eater)} opens {_mm(gape[:, 0])} "
        f"({_span(gape[:, 0])} in 90 of 100 futures) and gives by up to 30 %."
    )
    if last > 0:
        worst, end = wording.futures(float(shares.max())), wording.futures(float(shares[-1]))
        yield (
            f"At month {last} it is {_mm(prey.girth_mm[:, last])} against {_mm(gape[:, last])}; "
            f"{verb(prey, 'it fits', 'they fit')} {worst}{'' if worst == end else ' at worst'}"
            f"{'' if worst == end else f' and {end} at month {scene.horizon}'}."
        )
    low, high = map(wording.share, GLADLY)
    yield (
        f"What fits with ease is taken sooner than what just goes in: gladly up to {low} to {high} of the largest "
        f"prey, hardly ever at the limit; nothing {_limit(eater, prey)} goes in."
    )
    if prey.count > 1:
        yield f"That one of {prey.count} is taken is likelier than that a given one is."
    safe = _safe_length(eater, prey)
    if safe >= prey.profile.adult_length.high:
        yield f"Even a full-grown {prey.name} ({prey.profile.adult_length} cm) may fit the mouth."
    else:
        yield f"From about {wording.number(safe)} cm {a(prey.name)} would no longer fit, even when both have grown."


def _limit(eater: Group, prey: Group) -> str:
    longest = wording.share(eater.longest_prey)
    if eater.hunts and prey.folds:
        return f"bulkier than a fish of {longest} of the eater's length"
    return f"longer than {longest} of the eater"


def _span(values: Floats) -> str:
    low, high = quantiles(values, (0.05, 0.95))
    return f"{wording.number(float(low))} to {wording.number(float(high))} mm"


def _mm(values: Floats) -> str:
    return f"{wording.number(middle(values))} mm"


def _figures(eater: Group, prey: Group, last: int) -> Iterator[Figure]:
    for month, when in ((0, ""), (last, "_at_close")):
        depth, gape = middle(prey.girth_mm[:, month]), middle(eater.widest_gape_mm[:, month])
        yield Figure(f"prey_depth_mm{when}", f"body of the {prey.name} at month {month}", depth, "mm")
        yield Figure(f"gape_mm{when}", f"mouth of the {eater.name} at month {month}", gape, "mm")
    safe = _safe_length(eater, prey)
    yield Figure("safe_length_cm", f"length from which {a(prey.name)} no longer fits", safe, "cm")
