"""One fish ends up in the mouth of another.

How it is judged: prey is swallowed head first, so its larger cross-section (depth or width) must pass
the widest opening of the mouth. Both fish grow, so the answer is a window in months: the newcomer may
outgrow the resident's mouth, or the resident may one day fit into the newcomer's. In each simulated
future the cross-section D, the gape G, a stretch of mouth and prey between 1.0 and 1.3, the adult
lengths and the speeds of growth are drawn; the prey fits while D <= stretch x G and it is no longer
than the eater tries: up to 0.65 of its own length, or 0.3 where it only snaps up small fish, some less
(eel-like prey is folded). Locked spines, where the prey has them, mostly keep it out: then their span must
pass, about 1.9 times the depth. Whether a fish that fits is eaten follows from the eater's appetite for
fish (`eats_fish`), month by month while it is within 0.4 to 0.8 of the widest that goes in, and for a hunter
of the longest: no individual hunts the prey that only just fits.

What it cannot see: which individual hunts, hiding places, a hungry week, a bite that kills without
swallowing. One individual stands for each group.

Triggers: coswim screen --tank "150x60x60 cm" --temperature 25 --ph 7 --hardness 6 --resident "oscar, 20
cm" --add "10 neon tetra, 3 cm"

Does not: coswim screen --tank "150x60x60 cm" --temperature 25 --ph 7 --hardness 6 --resident "oscar, 20
cm" --add "5 silver dollar, 12 cm"

Sources: Lawrence 1958, Proc. SEAFWA 11:220-225 (bass and bluegill); Nilsson & Broenmark 2000, Oikos
88:539-546 (pike); Doerner & Wagner 2003, J. Fish Biol. 62 (longest prey); Dunic & Baum 2017, J. Anim.
Ecol. 86:577-589 (spread of gape); Bosher, Newton & Fine 2006, Ethology 112:188-195 (spines). Monthly odds of
being eaten and the part of the fitting prey that is hunted: judgement.
"""

from __future__ import annotations

from collections.abc import Iterator
from types import MappingProxyType

import numpy as np

from coswim.arrays import Flags, Floats
from coswim.biology import mouth
from coswim.findings.finding import Consequence, Figure, Found, Outcome, Used, cannot_rate, gaps
from coswim.findings.pictures import CurvesPicture, MonthsPicture, curve
from coswim.profiles import scales
from coswim.simulation.group import MM_PER_CM, Group
from coswim.simulation.phrases import a, label, subject, verb
from coswim.simulation.quantiles import fullest, middle, quantile, quantiles
from coswim.simulation.scene import Scene
from coswim.text import wording

ID = "gape-fit"
EATER_TRAITS = ("mouth_gape", "feeding_style.eats_fish", "adult_length", "growth")
PREY_TRAITS = ("body.depth", "adult_length", "growth")
TRAITS = (*EATER_TRAITS, "body.depth")
EATEN_PER_MONTH = MappingProxyType({"no": 0.0, "small": 0.3, "any that fit": 0.8})
"""Chance that a fish that fits is eaten within a month, by appetite. Source: judgement."""
ARMOUR = 0.25
"""What bony armour leaves of those odds. Source: judgement; large predators mostly refuse plated catfish."""
BOLDNESS = 0.3
"""How far individuals differ in the longest prey they try, as a part of the longest ever seen. Source: judgement;
in the field 99 % of prey are below 0.32 to 0.46 of the predator (Gaeta et al. 2018, PLoS ONE 13:e0194092)."""
EASY, TIGHT = 0.4, 0.8
"""Part of the widest and longest prey that goes in up to which an individual hunts; individuals lie anywhere
between. Source: judgement; that hunters take less than they could is common practice."""
SPINES_HOLD = 0.88
"""Share of encounters in which locked spines keep a fish from being swallowed. Source: 88 % of intact
channel catfish survived a bass's mouth at least once, Bosher, Newton & Fine 2006, Ethology 112:188-195."""
SAFE_SHARE = 0.95
"""The share of draws in which a length must not fit to be called too large for the mouth."""
FULLEST = 0.5


def find(scene: Scene) -> Iterator[Found]:
    """A finding for every eater and every prey that fits its mouth in at least one draw."""
    for eater, prey in scene.pairs():
        uses = (Used(eater.profile, EATER_TRAITS), Used(prey.profile, PREY_TRAITS))
        if eater.profile.feeding_style is None or eater.profile.mouth_gape is None:
            if eater.profile.adult_length.high > prey.start_length:
                yield _unknown(eater, prey, uses)
        elif eater.eats_fish != "no" and gaps(uses):
            yield _unknown(eater, prey, uses)
        elif eater.eats_fish != "no":
            found = _found(scene, eater, prey, uses)
            if found is not None:
                yield found


def pictures(scene: Scene, found: Found) -> tuple[MonthsPicture, CurvesPicture]:
    """In how many draws the prey fits, month by month, and its body against the mouth."""
    eater, prey = found.pair
    body = curve(f"body, {prey.name}", scene.months, prey.girth_mm)
    opens = curve(f"mouth as far as it gives, {eater.name}", scene.months, eater.gape_mm * eater.stretch[:, None])
    title = f"body of {label(prey)} against the mouth of {label(eater)}"
    shares = tuple(map(float, _goes_in(scene, eater, prey).mean(axis=0)))
    return (
        MonthsPicture("share of draws in which it fits, month by month", "of draws", shares),
        CurvesPicture(title, "mm", (body, opens)),
    )


def _unknown(eater: Group, prey: Group, uses: tuple[Used, ...]) -> Found:
    return cannot_rate(ID, f"whether {label(eater)} can swallow {label(prey)}", target=prey, uses=uses, doer=eater)


def _found(scene: Scene, eater: Group, prey: Group, uses: tuple[Used, ...]) -> Found | None:
    fits = _goes_in(scene, eater, prey)
    if not fits.any():
        return None
    hunts_up_to = EASY + (TIGHT - EASY) * scene.pair_uniform(eater, prey, "hunts up to")
    eaten = _eaten(scene, eater, prey, _fits(scene, eater, prey, hunts_up_to))
    shares = fits.mean(axis=0)
    first, last = fullest(shares)
    safe = _safe_length(eater, prey)
    return Found(
        ID,
        eater,
        prey,
        sentence=_sentence(eater, prey, shares, (first, last)),
        outcomes=(Outcome(Consequence.CATASTROPHIC, eaten),),
        because=tuple(_reasons(scene, eater, prey, shares, last, safe)),
        figures=tuple(_figures(eater, prey, last, safe)),
        from_month=first,
        to_month=last,
        uses=uses,
    )


def _goes_in(scene: Scene, eater: Group, prey: Group) -> Flags:
    """Draws and months in which the prey fits the mouth."""
    return _fits(scene, eater, prey, np.ones(scene.draws.number))


def _fits(scene: Scene, eater: Group, prey: Group, part: Floats) -> Flags:
    """Draws and months in which the prey is within that part of the widest and longest that goes in.

    How long a prey it tries is said by the word itself where it only snaps up small fish.
    """
    ratio = prey.total_length / eater.total_length
    tried = ratio / part[:, None] if eater.hunts else ratio
    passes = mouth.is_swallowable(
        _cross_section(scene, eater, prey),
        eater.gape_mm,
        stretch=(eater.stretch * part)[:, None],
        length_ratio=ratio / part[:, None],
        folds=prey.folds,
    )
    return passes & (tried <= _longest_wanted(scene, eater, prey))


def _cross_section(scene: Scene, eater: Group, prey: Group) -> Floats:
    """What the mouth must pass, mm: the girth, or the span of the spines where they are locked upright."""
    if "locking-spines" not in prey.profile.features:
        return prey.girth_mm
    spines_hold = scene.pair_uniform(eater, prey, "spines hold") < SPINES_HOLD
    span = np.maximum(prey.girth_mm, mouth.SPINE_SPAN * prey.depth_mm)
    return np.where(spines_hold[:, None], span, prey.girth_mm)


def _longest_wanted(scene: Scene, eater: Group, prey: Group) -> Floats:
    """The longest prey that this individual tries, over its own length, shape (draws, 1)."""
    if prey.folds and eater.hunts:
        return np.full((scene.draws.number, 1), np.inf)
    most = scales.EATS_FISH.number(eater.eats_fish)
    return (most * (1 - BOLDNESS * scene.pair_uniform(eater, prey, "longest prey")))[:, None]


def _eaten(scene: Scene, eater: Group, prey: Group, fits: Flags) -> Flags:
    odds = EATEN_PER_MONTH[eater.eats_fish]
    if "armoured" in prey.profile.features:
        odds *= ARMOUR
    months_in_reach = fits[:, :-1].sum(axis=1)
    spared = (1 - odds) ** np.maximum(months_in_reach, fits.any(axis=1))
    return np.asarray(scene.pair_uniform(eater, prey, ID) >= spared)


def _safe_length(eater: Group, prey: Group) -> float:
    """Total length from which the prey does not fit the grown eater in 95 % of draws, cm."""
    longest = mouth.longest_prey(
        eater.gape_mm[:, -1] / MM_PER_CM,
        cross_section_per_length=prey.girth_fraction * prey.standard_fraction,
        predator_length=np.inf if prey.folds and eater.hunts else eater.total_length[:, -1],
        stretch=eater.stretch,
    )
    if not eater.hunts:
        longest = np.minimum(longest, scales.EATS_FISH.number(eater.eats_fish) * eater.total_length[:, -1])
    return float(quantile(longest, SAFE_SHARE))


def _sentence(eater: Group, prey: Group, shares: Floats, window: tuple[int, int]) -> str:
    first, last = window
    who, whom = subject(eater), label(prey)
    certainty = "can" if shares.max() > FULLEST else "may"
    if first > 0:
        return f"{who} may grow large enough to swallow {whom} within about {wording.counted(first, 'month')}."
    if last < len(shares) - 1:
        until = f"until about month {last}" if last else "in the first weeks"
        return f"{who} {certainty} swallow {whom}, most likely {until}."
    return f"{who} {certainty} swallow {whom}, now and for as long as was looked ahead."


def _reasons(scene: Scene, eater: Group, prey: Group, shares: Floats, last: int, safe: float) -> Iterator[str]:
    yield (
        f"Today {label(prey)} {verb(prey, 'measures', 'measure')} {_mm(prey.girth_mm[:, 0])} at the thickest, "
        f"the mouth of {label(eater)} opens {_mm(eater.gape_mm[:, 0])} ({_span(eater.gape_mm[:, 0])} in nine of ten "
        "draws) and gives by up to 30 %."
    )
    if last > 0:
        yield (
            f"At month {last} it is {_mm(prey.girth_mm[:, last])} against {_mm(eater.gape_mm[:, last])}; "
            f"they fit in {wording.share(float(shares.max()))} of the draws at worst and in "
            f"{wording.share(float(shares[-1]))} at month {scene.horizon}."
        )
    limits = f"{wording.share(EASY)}, another at {wording.share(TIGHT)} of the widest"
    if eater.hunts:
        longest = wording.share(scales.EATS_FISH.number(eater.eats_fish))
        yield (
            f"Not all that goes in is hunted: one stops at {limits} and longest, and nothing longer than {longest} of "
            f"the eater goes in{' unless it folds, as this does' if prey.folds else ''}."
        )
    else:
        yield (
            f"{subject(eater)} {verb(eater, 'takes', 'take')} small fish, up to "
            f"{wording.share(scales.EATS_FISH.number('small'))} of {verb(eater, 'its', 'their')} own length, when "
            f"{verb(eater, 'it meets', 'they meet')} them: one stops at {limits} that goes in."
        )
    if safe >= prey.profile.adult_length.high:
        yield f"Even a full-grown {prey.name} ({prey.profile.adult_length} cm) may fit the mouth."
    else:
        yield f"From about {wording.number(safe)} cm {a(prey.name)} would no longer fit, even when both have grown."


def _span(values: Floats) -> str:
    low, high = quantiles(values, (0.05, 0.95))
    return f"{wording.number(float(low))} to {wording.number(float(high))} mm"


def _mm(values: Floats) -> str:
    return f"{wording.number(middle(values))} mm"


def _figures(eater: Group, prey: Group, last: int, safe: float) -> Iterator[Figure]:
    for month, when in ((0, ""), (last, "_at_close")):
        depth, gape = middle(prey.girth_mm[:, month]), middle(eater.gape_mm[:, month])
        yield Figure(f"prey_depth_mm{when}", f"body of the {prey.name} at month {month}", depth, "mm")
        yield Figure(f"gape_mm{when}", f"mouth of the {eater.name} at month {month}", gape, "mm")
    yield Figure("safe_length_cm", f"length from which {a(prey.name)} no longer fits", safe, "cm")
