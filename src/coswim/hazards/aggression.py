"""One fish harasses another: chased from food and shelter, wounded, or killed.

How it is judged: for every fish and everything that it might bother, others of its own group included, the
attacks on the worst-off target are put together from the attacker's drive (`temperament`, drawn; shifted by
the individual's own `history`; one step up while a pair of cichlids breeds; towards its own kind or a
look-alike the word for its own kind counts too), who wins the contest (length, weight lost in the feeding
race, who lived there first, an earlier beating), whether they meet (level, hours, speed), how much of the
floor its territory takes, how many share the attacks, and shelter shared among the targets. They are held
against what the target endures (`stamina`): more is chronic stress, twice as much lasting injury, three
and a half times as much death. Both fish grow and one may starve, so the tables may turn; the month is shown.

The result is ordinal: it ranks pairings, and nobody can count attacks in advance. What shows in fewer than
one draw in 200 is not reported.

What it cannot see: sex (of two fish both are of one sex in half of the draws), mood, a tank rearranged, an
attacker that was beaten before and holds back, several attackers of one group at once. Shelter may help some
fish and not others, so each draw takes another part of it. One individual stands for each group.

Triggers: coswim screen --tank "100 x 40 x 40 cm" --temperature 26 --ph 7.2 --hardness 8
--resident "2 convict cichlid, 9 cm" --add "6 platy, 4 cm"

Does not: coswim screen --tank "100 x 40 x 40 cm" --temperature 26 --ph 7 --hardness 6
--resident "cockatoo dwarf cichlid, 6 cm" --add "12 black neon tetra, 3.5 cm"

Sources: Wazlavek & Figler 1989, Draud & Lynch 2002 (size and residence); Johnsson & Forser 2002
(residence); Beaugrand et al. 1991 (beaten fish); Caballero & Castro-Hdez 2003, Oldfield 2011 (number of
targets); Kadry & Barreto, Nijman & Heuts 2011 (shelter). Drives and all factors: judgement.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import NamedTuple

import numpy as np

from coswim.arrays import Flags, Floats
from coswim.findings.finding import TOO_RARE, Consequence, Figure, Found, Outcome, Used, cannot_rate, gaps
from coswim.findings.pictures import CurvesPicture, curve
from coswim.simulation import temper
from coswim.simulation.group import Group
from coswim.simulation.phrases import label, subject, whom
from coswim.simulation.quantiles import fullest, median, middle, quantile
from coswim.simulation.quarrel import Quarrel
from coswim.simulation.scene import Scene
from coswim.text import wording

ID = "aggression"
DOER_TRAITS = ("temperament.own_kind", "temperament.other_fish", "feeding_style.level", "adult_length", "growth")
TARGET_TRAITS = ("temperament.stamina", "feeding_style.level", "adult_length", "growth")
TRAITS = (*DOER_TRAITS, "temperament.stamina")
INJURY, DEATH = 2.0, 3.5
"""Attacks, in what the target endures, from which it is lastingly hurt and from which it dies. Judgement."""
OFTEN = 0.05
EVEN = 0.5
ABOUT_EQUAL = 0.05
HARD = 0.9
CRAMPED = 0.5
"""Part of the floor from which a territory is called cramped for the others. Source: judgement."""
THINNER = 0.95
RELATIONS = {
    "same genus": "It takes them for rivals: they are of one genus.",
    "same family": "It may take them for rivals: same family, at the same level, while they are of similar size.",
    "alike in fins": "It may take them for rivals: trailing fins on both, at the same level, of similar size.",
    "same form": "It may take them for rivals: alike in build, at the same level, while they are of similar size.",
}
ORDINAL = "This is ordinal: it ranks pairings and cannot count attacks in advance."


def find(scene: Scene) -> Iterator[Found]:
    """A finding for every attacker and target where the target endures too much in at least one draw."""
    for doer in scene.groups:
        quarrels = []
        for target in scene.targets(doer):
            if gaps(_uses(doer, target)):
                question = f"whether {label(doer)} would harass {whom(doer, target)}"
                yield cannot_rate(ID, question, target=target, uses=_uses(doer, target), doer=doer)
            else:
                quarrels.append(Quarrel(scene, doer, target))
        for quarrel in quarrels:
            if not quarrel.may_matter:
                continue
            load = quarrel.load(quarrels)
            if (load >= 1).any(axis=1).mean() >= TOO_RARE:
                yield _found(_Account(quarrel, tuple(quarrels), load))


def pictures(scene: Scene, found: Found) -> tuple[CurvesPicture]:
    """The attacks over the months."""
    doer, target = found.pair
    quarrels = [Quarrel(scene, doer, other) for other in scene.targets(doer) if not gaps(_uses(doer, other))]
    load = next(quarrel for quarrel in quarrels if quarrel.target is target).load(quarrels)
    title = f"attacks on {label(target)} by {label(doer)}"
    return (CurvesPicture(title, "times what it endures", (curve(target.name, scene.meals.months, load),)),)


def _uses(doer: Group, target: Group) -> tuple[Used, Used]:
    return (Used(doer.profile, DOER_TRAITS), Used(target.profile, TARGET_TRAITS))


class _Account(NamedTuple):
    """A quarrel, all quarrels of its attacker, and the attacks over what the target endures."""

    quarrel: Quarrel
    quarrels: Sequence[Quarrel]
    load: Floats

    @property
    def worst(self) -> int:
        """The fed month at which the target fares worst."""
        return int(np.argmax(quantile(self.load, HARD)))

    @property
    def month(self) -> int:
        """That month, counted from the day they meet."""
        return self.quarrel.scene.meals.month_indexes[self.worst]

    @property
    def hardest(self) -> float:
        """The attacks, over what it endures, that a tenth of the draws exceeds at that month."""
        return float(quantile(self.load[:, self.worst], HARD))

    def middle(self, values: Floats | Flags) -> float:
        """The middle of the draws at that month."""
        return middle(np.broadcast_to(values, self.load.shape)[:, self.worst])


def _found(account: _Account) -> Found:
    quarrel, worst = account.quarrel, account.load.max(axis=1)
    months = quarrel.scene.meals.month_indexes
    first, last = fullest((account.load >= 1).mean(axis=0))
    return Found(
        ID,
        quarrel.doer,
        quarrel.target,
        sentence=_sentence(quarrel, worst),
        outcomes=(
            Outcome(Consequence.CATASTROPHIC, worst >= DEATH),
            Outcome(Consequence.CRITICAL, worst >= INJURY),
            Outcome(Consequence.MARGINAL, worst >= 1),
        ),
        because=tuple(_reasons(account)),
        figures=_figures(account),
        from_month=months[first],
        to_month=months[last],
        uses=_uses(quarrel.doer, quarrel.target),
    )


def _sentence(quarrel: Quarrel, worst: Floats) -> str:
    doer, target = subject(quarrel.doer), label(quarrel.target)
    if (worst >= DEATH).mean() >= OFTEN:
        does, suffers = f"may harass {target} to death", "may be harassed to death"
    elif (worst >= INJURY).mean() >= OFTEN:
        does, suffers = f"may wound {target} and keep at it", "may be wounded again and again"
    else:
        does, suffers = f"may keep {target} under stress", "may be kept under stress"
    if quarrel.is_within:
        return f"Among {target} the weakest {suffers} by the other{'s' if quarrel.targets > 1 else ''}."
    return f"{doer} {does}."


def _reasons(account: _Account) -> Iterator[str]:
    yield from _temper(account)
    yield from _contest(account)
    yield from _room(account)
    stamina = account.quarrel.target.temperament.stamina
    yield (
        f"At month {account.month} the worst-off gets {wording.number(account.middle(account.load))} times what it "
        f"endures (stamina: {stamina}) in the middle of the draws, "
        f"{wording.number(account.hardest)} times in the hardest tenth."
    )
    yield ORDINAL


def _temper(account: _Account) -> Iterator[str]:
    quarrel = account.quarrel
    doer, temperament = quarrel.doer, quarrel.doer.temperament
    is_own = quarrel.relation == "own kind"
    word = temperament.own_kind if is_own else temperament.other_fish
    yield f"Towards {'its own kind' if is_own else 'other fish'} the {doer.name} is {word}."
    if is_own and temper.shoals(doer) and temper.company(doer, quarrel.of_kind) > temper.COMPANY:
        yield f"Only {quarrel.of_kind} of its kind: in a small group one or two are singled out."
    if is_own and temper.may_be_mates(doer, quarrel.of_kind):
        yield "Two may be a pair or two rivals of one sex; each is taken to be so in half of the draws."
    if not is_own and quarrel.relation in RELATIONS and account.middle(quarrel.is_similar) > 0:
        yield RELATIONS[quarrel.relation]
    if not is_own and quarrel.breeds.any() and temper.one_step_up(word) != word:
        share = wording.share(float(quarrel.breeds.any(axis=1).mean()))
        yield f"A pair that guards eggs or young acts {temper.one_step_up(word)}, in {share} of the draws."
    history = doer.history
    if history.tankmates_tried or history.tankmates_hurt:
        tried = max(history.tankmates_tried, history.tankmates_hurt)
        known, own = temper.known_drive(word), temper.expected_drive(doer, word)
        shift = f"put at {wording.number(own)} where its kind has" if own != known else "no milder than its kind's"
        yield (
            f"This one has hurt {history.tankmates_hurt} of {tried} tankmates: its drive is {shift} "
            f"{wording.number(known)} (0 never, 1 whenever it can)."
        )


def _contest(account: _Account) -> Iterator[str]:
    quarrel = account.quarrel
    mine, theirs = account.middle(quarrel.length), account.middle(quarrel.target_length)
    first = " and lived there first" if quarrel.doer.is_resident and not quarrel.target.is_resident else ""
    rule = "" if abs(mine / theirs - 1) < ABOUT_EQUAL else ", as the longer fish usually does"
    rule = rule.replace("as the longer", "where the longer") if account.middle(quarrel.odds) < EVEN else rule
    yield (
        f"At month {account.month} it measures {wording.number(mine)} against {wording.number(theirs)} cm{first}: "
        f"it wins {wording.share(account.middle(quarrel.odds))} of the contests{rule}."
    )
    usual = median(np.broadcast_to(quarrel.odds, account.load.shape))
    if usual[0] < EVEN <= usual[-1] and not quarrel.is_within:
        turned = quarrel.scene.meals.month_indexes[int(np.argmax(usual >= EVEN))]
        yield f"The tables turn at about month {turned}: until then the others win most contests."
    if account.middle(quarrel.condition) < THINNER:
        yield f"{subject(quarrel.target)} may lose weight in the feeding race, and a thin fish becomes the target."
    if quarrel.target.history.hurt_by_tankmates and not quarrel.is_within:
        yield "The target was hurt by tankmates before, and a beaten fish gives way sooner."


def _room(account: _Account) -> Iterator[str]:
    quarrel = account.quarrel
    held = account.middle(quarrel.held)
    if held >= CRAMPED * quarrel.floor:
        yield (
            f"Its territory would take {wording.share(min(1.0, held / quarrel.floor))} of the floor: hardly a place is "
            "out of its sight, and more fish to share the attacks are no cure."
        )
    else:
        sharing = round(quarrel.sharing(account.quarrels))
        yield (
            f"About {wording.counted(sharing, 'fish', 'fish')} may share its attacks, with room to keep out of the way."
            if sharing > 1
            else "No other fish shares its attacks, but there is room to keep out of the way."
        )
    if account.quarrel.places(account.quarrels) < 1:
        targets = sum(other.targets for other in account.quarrels)
        places = quarrel.scene.tank.hiding_places
        yield f"{wording.counted(places, 'hiding place')} for {targets} targets; more may help some of them."


def _figures(account: _Account) -> tuple[Figure, ...]:
    quarrel = account.quarrel
    return (
        Figure("drive", "drive to attack, 0 to 1", account.middle(quarrel.drive), ""),
        Figure("contests_won", "contests that the attacker wins", account.middle(quarrel.odds), ""),
        Figure("sharing_targets", "fish that share the attacks", quarrel.sharing(account.quarrels), ""),
        Figure("territory_cm2", "floor that it holds", account.middle(quarrel.held), "cm²"),
        Figure("attacks_over_endurance", "attacks over what it endures", account.middle(account.load), ""),
    )
