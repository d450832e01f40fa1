"""A stop rule: a sign to look for, the decision it calls for, and what to do then."""

from __future__ import annotations

from collections.abc import Callable
from enum import StrEnum
from typing import NamedTuple

from coswim.aftercare.watched import Noted, Watched


class Decision(StrEnum):
    """What a keeper does now, mildest first."""

    CARRY_ON = "carry on"
    ACT = "act"
    SEPARATE = "separate now"

    @property
    def severity(self) -> int:
        """0 to 2."""
        return tuple(Decision).index(self)


class Met(NamedTuple):
    """A rule that is met: the observation that decided it, in words, and its entry."""

    words: str
    noted: Noted


class StopRule(NamedTuple):
    """`sign` completes `When ...`; `do` is a sentence; `because` is the finding it follows from, of risk `risk`."""

    topic: str
    decision: Decision
    sign: str
    do: str
    check: Callable[[Watched], Met | None]
    because: str = ""
    risk: int = 0
