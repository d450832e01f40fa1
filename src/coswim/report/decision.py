"""What a keeper reads first: the tank as it was understood, and for each proposal the verdict, why, and what to do."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterator, Mapping
from types import MappingProxyType
from typing import NamedTuple

from coswim.plans.plan import GroupEntry
from coswim.plans.reading import fish_in_words
from coswim.plans.shorthand import IN_WORDS
from coswim.remedies.change import Remedy
from coswim.report.document import Block, Facts, Line, Paragraph, Span, Table, quiet, strong, text
from coswim.screening import Screened, Screening
from coswim.text import wording
from coswim.verdict.assessment import LABELS
from coswim.verdict.rating import CANNOT_BE_JUDGED, Finding, Unrated, Verdict
from coswim.verdict.risk import Level

SHORT: Mapping[str, str] = MappingProxyType(
    {"change the plan first": "change first", "possible, with care": "with care", CANNOT_BE_JUDGED: "cannot judge"}
)
"""Verdicts as they stand in a table."""
ON_EDGE = "±"
"""Stands after a verdict in a table where it may as well be another."""
EVIDENCE_WORDS: Mapping[str, str] = MappingProxyType(
    {
        "memory": "recalled or judged values",
        "common-practice": "common practice",
        "published": "published values",
        "measured": "measured values",
    }
)
TROUBLING = (Level.HIGH, Level.SERIOUS)
LONGEST_NAME, LONGEST_BESIDE, LONGEST_CELL = 60, 40, 22
HANGING = re.compile(r"(?: and)?(?: \d+)?$")
LENGTHS = re.compile(r" of [\d.]+ cm")


class Look(NamedTuple):
    """How much is told of a proposal: so many findings, and which of the other lines.

    What comes after buying is told `in_full` or drawn together; `foot` is what the whole rests on.
    """

    findings: int = 3
    lesser: bool = True
    checked: bool = True
    find_out: bool = True
    mind: bool = True
    in_full: bool = True
    foot: bool = True


def understood(screening: Screening) -> Line:
    """The tank and its fish as they were understood, and the lengths that nobody stated."""
    lengths = wording.listed(screening.read.assumed)
    taken = (quiet(f" Length not stated, so as usually sold: {lengths}."),) if lengths else ()
    return (*_tank(screening), *taken)


def _tank(screening: Screening) -> Line:
    plan = screening.read.plan
    tank = plan.tank
    water = (
        f"{tank.temperature} C",
        f"pH {tank.ph}" if tank.ph else "pH not stated",
        f"{tank.hardness} dGH" if tank.hardness else "hardness not stated",
        *(() if tank.salinity == "fresh" else (tank.salinity,)),
        *(() if tank.lid else ("no lid",)),
    )
    words = f"{tank.size} ({tank.litres:,.0f} L), {', '.join(water)}. "
    if not plan.residents:
        return (Span(words), strong("No fish live there yet."))
    return (Span(words), Span("Lives there: " if sum(e.count for e in plan.residents) == 1 else "Live there: "),
            strong(f"{_fish(screening, plan.residents)}."))  # fmt: skip


def _fish(screening: Screening, entries: tuple[GroupEntry, ...]) -> str:
    return wording.listed([fish_in_words(entry, screening.read.profile(entry)) for entry in entries])


def comparison(screening: Screening) -> Table:
    """All proposals beside each other, a line each."""
    rows = tuple(_compared(one) for one in screening.proposals)
    return Table(("might be added", "verdict", "risk", "what decides", "if changed"), rows, frozenset({2}))


def _compared(one: Screened) -> tuple[str, ...]:
    told = one.told[0] if one.told else None
    decides = "nothing found"
    if isinstance(told, Finding):
        decides = f"{LABELS[told.found.hazard]}, {wording.of_hundred(told.likelihood)}"
    if one.verdict.words == CANNOT_BE_JUDGED:
        decides = f"{LABELS[one.unrated[0].found.hazard]}: not known"
    return (in_short(one.name), _short(one.verdict), str(one.risk_number), decides,
            _change_in_short(one))  # fmt: skip


def _short(verdict: Verdict) -> str:
    return SHORT.get(verdict.words, verdict.words) + (ON_EDGE if verdict.close_to else "")


def _change_in_short(one: Screened) -> str:
    if one.best_change:
        return f"{_short(one.best_change.verdict)} ({one.best_change.risk})"
    return "none found" if is_hopeless(one) else "-"


def is_grave(one: Screened) -> bool:
    """Its risk is serious or high."""
    return one.risk is not None and one.risk.level in TROUBLING


def is_hopeless(one: Screened) -> bool:
    """Changes were looked for, and none makes it work."""
    return is_grave(one) and one.remedies_searched and one.best_change is None


def decision(one: Screened, screening: Screening, look: Look) -> Iterator[Block]:
    """The verdict on a proposal, and below it why, what helps, what to look at and what to find out."""
    fish = _fish(screening, one.proposal.add) if one.proposal else ""
    yield Paragraph(headline(one, fish if fish != one.name else ""))
    rows = (*_rows(one, screening.effort.draws, look), *_after_buying(one, screening, look))
    if rows:
        yield Facts(rows)


def headline(one: Screened, fish: str = "") -> Line:
    """The proposal, as it is called and as its fish were understood; its verdict and its risk."""
    was = "" if one.was is None else f", was {one.was}" if one.was != one.risk_number else ", as before"
    risk = f"risk {one.risk_number} of 20" if one.risk else "nothing found"
    if one.verdict.words == CANNOT_BE_JUDGED:
        risk += ", as far as it can be rated"
    says_more = _is_named_after(one.name, fish) and len(fish) <= LONGEST_NAME
    longest = LONGEST_BESIDE if fish else LONGEST_NAME
    return (
        strong(fish if says_more else shortened(one.name, longest)),
        Span(f" ({fish})" if fish and not says_more else ""),
        strong(f": {one.verdict.words}"),
        quiet(f" ({risk}{one.verdict.on_edge}{was})"),
    )


def _is_named_after(name: str, fish: str) -> bool:
    """The name is what its fish are called, with or without their number: `eight tinfoil barbs`.

    >>> [_is_named_after(name, "8 tinfoil barbs of 10 cm") for name in ("eight tinfoil barbs", "tinfoil barbs", "mine")]
    [True, True, False]
    """
    number, _, kind = fish.partition(" ")
    spelled = IN_WORDS[int(number)] if number.isdigit() and int(number) < len(IN_WORDS) else number
    return bool(fish) and any(words.startswith(name) for words in (fish, kind, f"{spelled} {kind}"))


def brief(one: Screened) -> Line:
    """The same with what decides, on one line."""
    if one.verdict.words == CANNOT_BE_JUDGED:
        return (*headline(one), Span(f"; find out first: {'; '.join(one.missing)}"))
    words = ", ".join(dict.fromkeys(LABELS[told.found.hazard] for told in one.told[:2]))
    return (*headline(one), Span(f"; {words}" if words else ""))


def recap(screening: Screening) -> Line:
    """All verdicts once more, so that they stand where a reader's screen ends."""
    words = [f"{in_short(one.name)}: {_short(one.verdict)}" for one in screening.proposals]
    return (strong("In short: "), Span("; ".join(words) + "."))


def even_without(screening: Screening) -> Line:
    """What is grave in the tank whatever is added; nothing where nothing is."""
    now = screening.as_it_stands
    if not screening.proposals or not is_grave(now):
        return ()
    them = "them" if len(screening.proposals) > 1 else "that"
    sentence = now.findings[0].found.sentence.rstrip(".")
    sentence = sentence[:1].lower() + sentence[1:] if sentence.startswith("The ") else sentence
    return (strong(f"Even without {them}: "), Span(sentence), quiet(f" (risk {now.risk_number} of 20)."))


def _rows(one: Screened, draws: int, look: Look) -> Iterator[tuple[str, Line]]:
    yield from ((LABELS[told.found.hazard], _carried(told)) for told in _leading(one, look))
    if look.lesser and (lesser := _lesser(one, look)):
        yield "less so", text(f"{wording.opening(wording.listed(lesser))}.")
    if look.checked or not one.told:
        yield from _checked(one, draws)
    yield from _to_do(one)
    if look.find_out and one.sensitivity.decides and one.risk_number and not one.unrated:
        yield "find out", text(wording.opening(one.sensitivity.words))
    if look.mind and one.cautions:
        yield "mind", text(one.cautions[0])


def _after_buying(one: Screened, screening: Screening, look: Look) -> Iterator[tuple[str, Line]]:
    """The order of moving in, what to watch and when to stop, where the verdict is `possible, with care`."""
    if not wants_care(one):
        return
    from coswim.aftercare.in_short import in_short as after_buying  # not loaded where nothing is to be bought

    found = after_buying(one, screening.read)
    rows = [("move in", found.order), ("watch", "; ".join(found.watch)), ("stop", found.stop)]
    if not look.in_full:
        rows = [("then", "; ".join(filter(None, (found.order, *found.watch[:1], found.stop_first))))]
    yield from ((label, text(f"{wording.opening(words)}.")) for label, words in rows if words)


def wants_care(one: Screened) -> bool:
    """The verdict is `possible, with care`."""
    return one.verdict.words != CANNOT_BE_JUDGED and one.risk is not None and one.risk.level is Level.MEDIUM


def _leading(one: Screened, look: Look) -> tuple[Finding | Unrated, ...]:
    """What cannot be rated comes first where that decides."""
    told: list[Finding | Unrated] = list(one.told)
    if one.verdict.words == CANNOT_BE_JUDGED:
        told = [*one.unrated, *one.findings]
    return tuple(told[: look.findings])


def _carried(told: Finding | Unrated) -> Line:
    """One sentence with the figure that carries it."""
    sentence = told.found.sentence.rstrip(".")
    if isinstance(told, Unrated):
        return (Span(f"{sentence}: "), strong(f"{told.found.missing}."))
    return (Span(f"{sentence} ("), strong(how_often(told)), Span(")."))


def how_often(finding: Finding) -> str:
    """`in 4 of 100 futures`, and in how many others it happens without newcomers too."""
    anyway = f", besides {wording.of_hundred(finding.without)} in which it happens anyway" if finding.without else ""
    return wording.futures(finding.likelihood) + anyway


def _lesser(one: Screened, look: Look) -> list[str]:
    shown = {told.found.hazard for told in _leading(one, look)}
    return list(dict.fromkeys(LABELS[told.found.hazard] for told in one.told if told.found.hazard not in shown))


def _checked(one: Screened, draws: int) -> Iterator[tuple[str, Line]]:
    """What was looked at and is well, and where it is well by the least."""
    if one.well:
        well = [LABELS[hazard] for hazard in one.well]
        words = f"{wording.opening(wording.listed(well))}: nothing of note in {draws:,} futures."
        yield "checked", text(words)
    if one.margin and (one.risk is None or one.risk.level is Level.LOW):
        yield "narrowest", text(f"{one.margin}.")


def _to_do(one: Screened) -> Iterator[tuple[str, Line]]:
    """What would have to change, the care to take, or that nothing is known to help."""
    best = one.best_change
    if one.verdict.words == CANNOT_BE_JUDGED:
        yield "first", (strong("Find out what is not known, then ask again; until then do not buy."),)
    elif best:
        yield "would help", (Span(f"{wording.opening(best.change)}: "), strong(f"{best.verdict} (risk {best.risk})."))
    elif is_hopeless(one):
        label, words = ("leave it", "makes this work") if one.proposal else ("tested", "puts this right")
        yield label, (strong(f"No change that was tested {words}."),)
    elif one.care:
        yield "take care", text(f"{wording.opening('; '.join(_measure(one, remedy) for remedy in one.care))}.")
    elif one.remedies_searched and one.risk:
        yield "take care", text("Nothing tested lowers this; have a place ready to move a fish to.")


def _measure(one: Screened, remedy: Remedy) -> str:
    left = f"risk {remedy.risk}" if remedy.risk else "nothing left of it"
    return f"{remedy.change} ({left})" if remedy.risk < one.risk_number else remedy.change


def rests_on(screening: Screening) -> str:
    """What most of the findings rest on, as the first half of a sentence."""
    kinds = Counter(finding.confidence for one in screening.judged for finding in one.findings)
    return f"rests mostly on {EVIDENCE_WORDS[kinds.most_common(1)[0][0]]}; " if kinds else ""


def in_short(name: str) -> str:
    """A proposal's name for a table: without the lengths of its fish where there is no room for them."""
    return name if len(name) <= LONGEST_CELL else shortened(LENGTHS.sub("", name), LONGEST_CELL)


def shortened(words: str, most: int) -> str:
    """The words, or the first of them where they are longer than a line should hold.

    >>> shortened("5 silver dollars and one oscar", 22)
    '5 silver dollars...'
    """
    if len(words) <= most:
        return words
    kept = HANGING.sub("", words[: most - 2].rpartition(" ")[0])
    return f"{(kept if len(kept) >= most // 3 else words[: most - 3]).rstrip()}..."
