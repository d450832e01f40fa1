"""The traits of one species. A block that is left out is unknown, and what needs it cannot be rated.

The annotations are evaluated here, once; put off, pydantic would have to read each as text.
"""

from collections.abc import Mapping
from functools import cache
from operator import attrgetter
from types import MappingProxyType
from typing import Annotated, Any

from pydantic import AfterValidator, BeforeValidator, Field, field_validator

from coswim.profiles import scales
from coswim.profiles.names import is_hybrid, is_scientific, no_name
from coswim.profiles.traits import Trait, traits
from coswim.text import fields as f
from coswim.text.printable import quoted
from coswim.text.problems import did_you_mean
from coswim.text.quantities import QuantityError

_reads = cache(attrgetter)
MOST_NAMES = 12
MOST_SENTENCES = 50


def _scientific(text: str) -> str:
    if not is_scientific(text):
        raise QuantityError(no_name(text))
    return text


def _decimal(low: float, high: float) -> Any:
    def parse(text: str) -> float:
        try:
            value = float(text)
        except ValueError:
            raise QuantityError(f"{quoted(text)} is not a number; allowed: {low:g} to {high:g}") from None
        if not low <= value <= high:
            raise QuantityError(f"{quoted(text)} is outside {low:g} to {high:g}")
        return value

    return f.FromText(parse, schema={"type": ["number", "string"], "minimum": low, "maximum": high, "examples": [low]})


def _scale(scale: scales.Scale) -> Any:
    return f.one_of(scale.words, what=f"word for {scale.name}")


def _needed(description: str, **more: Any) -> Any:
    """A part that a keeper may leave out, though its block is of no use without it.

    Its type says that it is there, since `usable` hands on no block without it; a profile as it was read may lack it.
    """
    return Field(None, description=description, **more)


ScientificName = Annotated[str, f.FromText(_scientific, schema={"type": "string", "examples": ["Betta splendens"]})]
Names = Annotated[
    tuple[f.Text, ...], BeforeValidator(f.as_list), AfterValidator(f.no_repeats), Field(max_length=MOST_NAMES)
]
Form = Annotated[str, _scale(scales.FORM)]
Temperament_ = Annotated[str, _scale(scales.TEMPERAMENT)]
Nips = Annotated[str, _scale(scales.NIPS)]
Stamina = Annotated[str, _scale(scales.STAMINA)]
Boldness = Annotated[str, _scale(scales.BOLDNESS)]
Guards = Annotated[str, _scale(scales.GUARDS)]
Territory = Annotated[str, _scale(scales.TERRITORY)]
Settling = Annotated[str, _scale(scales.SETTLING)]
InTrade = Annotated[str, _scale(scales.IN_TRADE)]
Hardiness = Annotated[str, _scale(scales.HARDINESS)]
Current = Annotated[str, _scale(scales.CURRENT)]
Jumps = Annotated[str, _scale(scales.JUMPS)]
EatsFish = Annotated[str, _scale(scales.EATS_FISH)]
Diet = Annotated[str, _scale(scales.DIET)]
Level = Annotated[str, _scale(scales.LEVEL)]
Pace = Annotated[str, _scale(scales.PACE)]
Active = Annotated[str, _scale(scales.ACTIVE)]
Swimming = Annotated[str, _scale(scales.SWIMMING)]
Salinity = Annotated[str, _scale(scales.SALINITY)]
Feature = Annotated[str, f.one_of(scales.FEATURES.words, what="feature")]


class Weight(f.Strict):
    """The species' own length-weight relation, grams = a * TL_cm ^ b."""

    a: Annotated[float, _decimal(0.0001, 1)] = Field(description="grams of a fish of 1 cm")
    b: Annotated[float, _decimal(2, 4)] = Field(description="exponent, about 3")


class Body(f.Strict):
    """The shape of the body, in fractions of standard length."""

    form: Form = Field(description=f"one of {scales.FORM.listed}")
    standard_length: f.LengthFraction | None = Field(None, description="standard length over total length, e.g. 0.82")
    depth: f.BodyFraction = _needed("deepest point, fraction of standard length, e.g. 0.25-0.3")
    width: f.BodyFraction | None = Field(None, description="widest point, fraction of standard length")
    weight: Weight | None = Field(None, description="own length-weight relation {a, b}; else the form's prior")


class Temperament(f.Strict):
    """How it treats others and what it can take."""

    own_kind: Temperament_ = _needed(f"towards its own kind: {scales.TEMPERAMENT.listed}", title="To its own kind")
    other_fish: Temperament_ = _needed(f"towards other fish: {scales.TEMPERAMENT.listed}", title="To other fish")
    nips: Nips = Field("never", description=f"nips fins: {scales.NIPS.listed}")
    stamina: Stamina = Field("average", description=f"how much chasing it takes: {scales.STAMINA.listed}")
    boldness: Boldness | None = Field(
        None, description=f"whether bustle keeps it from the food: {scales.BOLDNESS.listed}"
    )
    guards: Guards | None = Field(None, description=f"who guards eggs or young: {scales.GUARDS.listed}")
    territory: Territory | None = Field(None, description=f"what it holds: {scales.TERRITORY.listed}")
    rough_from: f.Length | None = Field(
        None, description="total length from which these words hold; smaller ones are a step milder, e.g. 12 cm"
    )


class Sexes(f.Strict):
    """How males and females differ, where that decides."""

    male_length: f.LengthRange | None = Field(None, description="total length of an adult male, e.g. 10-12 cm")
    female_length: f.LengthRange | None = Field(None, description="total length of an adult female, e.g. 6-8 cm")
    females_per_male: Annotated[int, f.whole_number(0, 10)] | None = Field(
        None, description="females wanted for each male, so that none is driven too hard"
    )
    males: Temperament_ | None = Field(None, description=f"males towards each other: {scales.TEMPERAMENT.listed}")


class FeedingStyle(f.Strict):
    """What it eats, where, when and how fast."""

    diet: Diet = _needed(f"one of {scales.DIET.listed}")
    eats_fish: EatsFish = _needed(f"one of {scales.EATS_FISH.listed}")
    longest_prey: Annotated[float, _decimal(0.05, 2)] | None = Field(
        None, description="longest fish that it swallows over its own length where that is published, e.g. 0.7"
    )
    level: Annotated[tuple[Level, ...], BeforeValidator(f.as_list), AfterValidator(f.no_repeats)] = _needed(
        f"where it feeds: a list of {scales.LEVEL.listed}",
        title="Feeding level",
        min_length=1,
        max_length=len(scales.LEVEL.words),
    )
    pace: Pace = _needed(f"how fast it eats: {scales.PACE.listed}")
    active: Active = _needed(f"when it feeds: {scales.ACTIVE.listed}")
    settling: Settling | None = Field(None, description=f"how soon it eats in a new tank: {scales.SETTLING.listed}")


class Schooling(f.Strict):
    """How many of its kind it wants around it."""

    smallest_group: Annotated[int, f.whole_number(0, 100)] = Field(
        title="Company", description="smallest group; 0 = keep singly, 1 = alone or in company"
    )


class WaterRanges(f.Strict):
    """The water in which it is kept long and well."""

    temperature: f.TemperatureRange = _needed("e.g. 24-28 C")
    ph: f.PhRange = _needed("e.g. 6.0-7.5")
    hardness: f.HardnessRange = _needed("e.g. 2-15 dGH")
    salinity: Salinity = Field("fresh", title="Salt", description=f"one of {scales.SALINITY.listed}")
    current: Current | None = Field(None, description=f"current it wants: {scales.CURRENT.listed}")
    hardiness: Hardiness | None = Field(None, description=f"what it stands of spoilt water: {scales.HARDINESS.listed}")


NO_TRAITS = frozenset({"scientific_name", "also_known_as", "common_names", "family", "cautions", "notes", "sources"})
"""What a profile says besides traits. Every other field is a trait: it wants a source and is shown."""
MAY_BE_ABSENT = frozenset(
    {
        *("record_length", "features", "temperament.rough_from", "feeding_style.longest_prey"),
        *("sexes", "sexes.male_length", "sexes.female_length", "sexes.females_per_male", "sexes.males"),
    }
)
"""Traits whose absence is no gap: no record is known, it has no such features, or the sexes are alike."""
NEEDED: Mapping[str, tuple[str, ...]] = MappingProxyType(
    {
        "body": ("form", "depth"),
        "temperament": ("own_kind", "other_fish"),
        "feeding_style": ("diet", "eats_fish", "level", "pace", "active"),
        "water_ranges": ("temperature", "ph", "hardness"),
    }
)
"""The parts without which a block cannot be used."""

SourceKeys = Annotated[tuple[f.Text, ...], BeforeValidator(f.as_list), Field(min_length=1, max_length=MOST_NAMES)]


class Profile(f.Strict):
    """The traits of one species, with a source for each block."""

    scientific_name: ScientificName = Field(description="genus and epithet, e.g. Betta splendens")
    also_known_as: Names = Field((), description="older or alternative scientific names")
    common_names: Names = Field(description="what keepers call it, best known first", min_length=1)
    family: f.Text = Field(description="scientific family name, e.g. Osphronemidae")
    adult_length: f.LengthRange = Field(description="total length of a well-kept adult, e.g. 45-60 cm")
    record_length: f.Length | None = Field(None, description="longest total length on record, e.g. 75 cm")
    usual_size: f.Length | None = Field(None, description="total length at which the trade usually sells it, e.g. 5 cm")
    in_trade: InTrade | None = Field(
        None, title="For sale", description=f"how often it is for sale: {scales.IN_TRADE.listed}"
    )
    sexes: Sexes | None = Field(None, description="male_length, female_length, females_per_male, males")
    body: Body = Field(description="form at least, and depth where it is known")
    mouth_gape: f.BodyFraction | None = Field(
        None, title="Mouth", description="widest opening, fraction of standard length"
    )
    growth: f.GrowthRange | None = Field(None, description="von Bertalanffy K per year in an aquarium, e.g. 0.4-0.7")
    temperament: Temperament | None = Field(None, description="own_kind, other_fish, nips, stamina, boldness")
    feeding_style: FeedingStyle | None = Field(None, description="diet, eats_fish, level, pace, active")
    schooling: Schooling | None = Field(None, title="Company", description="smallest_group")
    swimming: Swimming | None = Field(None, description=f"one of {scales.SWIMMING.listed}")
    smallest_tank: f.TankLength | None = Field(
        None, description="length of the smallest sensible tank for its smallest group, when grown, e.g. 80 cm"
    )
    water_ranges: WaterRanges | None = Field(None, description="temperature, ph, hardness, salinity")
    jumps: Jumps | None = Field(None, description=f"whether it leaves an open tank: {scales.JUMPS.listed}")
    features: Annotated[tuple[Feature, ...], AfterValidator(f.no_repeats)] = Field(
        (),
        title="Feature",
        description=f"any of {scales.FEATURES.listed}",
        max_length=len(scales.FEATURES.words),
    )
    cautions: tuple[f.Text, ...] = Field((), description="handling or law, in words", max_length=MOST_SENTENCES)
    notes: tuple[f.Text, ...] = Field(
        (), description="where sources differ, and what else a keeper should know", max_length=MOST_SENTENCES
    )
    sources: dict[str, SourceKeys] = Field(
        description="for each block the key of its source in sources.yaml, or memory / common-practice"
    )

    @field_validator("sources")
    @classmethod
    def _known_blocks(cls, value: Mapping[str, tuple[str, ...]]) -> Mapping[str, tuple[str, ...]]:
        known = cls.sourced()
        for name in value:
            if name not in known:
                raise ValueError(f"{quoted(name)} is not a block with sources{did_you_mean(name, known)}")
        return value

    @classmethod
    def blocks(cls) -> tuple[Trait, ...]:
        """The traits as they stand in a profile; some have parts."""
        return tuple(trait for trait in traits(cls) if trait.name not in NO_TRAITS)

    @classmethod
    def sourced(cls) -> tuple[str, ...]:
        """What a source may be named for: every block, and every part of one."""
        blocks = cls.blocks()
        return (*(block.name for block in blocks), *(part.name for block in blocks for part in block.parts))

    def value(self, trait: str) -> Any:
        """What a trait is (`mouth_gape`, `body.width`, `feeding_style.pace`); None when it is unknown."""
        try:
            return _reads(trait)(self)
        except AttributeError:
            return None

    def has(self, trait: str) -> bool:
        """The trait is known: stated, or with a value that holds where nothing is stated."""
        return self.value(trait) is not None

    def states(self, trait: str) -> bool:
        """The profile itself writes the trait, and not as an empty list."""
        block, _, name = trait.rpartition(".")
        model = self.value(block) if block else self
        return model is not None and name in model.model_fields_set and self.value(trait) not in (None, ())

    def source_keys(self, trait: str) -> tuple[str, ...]:
        """Keys of the sources behind a trait: its own, else those of its block; () when unsourced."""
        return self.sources.get(trait) or self.sources.get(trait.partition(".")[0]) or ()

    def usable(self) -> "Profile":
        """The profile without the blocks that lack a needed part, which then count as unknown; the body stays."""
        halves = {part.partition(".")[0]: None for part in self.lacking() if not part.startswith("body.")}
        return self.model_copy(update=halves) if halves else self

    def lacking(self) -> tuple[str, ...]:
        """The needed parts that the blocks which it states lack: `body.depth`."""
        needed = (f"{block}.{part}" for block, parts in NEEDED.items() if self.has(block) for part in parts)
        return tuple(part for part in needed if not self.has(part))

    @property
    def is_hybrid(self) -> bool:
        """It is no species but a cross made by breeders, so that no relative tells what it is like."""
        return is_hybrid(self.scientific_name)

    @property
    def name(self) -> str:
        """The best-known common name."""
        return self.common_names[0]
