"""The plan with what the diary taught: the fish as long as they were last measured, screened again."""

from __future__ import annotations

from coswim.aftercare.belief import believed_futures
from coswim.aftercare.company import Companion
from coswim.aftercare.head_count_rules import measured
from coswim.aftercare.watched import Watched
from coswim.findings.finding import Consequence
from coswim.plans.plan import GroupEntry, Proposal
from coswim.plans.reading import ReadPlan
from coswim.profiles.catalog import Catalog
from coswim.screening import Screened, screen
from coswim.simulation.scene import Effort
from coswim.text import wording
from coswim.verdict.rating import shares_of

MOST_NEW = 3


def lengths_learned(seen: Watched) -> tuple[tuple[Companion, float], ...]:
    """The last measured length of each group that was measured and differs from the plan's, cm."""
    found = []
    for fish in seen.company.fish:
        noted = measured(seen, fish)
        if noted and noted.entry.length and noted.entry.length != fish.length:
            found.append((fish, noted.entry.length))
    return tuple(found)


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
        with_lengths(read, before.proposal, seen), catalog, effort._replace(belief=belief), remedies=False
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
            finding.found.target_label: (finding.found.sentence, round(100 * shares_of(finding)[Consequence.MARGINAL]))
            for finding in screened.findings
            if finding.found.hazard == "feeding-competition"
        }
        for screened in (before, after)
    )
    return tuple(
        f"Thin, or fed at a price: {label} in {now.get(label, ('', 0))[1]} of 100 futures, it was "
        f"{was.get(label, ('', 0))[1]}."
        for label in dict.fromkeys((*was, *now))
        if was.get(label, ("", 0))[1] != now.get(label, ("", 0))[1]
    )


def _verdict(screened: Screened) -> str:
    risk = f" (risk {screened.risk.risk} of 20)" if screened.risk else ""
    return f"{screened.verdict}{risk}"


def _as_measured(entry: GroupEntry, learned: tuple[tuple[Companion, float], ...], *, is_resident: bool) -> GroupEntry:
    for fish, length in learned:
        if (fish.called, fish.number, fish.length, fish.is_resident) == (
            entry.species, entry.count, entry.length, is_resident,
        ):  # fmt: skip
            return entry.model_copy(update={"length": length})
    return entry
