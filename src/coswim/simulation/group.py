"""One group of fish through all draws and months: how long, how deep, how wide a mouth, how heavy."""

from __future__ import annotations

from dataclasses import dataclass, fields
from functools import cached_property
from typing import TYPE_CHECKING

import numpy as np

from coswim.arrays import Flags, Floats, Indexes
from coswim.biology import body, growth, mouth
from coswim.plans.plan import GroupEntry
from coswim.profiles import scales
from coswim.profiles.profile import Profile, Temperament
from coswim.simulation import measured
from coswim.simulation.draws import Draws
from coswim.simulation.measured import UNMEASURED, Measured
from coswim.text.quantities import MM_PER_CM, MONTHS_PER_YEAR, Box, Range

if TYPE_CHECKING:
    from coswim.simulation.room import SwimmingRoom

FALLBACK_GROWTH = Range(0.4, 1.2)  # only keeps arrays whole; what needs an unknown growth is not rated
FALLBACK_GAPE = Range(0.05, 0.12)  # likewise
FALLBACK_DEPTH = Range(0.2, 0.4)  # likewise
PEACEFUL = Temperament.model_construct(own_kind="peaceful", other_fish="peaceful", nips="never", stamina="average")
"""Only keeps arrays whole; what needs an unknown temperament is not rated."""


@dataclass(frozen=True, eq=False)
class Group:
    """A group of one species; its arrays are draws × months unless said otherwise.

    One individual stands for the whole group in each draw. `apart` is a pattern for its name that tells it
    from another group of its species: `new {}`, `{} of 12 cm`. `believed` picks, for each future, the draw whose
    individual stands in it, where a record makes some more likely than others.
    """

    key: str
    profile: Profile
    count: int
    start_length: float
    is_resident: bool
    temperature: float
    months: Floats
    draws: Draws
    gape_is_published: bool
    lives_there: bool = True
    beaten: int = 0
    apart: str = "{}"
    measured: Measured = UNMEASURED
    believed: Indexes | None = None
    males: int | None = None

    def or_same(self, other: Group | None) -> Group:
        """The other group where both are alike in every respect, so that its arrays are used again."""
        if other is None or self.draws is not other.draws or self.believed is not other.believed:
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
    def mouth_is_known(self) -> bool:
        """Its own mouth was measured, or its profile states its kind's."""
        return self.measured.mouth_mm is not None or self.profile.mouth_gape is not None

    def unmeasured(self, traits: tuple[str, ...]) -> tuple[str, ...]:
        """Those traits for which its species' value stands, as they were not measured on this fish."""
        known = {
            "mouth_gape": self.measured.mouth_mm,
            "body.depth": self.measured.depth_mm,
            "body.width": self.measured.width_mm,
            "body.weight": self.measured.weight_g,
        }
        return tuple(trait for trait in traits if known.get(trait) is None)

    @property
    def jumps(self) -> str:
        """Whether it leaves an open tank; rarely where its profile has no word, which is then not rated."""
        return self.profile.jumps or "rarely"

    @property
    def longest_prey(self) -> float:
        """The longest fish that it swallows, over its own length: its kind's where published, else by the word."""
        style = self.profile.feeding_style
        return (style.longest_prey if style else None) or scales.EATS_FISH.number(self.eats_fish)

    @property
    def folds(self) -> bool:
        """Its body folds in a hunter's mouth, so that its bulk counts and not its length."""
        return self.profile.body.form == "eel-like"

    def uniform(self, trait: str) -> Floats:
        """Where this group's individual stands within a trait's spread, 0 to 1, shape (draws,)."""
        return self._believed(self.draws.uniform(self.key, trait))

    def normal(self, trait: str) -> Floats:
        """The same as a standard normal number, shape (draws,)."""
        return self._believed(self.draws.normal(self.key, trait))

    def _believed(self, values: Floats) -> Floats:
        """Numbers of this individual in the futures that its record lets us believe."""
        return values if self.believed is None else values[self.believed]

    def foremost(self, trait: str) -> Floats:
        """Where the member of the group stands that has most of a trait, 0 to 1, shape (draws,).

        The greatest of so many even draws, so that two groups together are as one of their size.
        """
        return np.asarray(self.uniform(trait) ** (1 / self.count))

    @property
    def drawn(self) -> dict[str, Floats]:
        """What was asked for of its traits so far, to order the futures by; the mouth as a whole."""
        known = {trait: self._believed(values) for trait, values in self.draws.drawn_for(self.key).items()}
        return {**known, "gape": self.gape_fraction} if "gape" in known else known

    def within(self, span: Range, trait: str) -> Floats:
        """An evenly spread value of a range, shape (draws,)."""
        return span.low + (span.high - span.low) * self.uniform(trait)

    @cached_property
    def rooms(self) -> dict[tuple[Box, int], SwimmingRoom]:
        """Its room in each tank beside so many of its kind, as far as it was looked at: see `room.swimming_room`."""
        return {}

    @cached_property
    def total_length(self) -> Floats:
        """cm, from its present length towards the drawn adult length."""
        return self.length_at(self.months)

    @cached_property
    def is_male(self) -> Flags:
        """The draws in which the individual that stands for the group is a male, shape (draws,).

        As the plan says; else half of them, unless it is already longer than one of the sexes gets.
        """
        if self.males is not None:
            return np.asarray(self.uniform("sex") < self.males / self.count)
        male, female = self._lengths_by_sex
        if self.start_length > min(male.high, female.high) and male.high != female.high:
            return np.full(self.draws.number, male.high > female.high)
        return np.asarray(self.uniform("sex") < 1 / 2)

    @property
    def _lengths_by_sex(self) -> tuple[Range, Range]:
        sexes, any_adult = self.profile.sexes, self.profile.adult_length
        return (sexes and sexes.male_length) or any_adult, (sexes and sexes.female_length) or any_adult

    @cached_property
    def asymptote(self) -> Floats:
        """Full-grown total length, by its sex where the sexes differ, cm, shape (draws,)."""
        male, female = self._lengths_by_sex
        if male == female:
            return self.within(male, "adult_length")
        return np.where(self.is_male, self.within(male, "adult_length"), self.within(female, "adult_length"))

    def length_at(self, months: Floats) -> Floats:
        """Total length some months from now, cm, shape (draws, months)."""
        profile = self.profile
        rate = self.within(profile.growth or FALLBACK_GROWTH, "growth")
        if profile.water_ranges:
            rate = rate * growth.temperature_factor(self.temperature, middle=profile.water_ranges.temperature.middle)
        return growth.length_after(
            self.start_length,
            months / MONTHS_PER_YEAR,
            asymptote=self.asymptote[:, None],
            rate=rate[:, None],
        )

    @property
    def standard_fraction(self) -> float:
        """Standard over total length."""
        shape = self.profile.body
        return shape.standard_length or body.STANDARD_LENGTH_BY_FORM[shape.form]

    @property
    def standard_length(self) -> Floats:
        """cm."""
        return self.total_length * self.standard_fraction

    @cached_property
    def depth_fraction(self) -> Floats:
        """Depth over standard length, shape (draws,)."""
        if self.measured.depth_mm is not None:
            return self._as_measured(self.measured.depth_mm, "depth")
        return self.within(self.profile.body.depth or FALLBACK_DEPTH, "depth")

    @cached_property
    def girth_fraction(self) -> Floats:
        """The larger of depth and width, over standard length, shape (draws,)."""
        shape = self.profile.body
        if self.measured.width_mm is not None:
            wide = self._as_measured(self.measured.width_mm, "width")
        elif shape.width:
            wide = self.within(shape.width, "width")
        else:
            wide = self.depth_fraction * body.WIDTH_BY_FORM[shape.form]
        return np.maximum(self.depth_fraction, wide)

    def _as_measured(self, size_mm: float, trait: str) -> Floats:
        """A size measured at its present length, over standard length, as far off as measuring is."""
        now = self.start_length * self.standard_fraction * MM_PER_CM
        return np.asarray(size_mm / now * mouth.individual(self.uniform(f"{trait} as measured"), cv=measured.SPREAD))

    @property
    def depth_mm(self) -> Floats:
        """Body depth, mm."""
        return self.standard_length * self.depth_fraction[:, None] * MM_PER_CM

    @cached_property
    def girth_mm(self) -> Floats:
        """The larger of depth and width, mm: what a mouth must pass."""
        return self.standard_length * self.girth_fraction[:, None] * MM_PER_CM

    @cached_property
    def gape_fraction(self) -> Floats:
        """Gape over standard length of the one that stands for the group, shape (draws,)."""
        return self._gape_fraction(self.uniform("gape"))

    @property
    def gape_mm(self) -> Floats:
        """Widest opening of its mouth, mm."""
        return self.standard_length * self.gape_fraction[:, None] * MM_PER_CM

    @cached_property
    def widest_gape_mm(self) -> Floats:
        """Widest opening of the largest mouth of the group, mm."""
        return self.standard_length * self._gape_fraction(self.foremost("gape"))[:, None] * MM_PER_CM

    def _gape_fraction(self, individual: Floats) -> Floats:
        """As measured on this fish; else its kind's, as far as it is known, and where the individual stands."""
        if self.measured.mouth_mm is not None:
            return self._as_measured(self.measured.mouth_mm, "mouth")
        span = self.profile.mouth_gape or FALLBACK_GAPE
        wider = 1.0 if self.gape_is_published else mouth.GUESS_WIDENS
        place = self._believed(self.draws.uniform(self.profile.scientific_name, "gape"))
        kind = mouth.of_kind(place, low=span.low, high=span.high, wider=wider)
        return np.asarray(kind * mouth.individual(individual))

    @cached_property
    def stretch(self) -> Floats:
        """How much mouth and prey give, 1.0 to 1.3, shape (draws,)."""
        return self.within(Range(*mouth.STRETCH), "stretch")

    def prey_ratio(self, prey: Group) -> Floats:
        """Length of a prey over its own, by bulk where a hunter can fold it, shape (draws, months)."""
        if self.hunts and prey.folds:
            return mouth.bulk_ratio(prey.weight_at(prey.total_length), self.weight_at(self.total_length))
        return prey.total_length / self.total_length

    def weight_at(self, total_length: Floats) -> Floats:
        """What one of that length weighs, g."""
        own = self.profile.body.weight
        log_a, b = body.WEIGHT_PRIORS[self.profile.body.form]
        a, b = (own.a, own.b) if own else (10**log_a, b)
        usual = body.weight(total_length, a=a, b=b)
        if self.measured.weight_g is None:
            return usual
        return usual * (self.measured.weight_g / float(body.weight(self.start_length, a=a, b=b)))


COMPARED = tuple(one.name for one in fields(Group) if one.name not in {"months", "draws", "believed"})
"""What is compared by value; of the months their number, and draws and beliefs are the same ones."""


def group_keys(entries: list[tuple[GroupEntry, Profile, bool]]) -> list[str]:
    """A key for each entry that does not depend on the order of the plan.

    Groups of one species and role are numbered by length, count and what else was said of them.
    """

    def rank(item: tuple[GroupEntry, Profile, bool]) -> tuple[str, str, float, int, str]:
        entry, profile, is_resident = item
        said = f"{entry.males} {entry.this_fish} {entry.lived_with}"
        role = "resident" if is_resident else "newcomer"
        return (role, profile.scientific_name, entry.length or 0.0, entry.count, said)

    seen: dict[tuple[str, str], int] = {}
    keys: dict[int, str] = {}
    for index in sorted(range(len(entries)), key=lambda i: rank(entries[i])):
        role, species = rank(entries[index])[:2]
        seen[role, species] = number = seen.get((role, species), 0) + 1
        keys[index] = f"{role}|{species}|{number}"
    return [keys[index] for index in range(len(entries))]
