"""A screening as a document: the decision first, then, where it is wanted, everything that it rests on."""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterator, Sequence
from datetime import date
from typing import NamedTuple

from coswim import __version__
from coswim.plans.plan import Earlier
from coswim.profiles.catalog import Catalog
from coswim.remedies.change import Remedy
from coswim.report import decision
from coswim.report import document as doc
from coswim.report.decision import EVIDENCE_WORDS, Look, shortened
from coswim.report.document import Block, Line, Span, quiet, strong, text
from coswim.report.keepers_units import for_keeper
from coswim.report.layout import Page, lay_out
from coswim.report.picture_words import described
from coswim.screening import Screened, Screening
from coswim.text import wording
from coswim.verdict.rating import Finding, Unrated
from coswim.verdict.risk import Level, Likelihood

NOT_CALIBRATED = (
    "Futures are model output for ranking and explaining, not calibrated odds. How often something happens over the "
    "months looked ahead: frequent from 50 of 100 futures, probable from 20, occasional from 5, remote from 1, "
    "improbable below. Risk runs from 1 to 20 (worst). The worst finding decides, or several together where they "
    "happen in different futures."
)
MOST_WEAK_TRAITS = 4
HOW_TO_RUN = (
    "To run it again with your own numbers: install coswim (a free command-line program in Python; "
    "its README says how), save or paste what stands below, and type: coswim screen -"
)


class Form(NamedTuple):
    """How much of the report is wanted: how it begins, whether the details follow, and the plan."""

    look: Look | None = Look()
    details: bool = True
    title: bool = True
    plan: bool = False
    more: bool = False


FULL = Form()
SHARED = Form(plan=True)
BRIEF = Form(look=None, details=False, title=False)
SCREEN = Form(details=False, title=False, more=True)
SHORTER_SCREENS = (
    Look(),
    Look(mind=False),
    Look(mind=False, lesser=False),
    Look(findings=2, mind=False, lesser=False),
    Look(findings=2, mind=False, lesser=False, checked=False),
    Look(findings=2, mind=False, lesser=False, checked=False, in_full=False),
    Look(findings=1, mind=False, lesser=False, checked=False, in_full=False),
    Look(findings=1, mind=False, lesser=False, checked=False, in_full=False, find_out=False),
    Look(findings=1, mind=False, lesser=False, checked=False, in_full=False, find_out=False, foot=False),
)
"""From the fullest to the shortest."""
ONE_PROPOSAL, SOME_PROPOSALS, EACH_PROPOSAL, COLUMNS = 24, 10, 8, 80
"""Lines of a screen with one proposal, lines of one with several and lines more for each, and its columns."""
POST = Form(details=False, plan=True)
BOARD = 10_000
"""Characters in a post that many boards take. Source: common practice."""


def screen(screening: Screening, catalog: Catalog, *, today: date) -> doc.Document:
    """What a terminal shows: the fullest that fits its lines, the shortest where none does."""
    several = len(screening.judged) > 1
    most = SOME_PROPOSALS + EACH_PROPOSAL * len(screening.judged) if several else ONE_PROPOSAL
    return _fitting(
        (compose(screening, catalog, today=today, form=SCREEN._replace(look=look)) for look in SHORTER_SCREENS),
        lambda document: len([*lay_out(document, Page(COLUMNS))]) <= most,
    )


def post(screening: Screening, catalog: Catalog, *, today: date, write: Callable[[doc.Document], str]) -> str:
    """The fullest post that a board takes, as `write` puts it; the shortest where none is short enough."""
    document = _fitting(
        (compose(screening, catalog, today=today, form=POST._replace(look=look)) for look in SHORTER_SCREENS),
        lambda document: len(write(document)) <= BOARD,
    )
    return write(document)


def _fitting(documents: Iterator[doc.Document], fits: Callable[[doc.Document], bool]) -> doc.Document:
    document = next(documents)
    while not fits(document) and (shorter := next(documents, None)):
        document = shorter
    return document


def compose(screening: Screening, catalog: Catalog, *, today: date, form: Form = FULL) -> doc.Document:
    """The report on a screening, in the units in which its plan was written."""
    blocks: list[Block] = [doc.Paragraph(decision.understood(screening)), *_beginning(screening, form)]
    if form.details:
        general = _said_of_all(screening)
        blocks += [_details(one, screening.horizon, said_below=general) for one in screening.judged]
        blocks += _standing(screening) if screening.proposals else ()
        blocks += _cautions(general)
        blocks += _ground(screening, catalog)
    blocks += _end(screening, today=today, form=form)
    if form.plan:
        blocks += _plan(screening)
    return for_keeper(doc.Document(screening.read.name if form.title else "", tuple(blocks)), screening.read.units)


def _beginning(screening: Screening, form: Form) -> Iterator[Block]:
    """The verdicts: a line each, or beside each other and then one by one."""
    if form.look is None:
        yield doc.Bullets(tuple(decision.brief(one) for one in screening.judged))
    else:
        if len(screening.proposals) > 1:
            yield decision.comparison(screening)
        for one in screening.judged:
            yield from decision.decision(one, screening, form.look)
    if not (form.more and len(screening.proposals) > 1) and (line := decision.even_without(screening)):
        yield doc.Paragraph(line)


def _end(screening: Screening, *, today: date, form: Form) -> Iterator[Block]:
    """What it all is, how to see more, and the verdicts once more where they have gone out of sight."""
    if form.more:
        more = quiet(_more(screening, form))
        several = len(screening.proposals) > 1
        recap = (*decision.recap(screening), Span(" "), *decision.even_without(screening)) if several else ()
        if form.look and form.look.foot:
            yield doc.Paragraph((more,))
            yield from [doc.Paragraph(recap)] if recap else []
        else:
            yield doc.Paragraph((*recap, Span(" "), more))
    else:
        effort = screening.effort
        made = f"coswim {__version__}, {effort.draws:,} futures, seed {effort.seed}, {screening.horizon} months"
        yield doc.Paragraph((quiet(f"{made}, {today.isoformat()}. Model output, not calibrated odds."),))


def _more(screening: Screening, form: Form) -> str:
    """What the futures are, and how to see more."""
    only = "--only NAME, " if len(screening.proposals) > 1 else ""
    if form.look and not form.look.foot:
        return f"Futures are no odds. More: --full, {only}--report FILE, --for-forum."
    rests = f"{decision.rests_on(screening)}futures are model output, not odds."
    if not only and decision.wants_care(screening.judged[0]) and screening.proposals:
        return f"{wording.opening(rests)} More: --full, --report tank.html (page), --for-forum (post), coswim calendar."
    return f"{wording.opening(rests)} More: --full, {only}--report tank.html (a page), --for-forum (a post)."


def _details(proposal: Screened, months: int, *, said_below: tuple[str, ...]) -> doc.Section:
    blocks: list[Block] = [doc.Paragraph(_why(proposal, months))]
    blocks += [_told(one, proposal) for one in proposal.told]
    blocks += _cautions([words for words in proposal.cautions if words not in said_below])
    name = shortened(proposal.name, decision.LONGEST_NAME)
    return doc.Section(text(f"{name}: {proposal.verdict}"), tuple(blocks), "proposal")


def _said_of_all(screening: Screening) -> tuple[str, ...]:
    """The cautions that hold whatever is chosen; they are said once, at the end."""
    first, *others = screening.judged
    return tuple(words for words in first.cautions if all(words in other.cautions for other in others))


def _cautions(words: Collection[str]) -> Iterator[Block]:
    if words:
        yield doc.Section(text("Cautions"), (doc.Bullets(tuple(text(caution) for caution in words)),))


def _why(proposal: Screened, months: int) -> Line:
    if proposal.risk is None:
        return text(f"Nothing was found in any of the futures over {wording.counted(months, 'month')}.")
    risk = proposal.risk
    return (
        strong(f"Risk {risk.risk} of 20, {risk.level}. "),
        Span(
            f"Over {wording.counted(months, 'month')} something {risk.consequence} "
            f"happens {wording.futures(risk.likelihood)}.{_together(proposal)}"
        ),
    )


def _together(proposal: Screened) -> str:
    """What no finding explains by itself: the futures of several add up."""
    worst = max((finding.risk for finding in proposal.findings), default=0)
    if proposal.risk is None or worst >= proposal.risk.risk:
        return ""
    return f" No finding alone comes to that (the worst is {worst}); several together do, each in futures of its own."


def _told(told: Finding | Unrated, proposal: Screened) -> doc.Section:
    found = told.found
    reasons = tuple(text(reason) for reason in found.because)
    because = [doc.Bullets(reasons)] if reasons else []
    if isinstance(told, Finding):
        pictures = [doc.Drawing(picture, described(picture)) for picture in told.pictures]
        lines = tuple(_tested(told, proposal, remedy) for remedy in proposal.remedies_for(told))
        tested = [doc.Bullets(lines)] if lines else []
        blocks: list[Block] = [doc.Paragraph(_rating(told)), *because, *pictures, *tested]
        support = _support(told)
    else:
        blocks = [doc.Paragraph((quiet(f"{found.hazard}: "), strong("cannot rate"))), *because]
        support = f"{wording.opening(found.missing)}."
    return doc.Section((strong(found.sentence),), (*blocks, doc.Paragraph((quiet(support),))), "finding")


def _rating(finding: Finding) -> Line:
    return (
        quiet(f"{finding.found.hazard}: "),
        strong(f"risk {finding.risk} of 20, {_ends(finding.levels)}"),
        quiet(f" ({_ends(finding.likelihood_levels)}, {decision.how_often(finding)}; {finding.consequence})"),
    )


def _ends(some: Sequence[Level] | Sequence[Likelihood]) -> str:
    """The least and the worst of some: `low to serious`."""
    worst_first = [each for each in type(some[0]) if each in some]
    return " to ".join(dict.fromkeys((worst_first[-1], worst_first[0])))


def _support(finding: Finding) -> str:
    names = list(finding.rests_on[:MOST_WEAK_TRAITS])
    if len(finding.rests_on) > MOST_WEAK_TRAITS:
        names.append(f"{len(finding.rests_on) - MOST_WEAK_TRAITS} more")
    return f"Rests on {EVIDENCE_WORDS[finding.confidence]}: {wording.listed(names)}."


def _tested(finding: Finding, proposal: Screened, remedy: Remedy) -> Line:
    """One tested remedy of a finding: what to do, what becomes of the finding, and of the proposal."""
    own = "this is gone" if remedy.finding_risk == 0 else f"this falls from {finding.risk} to {remedy.finding_risk}"
    if remedy.risk < proposal.risk_number:
        then = f"and then it is {remedy.verdict} (risk {remedy.risk})"
    else:
        then = f"but other findings keep the risk at {remedy.risk}"
    return (quiet("Tested: "), Span(f"{remedy.change}; {own}, {then}."))


def _standing(screening: Screening) -> Iterator[Block]:
    now = screening.as_it_stands
    if now.told:
        intro = doc.Paragraph(text("These hold without any newcomer and do not count against the proposals."))
        blocks: tuple[Block, ...] = (intro, *(_told(one, now) for one in now.told))
        yield doc.Section(text("The tank as it stands"), blocks)


def _ground(screening: Screening, catalog: Catalog) -> Iterator[Block]:
    assumed = screening.read.plan.assumed()
    notes: list[Line] = [text(NOT_CALIBRATED)]
    if screening.read.own:
        own = wording.listed([carried.scientific_name for carried in screening.read.own])
        notes.insert(0, text(f"The keeper's own profiles were used of {own}."))
    if assumed:
        notes.insert(0, text(f"Not stated in the plan, so taken for granted: {wording.listed(assumed)}."))
    yield doc.Section(text("How sure this is"), (doc.Bullets(tuple(notes)),))
    yield doc.Section(text("Sources"), (doc.Bullets(tuple(text(words) for words in _sources(screening, catalog))),))


def _plan(screening: Screening) -> Iterator[Block]:
    """The plan, with all that others need besides coswim, and what was found this time."""
    from coswim.plans.written import write_plan  # not loaded for a report without the plan

    read = screening.read
    earlier = tuple(Earlier(name=one.name, risk=one.risk_number) for one in screening.proposals)
    plan = read.plan.model_copy(update={"earlier": earlier} if earlier else {})
    code = doc.Code(write_plan(plan, units=read.units, own=read.own))
    yield doc.Section(text("The plan"), (doc.Paragraph(text(HOW_TO_RUN + _options(screening))), code))


def _options(screening: Screening) -> str:
    """What has to be typed for the same futures, where they are not the usual ones."""
    effort, usual = screening.effort, type(screening.effort)()
    pairs = (("draws", effort.draws, usual.draws), ("seed", effort.seed, usual.seed), ("months", effort.months, None))
    return "".join(f" --{name} {value}" for name, value, known in pairs if value != known)


def _sources(screening: Screening, catalog: Catalog) -> list[str]:
    """Each source behind the findings, with its citation."""
    keys = {
        key
        for one in screening.judged
        for told in one.told
        for used in told.found.uses
        for trait in used.traits
        for key in used.profile.source_keys(trait)
    }
    return [f"{key}: {catalog.bibliography[key].citation}" for key in sorted(keys) if key in catalog.bibliography]
