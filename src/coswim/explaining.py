"""How a hazard, the scales, the risk table or the confidence works, taken from the modules themselves.

The text is the modules' own documentation and their own tables, so it cannot drift from what they do.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from functools import partial
from inspect import cleandoc
from itertools import groupby
from types import MappingProxyType, ModuleType
from typing import NamedTuple

from pydantic import BaseModel
from pydantic.fields import FieldInfo

from coswim import judgements
from coswim.aftercare import grades, stop_rules
from coswim.findings.finding import CONSEQUENCE_MEANINGS
from coswim.findings.hazard import Hazard
from coswim.hazards import HAZARDS
from coswim.plans.plan import Plan
from coswim.profiles import scales
from coswim.report.document import Block, Code, Document, Facts, Paragraph, Section, Span, Table, strong, text
from coswim.text import wording
from coswim.text.fields import model_in
from coswim.verdict import confidence, risk, trust

LONGEST_LEAD = 6
NOT_MEASURED = "not measured yet"
COMMAND = "coswim "
NOT_TYPED = frozenset({"earlier", "profiles"})
"""Keys that a post carries and nobody types."""


def _hazard(hazard: Hazard) -> Document:
    blocks = list(_paragraphs(hazard))
    traits = wording.listed([trait.replace("_", " ").replace(".", ": ") for trait in hazard.TRAITS])
    blocks.append(Paragraph((strong("Traits it reads: "), Span(f"{traits}."))))
    return Document(hazard.ID, tuple(blocks))


def _paragraphs(module: ModuleType | Hazard) -> Iterator[Block]:
    """The module's documentation: a paragraph for each, its lead word strong, commands as code."""
    for paragraph in cleandoc(module.__doc__ or "").split("\n\n"):
        words = " ".join(paragraph.split())
        lead, colon, rest = words.partition(": ")
        if colon and len(lead.split()) < LONGEST_LEAD and rest.startswith(COMMAND):
            yield Paragraph((strong(f"{lead}:"),))
            yield Code(rest, "sh")
        elif colon and len(lead.split()) < LONGEST_LEAD:
            yield Paragraph((strong(f"{lead}: "), Span(rest)))
        else:
            yield Paragraph(text(words))


def _scales() -> Document:
    intro = Paragraph(text("The words of a profile, what they mean, and the number that stands behind each."))
    sections = tuple(
        Section(
            text(scale.name),
            (
                Paragraph(text(f"The number is: {scale.measures}. Source: {scale.source}.")),
                Table(
                    ("word", "number", "meaning"),
                    tuple((step.word, f"{step.number:g}", step.meaning) for step in scale.steps),
                    frozenset({1}),
                ),
            ),
        )
        for scale in scales.SCALES
    )
    return Document("the scales of a profile", (intro, *sections))


def _risk() -> Document:
    rows = tuple(
        (
            f"{band} (from {wording.of_hundred(risk.BANDS[band])})",
            *(f"{value} {risk.level_of(value)}" for name in risk.CONSEQUENCES if (value := risk.risk_of(band, name))),
        )
        for band in risk.Likelihood
    )
    meanings = tuple((str(name), words) for name, words in CONSEQUENCE_MEANINGS.items())
    verdicts = tuple((str(level), words) for level, words in risk.VERDICTS.items())
    return Document(
        "the risk table",
        (
            *_paragraphs(risk),
            Table(("likelihood", *map(str, risk.CONSEQUENCES)), rows),
            Section(text("Consequences"), (Table(("consequence", "meaning"), meanings),)),
            Section(text("Verdicts"), (Table(("worst risk", "verdict"), verdicts),)),
        ),
    )


def _documented(title: str, module: ModuleType) -> Document:
    return Document(title, tuple(_paragraphs(module)))


def _judgement() -> Document:
    found = tuple(judgements.judgements())
    count = f"{len(found)} constants and equations rest on it, besides the words of `coswim explain scales`."
    sections = tuple(
        Section(text(module), (Table(("what", "value", "meaning"), tuple(one[1:] for one in within)),))
        for module, within in groupby(found, lambda one: one.module)
    )
    return Document("what rests on judgement", (*_paragraphs(judgements), Paragraph(text(count)), *sections))


def _damage() -> Document:
    rows = tuple((f"{grade.number} {grade.word}", grade.fins, grade.skin, grade.flesh) for grade in grades.GRADES)
    places = f"Places: {', '.join(grades.PLACES)}."
    table = Table(("grade", "fins", "scales and skin", "flesh"), rows)
    return Document("the grades of damage", (*_paragraphs(grades), table, Paragraph(text(places))))


def _trust() -> Document:
    rows = tuple(
        (panel.name, "yes" if panel.blind else "no", _agreement(panel.agree, panel), _agreement(panel.by_rules, panel))
        for panel in trust.PANELS
    )
    header = ("pairings", "blind", "coswim agrees with keepers", "rules of thumb agree")
    return Document("how far to trust it", (*_paragraphs(trust), Table(header, rows)))


def _agreement(agree: int | None, panel: trust.Panel) -> str:
    return NOT_MEASURED if agree is None else f"{agree} of {panel.pairings}"


def _plan() -> Document:
    """Every key of a plan with what it wants, from the models themselves."""
    intro = Paragraph(text("The keys of a plan, what each wants, and what holds where it is left out."))
    return Document("the keys of a plan", (intro, *_keys("", Plan)))


def _keys(path: str, model: type[BaseModel]) -> Iterator[Block]:
    fields = [(name, field) for name, field in model.model_fields.items() if name not in NOT_TYPED]
    facts = tuple((name, text(f"{field.description or ''}{_default(field)}")) for name, field in fields)
    yield Section((Span(path or "plan", "strong"),), (Facts(facts),))
    for name, field in fields:
        inner = model_in(field.annotation)
        if inner is not None:
            yield from _keys(f"{path}.{name}".lstrip("."), inner)


def _default(field: FieldInfo) -> str:
    if field.is_required():
        return " (wanted)"
    value = field.default
    if value is None or isinstance(value, BaseModel) or value == ():
        return ""
    if isinstance(value, bool):
        return f" (else {'yes' if value else 'no'})"
    words = wording.listed(value) if isinstance(value, tuple) else f"{value:g}" if isinstance(value, float) else value
    return f" (else {words})"


class Topic(NamedTuple):
    """What a topic is about, in a line, and its explanation."""

    in_short: str
    explained: Callable[[], Document]


TOPICS: Mapping[str, Topic] = MappingProxyType(
    {
        **{
            hazard.ID: Topic(cleandoc(hazard.__doc__ or "").partition("\n\n")[0], partial(_hazard, hazard))
            for hazard in HAZARDS
        },
        "plan": Topic("The keys of a plan.", _plan),
        "scales": Topic("The words of a profile and the numbers behind them.", _scales),
        "risk": Topic("How often and how bad make a risk and a verdict.", _risk),
        "confidence": Topic("What a finding rests on.", partial(_documented, "confidence", confidence)),
        "trust": Topic("How far to trust it.", _trust),
        "judgement": Topic("What nobody measured: constants and equations that rest on judgement.", _judgement),
        "damage": Topic("The grades of damage that a diary writes down.", _damage),
        "stop-rules": Topic(
            "When to take fish apart, and when to call it settled.", partial(_documented, "the stop rules", stop_rules)
        ),
    }
)


def contents() -> Document:
    """All topics with a line each."""
    facts = tuple((name, text(" ".join(topic.in_short.split()))) for name, topic in TOPICS.items())
    return Document("what can be explained", (Facts(facts), Paragraph(text("For example: coswim explain gape-fit"))))
