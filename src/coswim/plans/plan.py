"""A plan: one tank, its residents, and one or more proposals.

The annotations are evaluated here, once, as in `profiles/profile.py`.
"""

from typing import Annotated, Any

from pydantic import AfterValidator, BeforeValidator, Field

from coswim.plans.amount import AS_NEEDED, Amount, parse_amount
from coswim.plans.this_fish import ThisFish
from coswim.profiles import scales
from coswim.text import fields as f
from coswim.text import wording

WATERS = ("fresh", "fresh-brackish", "brackish")
FILTERS = ("new", "young", "mature")
MIXED = "mixed"
FOODS = (MIXED, "flakes", "floating pellet", "sinking pellet", "frozen", "live", "soft", "greens")
FURNISHINGS = ("bare", "soft plants", "hard roots and rocks")
MOVES_IN = ("last", "together", "first")
OUTCOMES = ("fine", "it chased them", "it hurt them", "it ate them", "they hurt it", "it went hungry")
HOURS = scales.ACTIVE.words
MOST_FISH = 1000
MOST_GROUPS = 60
"""Groups that are simulated together: the residents and one proposal's. Source: judgement."""
MOST_PROPOSALS = 100
MOST_CARRIED = 60


def _mixed_alone(foods: tuple[str, ...]) -> tuple[str, ...]:
    if MIXED in foods and len(foods) > 1:
        raise ValueError("mixed already stands for several foods; write mixed alone, or list the foods")
    return foods


Salinity = Annotated[str, f.one_of(WATERS, what="word for salinity")]
FilterState = Annotated[str, f.one_of(FILTERS, what="state of the filter")]
Furnishing = Annotated[str, f.one_of(FURNISHINGS, what="kind of furnishing")]
Outcome = Annotated[str, f.one_of(OUTCOMES, what="word for the outcome")]


class WaterChange(f.Strict):
    """How the water is renewed: in batches, by a drip, or both."""

    share: f.Share = Field(0.25, description="part of the water changed at once, e.g. 25 %")
    every: f.Days = Field(7.0, description="days between changes, e.g. 7 days")
    drip: f.Drip = Field(0.0, description="steady exchange, e.g. 0 L/day")
    nitrate_in: f.Concentration = Field(5.0, description="nitrate (NO3) of the new water, e.g. 5 mg/L")


class Tank(f.Strict):
    """The aquarium as it stands; a temperature, pH or hardness that moves is written as a range."""

    size: f.TankSize = Field(description="inside length x width x height, e.g. 180 x 60 x 60 cm")
    temperature: f.TemperatureRange = Field(description="e.g. 26 C, or 24-27 C when it moves with the seasons")
    ph: f.PhRange | None = Field(None, description="e.g. 7.0")
    hardness: f.HardnessRange | None = Field(None, description="general hardness, e.g. 6 dGH")
    salinity: Salinity = Field("fresh", description="one of " + ", ".join(WATERS))
    lid: f.YesNo = Field(default=True, description="yes or no")
    hiding_places: Annotated[int, f.whole_number(0, 500)] = Field(2, description="caves, roots, dense plants: a number")
    water_change: WaterChange = Field(WaterChange(), description="share, every, drip, nitrate_in")
    filter: FilterState = Field("mature", description="one of " + ", ".join(FILTERS))
    furnishing: Furnishing = Field("soft plants", description="one of " + ", ".join(FURNISHINGS))
    current: Annotated[str, f.one_of(scales.CURRENT.words, what="strength of current")] = Field(
        "moderate", description=f"one of {scales.CURRENT.listed}"
    )

    @property
    def litres(self) -> float:
        """Gross volume, L."""
        return self.size.litres


class Feeding(f.Strict):
    """How the tank is fed."""

    meals: f.Meals = Field(2.0, description="meals a day, e.g. 2 a day")
    food: Annotated[
        tuple[Annotated[str, f.one_of(FOODS, what="kind of food")], ...],
        BeforeValidator(f.as_list),
        AfterValidator(f.no_repeats),
        AfterValidator(_mixed_alone),
    ] = Field((MIXED,), description="one or a list of " + ", ".join(FOODS), min_length=1)
    amount: Annotated[
        Amount, f.FromText(parse_amount, schema={"type": "string", "examples": ["as needed", "6 g a day"]})
    ] = Field(AS_NEEDED, description="as needed, or e.g. 6 g a day (dry), or 2 % of their weight a day")
    places: Annotated[int, f.whole_number(1, 20)] = Field(1, description="feeding places far apart: a number")
    at: Annotated[str, f.one_of(HOURS, what="feeding hour")] = Field("day", description="one of " + ", ".join(HOURS))
    by_hand: Annotated[tuple[f.Text, ...], BeforeValidator(f.as_list)] = Field(
        (), description="species that are fed with tongs or apart: a list of names"
    )


class LivedWith(f.Strict):
    """Tankmates that this fish has lived with, and how it went."""

    species: f.Text = Field(description="scientific or common name of the tankmates")
    count: Annotated[int, f.whole_number(1, MOST_FISH)] = Field(1, description="how many")
    length: f.Length = Field(description="their total length then, e.g. 9 cm")
    time: f.Stay = Field(description="how long they lived together, e.g. 8 months or 3 weeks")
    outcome: Outcome = Field(description="one of " + ", ".join(OUTCOMES))


class GroupEntry(f.Strict):
    """Group of one species in one entry."""

    species: f.Text = Field(description="scientific or common name, e.g. saddled bichir")
    count: Annotated[int, f.whole_number(1, MOST_FISH)] = Field(1, description="how many")
    length: f.Length | None = Field(
        None, description="present total length, e.g. 38 cm; else the usual size in the trade"
    )
    males: Annotated[int, f.whole_number(0, MOST_FISH)] | None = Field(None, description="how many of them are males")
    this_fish: ThisFish | None = Field(None, description="what you know of it: measured mouth, pace, temper ...")
    lived_with: tuple[LivedWith, ...] = Field((), description="its record: species, count, length, time, outcome")
    private: Any = Field(None, description="anything; never leaves the machine in a report", repr=False, exclude=True)


class Proposal(f.Strict):
    """A named set of fish that might be added together."""

    name: f.Text = Field("", description="what to call it in the report; else its fish")
    moves_in: Annotated[str, f.one_of(MOVES_IN, what="word for the order of moving in")] = Field(
        "last", description="who lives in the tank when the others arrive: " + ", ".join(MOVES_IN)
    )
    add: tuple[GroupEntry, ...] = Field(
        description="the fish: a list of species, count, length", min_length=1, max_length=MOST_GROUPS
    )


class Earlier(f.Strict):
    """What an earlier screening said of a proposal."""

    name: f.Text = Field(description="the proposal")
    risk: Annotated[int, f.whole_number(0, 20)] = Field(description="its risk then")


class Plan(f.Strict):
    """One tank, its residents, and one or more proposals."""

    title: f.Text | None = Field(None, description="what to call the plan in the report")
    tank: Tank = Field(description="size and temperature at least")
    feeding: Feeding = Field(Feeding(), description="meals, food, places, at")
    residents: tuple[GroupEntry, ...] = Field(
        (), description="the fish that live there: a list", max_length=MOST_GROUPS
    )
    proposals: tuple[Proposal, ...] = Field(
        (), description="what might be added: a list of name and add", max_length=MOST_PROPOSALS
    )
    horizon: f.Months = Field(24.0, description="how far to look ahead, e.g. 24 months")
    profiles: tuple[dict[str, Any], ...] = Field(
        (), description="blocks of profiles that differ from the built-in library: a list", max_length=MOST_CARRIED
    )
    earlier: tuple[Earlier, ...] = Field((), description="what an earlier screening said: a list of name and risk")
    private: Any = Field(None, description="anything; never leaves the machine in a report", repr=False, exclude=True)

    def assumed(self) -> tuple[str, ...]:
        """What the keeper did not state and coswim therefore takes for granted, in words."""
        wordings = (
            (self.tank, "lid", "a lid"),
            (self.tank, "hiding_places", f"{self.tank.hiding_places} hiding places"),
            (self.tank, "filter", f"a {self.tank.filter} filter"),
            (self.tank, "water_change", f"water changes of {100 * self.tank.water_change.share:.0f} % "
             f"every {self.tank.water_change.every:g} days"),
            (self, "feeding", f"{self.feeding.meals:g} meals a day of {wording.listed(self.feeding.food)} food "
             f"by {self.feeding.at}"),
        )  # fmt: skip
        return tuple(words for model, name, words in wordings if name not in model.model_fields_set)
