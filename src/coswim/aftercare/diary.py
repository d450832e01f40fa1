"""A diary: what a keeper saw of each group, day by day, after the fish moved in.

The annotations are evaluated here, once, as in `profiles/profile.py`.
"""

from datetime import date
from typing import Annotated, NamedTuple, Self

from pydantic import Field, model_validator

from coswim.aftercare import grades
from coswim.text import fields as f
from coswim.text.printable import quoted
from coswim.text.problems import Problem

ATE = ("yes", "some", "no")
CHASED = ("no", "some", "often")
OF_A_GROUP = ("ate", "chased", "damage", "length", "weight")
"""What is seen of a fish, so that an entry must say of which."""

YEARS = (1900, 2200)
"""The years of a tank's life; a calendar needs days before and after its own."""


def parse_date(text: str) -> date:
    """A day written as `2026-01-05`; ValueError saying what is allowed."""
    try:
        day = date.fromisoformat(text.strip())
    except ValueError:
        raise ValueError(f"{quoted(text)} is not a day; write year-month-day, e.g. '2026-01-05'") from None
    if not YEARS[0] <= day.year <= YEARS[1]:
        raise ValueError(f"{quoted(text)} is outside the years {YEARS[0]} to {YEARS[1]}")
    return day


Day = Annotated[date, f.FromText(parse_date, schema={"type": "string", "format": "date", "examples": ["2026-01-05"]})]
KNOWN_PLACE = f.one_of(grades.PLACES, what="place on a fish")
Place = Annotated[str, f.FromText(lambda text: KNOWN_PLACE.parse(grades.place_of(text)), schema=KNOWN_PLACE.schema)]


class Damage(f.Strict):
    """A wound by its grade and place; see `coswim explain damage`."""

    grade: Annotated[int, f.whole_number(0, grades.WORST)] = Field(description="0 none, 1 slight, 2 clear, 3 severe")
    place: Place = Field(description="one of " + ", ".join(grades.PLACES))


class WaterTest(f.Strict):
    """Tests of the tank's water; ammonia as kits show it, NH3 and NH4 together."""

    ammonia: f.Concentration | None = Field(None, description="total ammonia, NH3 and NH4 together, e.g. 0.5 mg/L")
    nitrite: f.Concentration | None = Field(None, description="NO2, e.g. 0.1 mg/L")
    nitrate: f.Concentration | None = Field(None, description="NO3, e.g. 20 mg/L")
    ph: f.Ph | None = Field(None, description="e.g. 7.0")
    temperature: f.Temperature | None = Field(None, description="e.g. 26 C")
    hardness: f.Hardness | None = Field(None, description="general hardness, e.g. 6 dGH")

    @model_validator(mode="after")
    def _says_something(self) -> Self:
        if not self.model_fields_set:
            raise ValueError(f"is empty; write at least one of {', '.join(WaterTest.model_fields)}")
        return self


class DiaryEntry(f.Strict):
    """What was seen on one day: of one group, of the water, or of the whole tank in a note."""

    date: Day = Field(description="the day, e.g. 2026-01-05")
    group: f.Text | None = Field(None, description="which fish, as the plan names them")
    ate: Annotated[str, f.one_of(ATE, what="word for eating")] | None = Field(None, description="yes, some or no")
    chased: Annotated[str, f.one_of(CHASED, what="word for chasing")] | None = Field(
        None, description="whether it is chased: no, some or often"
    )
    damage: Damage | None = Field(None, description="grade and place, e.g. {grade: 1, place: fins}")
    length: f.Length | None = Field(None, description="measured total length, e.g. 12 cm")
    weight: f.Weight | None = Field(None, description="weight of one fish, e.g. 40 g")
    water: WaterTest | None = Field(None, description="ammonia, nitrite, nitrate, ph, temperature, hardness")
    note: f.Text | None = Field(None, description="anything else, in words")

    @model_validator(mode="after")
    def _is_whole(self) -> Self:
        said = [name for name in OF_A_GROUP if getattr(self, name) is not None]
        if said and self.group is None:
            raise ValueError(f"says {', '.join(said)} but not of which fish; add group")
        if not said and self.water is None and self.note is None:
            raise ValueError(f"says nothing; add one of {', '.join((*OF_A_GROUP, 'water', 'note'))}")
        return self


class Diary(NamedTuple):
    """All entries in the order of their days (of one day, as they were written), each with its line.

    `torn` is a last entry that was cut off while it was being written; it takes no part.
    """

    file: str
    entries: tuple[DiaryEntry, ...]
    lines: tuple[int, ...]
    torn: Problem | None = None
