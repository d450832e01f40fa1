"""One group of fish through all draws and months: how long, how deep, how wide a mouth, how heavy."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

import numpy as np

from coswim.arrays import Floats
from coswim.biology import body, growth, mouth
from coswim.plans.plan import GroupEntry, History
from coswim.profiles import scales
from coswim.profiles.profile import Profile, Temperament
from coswim.simulation.draws import Draws
from coswim.text.quantities import Range

MM_PER_CM = 10.0
MONTHS_PER_YEAR = 12.0
RANGE_SIGMAS = 3.29  # a range is read as the middle 90 % of individuals: 2 x 1.645 standard deviations
EVEN_SPREAD = np.sqrt(3.0)  # half width, in standard deviations, of an even spread
FALLBACK_GROWTH = Range(0.4, 1.2)  # only keeps arrays whole; what needs an unknown growth is not rated
FALLBACK_GAPE = Range(0.05, 0.12)  # likewise
PEACEFUL = Temperament.model_construct(own_kind="peaceful", other_fish="peaceful", nips="never", stamina="average")
"""Only keeps arrays whole; what needs an unknown temperament is not rated."""
COMPARED = ("key", "apart", "count", "start_length", "is_resident", "history", "temperature", "gape_is_measured")


@dataclass(frozen=True, eq=False)
class Group:
    """A group of one species; its arrays are draws × months unless said otherwise.

    One individual stands for the whole group in each draw. `apart` is a pattern for its name that tells it
    from another group of its species: `new {}`, `{} of 12 cm`.
    """

    key: str
    profile: Profile
    count: int
    start_length: float
    is_resident: bool
    history: History
    temperature: float
    months: Floats
    draws: Draws
    gape_is_measured: bool
    apart: str = "{}"

    def or_same(self, other: Group | None) -> Group:
        """The other group where both are alike in every respect, so that its arrays are used again."""
        if other is None or self.draws is not other.draws or self.profile is not other.profile:
            return self
        alike = all(getattr(self, name) == getattr(other, name) for name in COMPARED)
        return other if alike and len(self.months) == len(other.months) else self

    @property
    def name(self) -> str:
        """What a keeper calls one of them."""
        return self.profile.name

    @property
    def temperament(self) -> Temperament:
        """As the profile has it; peaceful where it is not known."""
        return self.profile.temperament or PEACEFUL

    @property
    def stamina(self) -> float:
        """How much chasing it takes before it fails, over an average fish."""
        return scales.STAMINA.number(self.temperament.stamina)

    @property
    def eats_fish(self) -> str:
        """Its appetite for fish: `no`, `small` or `any that fit`; `no` where it is not known."""
        style = self.profile.feeding_style
        return style.eats_fish if style else "no"

    @property
    def hunts(self) -> bool:
        """It takes any fish that its mouth allows."""
        return self.eats_fish == "any that fit"

    @property
    def folds(self) -> bool:
        """Its body folds in a mouth, so that its length keeps nobody from swallowing it."""
        return self.profile.body.form == "eel-like"

    def uniform(self, trait: str) -> Floats:
        """Where this group's individual stands within a trait's spread, 0 to 1, shape (draws,)."""
        return self.draws.uniform(self.key, trait)

    def normal(self, trait: str) -> Floats:
        """The same as a standard normal number, shape (draws,)."""
        return self.draws.normal(self.key, trait)

    def within(self, span: Range, trait: str) -> Floats:
        """An evenly spread value of a range, shape (draws,)."""
        return span.low + (span.high - span.low) * self.uniform(trait)

    @cached_property
    def total_length(self) -> Floats:
        """cm, from its present length towards the drawn adult length."""
        profile = self.profile
        rate = self.within(profile.growth or FALLBACK_GROWTH, "growth")
        if profile.water_ranges:
            rate = rate * growth.temperature_factor(self.temperature, middle=profile.water_ranges.temperature.middle)
        return growth.length_after(
            self.start_length,
            self.months / MONTHS_PER_YEAR,
            asymptote=self.within(profile.adult_length, "adult_length")[:, None],
            rate=rate[:, None],
        )

    @property
    def standard_fraction(self) -> float:
        """Standard over total length."""
        shape = self.profile.body
        return shape.standard_length or body.STANDARD_LENGTH_BY_FORM[shape.form]

    @cached_property
    def standard_length(self) -> Floats:
        """cm."""
        return self.total_length * self.standard_fraction

    @cached_property
    def depth_fraction(self) -> Floats:
        """Depth over standard length, shape (draws,)."""
        return self.within(self.profile.body.depth, "depth")

    @cached_property
    def girth_fraction(self) -> Floats:
        """The larger of depth and width, over standard length, shape (draws,)."""
        shape = self.profile.body
        wide = (
            self.within(shape.width, "width") if shape.width else self.depth_fraction * body.WIDTH_BY_FORM[shape.form]
        )
        return np.maximum(self.depth_fraction, wide)

    @cached_property
    def depth_mm(self) -> Floats:
        """Body depth, mm."""
        return self.standard_length * self.depth_fraction[:, None] * MM_PER_CM

    @cached_property
    def girth_mm(self) -> Floats:
        """The larger of depth and width, mm: what a mouth must pass."""
        return self.standard_length * self.girth_fraction[:, None] * MM_PER_CM

    @cached_property
    def gape_fraction(self) -> Floats:
        """Gape over standard length, shape (draws,); individuals differ by the profile's range or more."""
        span = self.profile.mouth_gape or FALLBACK_GAPE
        spread = mouth.GAPE_CV["measured" if self.gape_is_measured else "guessed"]
        sigma = max(spread, np.log(span.high / span.low) / RANGE_SIGMAS)
        place = EVEN_SPREAD * (2 * self.uniform("gape") - 1)
        return np.asarray(np.sqrt(span.low * span.high) * np.exp(sigma * place))

    @cached_property
    def gape_mm(self) -> Floats:
        """Widest opening of the mouth, mm."""
        return self.standard_length * self.gape_fraction[:, None] * MM_PER_CM

    @cached_property
    def stretch(self) -> Floats:
        """How much mouth and prey give, 1.0 to 1.3, shape (draws,)."""
        return self.within(Range(*mouth.STRETCH), "stretch")

    def weight_at(self, total_length: Floats) -> Floats:
        """What one of that length weighs, g."""
        own = self.profile.body.weight
        log_a, b = body.WEIGHT_PRIORS[self.profile.body.form]
        a, b = (own.a, own.b) if own else (10**log_a, b)
        return body.weight(total_length, a=a, b=b)

    def forget(self) -> None:
        """Let go of its arrays, which are most of what a scene keeps; they are made again when they are asked for."""
        for name in [name for name in vars(self) if isinstance(getattr(type(self), name, None), cached_property)]:
            del vars(self)[name]


def group_keys(entries: list[tuple[GroupEntry, Profile, bool]]) -> list[str]:
    """A key for each entry that does not depend on the order of the plan.

    Groups of one species and role are numbered by length, count and history.
    """

    def rank(item: tuple[GroupEntry, Profile, bool]) -> tuple[str, str, float, int, tuple[int, ...]]:
        entry, profile, is_resident = item
        past = entry.history or History()
        record = (past.tankmates_tried, past.tankmates_hurt, past.hurt_by_tankmates)
        return ("resident" if is_resident else "newcomer", profile.scientific_name, entry.length, entry.count, record)

    seen: dict[tuple[str, str], int] = {}
    keys: dict[int, str] = {}
    for index in sorted(range(len(entries)), key=lambda i: rank(entries[i])):
        role, species = rank(entries[index])[:2]
        seen[role, species] = number = seen.get((role, species), 0) + 1
        keys[index] = f"{role}|{species}|{number}"
    return [keys[index] for index in range(len(entries))]
