"""A screening as a document: the verdicts first, then each proposal, then what it all rests on."""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterator
from datetime import date
from typing import NamedTuple

from coswim import __version__
from coswim.profiles.catalog import Catalog
from coswim.report.document import (
    Block,
    Bullets,
    Code,
    Document,
    Drawing,
    Line,
    Paragraph,
    Section,
    Span,
    quiet,
    strong,
    text,
)
from coswim.report.picture_words import described
from coswim.screening import Screened, Screening
from coswim.text import wording
from coswim.verdict.rating import Finding, Unrated
from coswim.verdict.risk import Level

NOT_CALIBRATED = (
    "The shares are model output for ranking and explaining, not calibrated probabilities. Likelihood over the "
    "months looked ahead: frequent from 50 % of draws, probable from 20 %, occasional from 5 %, remote from 1 %, "
    "improbable below. Risk runs from 1 to 20 (worst); the worst finding decides, or several together where their "
    "draws add up to more."
)
EVIDENCE_WORDS = {
    "memory": "rests on recalled or judged values",
    "common-practice": "rests on common practice",
    "published": "rests on published values",
    "measured": "rests on measured values",
}
MOST_WEAK_TRAITS = 4
TROUBLING = (Level.HIGH, Level.SERIOUS)
ALL = 1000


class Form(NamedTuple):
    """How much of the report is wanted: findings and reasons in full or the first few, pictures, the plan."""

    summary: int = 3
    findings: int = ALL
    reasons: int = ALL
    pictures: int = ALL
    plan: bool = False
    citations: bool = True


TERMINAL = Form()
BRIEF = Form(findings=0, citations=False)
SHARED = Form(plan=True)
POST = Form(summary=0, findings=2, reasons=3, pictures=1, plan=True, citations=False)
SHORTER_POSTS = (
    POST._replace(pictures=0),
    POST._replace(pictures=0, findings=1),
    POST._replace(pictures=0, findings=1, reasons=1),
    POST._replace(findings=0),
)
BOARD = 10_000
"""Characters in a post that many boards take. Source: common practice."""


def compose(screening: Screening, catalog: Catalog, *, today: date, form: Form = TERMINAL) -> Document:
    """The report on a screening."""
    blocks: list[Block] = list(_summary(screening, worst=form.summary))
    if form.findings:
        general = _said_of_all(screening)
        blocks += [_proposal(proposal, form, screening.horizon, said_below=general) for proposal in screening.proposals]
        blocks += _standing(screening, form)
        blocks += _cautions(general)
    blocks += _ground(screening, catalog, today=today, form=form)
    return Document(screening.read.name, tuple(blocks))


def post(screening: Screening, catalog: Catalog, *, today: date, write: Callable[[Document], str]) -> str:
    """The fullest post that a board takes, as `write` puts it; the shortest where none is short enough."""
    for form in (POST, *SHORTER_POSTS):
        words = write(compose(screening, catalog, today=today, form=form))
        if len(words) <= BOARD:
            break
    return words


def _summary(screening: Screening, *, worst: int) -> Iterator[Block]:
    """The verdicts with the `worst` findings, shared out over the proposals; verdicts alone for 0."""
    shown = max(1, worst // len(screening.proposals)) if worst else 0
    for proposal in screening.proposals:
        yield Paragraph((strong(f"{proposal.name}: {proposal.verdict}"), *_risk_words(proposal)))
        lines: list[Line] = []
        for told in proposal.told[:shown]:
            lines.append((Span(told.found.sentence),))
            if isinstance(told, Finding) and proposal.remedies_for(told) and shown > 1:
                lines.append(_tested(told, proposal))
        lines += list(_way_out(proposal)) if worst else []
        if lines:
            yield Bullets(tuple(lines))
    now = screening.as_it_stands
    if now.risk and now.risk.level in TROUBLING:
        yield Paragraph((strong("The tank as it stands, without any of these"), *_risk_words(now)))
        if worst:
            yield Bullets((text(now.findings[0].found.sentence),))


def _risk_words(proposal: Screened) -> tuple[Span, ...]:
    if proposal.risk is None:
        return (quiet(" (nothing found)"),)
    return (quiet(f" (risk {proposal.risk.risk} of 20, {proposal.risk.level})"),)


def _proposal(proposal: Screened, form: Form, months: int, *, said_below: tuple[str, ...]) -> Section:
    blocks: list[Block] = [Paragraph(_why(proposal, months))]
    blocks += [_told(one, form, proposal) for one in proposal.told[: form.findings]]
    rest = list(dict.fromkeys(one.found.hazard for one in proposal.told[form.findings :]))
    if rest:
        blocks.append(Paragraph((quiet(f"Lesser findings, not shown here: {wording.listed(rest)}."),)))
    blocks += [Paragraph(line) for line in _way_out(proposal)]
    if proposal.sensitivity:
        blocks.append(Paragraph((strong("What to measure or look up: "), Span(proposal.sensitivity))))
    blocks += _cautions([words for words in proposal.cautions if words not in said_below])
    return Section(text(f"{proposal.name}: {proposal.verdict}"), tuple(blocks), "proposal")


def _said_of_all(screening: Screening) -> tuple[str, ...]:
    """The cautions that hold whatever is chosen; they are said once, at the end."""
    first, *others = screening.proposals
    return tuple(words for words in first.cautions if all(words in other.cautions for other in others))


def _cautions(words: Collection[str]) -> Iterator[Block]:
    if words:
        yield Section(text("Cautions"), (Bullets(tuple(text(caution) for caution in words)),))


def _why(proposal: Screened, months: int) -> Line:
    if proposal.risk is None:
        return text(f"Nothing was found in any of the draws over {wording.counted(months, 'month')}.")
    risk = proposal.risk
    return (
        strong(f"Risk {risk.risk} of 20, {risk.level}. "),
        Span(
            f"Over {wording.counted(months, 'month')} something {risk.consequence} "
            f"happens in {wording.share(risk.likelihood)} of the draws.{_together(proposal)}"
        ),
    )


def _together(proposal: Screened) -> str:
    """What no finding explains by itself: the draws of several add up."""
    worst = max((finding.risk for finding in proposal.findings), default=0)
    if proposal.risk is None or worst >= proposal.risk.risk:
        return ""
    return f" No finding alone comes to that (the worst is {worst}); several together do, each in draws of its own."


def _told(told: Finding | Unrated, form: Form, proposal: Screened) -> Section:
    found = told.found
    reasons = tuple(text(reason) for reason in found.because[: form.reasons])
    because = [Bullets(reasons)] if reasons else []
    if isinstance(told, Finding):
        pictures = [Drawing(picture, described(picture)) for picture in told.pictures[: form.pictures]]
        tested = tuple(_tested(told, proposal, which) for which in range(len(proposal.remedies_for(told))))
        blocks: list[Block] = [Paragraph(_rating(told)), *because, *pictures, *([Bullets(tested)] if tested else [])]
        support = _support(told, form)
    else:
        blocks = [Paragraph((quiet(f"{found.hazard}: "), strong("cannot rate"))), *because]
        support = f"{wording.opening(found.missing)}."
    return Section((strong(found.sentence),), (*blocks, Paragraph((quiet(support),))), "finding")


def _rating(finding: Finding) -> Line:
    levels = " to ".join(str(level) for level in finding.levels)
    bands = " to ".join(str(band) for band in finding.likelihood_levels)
    return (
        quiet(f"{finding.found.hazard}: "),
        strong(f"risk {finding.risk} of 20, {levels}"),
        quiet(f" ({bands}, {wording.share(finding.likelihood)} of draws; {finding.consequence})"),
    )


def _support(finding: Finding, form: Form) -> str:
    words = f"Confidence: {finding.confidence}; it {EVIDENCE_WORDS[finding.confidence]}"
    if not form.citations:
        return f"{words}."
    names = list(finding.rests_on[:MOST_WEAK_TRAITS])
    if len(finding.rests_on) > MOST_WEAK_TRAITS:
        names.append(f"{len(finding.rests_on) - MOST_WEAK_TRAITS} more")
    return f"{words} ({wording.listed(names)})."


def _tested(finding: Finding, proposal: Screened, which: int = 0) -> Line:
    """One tested remedy of a finding: what to do, what becomes of the finding, and of the whole."""
    remedy = proposal.remedies_for(finding)[which]
    own = "this is gone" if remedy.finding_risk == 0 else f"this falls from {finding.risk} to {remedy.finding_risk}"
    now = proposal.risk.risk if proposal.risk else 0
    if remedy.risk < now:
        whole = f"the whole becomes {remedy.verdict}, risk {remedy.risk}"
    else:
        whole = f"the whole stays at risk {remedy.risk} for other reasons"
    return (quiet("Tested: "), Span(f"{remedy.change}; {own}, {whole}."))


def _way_out(proposal: Screened) -> Iterator[Line]:
    """What would have to change for the proposal to work, or that nothing was found."""
    best = proposal.best_change
    if best:
        yield (
            strong("Smallest change that works: "),
            Span(f"{best.change}; then {best.verdict} (risk {best.risk}, {best.level})."),
        )
    elif proposal.remedies_searched and proposal.risk and proposal.risk.level in TROUBLING:
        yield (strong("No change was found that makes this work."),)


def _standing(screening: Screening, form: Form) -> Iterator[Block]:
    now = screening.as_it_stands
    if now.told:
        intro = Paragraph(text("These hold without any newcomer and do not count against the proposals."))
        blocks: tuple[Block, ...] = (
            intro,
            *(_told(one, form, now) for one in now.told[: form.findings]),
        )
        yield Section(text("The tank as it stands"), blocks)


def _ground(screening: Screening, catalog: Catalog, *, today: date, form: Form) -> Iterator[Block]:
    if form.findings:
        assumed = screening.read.plan.assumed()
        notes: list[Line] = [text(NOT_CALIBRATED)]
        if assumed:
            notes.insert(0, text(f"Not stated in the plan, so taken for granted: {wording.listed(assumed)}."))
        yield Section(text("How sure this is"), (Bullets(tuple(notes)),))
        yield Section(text("Sources"), (Bullets(tuple(text(w) for w in _sources(screening, catalog, form))),))
    if form.plan:
        from coswim.plans.written import write_plan  # not loaded for a report without the plan

        yield Section(
            text("The plan"),
            (
                Paragraph(text("Save or paste this to run it again: coswim screen -")),
                Code(write_plan(screening.read.plan)),
            ),
        )
    effort = screening.effort
    yield Paragraph(
        (
            quiet(
                f"coswim {__version__}, {effort.draws:,} draws, seed {effort.seed}, {screening.horizon} months, "
                f"{today.isoformat()}. Model output, not a calibrated probability."
            ),
        )
    )


def _sources(screening: Screening, catalog: Catalog, form: Form) -> list[str]:
    """Each source behind the findings, with its citation, or all their keys on one line."""
    keys = sorted(
        {
            key
            for proposal in screening.proposals
            for one in proposal.told
            for used in one.found.uses
            for trait in used.traits
            for key in used.profile.source_keys(trait)
        }
    )
    if not form.citations:
        return [f"{wording.listed(keys)} (in full: coswim profile show)"] if keys else []
    return [f"{key}: {catalog.bibliography[key].citation}" for key in keys if key in catalog.bibliography]
