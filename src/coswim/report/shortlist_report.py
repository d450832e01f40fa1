"""A shortlist as a document: what would do, best first, why the others failed, and how to go on."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import date
from math import isfinite
from typing import NamedTuple

from coswim import __version__
from coswim.plans.plan import GroupEntry
from coswim.plans.written import write_plan
from coswim.profiles.profile import Profile
from coswim.report.decision import ON_EDGE
from coswim.report.document import Block, Bullets, Code, Document, Line, Paragraph, Section, Span, Table, quiet, strong
from coswim.report.document import text as words
from coswim.screening import Screened, Screening
from coswim.shortlist.burden import NITRATE
from coswim.shortlist.funnel import Share
from coswim.shortlist.judged import Advice
from coswim.shortlist.making import Shortlist
from coswim.shortlist.offer import named
from coswim.shortlist.wish import Wish
from coswim.text import wording
from coswim.verdict.risk import VERDICTS

TEN = 10
MOST_REASONS = 4
WIDEST_NAME = 23
"""The longest name with which a line stays whole at 80 columns; the best known within it is shown."""
MORE_FOOD = 1.05
"""Food over normal from which the price of a company is told."""
HEADER = ("buy", "verdict", "decided by", "food", "water")
LEGEND = (
    f"Risk of 20 (± close to another verdict, * see cautions); food beyond today's; water for {NITRATE:g} mg/L nitrate."
)
GO_ON = "Screen it before buying: care and law."
NOT_CALIBRATED = "Model output, not a calibrated probability."


class ShortlistForm(NamedTuple):
    """How many species are shown, whether each is told about in sentences, and whether the plan is given."""

    species: int | None = TEN
    details: bool = False
    plan: bool = False


TERMINAL, SHARED = ShortlistForm(), ShortlistForm(details=True, plan=True)


def compose(found: Shortlist, *, today: date, form: ShortlistForm = TERMINAL) -> Document:
    """The report on a shortlist."""
    shown = found.entries[: form.species]
    blocks: list[Block] = [*_replaced(found), *_table(shown), *_others(found, form)]
    if found.pairs is not None:
        blocks.append(Section(words("Two kinds together"), tuple(_pairs(found.pairs[: form.species]))))
    if form.details:
        told = tuple(_told(entry) for entry in (*shown, *(found.pairs or ())[: form.species]))
        blocks += [Section(words("What decides each"), (Bullets(told),))] if told else []
    if form.plan:
        blocks.append(_plan(found))
    if form.details:
        blocks.append(Paragraph((quiet(_ground(found, today)),)))
    return Document(f"{found.read.name}: what could live here", tuple(blocks))


def _residents(found: Shortlist) -> str:
    groups = [
        named(entry, found.read.profile(entry).name, between=" of ")
        for entry in found.read.plan.residents
        if entry.length
    ]
    return f"beside {wording.listed(groups)}" if groups else "in an empty tank"


def _looked_for(wish: Wish) -> str:
    """The keeper's wish in words; empty where any species will do."""
    size = wish.size
    grown = f"{size.high:g} cm at most" if size and size.low == size.high else f"{size} cm"
    parts = [
        f"named {wish.text}" if wish.text else "",
        f"of the family {wish.family}" if wish.family else "",
        f"at the {wish.level}" if wish.level else "",
        f"that grow to {grown}" if wish.size else "",
        f"that eat as {wish.diet}" if wish.diet else "",
        "that are lively" if wish.is_lively else "",
        f"that do the job of the {wish.like.name}" if wish.like else "",
    ]
    said = [part for part in parts if part]
    return f"Looked for were species {wording.listed(said)}. " if said else ""


def _replaced(found: Shortlist) -> Iterator[Block]:
    """What is wrong with the proposal in whose place something is looked for."""
    if found.instead is None:
        return
    fish = found.instead
    name = _bought(fish.group, fish.profile)
    yield Paragraph((strong(f"Instead of {name}: {fish.verdict}. "), *[Span(s + " ") for s in fish.failings[:2]]))


def _table(entries: Sequence[Advice]) -> Iterator[Block]:
    if entries:
        yield Table(HEADER, tuple(_row(entry) for entry in entries))


def _pairs(entries: Sequence[Advice]) -> Iterator[Block]:
    if not entries:
        yield Paragraph(words("No two of the best go together."))
    yield from _table(entries)


def _row(entry: Advice) -> tuple[str, ...]:
    names = [next((one for one in each.common_names if len(one) <= WIDEST_NAME), each.name) for each in entry.profiles]
    bought = [named(group, name) for group, name in zip(entry.add, names, strict=True)]
    return (
        f"{wording.listed(bought)}{' *' if entry.cautions else ''}",
        _short_verdict(entry),
        entry.reason.words.short if entry.reason else "nothing found",
        _food(entry),
        _water(entry),
    )


def _short_verdict(entry: Advice) -> str:
    """`possible 9`, where the whole verdict is `possible, with care`; in full where it is another."""
    if entry.unrated or entry.risk is None:
        return str(entry.verdict)
    verdict = VERDICTS[entry.risk.level].partition(",")[0]
    return f"{verdict} {entry.risk_number}{ON_EDGE if entry.verdict.close_to else ''}"


def _bought(group: GroupEntry, profile: Profile) -> str:
    """`6 tinfoil barbs of 8 cm, 1 of them male`."""
    males = f", {group.males} of them male" if group.males is not None else ""
    return f"{named(group, profile.name, between=' of ')}{males}"


def _food(entry: Advice) -> str:
    costs = entry.burden
    return f"{100 * costs.added / costs.before:+.0f} %" if costs.before else f"{wording.number(costs.added)} g"


def _water(entry: Advice) -> str:
    costs = entry.burden
    if costs.share is None:
        return "no change does"
    return f"{wording.share(costs.share)} / {costs.every:g} d"


def _told(entry: Advice) -> Line:
    """One entry in sentences: what to buy, the verdict, what decides it, what it takes."""
    what = wording.listed([_bought(*each) for each in zip(entry.add, entry.profiles, strict=True)])
    costs = entry.burden
    price = ""
    if costs.price > MORE_FOOD:
        more = f"{100 * (costs.price - 1):.0f} % more" if isfinite(costs.price) else "more than can be"
        price = f" Its slowest eater keeps its weight only where {more} is fed than all need."
    unknown = f" Not known: {'; '.join(entry.unrated)}." if entry.unrated else ""
    rare = [profile.name for profile in entry.profiles if profile.in_trade == "seldom"]
    trade = f" Seldom for sale: {wording.listed(rare)}." if rare else ""
    cautions = f" {' '.join(entry.cautions)}" if entry.cautions else ""
    return (
        strong(f"{what}: "),
        Span(f"{entry.verdict}. {entry.decides or 'Nothing was found.'}{price}{unknown}{trade}{cautions}"),
    )


def _others(found: Shortlist, form: ShortlistForm) -> Iterator[Block]:
    """How many would do, and why the others failed, with counts; each of them by name where all is shown."""
    count = wording.counted(found.looked_at, "species", "species")
    funnel = found.funnel
    shares = list(funnel[: form.species and MOST_REASONS])
    rest = sum(share.species for share in funnel[len(shares) :])
    shares += [Share("fail for other reasons", rest)] if rest else []
    said = wording.listed([share.said for share in shares])
    yield Paragraph(
        (
            strong(f"{len(found.entries)} of {count} would do {_residents(found)}. "),
            quiet(_looked_for(found.wish)),
            Span(f"Of the others, {said}." if said else ""),
        )
    )
    if form.species is None:
        for share in funnel:
            names = [one.name for one in found.excluded if one.reason.words.of_many == share.words]
            yield Paragraph((strong(f"{share.said}: "), Span(f"{', '.join(names)}.")))
    yield Paragraph((quiet(f"{NOT_CALIBRATED} {LEGEND} "), Span(GO_ON), quiet(_hints(found, form))))


def _hints(found: Shortlist, form: ShortlistForm) -> str:
    more = len(found.entries) - TEN if form.species else 0
    hints = [f"{more} more: --all"] if more > 0 else []
    hints += ["why not: --why SPECIES"] if found.excluded else []
    return f" {wording.opening('; '.join(hints))}." if hints else ""


def _plan(found: Shortlist) -> Section:
    wish = found.wish
    size = f"{wish.size} cm" if wish.size else ""
    stated = {"text": wish.text, "family": wish.family, "level": wish.level, "size": size, "diet": wish.diet}
    typed = [f' --{name} "{value}"' for name, value in stated.items() if value]
    typed += [" --lively"] if wish.is_lively else []
    if found.instead:
        group = found.instead.group
        typed.append(f' --instead "{group.count} {found.instead.profile.name}, {group.length:g} cm"')
    typed += [" --pairs"] if found.pairs is not None else []
    typed += [f" --{name} {value}" for name, value in found.unusual.items()]
    command = f"coswim shortlist -{''.join(typed)}"
    return Section(
        words("The plan"),
        (Paragraph(words(f"Save or paste this to run it again: {command}")), Code(write_plan(found.read.plan))),
    )


def _ground(found: Shortlist | Screening, today: date) -> str:
    effort = found.effort
    made = f"coswim {__version__}, {effort.draws:,} draws, seed {effort.seed}, {found.horizon} months"
    return f"{made}, {today.isoformat()}. {NOT_CALIBRATED}"


def compose_why(screening: Screening, *, today: date) -> Document:
    """Why one species is not on the shortlist: what was found, and what would have to change."""
    (screened,) = screening.proposals
    (group,) = screened.proposal.add if screened.proposal else ()
    name = _bought(group, screening.read.profile(group))
    risk = f", risk {screened.risk.risk} of 20" if screened.risk else ""
    blocks: list[Block] = [Paragraph((strong(f"{name}: {screened.verdict}"), quiet(f"{risk}.")))]
    for told in screened.told[:3]:
        blocks.append(Paragraph((strong(told.found.sentence), quiet(f" ({told.found.hazard})"))))
        reasons = tuple(words(reason) for reason in told.found.because) or (words(f"{told.found.missing}."),)
        blocks.append(Bullets(reasons))
    blocks += [Paragraph(line) for line in _to_change(screened)]
    blocks.append(Paragraph((quiet(_ground(screening, today)),)))
    return Document(f"{screening.read.name}: why, or why not, {screened.name}", tuple(blocks))


def _to_change(screened: Screened) -> Iterator[Line]:
    best = screened.best_change
    if best:
        yield (strong("What would have to change: "), Span(f"{best.change}; then {best.verdict} (risk {best.risk})."))
    elif screened.risk and screened.risk.level in ("high", "serious"):
        yield (strong("No change was found that makes this work."),)
    else:
        yield (strong("Nothing would have to change."),)
