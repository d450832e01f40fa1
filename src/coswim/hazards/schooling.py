"""A shoaling fish has too little company of its own kind, or one that is kept singly gets some.

How it is judged: all fish of the species in the tank are counted, old and new, and held against the
smallest advised group. The share of the group that is missing decides how likely a fish lives in fear
or hides; it weighs more the larger the group should be, since a fish advised in twos or threes does without
more easily than one advised in sixes. Territorial fish of some size have little need of a shoal. In each
simulated future the individual's own need is drawn. It is chronic stress, not death.

One too many: where the profile says that the fish is kept singly (`smallest_group: 0`), a second one is
attacked as often as its temper towards its own kind says, and a part of those attacks ends in death.

Sexes: where the plan says how many are males and the kind wants more females for each (`females_per_male`), too
few of them are driven without rest.

What it cannot see: company of close relatives, which some shoaling fish accept; a proven pair; how much it helps to
see a shoal of another kind.

Triggers: coswim screen --tank "60x30x30 cm" --temperature 24 --ph 6.5 --hardness 5 --resident "6 ember
tetra, 2 cm" --add "neon tetra, 3 cm"

Does not: coswim screen --tank "60x30x30 cm" --temperature 24 --ph 6.5 --hardness 5 --resident "6 ember
tetra, 2 cm" --add "8 neon tetra, 3 cm"

Sources: Saxby et al. 2010, Appl. Anim. Behav. Sci. (neon tetras and white clouds: less darting and
aggression in groups of 10 than of 1 or 2; angelfish: no clear link up to 5). Group sizes stand in the
profiles. How likely which shortage weighs on the fish: judgement.
"""

from __future__ import annotations

from collections.abc import Iterator

from coswim.arrays import Floats
from coswim.findings.finding import MOSTLY, Figure, Found, Later, Used, cannot_rate, gaps, outcomes
from coswim.findings.hazard import no_pictures
from coswim.simulation import temper
from coswim.simulation.phrases import label, plural, verb
from coswim.simulation.scene import Scene
from coswim.simulation.stock import Kind, kinds
from coswim.text import wording

ID = "schooling"
LABEL = "company"
WATCH = "see whether they dart, hide or hang apart instead of moving together"
TRAITS = ("schooling", "temperament.own_kind")
FULL_SHOAL = 6
"""Smallest advised group from which company counts in full. Source: judgement; six is the common advice."""
SHOALING = 2.0
"""How much faster than the group the need of company grows. Source: judgement."""
SHORTAGE = 1.5
"""How much faster than the missing share the harm grows: one short of six is little. Source: judgement."""
SELF_RELIANT = 0.15
"""Need of company of territorial fish above SMALL. Source: judgement; angelfish showed no clear link."""
SMALL = 8.0
"""Adult length, cm, up to which even a territorial fish seeks the shoal's safety. Source: judgement."""
KILLED = 0.35
"""Part of the attacks on a second fish of a kind kept singly that ends in death. Source: judgement."""
LEAST_DRIVE = "assertive"
DRIVEN = 0.6
"""Share of tanks in which females are driven without rest where a male has hardly one. Source: judgement."""
WORN_OUT = 0.3
"""Part of those in which a female is worn out and lastingly harmed, by males that are aggressive among themselves;
by milder ones in proportion to their drive. Source: judgement."""


def find(scene: Scene) -> Iterator[Found]:
    """A finding for every kind with too little company, or with any where it should have none."""
    for kind in kinds(scene):
        company = kind.group.profile.schooling
        if company is None:
            question = f"whether {label(kind.group)} {verb(kind.group, 'has', 'have')} company enough"
            missing = gaps([Used(kind.group.profile, ("schooling",))])
            uses = (Used(kind.group.profile, TRAITS),)
            yield cannot_rate(ID, question, target=kind.group, uses=uses, missing=missing)
        elif company.smallest_group == 0 and kind.count > 1:
            yield _too_many(scene, kind)
        elif kind.count < company.smallest_group:
            yield _too_few(scene, kind, company.smallest_group)
        yield from _driven(scene, kind)


pictures = no_pictures


def _need(scene: Scene, kind: Kind) -> Floats:
    """How much the kind's individual minds being short of company, 0 to 1, shape (draws,); low minds more."""
    return scene.draws.uniform("kind", kind.group.profile.scientific_name, ID)


def fear(count: int, smallest_group: int, *, weight: float) -> float:
    """The share of fish on which a shortage of company weighs, 0 to 1.

    Equation: weight * min(1, (smallest_group - 1) / 5)^2 * (1 - count / smallest_group)^1.5.
    Never rises with the count; 0 from the smallest advised group on. Source: judgement.
    """
    shoaling = min(1.0, (smallest_group - 1) / (FULL_SHOAL - 1)) ** SHOALING
    missing = max(0.0, 1 - count / smallest_group)
    return float(weight * shoaling * missing**SHORTAGE)


def _weight(kind: Kind) -> float:
    adult = kind.group.profile.adult_length.middle
    is_self_reliant = kind.group.temperament.own_kind in temper.DRIVES_OFF and adult > SMALL
    return SELF_RELIANT if is_self_reliant else 1.0


def _too_few(scene: Scene, kind: Kind, smallest_group: int) -> Found:
    fish, weight = kind.group, _weight(kind)
    share = fear(kind.count, smallest_group, weight=weight)
    return Found(
        ID,
        None,
        fish,
        sentence=_few_sentence(kind, smallest_group, share),
        outcomes=outcomes(marginal=_need(scene, kind) < share),
        because=Later(_few_reasons, kind, smallest_group, weight),
        figures=Later(_figures, kind, smallest_group),
        from_month=0,
        to_month=scene.horizon,
        uses=(Used(fish.profile, TRAITS),),
    )


def _few_sentence(kind: Kind, smallest_group: int, share: float) -> str:
    name, names = kind.group.name, plural(kind.group.name)
    if kind.count == 1 and share >= MOSTLY:
        return f"A single {name} lives in fear without a shoal."
    have = f"A single {name} would be" if kind.count == 1 else f"{kind.count} {names} are"
    return f"{have} easier in a group of {smallest_group} or more."


def _few_reasons(kind: Kind, smallest_group: int, weight: float) -> Iterator[str]:
    yield (
        f"Old and new together there {wording.agreeing(kind.count, 'is', 'are')} {kind.count}; the smallest advised "
        f"group is {smallest_group}."
    )
    if weight < 1:
        yield "It is territorial and large enough to do without a shoal, so this weighs little."
    else:
        yield "Too few of them hide, dart and eat poorly; among themselves they may also quarrel more."


def _too_many(scene: Scene, kind: Kind) -> Found:
    fish, temperament = kind.group, kind.group.profile.temperament
    word = temperament.own_kind if temperament else LEAST_DRIVE
    drive = max(temper.known_drive(word), temper.known_drive(LEAST_DRIVE))
    draws = _need(scene, kind)
    doer = next((group for group in kind.groups if group is not fish), fish)
    return Found(
        ID,
        doer,
        fish,
        sentence=f"The {fish.name} is kept singly: of {kind.count} together one is likely to be hunted down.",
        outcomes=outcomes(catastrophic=draws < KILLED * drive, critical=draws < drive),
        because=(
            f"Towards its own kind it is {word}; such a fish attacks a second one in about {wording.share(drive)} of "
            f"tanks, and about {wording.share(KILLED)} of those attacks end in death.",
        ),
        figures=Later(_figures, kind, 1),
        from_month=0,
        to_month=scene.horizon,
        uses=(Used(fish.profile, TRAITS),),
    )


def driven(females: float, males: float, *, wanted: int) -> float:
    """The share of tanks in which females are driven without rest, 0 to 1.

    Equation: 0.6 (1 - females / (wanted * males)), at least 0; 0 without males or without females.
    Never rises with the females. Source: judgement, see DRIVEN.
    Check value: derived, half of the wanted females.

    >>> driven(4, 4, wanted=2)
    0.3
    """
    if males <= 0 or females <= 0:
        return 0.0
    return DRIVEN * max(0.0, 1 - females / (wanted * males))


def _driven(scene: Scene, kind: Kind) -> Iterator[Found]:
    sexes = kind.group.profile.sexes
    if sexes is None or not sexes.females_per_male or all(group.males is None for group in kind.groups):
        return
    males = sum(group.count / 2 if group.males is None else group.males for group in kind.groups)
    females, wanted = kind.count - males, sexes.females_per_male
    share = driven(females, males, wanted=wanted)
    if share == 0:
        return
    fish, place = kind.group, scene.draws.uniform("kind", kind.group.profile.scientific_name, "driven")
    named = [
        f"{wording.number(count)} {word if count == 1 else word + 's'}"
        for count, word in ((females, "female"), (males, "male"))
    ]
    rough = temper.known_drive(sexes.males or fish.temperament.own_kind) / temper.known_drive("aggressive")
    yield Found(
        ID,
        None,
        fish,
        sentence=f"The males among the {kind.count} {plural(fish.name)} may drive the females without rest.",
        outcomes=outcomes(critical=place < share * WORN_OUT * rough, marginal=place < share),
        because=(f"{' for '.join(named)}; {wanted} for each male are advised.",),
        figures=(
            Figure("females_per_male", "females for each male", females / males, ""),
            Figure("females_advised", "advised", wanted, ""),
        ),
        from_month=0,
        to_month=scene.horizon,
        uses=(Used(fish.profile, ("sexes.females_per_male",)),),
        topic="sexes",
    )


def _figures(kind: Kind, advised: int) -> tuple[Figure, ...]:
    return (
        Figure("count", f"{plural(kind.group.name)} in the tank", kind.count, ""),
        Figure("advised_group", "advised", advised, ""),
    )
