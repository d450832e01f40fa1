"""Stop rules on chasing and damage: what is watched, what is acted upon, and when fish are parted the same day.

Chasing on the first days often ends by itself once places are taken; chasing with wounds, or of a fish that no
longer eats, does not. Source: common practice; the numbers are judgement.
"""

from __future__ import annotations

from functools import partial

from coswim.aftercare import grades
from coswim.aftercare.company import Companion
from coswim.aftercare.feeding_rules import answers, is_hungry, trailing
from coswim.aftercare.signs import Sign
from coswim.aftercare.stop_rule import ACT, PART, Met, of_any_group
from coswim.aftercare.watched import Noted, Watched, days_between

OFTEN_DAYS, OFTEN_SEEN = 7, 3
SOME_DAYS, SOME_SEEN = 21, 3
REFUSED = 2
AGAIN_DAYS = 3
PART_THEM = "Put the divider in, or move the attacker (or the hurt fish), today (see the way out below)"
CALM = (
    "Rearrange the cover so that nobody sees the whole tank, dim the light, feed in two places, have a divider at "
    "hand and look every day"
)
TORN = "fins are torn to the base or a wound is open"
CLEAN = "Change water, look for who did it, add cover, have a divider at hand; look every day until it has closed"


def wounds(seen: Watched, fish: Companion) -> list[Noted]:
    """The last look at each place that was looked at, where it still has damage.

    A look that found a place whole closes it; a later, lower grade is the wound as it stands.
    """
    last = {noted.entry.damage.place: noted for noted in seen.of(fish) if noted.entry.damage}
    return [noted for noted in last.values() if _grade(noted) > 0]


def _grade(noted: Noted) -> int:
    return noted.entry.damage.grade if noted.entry.damage else 0


def _place(noted: Noted) -> str:
    return noted.entry.damage.place if noted.entry.damage else ""


def _worst(seen: Watched, fish: Companion, *, grade: int, places: tuple[str, ...] = grades.PLACES) -> Noted | None:
    found = [noted for noted in wounds(seen, fish) if _grade(noted) >= grade and _place(noted) in places]
    return max(found, key=_grade, default=None)


def _met(fish: Companion, noted: Noted, extra: str = "") -> Met:
    return Met(f"{fish.label}: damage of grade {_grade(noted)} on {_place(noted)}{extra}", noted)


def _grave(seen: Watched, fish: Companion, grade: int, places: tuple[str, ...] = grades.PLACES) -> Met | None:
    found = _worst(seen, fish, grade=grade, places=places)
    return _met(fish, found) if found and not _is_mending(seen, fish, found) else None


def _is_mending(seen: Watched, fish: Companion, wound: Noted) -> bool:
    """It is parted from the others, and its wound is no worse than it was."""
    earlier = [_grade(n) for n in seen.of(fish, ever=True) if _place(n) == _place(wound) and n.line != wound.line]
    return seen.is_parted and bool(earlier) and _grade(wound) <= max(earlier)


def _torn_on(seen: Watched, fish: Companion) -> Met | None:
    found = _worst(seen, fish, grade=2, places=grades.MENDING)
    if found and _last_chased(seen, fish) == "often":
        return _met(fish, found, " and still chased often")
    return _met(fish, found, " and no longer eating") if found and _refuses(seen, fish) else None


def _second(seen: Watched, fish: Companion) -> Met | None:
    if not seen.is_second_attempt:
        return None
    found = _worst(seen, fish, grade=1)
    if found:
        return _met(fish, found, ", after they had been parted once")
    last = _chases(seen, fish)[-1:]
    if last and last[0].entry.chased == "often":
        return Met(
            f"{fish.label} {fish.verb('is', 'are')} chased often again, after they had been parted once", last[0]
        )
    return None


def _chases(seen: Watched, fish: Companion) -> list[Noted]:
    return [noted for noted in seen.of(fish) if noted.entry.chased]


def _last_chased(seen: Watched, fish: Companion) -> str:
    return ([noted.entry.chased or "" for noted in _chases(seen, fish)] or [""])[-1]


def _refuses(seen: Watched, fish: Companion) -> bool:
    return len(trailing(answers(seen, fish), lambda entry: entry.ate == "no")) >= REFUSED


def _often(seen: Watched, fish: Companion) -> list[Noted]:
    """The last entries in an unbroken row that say `often`."""
    return trailing(_chases(seen, fish), lambda entry: entry.chased == "often")


def _starved_by_chasing(seen: Watched, fish: Companion) -> Met | None:
    run = _often(seen, fish)
    if not run or not _refuses(seen, fish):
        return None
    return Met(f"{fish.label} {fish.verb('is', 'are')} chased often and no longer {fish.verb('eats', 'eat')}", run[-1])


def _wounded_by_chasing(seen: Watched, fish: Companion) -> Met | None:
    found = _worst(seen, fish, grade=1, places=(*grades.LASTING, "scales"))
    return _met(fish, found, " and chased often") if found and _often(seen, fish) else None


def _chased_long(seen: Watched, fish: Companion) -> Met | None:
    run = _often(seen, fish)
    if len(run) < OFTEN_SEEN or days_between(run[0], run[-1]) < OFTEN_DAYS:
        return None
    return Met(f"{fish.label} {fish.verb('is', 'are')} chased often for {days_between(run[0], run[-1])} days", run[-1])


def _chased(seen: Watched, fish: Companion) -> Met | None:
    run = _often(seen, fish)
    return Met(f"{fish.label} {fish.verb('is', 'are')} chased often", run[-1]) if run else None


def _worn(seen: Watched, fish: Companion) -> Met | None:
    run = [noted for noted in _chases(seen, fish) if noted.entry.chased != "no"]
    goes_on = len(run) >= SOME_SEEN and days_between(run[0], run[-1]) >= SOME_DAYS and _last_chased(seen, fish) != "no"
    if not goes_on or not is_hungry(seen, fish):
        return None
    return Met(f"{fish.label} {fish.verb('is', 'are')} chased for {days_between(run[0], run[-1])} days", run[-1])


def _clear(seen: Watched, fish: Companion) -> Met | None:
    found = _worst(seen, fish, grade=2)
    return _met(fish, found) if found else None


def _any_lasting(seen: Watched, fish: Companion) -> Met | None:
    found = _worst(seen, fish, grade=1, places=grades.LASTING)
    return _met(fish, found) if found and not found.says(Sign.BETTER) else None


def _again(seen: Watched, fish: Companion) -> Met | None:
    found = _worst(seen, fish, grade=1)
    if found is None or found.says(Sign.BETTER):
        return None
    if _last_chased(seen, fish) in ("some", "often"):
        return _met(fish, found, " and chased")
    earlier = [n for n in seen.of(fish) if 0 < _grade(n) <= _grade(found) and days_between(n, found) > AGAIN_DAYS]
    return _met(fish, found, ", not for the first time") if earlier else None


def _told(seen: Watched, fish: Companion) -> Met | None:
    told = [noted for noted in seen.about(fish) if noted.says(Sign.HURT)]
    if not told:
        return None
    last = told[-1]
    later = [n for n in seen.of(fish) if n.date >= last.date and n.entry.damage] or [
        n for n in seen.about(fish) if n.date > last.date and n.says(Sign.BETTER)
    ]
    if later or last.says(Sign.BETTER):
        return None
    sign = last.says(Sign.HURT)
    return Met(f'{fish.label}: "{sign.words if sign else ""}"', last)


LASTING_PLACES = f"{', '.join(grades.LASTING[:-2])} or {grades.LASTING[-2]}"
RULES = (
    of_any_group("damage", PART, "damage is of grade 3 anywhere", PART_THEM, partial(_grave, grade=grades.WORST), TORN),
    of_any_group(
        "damage", PART, f"damage is of grade 2 on {LASTING_PLACES}", PART_THEM,
        partial(_grave, grade=2, places=grades.LASTING),
    ),
    of_any_group(
        "damage", PART, "fins are at grade 2 and it goes on: chased often, or no longer eating", PART_THEM, _torn_on
    ),
    of_any_group(
        "damage", PART, "they were parted once, and there is chasing often or a new wound", PART_THEM, _second
    ),
    of_any_group("chasing", PART, "a fish is chased often and no longer eats", PART_THEM, _starved_by_chasing),
    of_any_group(
        "chasing", PART, "a fish is chased often and has a wound on more than fins", PART_THEM, _wounded_by_chasing
    ),
    of_any_group("chasing", PART, f"a fish is chased often for {OFTEN_DAYS} days", PART_THEM, _chased_long),
    of_any_group("damage", ACT, "fins or scales are at grade 2", CLEAN, _clear),
    of_any_group("damage", ACT, f"there is any damage on {LASTING_PLACES}", CLEAN, _any_lasting),
    of_any_group("damage", ACT, "slight damage comes again, or comes with chasing", CLEAN, _again),
    of_any_group("damage", ACT, "a note tells of a bite or a wound", CLEAN, _told),
    of_any_group("chasing", ACT, "a fish is chased often", CALM, _chased),
    of_any_group(
        "chasing", ACT, f"chasing goes on for {SOME_DAYS} days and the fish does not eat its fill", CALM, _worn
    ),
)  # fmt: skip
