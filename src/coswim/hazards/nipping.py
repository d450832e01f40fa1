"""Fins, barbels or eyes are bitten away.

How it is judged: `nips` says how likely one fish nips; of n at least one does with 1 - (1 - p)^n. A full group
keeps each of them busy with its own kind, so p is lower there; hunger and too small a group do the opposite. Then
it counts what the target offers (trailing fins, standing eyes, barbels, bare skin), whether it can get away,
whether the two meet at one level, and whether the target is too large to be bothered. Torn fins and barbels grow
back; a slow fish with long fins is bitten again and again, and an eye stays lost. In a feeding frenzy a worm-like
barbel may be taken for food even by fish that never nip: more likely beside many, hungry ones, and where the
barbels' owner is fed by hand among them.

What it cannot see: that one nipper often teaches the others, bare tanks and boredom, wounds that become
infected. One individual stands for each group. What shows in fewer than one future in 200 is not reported.

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

from coswim.arrays import REAL, Flags, Floats
from coswim.findings.finding import MOSTLY, Figure, Found, Later, Used, cannot_rate, gaps, outcomes
from coswim.findings.hazard import no_pictures
from coswim.profiles import scales
from coswim.simulation import temper
from coswim.simulation.group import Group
from coswim.simulation.meeting import overlap
from coswim.simulation.phrases import a, label, subject, verb, whom
from coswim.simulation.scene import Scene
from coswim.text import wording

ID = "nipping"
LABEL = "nipping"
WATCH = "look at fins, barbels and eyes daily for two weeks"
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
LEFT_IN_COMPANY = 0.2
"""Nipping of one fish in the smallest group that it wants, over that of one without company; in larger groups it
falls with the root of their number. Source: judgement, see the scale of the words; sign Saxby et al. 2010."""
HUNGRY = 0.8
"""Food over what keeps its weight, below which a fish is hungry. Source: judgement."""
LEFT_BY_HUNGER = 0.6
"""How much of that calm hunger leaves. Source: judgement; tilapia attack more after two days without food."""
FRENZY = 0.005
"""Chance that one fish in a feeding frenzy bites a barbel by mistake, within two years. Source: judgement."""
FRENZY_OF_HUNGRY, FRENZY_AT_HAND = 2.0, 2.0
"""The same where it is hungry, and where the barbels' owner is fed by hand among its rivals, over that. Source:
judgement; keepers see whiskers lost where tongs meet a frenzy."""
OTHER_LEVEL = 0.3
"""Nips left where nipper and target keep to different levels. Source: judgement."""
QUICKER = 0.5
"""Nips left where the target is quicker. Source: judgement."""
WITHIN = 0.5
"""Nips at its own kind, over those at other fish. Source: judgement."""
TOO_LARGE = 3.0
AT_LARGE = 0.3
"""Nips left at a fish more than three times as long. Source: judgement."""


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
        coverage = self.scene.course.coverage[..., self.scene.groups.index(self.doer)]
        return np.asarray((coverage[:, self.scene.course.steady] < HUNGRY).any(axis=1))

    @property
    def nips(self) -> Floats:
        """Chance that one fish nips in this group, fed or hungry."""
        schooling = self.doer.profile.schooling
        kind = temper.number_of_kind(self.doer, self.scene.groups)
        busy = 1 - left_in_company(kind, schooling.smallest_group if schooling else 1)
        return np.asarray(scales.NIPS.number(self.word) * (1 - busy * np.where(self.hungry, LEFT_BY_HUNGER, 1.0)))

    @property
    def some_nip(self) -> Floats:
        """Chance that at least one of the group does."""
        return self._any_of(self.nips)

    def _any_of(self, chance: Floats) -> Floats:
        return np.asarray(1 - (1 - chance) ** max(1, self.doer.count - (self.doer is self.target)))

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
    def frenzy(self) -> Floats:
        """Chance that a barbel is taken for food."""
        style = self.doer.profile.feeding_style
        frantic = style is not None and style.pace == "frantic" and self.doer is not self.target
        if not frantic or "barbels" not in self.target.profile.features:
            return np.zeros(self.scene.draws.number, dtype=REAL)
        chance = FRENZY * overlap(self.doer, self.target) * np.where(self.hungry, FRENZY_OF_HUNGRY, 1.0)
        return self._any_of(chance * (FRENZY_AT_HAND if self.at_hand else 1.0))

    @property
    def at_hand(self) -> bool:
        """The target is fed by hand in the midst of the others."""
        return self.target.profile.scientific_name in self.scene.course.keeper.by_hand

    @property
    def shows(self) -> bool:
        """A known nipper, or a target that offers something: otherwise a nip now and then heals unnoticed."""
        return self.word == "often" or _invites(self.target) > ANYONE_INVITES

    @property
    def bitten(self) -> Flags:
        """Something is bitten."""
        chance = self.some_nip * self.reaches * _invites(self.target) * min(1.0, 1 / math.sqrt(self.target.stamina))
        chance = np.maximum(chance, self.frenzy)
        return np.asarray(self.doer.uniform("nips") < chance)

    @property
    def lasting(self) -> Flags:
        """It is bitten again and again, or loses what does not grow back."""
        again = 1.0 if self.word == "often" else ONCE
        part = min(1.0, again * _lasting(self.target) / self.target.stamina)
        return np.asarray(self.doer.uniform("nips") < self.some_nip * self.reaches * _invites(self.target) * part)


def left_in_company(kind: int, wanted: int) -> float:
    """Nipping of one fish among so many of its kind, over that of one without company.

    Equation: 1 up to half the wanted group, then falling evenly to 0.2; beyond it 0.2 sqrt(wanted / kind). So each
    fish nips less in a larger group, but of a larger group beyond the wanted one somebody nips more.
    Source: judgement, see LEFT_IN_COMPANY. Check value: derived, a group of the wanted size.

    >>> left_in_company(6, 6), left_in_company(1, 1), left_in_company(24, 6)
    (0.2, 1.0, 0.1)
    """
    if wanted <= 1:
        return 1.0
    if kind >= wanted:
        return LEFT_IN_COMPANY * math.sqrt(wanted / kind)
    return 1 - (1 - LEFT_IN_COMPANY) * max(0.0, 2 * kind / wanted - 1)


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
    if not bitten.any():
        return None
    doer, target = bites.doer, bites.target
    return Found(
        ID,
        doer,
        target,
        sentence=_sentence(doer, target, float(bitten.mean())),
        outcomes=outcomes(critical=lasting, **{"marginal" if bites.shows else "negligible": bitten}),
        because=Later(_reasons, bites),
        figures=(
            Figure("nippers", "chance that one of the group nips", float(bites.some_nip.mean()), ""),
            Figure("bitten", "share of futures in which something is bitten", float(bitten.mean()), ""),
        ),
        from_month=0,
        to_month=bites.scene.horizon,
        uses=uses,
    )


def _sentence(doer: Group, target: Group, share: float) -> str:
    what = wording.listed([BITTEN[feature] for feature in _offers(target)] or ["fins"])
    does = verb(doer, "bites", "bite") if share >= MOSTLY else "may nip"
    whose = f"each other's {what}" if doer is target else f"the {what} of {label(target)}"
    return f"{subject(doer)} {does} {whose}."


def _reasons(bites: _Bites) -> Iterator[str]:
    doer, target, word = bites.doer, bites.target, bites.word
    if word == "never":
        yield from _frenzy(bites)
    else:
        some, who = wording.futures(float(bites.some_nip.mean())), "one of them" if doer.count > 1 else "it"
        yield f"Nips {word}: with this group and this food {who} does {some}."
        schooling = doer.profile.schooling
        number = temper.number_of_kind(doer, bites.scene.groups)
        if schooling and number < schooling.smallest_group:
            wanted = schooling.smallest_group
            yield f"A group of {number} is too small to keep nippers busy; from {wanted} they may leave others alone."
    if bites.hungry.any():
        yield f"It goes hungry {wording.futures(float(bites.hungry.mean()))}, and hungry fish nip more."
    bitten, lasting = (wording.futures(float(flags.mean())) for flags in (bites.bitten, bites.lasting))
    yield (
        "Counting also what there is to bite, and level, size and speed, something is bitten "
        f"{bitten}, again and again or for good {lasting}."
    )
    if "slow-swimmer" in target.profile.features:
        yield f"{verb(target, 'It', 'They')} cannot get away quickly and may be bitten again and again."
    yield "Torn fins and barbels mostly grow back in weeks where the base survives; an eye does not."


def _frenzy(bites: _Bites) -> Iterator[str]:
    who = wording.opening(a(bites.doer.name))
    yield f"{who} does not nip, but in its feeding frenzy a worm-like barbel may be taken for food."
    if bites.at_hand:
        yield "Tongs among the others draw the frenzy to the barbels; feed it apart, or when the others are full."
