"""A stop rule: a sign to look for, the decision it calls for, and what to do then."""

from __future__ import annotations

from collections.abc import Callable
from enum import StrEnum
from typing import NamedTuple

from coswim.aftercare.company import Companion
from coswim.aftercare.signs import Sign
from coswim.aftercare.watched import Noted, Watched


class Decision(StrEnum):
    """What a keeper does now, mildest first."""

    CARRY_ON = "carry on"
    ACT = "act"
    SEPARATE = "separate now"


class Met(NamedTuple):
    """A rule that is met: the observation that decided it, in words, and its entry."""

    words: str
    noted: Noted


Check = Callable[[Watched], Met | None]
"""Holds a diary against one rule; None where it is not met."""


class StopRule(NamedTuple):
    """`sign` completes `When ...`; `do` is a sentence; `because` is the finding it follows from, of risk `risk`.

    `plainly` is the sign without grades, for who has not read how damage is graded.
    """

    topic: str
    decision: Decision
    sign: str
    do: str
    check: Check
    plainly: str = ""
    because: str = ""
    risk: int = 0


def of_any_group(
    topic: str,
    decision: Decision,
    sign: str,
    do: str,
    one: Callable[[Watched, Companion], Met | None],
    plainly: str = "",
) -> StopRule:
    """A rule that is met by the first group that meets it."""

    def check(seen: Watched) -> Met | None:
        return next((met for fish in seen.company.fish if (met := one(seen, fish))), None)

    return StopRule(topic, decision, sign, do, check, plainly)


def in_notes(sign: Sign, *, within: int) -> Check:
    """Met by a note of the last so many days that tells of a sign, and to which no later one says `better`."""

    def check(seen: Watched) -> Met | None:
        found = seen.standing(sign, within=within)
        read = found.says(sign) if found else None
        return Met(f'"{read.words}"', found) if read and found else None

    return check
