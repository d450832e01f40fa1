"""What a diary teaches: the plan with the fish as long as they were last measured, in the futures it lets us believe.

Believed are those in which the fish eat as they were seen to eat. The plan is simulated from the day they met. In each
draw every group has a share of its ration, week by week; a draw whose shares make the diary's words likely is believed
more. All groups are drawn anew together, since one eats what the other does not.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from types import MappingProxyType

import numpy as np

from coswim.aftercare.company import Companion
from coswim.aftercare.head_count_rules import measured
from coswim.aftercare.watched import Watched
from coswim.arrays import Floats, Indexes
from coswim.findings.finding import Consequence
from coswim.plans.plan import GroupEntry, Proposal
from coswim.plans.reading import ReadPlan
from coswim.profiles.catalog import Catalog
from coswim.screening import Screened, screen
from coswim.simulation.scene import Effort, Scene, build_scene
from coswim.text import wording
from coswim.text.quantities import DAYS_PER_MONTH
from coswim.verdict.rating import shares_of
from coswim.verdict.record import picked

DAYS = 7
"""Days whose words count together. Source: judgement; meals differ from day to day, futures are told in weeks."""
WORDS_COUNTED = 3.0
"""Words of one week that count in full: the days of a week are much alike. Source: judgement."""
YES_FROM, NO_BELOW = 0.85, 0.15
"""Share of its ration from which a keeper writes `yes`, and below which `no`. Source: judgement."""
BLUR = 0.08
"""How far a day's meal and a keeper's eye are off, share of a ration (scale of a logistic). Source: judgement."""
CARELESS = 0.03
"""Part of the words that say nothing, so that one odd day does not rule an individual out. Source: judgement."""
MOST_NEW = 3


def lengths_learned(seen: Watched) -> tuple[tuple[Companion, float], ...]:
    """The last measured length of each group that was measured and differs from the plan's, cm."""
    last = ((fish, noted.entry.length) for fish in seen.company.fish if (noted := measured(seen, fish)))
    return tuple((fish, length) for fish, length in last if length and length != fish.length)


def with_lengths(read: ReadPlan, proposal: Proposal | None, seen: Watched) -> ReadPlan:
    """The plan with this proposal alone, every group as long as it was last measured."""
    learned = lengths_learned(seen)
    residents = tuple(_as_measured(entry, learned, is_resident=True) for entry in read.plan.residents)
    add = tuple(_as_measured(entry, learned, is_resident=False) for entry in (proposal.add if proposal else ()))
    changed = (proposal.model_copy(update={"add": add}),) if proposal else ()
    return read._replace(plan=read.plan.model_copy(update={"residents": residents, "proposals": changed}))


def outlook(read: ReadPlan, seen: Watched, before: Screened, catalog: Catalog) -> tuple[str, ...]:
    """What the screening says of the next months from these fish, beside what it said of the plan's."""
    learned, effort = lengths_learned(seen), Effort()
    belief = believed_futures(read, before.proposal, seen, catalog, effort)
    if not learned and not belief:
        return (f"Neither meals nor lengths were noted, so the screening stays as it was: {_verdict(before)}.",)
    screening = screen(
        with_lengths(read, before.proposal, seen),
        catalog,
        effort._replace(belief=belief),
        remedies=False,
        pictures=False,
    )
    after = screening.proposals[0] if before.proposal else screening.as_it_stands
    lengths = [f"{fish.label} {length:g} cm (was {fish.length:g})" for fish, length in learned]
    taught = wording.listed([*lengths, *(["the futures that agree with what was eaten"] if belief else [])])
    was = "as before" if _verdict(after) == _verdict(before) else f"it was {_verdict(before)}"
    lines = [f"Screened again with {taught}: {_verdict(after)}; {was}."]
    lines += _hunger(before, after) if belief else ()
    known = {finding.found.sentence for finding in before.findings}
    lines += [finding.found.sentence for finding in after.findings if finding.found.sentence not in known][:MOST_NEW]
    return tuple(lines)


def _hunger(before: Screened, after: Screened) -> tuple[str, ...]:
    """How the outlook on hunger changed for each group, in futures of a hundred."""
    was, now = (
        {
            finding.found.target_label: round(100 * shares_of(finding)[Consequence.MARGINAL])
            for finding in screened.findings
            if finding.found.hazard == "feeding-competition"
        }
        for screened in (before, after)
    )
    return tuple(
        f"Thin, or fed at a price: {label} in {now.get(label, 0)} of 100 futures, it was {was.get(label, 0)}."
        for label in dict.fromkeys((*was, *now))
        if was.get(label, 0) != now.get(label, 0)
    )


def _verdict(screened: Screened) -> str:
    return f"{screened.verdict}" + (f" (risk {screened.risk.risk} of 20)" if screened.risk else "")


def _as_measured(entry: GroupEntry, learned: tuple[tuple[Companion, float], ...], *, is_resident: bool) -> GroupEntry:
    for fish, length in learned:
        if (fish.called, fish.number, fish.length, fish.is_resident) == (
            entry.species, entry.count, entry.length, is_resident,
        ):  # fmt: skip
            return entry.model_copy(update={"length": length})
    return entry


def believed_futures(
    read: ReadPlan, proposal: Proposal | None, seen: Watched, catalog: Catalog, effort: Effort
) -> Mapping[str, Indexes]:
    """The draws believed after a diary, by the key of each group; nothing where it says nothing of meals."""
    scene = build_scene(read, proposal, catalog, effort)
    told = [
        _week(scene, index, words, day)
        for fish in seen.company.fish
        if (index := _group(scene, fish)) is not None
        for day, words in weeks(seen, fish)
    ]
    if not told:
        return MappingProxyType({})
    likelihood = np.sum(told, axis=0)
    indexes = picked(np.exp(likelihood - likelihood.max()))
    return MappingProxyType({group.key: indexes for group in scene.groups})


def _group(scene: Scene, fish: Companion) -> int | None:
    """The group of the scene that a companion is."""
    for index, group in enumerate(scene.groups):
        same = (group.profile.scientific_name, group.count, group.is_resident)
        if same == (fish.profile.scientific_name, fish.number, fish.is_resident) and group.start_length == fish.length:
            return index
    return None


def weeks(seen: Watched, fish: Companion) -> Iterator[tuple[int, tuple[str, ...]]]:
    """What was written of a group's meals, week by week: the first day since they met, and the words."""
    found: dict[int, list[str]] = {}
    for noted in seen.of(fish, ever=True):
        if noted.entry.ate:
            found.setdefault((noted.date - seen.company.start).days // DAYS * DAYS, []).append(noted.entry.ate)
    yield from ((day, tuple(words)) for day, words in sorted(found.items()))


def _week(scene: Scene, index: int, words: Sequence[str], day: int) -> Floats:
    """Log likelihood of a week's words in each draw, shape (draws,)."""
    time = int(np.argmin(np.abs(scene.course.times - (day + DAYS / 2) / DAYS_PER_MONTH)))
    shares = scene.course.ration_share[:, time, index]
    logs = np.sum([np.log(word_odds(shares, word)) for word in words], axis=0)
    return np.asarray(logs * min(1.0, WORDS_COUNTED / len(words)))


def word_odds(shares: Floats, word: str) -> Floats:
    """How likely a keeper writes a word of a fish that gets such a share of its ration.

    Equation: logistic steps at YES_FROM and NO_BELOW, blurred, mixed with CARELESS chance.
    Parameters: shares [-, 0 to 1], shape (draws,); word yes, some or no.
    Returns: odds [-], shape (draws,); those of the three words sum to 1.
    Valid range: as given. Source: judgement.
    Check value: derived, a fish half way through its ration is written down as `some`.

    >>> [round(float(word_odds(np.array([0.5]), word)[0]), 2) for word in ("yes", "some", "no")]
    [0.02, 0.96, 0.02]
    """
    ate_all = 1 / (1 + np.exp((YES_FROM - shares) / BLUR))
    ate_none = 1 / (1 + np.exp((shares - NO_BELOW) / BLUR))
    odds = {"yes": ate_all, "no": ate_none, "some": 1 - ate_all - ate_none}[word]
    return np.asarray((1 - CARELESS) * np.maximum(odds, 0.0) + CARELESS / 3)
