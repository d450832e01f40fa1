"""One species on a readable page: body to scale, figures, habits in words, water, sources."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from types import MappingProxyType
from typing import Any

from coswim.findings.pictures import FishPicture, Window, WindowsPicture
from coswim.library.listing import Listed
from coswim.library.portrait import Portrait, portrait
from coswim.profiles.borrowing import RELATIVES
from coswim.profiles.profile import MAY_BE_ABSENT, Profile
from coswim.profiles.sources import Bibliography, kind_of
from coswim.profiles.traits import Trait
from coswim.report import document as doc
from coswim.report.document import Block, Line, Span, quiet, strong, text
from coswim.report.picture_words import described
from coswim.text import wording
from coswim.text.quantities import MM_PER_CM, Range

GRAMS_PER_KG = 1000.0
BORROWED = "Not stated in the profile, so borrowed from its genus or family, and widened."
NOT_STATED = "not stated: what depends on it cannot be rated"
PLACED = frozenset(
    {
        *("adult_length", "record_length", "mouth_gape", "growth"),
        *("body.form", "body.standard_length", "body.depth", "body.width", "body.weight"),
        *("water_ranges.temperature", "water_ranges.ph", "water_ranges.hardness"),
    }
)
"""Traits that the figures of the body and the pictures of the water show; every other trait gets a line."""


@dataclass(frozen=True)
class Subject:
    """A profile with what its page needs around it."""

    profile: Profile
    bibliography: Bibliography
    library: Sequence[Listed]
    """The whole library: the scale that the water of one species is shown on."""
    kept_in: str = ""
    """Where the profile lies when it is not a built-in one."""


def page(given: Subject) -> doc.Document:
    """One species on a readable page."""
    profile = given.profile
    blocks: list[Block] = [_names(given)]
    if profile.cautions:
        blocks.append(doc.Section(text("Cautions"), (doc.Bullets(tuple(map(text, profile.cautions))),)))
    others = [block for block in profile.blocks() if block.name not in {"body", "water_ranges"}]
    habits = doc.Section(text("Habits"), (doc.Bullets(tuple(_lines(profile, others))),))
    blocks += [_body(profile), habits, *_water(given)]
    if profile.notes:
        blocks.append(doc.Section(text("Notes"), (doc.Bullets(tuple(map(_note, profile.notes))),)))
    blocks.append(_sources(given))
    return doc.Document(f"{profile.name} ({profile.scientific_name})", tuple(blocks))


def _names(given: Subject) -> doc.Paragraph:
    profile = given.profile
    spans = [Span(f"Family {profile.family}.")]
    if len(profile.common_names) > 1:
        spans.append(Span(f" Also called {wording.listed(profile.common_names[1:])}."))
    if profile.also_known_as:
        spans.append(Span(f" Older names: {wording.listed(profile.also_known_as)}."))
    if given.kept_in:
        spans.append(strong(f" Your own profile: {given.kept_in}."))
    return doc.Paragraph(tuple(spans))


def _body(profile: Profile) -> doc.Section:
    grown = portrait(profile)
    figures = doc.Bullets((*_figures(profile, grown), *_lines(profile, _blocks(profile, "body"))))
    return doc.Section(text("Body"), (*_drawn(profile, grown), figures))


def _drawn(profile: Profile, grown: Portrait) -> Iterator[Block]:
    if grown.depth_mm is not None:
        depth = grown.depth_mm.middle / MM_PER_CM
        fish = FishPicture(profile.name, profile.body.form, grown.length, grown.standard_length, depth)
        caption = described(fish)
        yield doc.Drawing(fish, caption)
        yield doc.Paragraph((quiet(caption),))


def _figures(profile: Profile, grown: Portrait) -> Iterator[Line]:
    record = f" (longest on record {profile.record_length:g} cm)" if profile.record_length else ""
    yield _pair("Grown", f"{_range(profile.adult_length, 'cm')} total length{record}")
    width = (
        f"{_mm(grown.width_mm)} wide" if grown.width_mm else "width not stated, so the usual one of its form is taken"
    )
    deep = f"{_mm(grown.depth_mm)} deep" if grown.depth_mm else "depth not stated"
    yield _pair(f"At {wording.number(grown.length)} cm", f"{_weight(grown.weight_g)}, {deep}, {width}")
    yield _pair("Mouth", f"opens {_mm(grown.gape_mm)} at that length" if grown.gape_mm else NOT_STATED)
    if grown.months_to_grow:
        months = wording.span(round(grown.months_to_grow.low), round(grown.months_to_grow.high), unit="months")
        yield _pair("Growth", f"four fifths of its length in about {months} from the egg")
    else:
        yield _pair("Growth", NOT_STATED)


def _blocks(profile: Profile, name: str) -> Iterator[Trait]:
    return (block for block in profile.blocks() if block.name == name)


def _lines(profile: Profile, traits: Iterable[Trait]) -> Iterator[Line]:
    """A line for each trait, or for each of its parts, but for those that have a place of their own."""
    for trait in traits:
        value = profile.value(trait.name)
        if trait.name in PLACED or (value is None and trait.name in MAY_BE_ABSENT):
            continue
        if value is None:
            yield _pair(trait.label, NOT_STATED)
        elif trait.parts:
            yield from _lines(profile, trait.parts)
        elif trait.scale and trait.name not in SAID:
            words = value if isinstance(value, tuple) else (value,)
            meanings = {step.word: step.meaning for step in trait.scale.steps}
            yield from ((*_pair(trait.label, word), quiet(f", {meanings[word]}")) for word in words)
        else:
            yield _pair(trait.label, SAID.get(trait.name, _plain)(value) + f" {trait.unit}".rstrip())


def _plain(value: Any) -> str:
    """A value without a scale as people write it."""
    if isinstance(value, Range):
        return wording.span(value.low, value.high)
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, tuple):
        return wording.listed(tuple(map(str, value))) or "none"
    return wording.number(value) if isinstance(value, float) else str(value)


def _group(smallest: int) -> str:
    if smallest == 0:
        return "keep singly"
    return "alone or in company" if smallest == 1 else f"{smallest} or more of its kind"


SAID: Mapping[str, Callable[[Any], str]] = MappingProxyType(
    {"schooling.smallest_group": _group, "feeding_style.level": wording.listed}
)
"""Traits that read better in words of their own."""


def _water(given: Subject) -> Iterator[Block]:
    water, library = given.profile.water_ranges, given.library
    if water is None:
        yield doc.Section(text("Water"), (doc.Paragraph(text(f"Water ranges {NOT_STATED}.")),))
        return
    windows = (
        ("temperature", "°C", water.temperature, [each.temperature for each in library]),
        ("pH", "", water.ph, [each.ph for each in library]),
        ("hardness", "dGH", water.hardness, [each.hardness for each in library]),
    )
    drawings = tuple(_window(given.profile.name, *window) for window in windows)
    rest = map(doc.Paragraph, _lines(given.profile, _blocks(given.profile, "water_ranges")))
    yield doc.Section(text("Water"), (*drawings, *rest))


def _window(name: str, title: str, unit: str, own: Range, others: Sequence[Range | None]) -> doc.Drawing:
    stated = [found for found in others if found is not None] or [own]
    low, high = min(found.low for found in stated), max(found.high for found in stated)
    windows = (Window(name, own.low, own.high), Window("all species", min(low, own.low), max(high, own.high)))
    picture = WindowsPicture(title, unit, windows)
    return doc.Drawing(picture, f"{title}: {_range(own, unit)}; all species of the library: {wording.span(low, high)}")


def _note(note: str) -> Line:
    block, colon, rest = note.partition(": ")
    if colon and block.replace("_", "").replace(".", "").isalpha() and block == block.lower():
        return (strong(f"{block.replace('_', ' ').replace('.', ', ')}: "), Span(rest))
    return text(note)


def _sources(given: Subject) -> doc.Section:
    by_key: dict[str, list[str]] = {}
    for block, keys in given.profile.sources.items():
        whole = given.profile.sources.get(block.partition(".")[0], ()) if "." in block else ()
        for key in keys:
            if key not in whole:
                by_key.setdefault(key, []).append(block.replace("_", " ").replace(".", ": "))
    lines = tuple(_source(key, blocks, given.bibliography) for key, blocks in by_key.items())
    return doc.Section(text("Sources"), (doc.Bullets(lines),))


def _source(key: str, blocks: list[str], bibliography: Bibliography) -> Line:
    evidence = kind_of(key, bibliography)
    named = strong(key) if evidence == key else strong(f"{key} ({evidence})")
    unwritten = BORROWED if key == RELATIVES else "not in the bibliography"
    citation = bibliography[key].citation if key in bibliography else unwritten
    return (named, Span(f" for {wording.listed(blocks)}. "), quiet(citation))


def _pair(label: str, words: str) -> Line:
    return (strong(f"{label}: "), Span(words))


def _range(found: Range, unit: str) -> str:
    return wording.span(found.low, found.high, unit=unit)


def _weight(grams: float) -> str:
    kilograms = grams / GRAMS_PER_KG
    return f"about {wording.number(kilograms)} kg" if kilograms >= 1 else f"about {wording.number(grams)} g"


def _mm(found: Range) -> str:
    low, high = (float(f"{end:.2g}") for end in (found.low, found.high))
    return wording.span(low, high, unit="mm")
