"""A plan: one tank, its residents, and one or more proposals.

The annotations are evaluated here, once, as in `profiles/profile.py`.
"""

from typing import Annotated, Any

from pydantic import Field

from coswim.profiles import scales
from coswim.text.fields import (
    Concentration,
    Days,
    Drip,
    HardnessRange,
    Length,
    Meals,
    Months,
    PhRange,
    Share,
    Strict,
    TankSize,
    TemperatureRange,
    Text,
    YesNo,
    one_of,
    whole_number,
)

WATERS = ("fresh", "fresh-brackish", "brackish")
FILTERS = ("new", "young", "mature")
FOODS = ("mixed", "floating pellet", "sinking pellet", "frozen", "live", "soft")
HOURS = scales.ACTIVE.words
MOST_FISH = 1000
MOST_GROUPS = 60
"""Groups that are simulated together: the residents and one proposal's. Source: judgement."""
MOST_PROPOSALS = 100


class WaterChange(Strict):
    """How the water is renewed: in batches, by a drip, or both."""

    share: Share = Field(0.25, description="part of the water changed at once, e.g. 25 %")
    every: Days = Field(7.0, description="days between changes, e.g. 7 days")
    drip: Drip = Field(0.0, description="steady exchange, e.g. 0 L/day")
    nitrate_in: Concentration = Field(5.0, description="nitrate (NO3) of the new water, e.g. 5 mg/L")


class Tank(Strict):
    """The aquarium as it stands; a temperature, pH or hardness that moves is written as a range."""

    size: TankSize = Field(description="inside length x width x height, e.g. 180 x 60 x 60 cm")
    temperature: TemperatureRange = Field(description="e.g. 26 C, or 24-27 C when it moves with the seasons")
    ph: PhRange | None = Field(None, description="e.g. 7.0")
    hardness: HardnessRange | None = Field(None, description="general hardness, e.g. 6 dGH")
    salinity: Annotated[str, one_of(WATERS, what="word for salinity")] = Field(
        "fresh", description="one of " + ", ".join(WATERS)
    )
    lid: YesNo = Field(default=True, description="yes or no")
    hiding_places: Annotated[int, whole_number(0, 500)] = Field(2, description="caves, roots, dense plants: a number")
    water_change: WaterChange = Field(WaterChange(), description="share, every, drip, nitrate_in")
    filter: Annotated[str, one_of(FILTERS, what="state of the filter")] = Field(
        "mature", description="one of " + ", ".join(FILTERS)
    )

    @property
    def litres(self) -> float:
        """Gross volume, L."""
        return self.size.litres


class Feeding(Strict):
    """How the tank is fed."""

    meals: Meals = Field(2.0, description="meals a day, e.g. 2 a day")
    food: Annotated[str, one_of(FOODS, what="kind of food")] = Field("mixed", description="one of " + ", ".join(FOODS))
    places: Annotated[int, whole_number(1, 20)] = Field(1, description="feeding places far apart: a number")
    at: Annotated[str, one_of(HOURS, what="feeding hour")] = Field("day", description="one of " + ", ".join(HOURS))


class History(Strict):
    """What this individual has done and suffered so far."""

    tankmates_tried: Annotated[int, whole_number(0, 1000)] = Field(0, description="how many it has lived with")
    tankmates_hurt: Annotated[int, whole_number(0, 1000)] = Field(0, description="how many of them it hurt")
    hurt_by_tankmates: Annotated[int, whole_number(0, 1000)] = Field(0, description="how many of them hurt it")


class GroupEntry(Strict):
    """Group of one species in one entry."""

    species: Text = Field(description="scientific or common name, e.g. saddled bichir")
    count: Annotated[int, whole_number(1, MOST_FISH)] = Field(1, description="how many")
    length: Length = Field(description="present total length, e.g. 38 cm")
    history: History | None = Field(None, description="tankmates_tried, tankmates_hurt, hurt_by_tankmates")
    private: Any = Field(None, description="anything; never leaves the machine in a report", repr=False, exclude=True)


class Proposal(Strict):
    """A named set of fish that might be added together."""

    name: Text = Field(description="what to call it in the report")
    add: tuple[GroupEntry, ...] = Field(
        description="the fish: a list of species, count, length", min_length=1, max_length=MOST_GROUPS
    )


class Plan(Strict):
    """One tank, its residents, and one or more proposals."""

    title: Text | None = Field(None, description="what to call the plan in the report")
    tank: Tank = Field(description="size and temperature at least")
    feeding: Feeding = Field(Feeding(), description="meals, food, places, at")
    residents: tuple[GroupEntry, ...] = Field(
        description="the fish that live there: a list", min_length=1, max_length=MOST_GROUPS
    )
    proposals: tuple[Proposal, ...] = Field(
        (), description="what might be added: a list of name and add", max_length=MOST_PROPOSALS
    )
    horizon: Months = Field(24.0, description="how far to look ahead, e.g. 24 months")
    private: Any = Field(None, description="anything; never leaves the machine in a report", repr=False, exclude=True)

    def assumed(self) -> tuple[str, ...]:
        """What the keeper did not state and coswim therefore takes for granted, in words."""
        wordings = (
            (self.tank, "lid", "a lid"),
            (self.tank, "hiding_places", f"{self.tank.hiding_places} hiding places"),
            (self.tank, "filter", f"a {self.tank.filter} filter"),
            (self.tank, "water_change", f"water changes of {self.tank.water_change.share:.0%} "
             f"every {self.tank.water_change.every:g} days"),
            (self, "feeding", f"{self.feeding.meals:g} meals a day of {self.feeding.food} food by {self.feeding.at}"),
        )  # fmt: skip
        return tuple(words for model, name, words in wordings if name not in model.model_fields_set)
