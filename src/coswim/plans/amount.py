"""How much is fed: as needed, a weight of dry food a day, or a part of the fish's weight a day."""

from __future__ import annotations

import re
from dataclasses import dataclass

from coswim.text import quantities as q
from coswim.text.quantities import QuantityError

OF_WEIGHT = re.compile(r"(.{1,60}?)\s*of (?:their|its) weight(?: (?:a|per) day)?")
ALLOWED = "allowed: as needed, e.g. 6 g a day, or 2 % of their weight a day"


@dataclass(frozen=True)
class Amount:
    """Dry food a day: grams, or a part of the weight of all fish; neither is as needed."""

    grams: float | None = None
    part_of_weight: float | None = None

    def __str__(self) -> str:
        if self.grams is not None:
            return f"{self.grams:g} g a day"
        if self.part_of_weight is not None:
            return f"{100 * self.part_of_weight:g} % of their weight a day"
        return "as needed"


AS_NEEDED = Amount()


def parse_amount(text: str) -> Amount:
    """The amount in a keeper's words; QuantityError naming what is allowed.

    >>> parse_amount("6 g a day"), parse_amount("2 % of their weight a day").part_of_weight
    (Amount(grams=6.0, part_of_weight=None), 0.02)
    """
    words = " ".join(text.split()).casefold()
    if words == str(AS_NEEDED):
        return AS_NEEDED
    try:
        if match := OF_WEIGHT.fullmatch(words):
            return Amount(part_of_weight=q.RATION.parse(match[1]))
        return Amount(grams=q.FOOD.parse(words))
    except QuantityError as error:
        raise QuantityError(f"{error}; {ALLOWED}") from None
