"""A fish is harassed by others: chased from food and shelter, wounded, or killed.

How it is judged: for every fish the attacks on the worst-off of its group are put together from everybody who
attacks it, its own group included: the attacker's drive (`temperament`, drawn; a step milder below `rough_from`,
one step up while a kind that `guards` its brood breeds; towards its own kind or a look-alike the word for its own
kind counts too, among `males` theirs), who wins the contest (length, weight lost in the feeding race, who lived
there first, an earlier beating), whether they meet (level, hours, speed), how much of the floor its `territory`
takes, how many share the attacks, and shelter. Attackers add up, each less than the one before; who attacks the
target too takes nothing off it. The sum is held against what the target endures (`stamina`): more is chronic
stress, twice as much lasting injury, three and a half times as much death. Fish grow and may starve, so the tables
may turn; the time is shown.

The result is ordinal: it ranks pairings, and nobody can count attacks in advance. What shows in fewer than
one future in 200 is not reported.

What it cannot see: mood, a tank rearranged, an attacker that was beaten before and holds back. Fish whose sex the
plan does not state (`males`) are males or females by even chance. Shelter may help some fish and not others, so
each draw takes another part of it: plants give none where a fish digs or eats them, roots and rocks only to fish
that live among them. One individual stands for each group.

Triggers: coswim screen --tank "100 x 40 x 40 cm" --temperature 26 --ph 7.2 --hardness 8
--resident "2 convict cichlid, 9 cm" --add "6 platy, 4 cm"

Does not: coswim screen --tank "100 x 40 x 40 cm" --temperature 26 --ph 7 --hardness 6
--resident "cockatoo dwarf cichlid, 6 cm" --add "12 black neon tetra, 3.5 cm"

Sources: Wazlavek & Figler 1989, Draud & Lynch 2002 (size and residence); Johnsson & Forser 2002
(residence); Beaugrand et al. 1991 (beaten fish); Caballero & Castro-Hdez 2003, Oldfield 2011 (number of
targets); Kadry & Barreto, Nijman & Heuts 2011 (shelter). Drives and all factors: judgement.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

import numpy as np

from coswim.arrays import Flags, Floats
from coswim.biology import contest
from coswim.findings.finding import Figure, Found, Later, Used, cannot_rate, gaps, outcomes
from coswim.findings.pictures import CurvesPicture, curve
from coswim.simulation import shelter, temper
from coswim.simulation.crowd import Crowd
from coswim.simulation.group import Group
from coswim.simulation.phrases import label, subject, whom
from coswim.simulation.quantiles import fullest, median, middle, quantile
from coswim.simulation.quarrel import Attacker, Quarrel
from coswim.simulation.scene import Scene
from coswim.simulation.times import when
from coswim.text import wording

ID = "aggression"
LABEL = "quarrels"
WATCH = "see who hides, keeps to a corner or has split fins, daily for two weeks"
DOER_TRAITS = ("temperament.own_kind", "temperament.other_fish", "feeding_style.level", "adult_length", "growth")
TARGET_TRAITS = ("temperament.stamina", "feeding_style.level", "adult_length", "growth")
TRAITS = (*DOER_TRAITS, "temperament.stamina")
INJURY, DEATH = 2.0, 3.5
"""Attacks, in what the target endures, from which it is lastingly hurt and from which it dies. Judgement."""
OFTEN = 0.05
ABOUT_EQUAL = 0.05
HARD = 0.9
CRAMPED = 0.5
"""Part of the floor from which a territory is called cramped for the others. Source: judgement."""
THINNER = 0.95
ADDS = 0.1
"""Part of what the target gets from which a further attacker is named. Source: judgement."""
RELATIONS = {
    "same genus": "It takes them for rivals: they are of one genus.",
    "same family": "It may take them for rivals: same family, at the same level, while they are of similar size.",
    "alike in fins": "It may take them for rivals: trailing fins on both, at the same level, of similar size.",
    "same form": "It may take them for rivals: alike in build, at the same level, while they are of similar size.",
}


def find(scene: Scene) -> Iterator[Found]:
    """A finding for every target that endures too much in at least one draw, and for every pair that cannot be told."""
    for doer, target in _pairs(scene, known=False):
        question = f"whether {label(doer)} would harass {whom(doer, target)}"
        yield cannot_rate(ID, question, target=target, uses=_uses(doer, target), doer=doer)
    crowd = _crowd(scene)
    for target in scene.groups:
        account = _account(crowd, target)
        if account is not None:
            yield _found(account)
        crowd.forget(target)


def pictures(scene: Scene, found: Found) -> tuple[CurvesPicture, ...]:
    """All attacks on the target over the months."""
    account = _account(_crowd(scene), found.target)
    if account is None:
        return ()
    attacks = curve(found.target.name, scene.course.times, account.load)
    return (CurvesPicture(f"attacks on {label(found.target)}", "times what it endures", (attacks,)),)


def _crowd(scene: Scene) -> Crowd:
    """Every attacker and target of whom enough is known."""
    attackers = {doer.key: Attacker(scene, doer) for doer in scene.groups}
    pairs = _pairs(scene, known=True)
    return Crowd(tuple(Quarrel(scene, doer, target, attackers[doer.key]) for doer, target in pairs))


def _pairs(scene: Scene, *, known: bool) -> Iterator[tuple[Group, Group]]:
    """Attackers and targets of whom enough is known, or those of whom it is not."""
    doers = {group.key for group in scene.groups if not gaps((Used(group.profile, DOER_TRAITS),))}
    targets = {group.key for group in scene.groups if not gaps((Used(group.profile, TARGET_TRAITS),))}
    for doer in scene.groups:
        for target in scene.targets(doer):
            if (doer.key in doers and target.key in targets) is known:
                yield doer, target


def _uses(doer: Group, target: Group) -> tuple[Used, Used]:
    return (Used(doer.profile, DOER_TRAITS), Used(target.profile, TARGET_TRAITS))


class _Account(NamedTuple):
    """All attacks on one target: the leading quarrel, the others with their part of the whole, and the sum of loads."""

    crowd: Crowd
    quarrel: Quarrel
    others: tuple[tuple[Quarrel, float], ...]
    load: Floats

    @property
    def worst(self) -> int:
        """The time at which the target fares worst."""
        return int(np.argmax(quantile(self.load, HARD)))

    @property
    def when(self) -> str:
        """That time in words."""
        return when(float(self.quarrel.scene.course.times[self.worst]))

    @property
    def hardest(self) -> float:
        """The attacks, over what it endures, that a tenth of the draws exceeds at that time."""
        return float(quantile(self.load[:, self.worst], HARD))

    def middle(self, values: Floats | Flags) -> float:
        """The middle of the draws at that time."""
        return middle(np.broadcast_to(values, self.load.shape)[:, self.worst])


def _account(crowd: Crowd, target: Group) -> _Account | None:
    """None where the target endures it."""
    parts = crowd.parts(target)
    if not parts:
        return None
    load = contest.added_up([part for _, part in parts], [1] * len(parts))
    if not (load >= 1).any():
        return None
    weights = [float(contest.crowded(part).max(axis=1).mean()) for _, part in parts]
    ranked = sorted(zip(weights, (quarrel for quarrel, _ in parts), strict=True), key=lambda one: -one[0])
    others = tuple((quarrel, weight / sum(weights)) for weight, quarrel in ranked[1:] if weight >= ADDS * sum(weights))
    return _Account(crowd, ranked[0][1], others, load)


def _found(account: _Account) -> Found:
    quarrel, worst = account.quarrel, account.load.max(axis=1)
    months = quarrel.scene.course.times
    first, last = fullest((account.load >= 1).mean(axis=0))
    doers = (quarrel.doer, *(other.doer for other, _ in account.others))
    return Found(
        ID,
        None,
        quarrel.target,
        sentence=_sentence(quarrel, worst),
        outcomes=outcomes(catastrophic=worst >= DEATH, critical=worst >= INJURY, marginal=worst >= 1),
        because=Later(_reasons, account),
        figures=Later(_figures, account),
        from_month=round(months[first]),
        to_month=round(months[last]),
        uses=(*(Used(doer.profile, DOER_TRAITS) for doer in doers), Used(quarrel.target.profile, TARGET_TRAITS)),
        likeliest=quarrel.doer,
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
    if account.others:
        doers = [("its own group" if one.is_within else label(one.doer), part) for one, part in account.others]
        named = wording.listed([f"{doer} with {wording.share(part)}" for doer, part in doers])
        yield f"Others add to it: {named} of what reaches the worst-off."
    yield (
        f"{wording.opening(account.when)} the worst-off gets {wording.number(account.middle(account.load))} times what "
        f"it endures (stamina: {account.quarrel.target.temperament.stamina}) in the middle of the futures, "
        f"{wording.number(account.hardest)} times in the hardest tenth."
    )


def _temper(account: _Account) -> Iterator[str]:
    quarrel = account.quarrel
    doer, temperament = quarrel.doer, quarrel.doer.temperament
    is_own = quarrel.relation == "own kind"
    word = temperament.own_kind if is_own else temperament.other_fish
    young = temperament.rough_from is not None and bool((quarrel.length < temperament.rough_from).any())
    milder = f", below {temperament.rough_from:g} cm a step milder" if young else ""
    yield f"Towards {'its own kind' if is_own else 'other fish'} the {doer.name} is {word}{milder}."
    if is_own:
        yield from _among_its_kind(quarrel)
    elif quarrel.relation in RELATIONS and account.middle(quarrel.is_similar) > 0:
        yield RELATIONS[quarrel.relation]
    if not is_own and quarrel.guarding.any() and temper.one_step_up(word) != word:
        futures = _futures(quarrel.guarding.any(axis=1))
        yield f"While eggs or young are guarded it acts {temper.one_step_up(word)}, {futures}."


def _among_its_kind(quarrel: Quarrel) -> Iterator[str]:
    doer = quarrel.doer
    if temper.shoals(doer) and temper.company(doer, quarrel.of_kind) > temper.COMPANY:
        yield f"Only {quarrel.of_kind} of its kind: in a small group one or two are singled out."
    if temper.may_be_mates(doer, quarrel.of_kind):
        futures = _futures(quarrel.males == 1)
        yield f"Two may be a pair or two rivals of one sex; they are taken for a pair {futures}."
    among_males = doer.profile.sexes.males if doer.profile.sexes else None
    if among_males and among_males != doer.temperament.own_kind and (quarrel.males > 1).any():
        yield f"Males are {among_males} among themselves; two or more are there {_futures(quarrel.males > 1)}."


def _futures(happens: Flags | np.bool) -> str:
    return wording.futures(float(happens.mean()))


def _contest(account: _Account) -> Iterator[str]:
    quarrel = account.quarrel
    mine, theirs = account.middle(quarrel.length), account.middle(quarrel.target_length)
    first = " and lived there first" if quarrel.doer.lives_there and not quarrel.target.lives_there else ""
    rule = "" if abs(mine / theirs - 1) < ABOUT_EQUAL else ", as the longer fish usually does"
    rule = rule.replace("as the longer", "where the longer") if account.middle(quarrel.odds) < contest.EVEN else rule
    lengths = f"{wording.number(mine)} against {wording.number(theirs)} cm"
    yield (
        f"{wording.opening(account.when)} it measures {lengths}{first}: "
        f"it wins {wording.share(account.middle(quarrel.odds))} of the contests{rule}."
    )
    usual = median(np.broadcast_to(quarrel.odds, account.load.shape))
    if usual[0] < contest.EVEN <= usual[-1] and not quarrel.is_within:
        turned = when(float(quarrel.scene.course.times[int(np.argmax(usual >= contest.EVEN))]))
        yield f"The tables turn {turned}: until then the others win most contests."
    if account.middle(quarrel.condition) < THINNER:
        yield f"{subject(quarrel.target)} may lose weight in the feeding race, and a thin fish becomes the target."
    if quarrel.target.beaten and not quarrel.is_within:
        yield "The target was hurt by tankmates before, and a beaten fish gives way sooner."


def _room(account: _Account) -> Iterator[str]:
    quarrel, crowd = account.quarrel, account.crowd
    held = account.middle(quarrel.held)
    if held >= CRAMPED * quarrel.floor:
        yield (
            f"Its territory would take {wording.share(min(1.0, held / quarrel.floor))} of the floor: hardly a place is "
            "out of its sight, and more fish to share the attacks are no cure."
        )
    else:
        sharing = round(crowd.sharing(quarrel))
        yield (
            f"About {wording.counted(sharing, 'fish', 'fish')} may share its attacks, with room to keep out of the way."
            if sharing > 1
            else "No other fish shares its attacks, but there is room to keep out of the way."
        )
    uprooting = shelter.uprooters(quarrel.scene)
    if quarrel.scene.tank.furnishing == shelter.PLANTS and uprooting:
        names = wording.listed([label(fish) for fish in uprooting])
        yield f"Plants are no shelter for long beside {names}."
    if crowd.places(quarrel) < 1:
        targets = sum(other.targets for other in crowd.of(quarrel.doer))
        places = quarrel.scene.tank.hiding_places
        yield f"{wording.counted(places, 'hiding place')} for {targets} targets; more may help some of them."


def _figures(account: _Account) -> tuple[Figure, ...]:
    quarrel = account.quarrel
    return (
        Figure("drive", "drive to attack, 0 to 1", account.middle(quarrel.drive), ""),
        Figure("contests_won", "contests that the attacker wins", account.middle(quarrel.odds), ""),
        Figure("sharing_targets", "fish that share the attacks", account.crowd.sharing(quarrel), ""),
        Figure("territory_cm2", "floor that it holds", account.middle(quarrel.held), "cm²"),
        Figure("attacks_over_endurance", "attacks over what it endures", account.middle(account.load), ""),
    )
