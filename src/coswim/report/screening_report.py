"""A screening as a document: the verdicts first, then each proposal, then what it all rests on."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date

from coswim import __version__
from coswim.plans.written import write_plan
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
from coswim.verdict.rating import Finding, Remedy

NOT_CALIBRATED = (
    "The shares are model output for ranking and explaining, not calibrated probabilities. Likelihood over the "
    "months looked ahead: frequent from 50 % of draws, probable from 20 %, occasional from 5 %, remote from 1 %, "
    "improbable below. Risk runs from 1 to 20 (worst); the worst finding decides."
)
EVIDENCE_WORDS = {
    "memory": "rests on recalled or judged values",
    "common-practice": "rests on common practice",
    "published": "rests on published values",
    "measured": "rests on measured values",
}
MOST_IN_SUMMARY = 3
MOST_WEAK_TRAITS = 4


@dataclass(frozen=True)
class Form:
    """How much of the report is wanted, and whether it leaves the machine."""

    details: bool = True
    drawings: bool = True
    plan: bool = False


TERMINAL = Form()
BRIEF = Form(details=False, drawings=False)
SHARED = Form(plan=True)
POST = Form(drawings=False, plan=True)


def compose(screening: Screening, catalog: Catalog, *, today: date, form: Form = TERMINAL) -> Document:
    """The report on a screening."""
    blocks: list[Block] = list(_summary(screening))
    if form.details:
        blocks += [_proposal(proposal, form) for proposal in screening.proposals]
        blocks += _standing(screening, form)
    blocks += _ground(screening, catalog, today=today, form=form)
    return Document(screening.read.name, tuple(blocks))


def _summary(screening: Screening) -> Iterator[Block]:
    shown = max(1, MOST_IN_SUMMARY // max(1, len(screening.proposals)))
    for proposal in screening.proposals:
        yield Paragraph((strong(f"{proposal.name}: {proposal.verdict}"), *_risk_words(proposal)))
        lines: list[Line] = []
        for finding in proposal.findings[:shown]:
            lines.append((Span(finding.found.sentence),))
            if finding.remedies:
                lines.append((quiet("Tested remedy: "), Span(_remedy(finding.remedies[0]))))
        if lines:
            yield Bullets(tuple(lines))


def _risk_words(proposal: Screened) -> tuple[Span, ...]:
    if proposal.risk is None:
        return (quiet(" (nothing found)"),)
    return (quiet(f" (risk {proposal.risk.risk} of 20, {proposal.risk.level})"),)


def _proposal(proposal: Screened, form: Form) -> Section:
    blocks: list[Block] = [Paragraph(_why(proposal))]
    blocks += [_finding(finding, form) for finding in proposal.findings]
    blocks += _what_to_change(proposal)
    if proposal.sensitivity:
        blocks.append(Paragraph((strong("What to measure or look up: "), Span(proposal.sensitivity))))
    if proposal.cautions:
        blocks.append(Section(text("Cautions"), (Bullets(tuple(text(words) for words in proposal.cautions)),)))
    return Section(text(f"{proposal.name}: {proposal.verdict}"), tuple(blocks), "proposal")


def _why(proposal: Screened) -> Line:
    months = proposal.scene.horizon
    if proposal.risk is None:
        return text(f"Nothing was found in any of the draws over {wording.counted(months, 'month')}.")
    risk = proposal.risk
    return (
        strong(f"Risk {risk.risk} of 20, {risk.level}. "),
        Span(
            f"Over {wording.counted(months, 'month')} something {risk.consequence} "
            f"happens in {wording.share(risk.likelihood)} of the draws."
        ),
    )


def _finding(finding: Finding, form: Form) -> Section:
    found = finding.found
    blocks: list[Block] = [Paragraph(_rating(finding))]
    if found.because:
        blocks.append(Bullets(tuple(text(reason) for reason in found.because)))
    if form.drawings:
        blocks += [Drawing(picture, described(picture)) for picture in found.pictures]
    if finding.remedies:
        blocks.append(Bullets(tuple((quiet("Tested remedy: "), Span(_remedy(r))) for r in finding.remedies)))
    blocks.append(Paragraph((quiet(_support(finding)),)))
    return Section((strong(found.sentence),), tuple(blocks), "finding")


def _rating(finding: Finding) -> Line:
    if finding.likelihood is None or finding.consequence is None:
        return (quiet(f"{finding.found.hazard}: "), strong("cannot rate"))
    levels = " to ".join(str(level) for level in finding.levels)
    bands = " to ".join(str(band) for band in finding.likelihood_levels)
    return (
        quiet(f"{finding.found.hazard}: "),
        strong(f"risk {finding.risk} of 20, {levels}"),
        quiet(f" ({bands}, {wording.share(finding.likelihood)} of draws; {finding.consequence})"),
    )


def _support(finding: Finding) -> str:
    if finding.found.cannot_rate:
        return f"{finding.found.cannot_rate[:1].upper()}{finding.found.cannot_rate[1:]}."
    names = list(finding.rests_on[:MOST_WEAK_TRAITS])
    if len(finding.rests_on) > MOST_WEAK_TRAITS:
        names.append(f"{len(finding.rests_on) - MOST_WEAK_TRAITS} more")
    return f"Confidence: {finding.confidence}; it {EVIDENCE_WORDS[finding.confidence]} ({wording.listed(names)})."


def _remedy(remedy: Remedy) -> str:
    return f"{remedy.change} (then {remedy.verdict}, risk {remedy.risk}, {remedy.level})"


def _what_to_change(proposal: Screened) -> Iterator[Block]:
    if proposal.best_change:
        yield Paragraph((strong("Smallest change that works: "), Span(_remedy(proposal.best_change))))
    elif proposal.remedies_searched:
        yield Paragraph((strong("No change found that makes this work."),))


def _standing(screening: Screening, form: Form) -> Iterator[Block]:
    findings = screening.as_it_stands.findings
    if findings:
        intro = Paragraph(text("These hold without any newcomer and do not count against the proposals."))
        blocks: tuple[Block, ...] = (intro, *(_finding(finding, form) for finding in findings))
        yield Section(text("The tank as it stands"), blocks)


def _ground(screening: Screening, catalog: Catalog, *, today: date, form: Form) -> Iterator[Block]:
    if form.details:
        assumed = screening.read.plan.assumed()
        notes: list[Line] = [text(NOT_CALIBRATED)]
        if assumed:
            notes.insert(0, text(f"Not stated in the plan, so taken for granted: {wording.listed(assumed)}."))
        yield Section(text("How sure this is"), (Bullets(tuple(notes)),))
        yield Section(text("Sources"), (Bullets(tuple(text(words) for words in _sources(screening, catalog))),))
    if form.plan:
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


def _sources(screening: Screening, catalog: Catalog) -> list[str]:
    keys = {
        key
        for proposal in screening.proposals
        for finding in proposal.findings
        for used in finding.found.uses
        for trait in used.traits
        for key in used.profile.source_keys(trait)
    }
    return [f"{key}: {catalog.bibliography[key].citation}" for key in sorted(keys) if key in catalog.bibliography]
