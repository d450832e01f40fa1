"""What a hazard finds: who does what to whom, in which draws, with the figures and reasons that carry it."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from enum import StrEnum
from functools import partial
from typing import NamedTuple, ParamSpec, TypeAlias, TypeVar, overload

import numpy as np

from coswim.arrays import Flags
from coswim.profiles.profile import Profile
from coswim.simulation import phrases
from coswim.simulation.group import Group
from coswim.text import wording


class Consequence(StrEnum):
    """What it does to the fish if it happens, worst first."""

    CATASTROPHIC = "catastrophic"
    CRITICAL = "critical"
    MARGINAL = "marginal"
    NEGLIGIBLE = "negligible"


CONSEQUENCE_MEANINGS = {
    Consequence.CATASTROPHIC: "a fish dies",
    Consequence.CRITICAL: "lasting injury or starvation; they must be separated",
    Consequence.MARGINAL: "heals, or chronic stress",
    Consequence.NEGLIGIBLE: "a nuisance",
}


MOSTLY = 0.5
"""Share of the futures from which a finding says that it is so, and below which it may be. Source: judgement."""


class Outcome(NamedTuple):
    """One consequence and the draws in which it comes to pass, shape (draws,)."""

    consequence: Consequence
    happens: Flags


def outcomes(**happens: Flags) -> tuple[Outcome, ...]:
    """What comes to pass in which draws, by consequence: `outcomes(critical=hurt, marginal=hurt | frightened)`."""
    return tuple(Outcome(Consequence(name), np.asarray(flags)) for name, flags in happens.items())


class Figure(NamedTuple):
    """A number that carries a finding: its key in data (with unit), its words, its value and unit."""

    key: str
    label: str
    value: float
    unit: str


ItemT = TypeVar("ItemT")
ArgsP = ParamSpec("ArgsP")


class Later(Sequence[ItemT]):
    """Reasons or figures that are worked out when they are first looked at; most findings are only counted."""

    def __init__(self, make: Callable[ArgsP, Iterable[ItemT]], *args: ArgsP.args, **named: ArgsP.kwargs) -> None:
        self._make: Callable[[], Iterable[ItemT]] | None = partial(make, *args, **named)
        self._made: tuple[ItemT, ...] = ()

    @property
    def _items(self) -> tuple[ItemT, ...]:
        if self._make is not None:
            self._made, self._make = tuple(self._make()), None
        return self._made

    @overload
    def __getitem__(self, place: int) -> ItemT: ...

    @overload
    def __getitem__(self, place: slice) -> tuple[ItemT, ...]: ...

    def __getitem__(self, place: int | slice) -> ItemT | tuple[ItemT, ...]:
        return self._items[place]

    def __len__(self) -> int:
        return len(self._items)


class Used(NamedTuple):
    """The traits of one species that a finding rests on."""

    profile: Profile
    traits: tuple[str, ...]

    def missing(self) -> list[str]:
        """The traits that the profile does not state."""
        return [trait for trait in self.traits if not self.profile.has(trait)]


def gaps(uses: Iterable[Used]) -> str:
    """What the profiles do not state of the traits that a finding needs, in words; empty when all is known."""
    lines = [
        f"{used.profile.name}: the profile does not state {wording.listed(missing)}"
        for used in uses
        if (missing := used.missing())
    ]
    return "; ".join(dict.fromkeys(lines))


FindingKey: TypeAlias = tuple[str, str, str, str]
"""What tells a finding from all others of a scene: its hazard, who does it, who suffers it, and its topic."""
Trouble: TypeAlias = tuple[str, str, str]
"""What is suffered, whoever does it: the hazard, who suffers (empty for the whole tank), and the topic."""


class Found(NamedTuple):
    """One hazard for one ordered pair or group, before it is rated.

    `doer` is the group that does it. It is None where nobody does (water, space), and where another group
    would bring about the same; `likeliest` is then the likeliest cause. `missing` says what would have to be
    known to rate it, and is empty where it can be rated. What `counts_anyway` counts against whatever is proposed,
    though it is so without it: as the plan stands its own fish cannot live on, so nothing can be welcome.
    """

    hazard: str
    doer: Group | None
    target: Group
    sentence: str
    outcomes: tuple[Outcome, ...] = ()
    because: Sequence[str] = ()
    figures: Sequence[Figure] = ()
    from_month: int | None = None
    to_month: int | None = None
    uses: tuple[Used, ...] = ()
    topic: str = ""
    likeliest: Group | None = None
    missing: str = ""
    counts_anyway: bool = False

    def in_full(self) -> Found:
        """With its reasons and figures worked out, so that nothing is kept for them."""
        return self._replace(because=tuple(self.because), figures=tuple(self.figures))

    @property
    def key(self) -> FindingKey:
        """What tells this finding from all others of its scene."""
        return (self.hazard, self.doer.key if self.doer else "", self.target.key, self.topic)

    @property
    def trouble(self) -> Trouble:
        """Who suffers what, whoever does it; where nobody does, a topic such as spoilt water is the whole tank's."""
        of_tank = self.doer is None and self.topic
        return (self.hazard, "" if of_tank else self.target.key, self.topic)

    @property
    def draws(self) -> int:
        """How many futures it was looked for in."""
        return len(self.outcomes[0].happens) if self.outcomes else 1

    @property
    def blamed(self) -> Group | None:
        """The group that is named as the cause; None where nobody is."""
        return self.doer or self.likeliest

    @property
    def pair(self) -> tuple[Group, Group]:
        """Who does it and who suffers it; ValueError where nobody does it."""
        if self.doer is None:
            raise ValueError(f"{self.hazard}: nobody does it")
        return self.doer, self.target

    @property
    def blamed_label(self) -> str | None:
        """The group that is blamed, as a report calls it; None where nobody is."""
        return phrases.label(self.blamed) if self.blamed else None

    @property
    def target_label(self) -> str:
        """The group that suffers it, as a report calls it."""
        return phrases.label(self.target)


def cannot_rate(
    hazard: str,
    question: str,
    *,
    target: Group,
    uses: tuple[Used, ...],
    doer: Group | None = None,
    topic: str = "",
    missing: str = "",
) -> Found:
    """A finding that says what is not known: `whether the oscar can swallow the barbs`.

    What is missing for it is what the profiles do not state of the traits in `uses`, unless `missing` says otherwise.
    """
    sentence = f"{wording.opening(question)} is not known."
    return Found(hazard, doer, target, sentence, uses=uses, topic=topic, missing=missing or gaps(uses))
