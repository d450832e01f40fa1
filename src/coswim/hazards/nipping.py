"""Fins, barbels or eyes are bitten away.

How it is judged: `nips` says how many individuals nip; in each draw this one does or does not. A full
group keeps the nipper busy with its own kind; hunger and too small a group do the opposite. Then it counts
what the target offers (trailing fins, standing eyes, barbels, bare skin), whether it can get away, whether
the two meet at one level, and whether the target is too large to be bothered. Torn fins and barbels grow
back; a slow fish with long fins is bitten again and again, and an eye stays lost. In a feeding frenzy a
worm-like barbel may be taken for food even by fish that never nip.

What it cannot see: that one nipper often teaches the others, bare tanks and boredom, wounds that become
infected. One individual stands for each group. What shows in fewer than one draw in 200 is not reported.

Triggers: coswim screen --tank "100 x 40 x 50 cm" --temperature 26 --ph 7 --hardness 8
--resident "2 freshwater angelfish, 8 cm" --add "8 tiger barb, 4 cm"

Does not: coswim screen --tank "100 x 40 x 50 cm" --temperature 26 --ph 7 --hardness 8
--resident "2 freshwater angelfish, 8 cm" --add "10 lemon tetra, 4 cm"

Sources: a study of Leiocassis (barbels grow back 6.4 mm in 30 days at 25 C, 0.9 mm at 15 C) and J. Exp.
Zool. B 2009 (fins regrow visibly in about two weeks where their base survives), both by abstract; Saxby et
al. 2010, Appl. Anim. Behav. Sci. (larger groups attack less). Shares and weights: judgement.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from types import MappingProxyType
from typing import NamedTuple

import numpy as np

from coswim.arrays import Flags, Floats
from coswim.findings.finding import TOO_RARE, Consequence, Figure, Found, Outcome, Used, cannot_rate, gaps
from coswim.findings.hazard import no_pictures
from coswim.profiles import scales
from coswim.simulation import temper
from coswim.simulation.group import Group
from coswim.simulation.meeting import overlap
from coswim.simulation.phrases import a, label, subject, verb, whom
from coswim.simulation.scene import Scene
from coswim.text import wording

ID = "nipping"
DOER_TRAITS = ("temperament.nips", "feeding_style.level", "feeding_style.pace")
TARGET_TRAITS = ("features", "temperament.stamina", "feeding_style.level")
TRAITS = (*DOER_TRAITS, "features", "temperament.stamina")
INVITES = MappingProxyType({"long-fins": 0.8, "protruding-eyes": 0.8, "barbels": 0.1, "scaleless": 0.05})
"""How strongly a part invites a bite. Source: judgement; that these parts are bitten is common practice."""
SLOW_INVITES = 0.4
"""What it adds that a fish cannot get away. Source: judgement."""
ANYONE_INVITES = 0.06
"""What any fish offers. Source: judgement."""
BITTEN = MappingProxyType(
    {"long-fins": "trailing fins", "protruding-eyes": "standing eyes", "barbels": "barbels", "scaleless": "bare skin"}
)
LASTING = MappingProxyType({"long-fins": 0.3, "protruding-eyes": 0.8, "barbels": 0.1, "scaleless": 0.1})
"""Part of the nipping that does lasting harm, by what is bitten. Source: judgement."""
LASTING_SLOW = 0.3
LASTING_SLOW_LONG_FINS = 0.8
"""The same for a slow fish, and for a slow fish with long fins. Source: judgement."""
ONCE = 0.35
"""The same from an occasional nipper, over one that bites again and again. Source: judgement."""
KEPT_BUSY = 0.7
KEPT_BUSY_AT_MOST = 0.85
"""How far an occasional nipper leaves others alone in the smallest group it wants, and in a very large one.
Source: judgement; sign Saxby et al. 2010."""
HUNGRY = 0.8
"""Food over what keeps its weight, below which a fish is hungry. Source: judgement."""
LIVES_ALONE = 0.4
"""The same for a fish that needs no group. Source: judgement."""
LEFT_BY_HUNGER = 0.6
"""How much of that calm hunger leaves. Source: judgement."""
FRENZY = 0.03
"""Chance that a barbel is bitten by mistake where food is taken in a frenzy. Source: judgement."""
OTHER_LEVEL = 0.3
"""Nips left where nipper and target keep to different levels. Source: judgement."""
QUICKER = 0.5
"""Nips left where the target is quicker. Source: judgement."""
WITHIN = 0.5
"""Nips at its own kind, over those at other fish. Source: judgement."""
TOO_LARGE = 3.0
AT_LARGE = 0.3
"""Nips left at a fish more than three times as long. Source: judgement."""
LIKELY = 0.5


def find(scene: Scene) -> Iterator[Found]:
    """A finding for every nipper and target where something is bitten in at least one draw."""
    for doer in scene.groups:
        for target in scene.targets(doer):
            uses = (Used(doer.profile, DOER_TRAITS), Used(target.profile, TARGET_TRAITS))
            if gaps(uses):
                if _offers(target):
                    question = f"whether {label(doer)} would nip {whom(doer, target)}"
                    yield cannot_rate(ID, question, target=target, uses=uses, doer=doer)
            elif (found := _found(_Bites(scene, doer, target), uses)) is not None:
                yield found


pictures = no_pictures


class _Bites(NamedTuple):
    """What one nipper does to one target; arrays have shape (draws,)."""

    scene: Scene
    doer: Group
    target: Group

    @property
    def word(self) -> str:
        """How often its kind nips."""
        return self.doer.temperament.nips

    @property
    def hungry(self) -> Flags:
        """The nipper gets too little of the food at some time."""
        coverage = self.scene.meals.coverage[..., self.scene.groups.index(self.doer)]
        return np.asarray((coverage < HUNGRY).any(axis=1))

    @property
    def nips(self) -> Floats:
        """Share of individuals that nip in this group, fed or hungry."""
        share = scales.NIPS.number(self.word)
        busy = self.kept_busy * np.where(self.hungry, LEFT_BY_HUNGER, 1.0)
        return np.asarray(share * (1 - busy * (1 - share)))

    @property
    def kept_busy(self) -> float:
        """0 to 1: how far the nipper's own group keeps it from others."""
        schooling = self.doer.profile.schooling
        wanted = schooling.smallest_group if schooling else 1
        if wanted <= 1:
            return LIVES_ALONE
        number = temper.number_of_kind(self.doer, self.scene.groups)
        return min(KEPT_BUSY_AT_MOST, KEPT_BUSY * math.sqrt(max(0.0, 2 * number / wanted - 1)))

    @property
    def reaches(self) -> Floats:
        """0 to 1: level, speed and size."""
        ends = [0, -1]
        size = self.target.total_length[:, ends] / self.doer.total_length[:, ends]
        at_large = np.where(size.min(axis=1) > TOO_LARGE, AT_LARGE, 1.0)
        meets = OTHER_LEVEL + (1 - OTHER_LEVEL) * overlap(self.doer, self.target)
        within = WITHIN if temper.relation(self.doer, self.target) == "own kind" else 1.0
        return np.asarray(at_large * meets * within * (QUICKER if _is_quicker(self.target, self.doer) else 1.0))

    @property
    def frenzy(self) -> float:
        """Chance that a barbel is taken for food."""
        style = self.doer.profile.feeding_style
        frantic = style is not None and style.pace == "frantic" and self.doer is not self.target
        if not frantic or "barbels" not in self.target.profile.features:
            return 0.0
        return FRENZY * overlap(self.doer, self.target)

    @property
    def shows(self) -> bool:
        """A known nipper, or a target that offers something: otherwise a nip now and then heals unnoticed."""
        return self.word == "often" or _invites(self.target) > ANYONE_INVITES

    @property
    def bitten(self) -> Flags:
        """Something is bitten."""
        chance = self.nips * self.reaches * _invites(self.target) * min(1.0, 1 / math.sqrt(self.target.stamina))
        chance = np.maximum(chance, self.frenzy)
        return np.asarray(self.doer.uniform("nips") < chance)

    @property
    def lasting(self) -> Flags:
        """It is bitten again and again, or loses what does not grow back."""
        again = 1.0 if self.word == "often" else ONCE
        part = min(1.0, again * _lasting(self.target) / self.target.stamina)
        return np.asarray(self.doer.uniform("nips") < self.nips * self.reaches * _invites(self.target) * part)


def _offers(target: Group) -> list[str]:
    return [feature for feature in INVITES if feature in target.profile.features]


def _invites(target: Group) -> float:
    passed_over = 1 - ANYONE_INVITES
    for feature in _offers(target):
        passed_over *= 1 - INVITES[feature]
    return 1 - passed_over * (1 - SLOW_INVITES * ("slow-swimmer" in target.profile.features))


def _lasting(target: Group) -> float:
    parts = [LASTING[feature] for feature in _offers(target)]
    if "slow-swimmer" in target.profile.features:
        parts.append(LASTING_SLOW_LONG_FINS if "long-fins" in target.profile.features else LASTING_SLOW)
    return max(parts, default=0.0)


def _is_quicker(target: Group, doer: Group) -> bool:
    if "slow-swimmer" in target.profile.features:
        return False
    return "slow-swimmer" in doer.profile.features or target.profile.swimming == "open-water"


def _found(bites: _Bites, uses: tuple[Used, ...]) -> Found | None:
    bitten, lasting = bites.bitten, bites.lasting
    if bitten.mean() < TOO_RARE:
        return None
    doer, target = bites.doer, bites.target
    return Found(
        ID,
        doer,
        target,
        sentence=_sentence(doer, target, float(bitten.mean())),
        outcomes=(
            Outcome(Consequence.CRITICAL, lasting),
            Outcome(Consequence.MARGINAL if bites.shows else Consequence.NEGLIGIBLE, bitten),
        ),
        because=tuple(_reasons(bites)),
        figures=(
            Figure("nippers", "individuals that nip in this group", float(bites.nips.mean()), ""),
            Figure("bitten", "share of draws in which something is bitten", float(bitten.mean()), ""),
        ),
        from_month=0,
        to_month=bites.scene.horizon,
        uses=uses,
    )


def _sentence(doer: Group, target: Group, share: float) -> str:
    what = wording.listed([BITTEN[feature] for feature in _offers(target)] or ["fins"])
    does = verb(doer, "bites", "bite") if share >= LIKELY else "may nip"
    whose = f"each other's {what}" if doer is target else f"the {what} of {label(target)}"
    return f"{subject(doer)} {does} {whose}."


def _reasons(bites: _Bites) -> Iterator[str]:
    doer, target = bites.doer, bites.target
    word = bites.word
    nips = float(bites.nips.mean())
    if word == "never":
        who = wording.opening(a(doer.name))
        yield f"{who} does not nip, but in its feeding frenzy a worm-like barbel may be taken for food."
    else:
        yield f"Nips {word}: taken to do so in {wording.share(nips)} of the draws, with this group and this food."
        schooling = doer.profile.schooling
        number = temper.number_of_kind(doer, bites.scene.groups)
        if schooling and number < schooling.smallest_group:
            wanted = schooling.smallest_group
            yield f"A group of {number} is too small to keep nippers busy; from {wanted} they may leave others alone."
    if word != "never" and bites.hungry.any():
        yield f"It goes hungry in {wording.share(float(bites.hungry.mean()))} of the draws, and hungry fish nip more."
    bitten, lasting = (wording.share(float(flags.mean())) for flags in (bites.bitten, bites.lasting))
    yield (
        "Counting also what there is to bite, and level, size and speed, something is bitten in "
        f"{bitten} of the draws, again and again or for good in {lasting}."
    )
    if "slow-swimmer" in target.profile.features:
        yield f"{verb(target, 'It', 'They')} cannot get away quickly and may be bitten again and again."
    yield "Torn fins and barbels mostly grow back in weeks where the base survives; an eye does not."
