"""What comes after buying as documents: the calendar with its stop rules, a diary, and the judgement on it.

The calendar is there as data too, for programs: the same content, versioned.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import date

from coswim import __version__
from coswim.aftercare.calendar import Calendar
from coswim.aftercare.diary import Diary
from coswim.aftercare.signs import Sign
from coswim.aftercare.stop_rule import Decision, Judgement, Ruling, StopRule
from coswim.aftercare.trends import Trend, said
from coswim.aftercare.watched import Watched
from coswim.report.data import decided
from coswim.report.decision import is_grave
from coswim.report.document import Block, Bullets, Document, Line, Paragraph, Section, Span, Table, quiet, strong, text
from coswim.screening import Screened
from coswim.text import wording
from coswim.text.printable import json_text

SCHEMA = 1
NOT_CALIBRATED = "Common practice and model output: your own eyes on the fish come first."
HEADS = {Decision.SEPARATE: "separate today", Decision.ACT: "act"}


def calendar(
    made: Calendar, screened: Screened, rules: Sequence[StopRule], ways_out: Sequence[str], *, today: date
) -> Document:
    """The steps with dates, the stop rules, the way out and the cautions of one proposal."""
    steps = tuple((strong(f"{step.when}: {step.title}. "), Span(" ".join(step.what))) for step in made.steps)
    blocks: tuple[Block, ...] = (
        *_verdict(screened),
        Section(text("The steps"), (Bullets(steps),)),
        *_rules(rules),
        _list("The way out, before it is needed", ways_out),
        _list("Cautions", screened.cautions),
        _foot(today),
    )
    return Document(f"After buying: {screened.name}", blocks)


def calendar_data(made: Calendar, screened: Screened, rules: Sequence[StopRule], ways_out: Sequence[str]) -> str:
    """The calendar as JSON text; days are ISO dates, `every` is 0 for what is due once."""
    data = {
        "coswim": __version__,
        "schema": SCHEMA,
        "proposal": screened.name,
        **decided(screened.verdict),
        "moving_in": str(made.moving_in),
        "steps": [
            {
                "kind": step.kind,
                "from": str(step.day),
                "until": str(step.until),
                "every_days": step.every,
                "title": step.title,
                "what": list(step.what),
            }
            for step in made.steps
        ],
        "stop_rules": [
            {"decision": str(rule.decision), "when": rule.sign, "do": rule.do, "because": rule.because}
            for rule in rules
        ],
        "way_out": list(ways_out),
        "cautions": list(screened.cautions),
    }
    return json_text(data)


def _verdict(screened: Screened) -> Iterator[Block]:
    yield Paragraph((Span("The screening says: "), strong(str(screened.verdict)), Span(".")))
    if is_grave(screened):
        yield Paragraph((strong("This calendar is no leave to buy: change the plan first (coswim screen)."),))


def _rules(rules: Sequence[StopRule]) -> Iterator[Block]:
    """Parting first; within each, one advice after the other with the signs that call for it.

    A finding that several rules follow from is told with the first.
    """
    told: set[str] = set()
    for decision, head in HEADS.items():
        mine = [rule for rule in rules if rule.decision is decision]
        blocks: list[Block] = []
        for do in dict.fromkeys(rule.do for rule in mine):
            same = [rule for rule in mine if rule.do == do]
            blocks.append(Paragraph((strong(f"{do}. When:"),)))
            blocks.append(Bullets(tuple(text(rule.sign) for rule in same)))
            because = [words for words in dict.fromkeys(rule.because for rule in same) if words and words not in told]
            blocks += [Paragraph((quiet(f"The screening: {' '.join(because)}"),))] if because else []
            told.update(because)
        yield Section(text(f"Stop rules: {head}"), tuple(blocks))


def diary(book: Diary, seen: Watched) -> Document:
    """Every entry on a line."""
    rows = tuple((str(n.date), n.fish.name if n.fish else "", said(n, seen)) for n in seen.noted)
    blocks: list[Block] = [Table(("date", "group", "seen"), rows)] if rows else [Paragraph(text("Nothing yet."))]
    return Document(f"Diary: {book.file}", tuple(blocks))


def judgement(
    found: Judgement,
    seen: Watched,
    screened: Screened,
    *,
    trends: Sequence[Trend],
    outlook: Sequence[str],
    ways_out: Sequence[str],
    today: date,
) -> Document:
    """The decision with the observation that decided it, what else is met, trends, outlook, ways out, cautions."""
    blocks: list[Block] = [Paragraph((strong(f"{wording.opening(found.decision)}. "), Span(_deciding(found))))]
    blocks += [Bullets(tuple(_rulings(found.decided)))] if found.decided else []
    if found.besides:
        blocks.append(Section(text("Besides"), (Bullets(tuple(_rulings(found.besides))),)))
    blocks += [Paragraph(text(words)) for words in _state(seen)]
    if found.silent_days:
        silent = f"Nothing has been written for {found.silent_days} days. Silence is no good news: look today."
        blocks.append(Paragraph(text(silent)))
    if trends:
        rows = tuple((trend.of, trend.what, trend.bars, f"{trend.first} to {trend.last}") for trend in trends)
        blocks.append(Section(text("Trends"), (Table(("of", "what", "first to last", ""), rows),)))
    blocks.append(_list("Outlook", outlook))
    if found.decision is not Decision.CARRY_ON:
        blocks += [_list("The way out", ways_out), _list("Cautions", screened.cautions)]
    blocks.append(_foot(today))
    return Document(f"{seen.company.name}: {found.decision}", tuple(blocks))


def _list(title: str, lines: Sequence[str]) -> Section:
    return Section(text(title), (Bullets(tuple(map(text, lines))),))


def _deciding(found: Judgement) -> str:
    if found.decided:
        met = found.decided[0].met
        return f"{wording.opening(met.words)} ({met.noted.date})."
    return "No stop rule is met." if found.last_entry else "The diary is empty: nothing is known yet."


def _rulings(rulings: Sequence[Ruling]) -> Iterator[Line]:
    """Each with its rule; an advice that several give is told once, with the first."""
    told: set[str] = set()
    for ruling in rulings:
        met, rule = ruling.met, ruling.rule
        seen = Span(f"{met.noted.date}, line {met.noted.line}: {met.words}. ")
        advice = () if rule.do in told else (strong(f"{rule.do}."),)
        told.add(rule.do)
        yield (seen, quiet(f"Rule: {rule.sign}. "), *advice)


def _state(seen: Watched) -> Iterator[str]:
    """What the judgement took for granted from notes about parting."""
    at = seen.parted_at if seen.is_parted else seen.joined_at if seen.is_second_attempt else None
    if at is None:
        return
    noted = seen.noted[at]
    read = noted.says(Sign.APART if seen.is_parted else Sign.TOGETHER)
    words = f", as read from “{read.words}”" if read else ""
    state = "They are parted" if seen.is_parted else "They are together again after being parted"
    yield f"{state} since {noted.date}{words}; what was seen before no longer counts against them."


def _foot(today: date) -> Block:
    return Paragraph((quiet(f"coswim {__version__}, {today.isoformat()}. {NOT_CALIBRATED}"),))
