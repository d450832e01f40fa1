"""How bad a wound is: four grades, the same for fins, skin, eyes and flesh.

How to grade: look at the fish from both sides, in good light, at feeding. Grade the worst place, and grade
it the same way each time; a photograph beside the entry keeps you honest. 0 is written down too, since a
fish that was looked at and found whole is worth more than silence.

What a grade asks for: any new damage asks who did it. Grade 2 on an eye, a barbel, the mouth, the gills, the
head or the body does not wait for tomorrow, since it may not heal or will be bitten again. Grade 2 on fins or
scales asks for action today; they grow back once the cause has gone. Grade 3 parts the fish at once.

A fish that is ill, or a wound that turns white, woolly, red at its rim or does not close within days: ask a
veterinarian. coswim names no medicine.

Sources: the four steps follow Noble et al. 2018, welfare indicators for farmed fish (Nofima), and skin wounds
of small fish the zebrafish health glossary of ZFIN (up to a tenth, up to a fifth, more of the body); in
coswim's own words. Which places may wait: judgement.
"""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType
from typing import NamedTuple


class Grade(NamedTuple):
    """One grade: its number, its word, and what it looks like on fins, on scales and skin, and in flesh."""

    number: int
    word: str
    fins: str
    skin: str
    flesh: str


GRADES = (
    Grade(0, "none", "whole", "whole", "well filled"),
    Grade(1, "slight", "a split, or most of the fin left", "single scales gone, a scratch", "perhaps thinner"),
    Grade(2, "clear", "about half of the fin left", "an open place, under a tenth of the body", "plainly thin"),
    Grade(3, "severe", "very little left, or frayed to the base", "a tenth of the body or more", "extremely thin"),
)
"""Worst last. Source: see the module."""
WORST = GRADES[-1].number
MENDING = ("fins", "tail", "scales")
"""Places that grow back when the cause has gone."""
LASTING = ("body", "head", "eye", "barbels", "mouth", "gills", "belly")
"""Places where damage may stay, or is bitten again."""
PLACES = (*MENDING, *LASTING)
OTHER_WORDS: Mapping[str, str] = MappingProxyType(
    {
        "fin": "fins",
        "scale": "scales",
        "skin": "body",
        "side": "body",
        "flank": "body",
        "eyes": "eye",
        "barbel": "barbels",
        "gill": "gills",
        "lip": "mouth",
        "lips": "mouth",
    }
)
"""What keepers also write for a place."""


def place_of(text: str) -> str:
    """The place that a keeper's word stands for; the word itself where it stands for none.

    >>> place_of("barbel"), place_of("eye")
    ('barbels', 'eye')
    """
    return OTHER_WORDS.get(text.strip().casefold(), text.strip().casefold())
