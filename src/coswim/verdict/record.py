"""What a fish has done and suffered so far decides which of its futures are believed.

Every entry of a record is simulated with the rules that judge the plan: the same individual, in each draw, beside the
tankmates that it lived with, for as long as it did. A draw whose outcome is the one that was seen is believed; one that
comes out otherwise is believed less, though not never, since records are short and tanks differ. The individual's draws
are then picked anew by that likelihood, evenly and in their order, so that a record which says nothing changes nothing.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from types import MappingProxyType
from typing import NamedTuple

import numpy as np

from coswim.arrays import REAL, Flags, Floats, Indexes
from coswim.biology.energy import SPARING
from coswim.findings.finding import Consequence, Found
from coswim.hazards import BY_ID
from coswim.plans.plan import GroupEntry, LivedWith
from coswim.plans.reading import ReadPlan
from coswim.profiles.catalog import Catalog
from coswim.simulation.course import run_together
from coswim.simulation.group import Group, group_keys
from coswim.simulation.phrases import label, plural
from coswim.simulation.scene import Effort, Scene, assemble, build_scene
from coswim.text import wording
from coswim.text.quantities import DAYS_PER_MONTH, DAYS_PER_WEEK
from coswim.verdict.assessment import Assessment
from coswim.verdict.rating import Finding, shares_of

DOUBT = 0.02
"""Likelihood of a record in a future that comes out otherwise, and what is missing to certainty where it comes out so.
Source: judgement; short records, other tanks, what was not seen."""
TRIES = 4
"""Sets of tankmates that each entry is simulated with, so that one lucky tankmate proves little. Source: judgement."""
CHASING_OVERLOOKED = 0.5
"""How likely a keeper calls a company fine in which some chasing went on. Source: judgement."""
EATING = ("gape-fit",)
FIGHTS = ("aggression", "nipping", "injury")
GRAVE = (Consequence.CATASTROPHIC, Consequence.CRITICAL)
NOTABLE = 0.02
"""Change in a share of the futures from which a record is said to have changed something."""


class Record(NamedTuple):
    """The draws believed of each fish with a record, by the key of its group, and what is to be said of it."""

    belief: Mapping[str, Indexes]
    remarks: tuple[str, ...]


NO_RECORD = Record(MappingProxyType({}), ())


def believe(read: ReadPlan, catalog: Catalog, effort: Effort) -> Record:
    """Hold the record of every resident against its draws."""
    if not any(entry.lived_with for entry in read.plan.residents):
        return NO_RECORD
    scene = build_scene(read, None, catalog, effort)
    belief: dict[str, Indexes] = {}
    remarks: list[str] = []
    for group, entry in _with_entries(scene, read):
        weights: Floats = np.ones(scene.draws.number, dtype=REAL)
        for lived in entry.lived_with:
            likelihood = _likelihood(scene, group, lived, _mates(scene, lived, read, catalog))
            if likelihood is None:
                remarks.append(f"No future agrees with this record of {label(group)} ({_said(lived, read)}); check it.")
            else:
                weights = weights * likelihood
        belief[group.key] = picked(weights)
    return Record(MappingProxyType(belief), tuple(remarks))


def _with_entries(scene: Scene, read: ReadPlan) -> Iterator[tuple[Group, GroupEntry]]:
    """The residents that have a record, with their entries."""
    by_key = {group.key: group for group in scene.groups}
    residents = [(entry, read.profile(entry), True) for entry in read.plan.residents]
    for key, (entry, _, _) in zip(group_keys(residents), residents, strict=True):
        if entry.lived_with:
            yield by_key[key], entry


def picked(weights: Floats) -> Indexes:
    """Draws picked by weight, evenly and in their order; equal weights pick each draw once.

    >>> picked(np.array([1.0, 1.0, 2.0, 0.0])).tolist()
    [0, 1, 2, 2]
    """
    reached = np.cumsum(weights) / np.sum(weights)
    places = (np.arange(len(weights)) + 0.5) / len(weights)
    return np.minimum(np.searchsorted(reached, places), len(weights) - 1)


def _mates(scene: Scene, lived: LivedWith, read: ReadPlan, catalog: Catalog) -> tuple[Group, ...]:
    """The tankmates of an entry, as often as it is tried."""
    profile = read.profiles[lived.species]
    return tuple(
        Group(
            key=f"lived with|{profile.scientific_name}|{lived.length:g}|{number}",
            profile=profile,
            count=lived.count,
            start_length=lived.length,
            is_resident=False,
            lives_there=False,
            temperature=scene.temperature,
            months=scene.months,
            draws=scene.draws,
            gape_is_published=catalog.evidence(profile, "mouth_gape") in {"measured", "published"},
        )
        for number in range(TRIES)
    )


def _likelihood(scene: Scene, group: Group, lived: LivedWith, tries: tuple[Group, ...]) -> Floats | None:
    """How likely each draw makes what was seen, shape (draws,); None where no draw comes to it."""
    horizon = max(1, round(lived.time))
    months = np.arange(horizon + 1, dtype=REAL)
    alone = replace(group, months=months, lives_there=True, believed=None)
    keeper, agrees = scene.course.keeper, np.zeros(scene.draws.number, dtype=REAL)
    tried = [assemble((alone, replace(mate, months=months)), keeper, horizon) for mate in tries]
    run_together(one.course for one in tried)
    while tried:  # each is let go of once it was asked
        agrees += _agreement(tried.pop(0), alone, lived.outcome)
    agrees /= len(tries)
    return DOUBT + (1 - 2 * DOUBT) * agrees if agrees.any() else None


def _agreement(scene: Scene, group: Group, outcome: str) -> Floats:
    """How well each draw agrees with an outcome, 0 to 1, shape (draws,)."""
    eaten, fights = ([one for hazard in hazards for one in BY_ID[hazard].find(scene)] for hazards in (EATING, FIGHTS))
    number, attacks = scene.draws.number, [one for one in fights if one.blamed is group is not one.target]
    ate = _happens([one for one in eaten if one.blamed is group is not one.target], number, GRAVE)
    hurt, chased = _happens(attacks, number, GRAVE), _happens(attacks, number, (Consequence.MARGINAL,))
    suffered = _happens([one for one in fights if one.target is group is not one.blamed], number, GRAVE)
    hungry = scene.course.coverage[..., scene.groups.index(group)].mean(axis=1) < SPARING
    fine = ~(ate | hurt | suffered | hungry)
    agreement = {
        "fine": fine * np.where(chased, CHASING_OVERLOOKED, 1.0),
        "it chased them": chased & ~hurt & ~ate,
        "it hurt them": hurt,
        "it ate them": ate,
        "they hurt it": suffered,
        "it went hungry": hungry,
    }
    return np.asarray(agreement[outcome], dtype=REAL)


def _happens(findings: Sequence[Found], draws: int, consequences: tuple[Consequence, ...]) -> Flags:
    """The draws in which one of some findings comes to one of some consequences."""
    happens = np.zeros(draws, dtype=bool)
    for outcome in (outcome for found in findings for outcome in found.outcomes):
        if outcome.consequence in consequences:
            happens |= outcome.happens
    return happens


def effect(plain: Assessment, believed: Assessment, read: ReadPlan) -> tuple[str, ...]:
    """What the record of each fish changed, in a sentence: the finding about it whose share moved most."""
    return tuple(_effect(plain, believed, group, entry, read) for group, entry in _with_entries(believed.scene, read))


def _effect(plain: Assessment, believed: Assessment, group: Group, entry: GroupEntry, read: ReadPlan) -> str:
    record = wording.listed([_said(lived, read) for lived in entry.lived_with])
    before = {finding.found.key: finding for finding in plain.findings if _concerns(finding, group)}
    after = {finding.found.key: finding for finding in believed.findings if _concerns(finding, group)}
    moved = [
        (abs(new - old), old, new, (after.get(key) or before[key]).found.sentence)
        for key in dict.fromkeys((*before, *after))
        for old, new in [_shares(before.get(key), after.get(key))]
    ]
    change, old, new, sentence = max(moved, default=(0.0, 0.0, 0.0, ""))
    if change < NOTABLE:
        return f"The record of {label(group)} ({record}) changes nothing here."
    falls = "falls" if new < old else "rises"
    return (
        f"By the record of {label(group)} ({record}) this {falls} from {round(100 * old)} to {round(100 * new)} of 100 "
        f"futures: {sentence}"
    )


def _concerns(finding: Finding, group: Group) -> bool:
    return group.key in {finding.found.target.key, finding.found.blamed.key if finding.found.blamed else ""}


def _shares(before: Finding | None, after: Finding | None) -> tuple[float, float]:
    """The shares of the consequence that decides the finding, without the record and with it."""
    decides = (before or after).consequence  # type: ignore[union-attr]  # one of them is there
    one, other = (shares_of(finding).get(decides, 0.0) if finding else 0.0 for finding in (before, after))
    return one, other


def _said(lived: LivedWith, read: ReadPlan) -> str:
    """`8 months beside 6 rosy barbs of 7 cm: fine`."""
    name = read.profiles[lived.species].name
    whom = f"a {name}" if lived.count == 1 else f"{lived.count} {plural(name)}"
    weeks = max(1, round(lived.time * DAYS_PER_MONTH / DAYS_PER_WEEK))
    stay = f"{lived.time:.0f} months" if lived.time >= 2 else wording.counted(weeks, "week")
    return f"{stay} beside {whom} of {lived.length:g} cm: {lived.outcome}"
