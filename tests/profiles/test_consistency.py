"""The library agrees with itself: close relatives have the same words, and what a specialist asked for is answered."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any, NamedTuple

import pytest

from coswim.library.remark import Doubt, explanation
from coswim.profiles.catalog import Catalog
from coswim.profiles.profile import Profile
from coswim.text.quantities import Range

REVIEWED = 197
SMALL_FAMILY = 8
SPINES = frozenset({"locking-spines", "cheek-spines"})


class Rule(NamedTuple):
    """Something in which close relatives agree."""

    trait: str
    of: Callable[[Profile], Any]
    in_families: bool = True


RULES = (
    Rule("jumps", lambda profile: profile.jumps),
    Rule("features", lambda profile: SPINES & {*profile.features}),
    Rule("body.form", lambda profile: profile.body.form, in_families=False),
    Rule("body.form", lambda profile: profile.body.form == "eel-like"),
)


@pytest.fixture(scope="module")
def profiles(catalog: Catalog) -> tuple[Profile, ...]:
    return tuple(catalog.read(entry) for entry in catalog.entries.values())


def circles(profiles: tuple[Profile, ...], rule: Rule) -> Iterator[list[Profile]]:
    """The species of each genus, and of each small family."""
    by_name: dict[str, list[Profile]] = {}
    for profile in profiles:
        by_name.setdefault(profile.scientific_name.partition(" ")[0], []).append(profile)
        if rule.in_families:
            by_name.setdefault(profile.family, []).append(profile)
    yield from (found for found in by_name.values() if 1 < len(found) <= SMALL_FAMILY)


def says_why(profile: Profile, trait: str) -> bool:
    return bool(explanation(profile, Doubt((trait,), "")))


@pytest.mark.parametrize("rule", RULES, ids=lambda rule: rule.trait)
def test_close_relatives_agree_or_a_note_says_why(profiles: tuple[Profile, ...], rule: Rule) -> None:
    """Those who differ from most of their relatives need the note; of two even halves, one."""
    silent = {}
    for circle in circles(profiles, rule):
        unexplained = [rule.of(profile) for profile in circle if not says_why(profile, rule.trait)]
        if len(Counter(unexplained)) > 1:
            silent[circle[0].scientific_name] = unexplained
    assert silent == {}


def reviewed() -> list[tuple[str, str, str]]:
    """Species, trait and what is accepted, a line of the review each."""
    text = (Path(__file__).parent / "reviewed.txt").read_text(encoding="utf-8").replace("\n  ", " ")
    rows = [line.split(" | ") for line in text.splitlines() if line and not line.startswith("#")]
    return [(species, trait, accepted) for trait, accepted, names in rows for species in names.split(", ")]


def answered(profile: Profile, trait: str, accepted: str) -> bool:
    if accepted == "noted":
        return says_why(profile, trait)
    value = getattr(profile, trait) if trait == "cautions" else profile.value(trait)
    if isinstance(value, Range):
        return accepted == f"{value.low:g}-{value.high:g}"
    if isinstance(value, tuple):
        asked = (word.split(" ", 1) for word in accepted.split(", "))
        return all((word in " ".join(value)) == (verb == "with") for verb, word in asked)
    return value in accepted.split(", ")


def test_every_line_of_the_review_is_answered(catalog: Catalog) -> None:
    """common practice, no source: what one specialist asked for; a profile may differ where its notes say why."""
    lines = reviewed()
    assert len(lines) == REVIEWED
    assert [line for line in lines if not answered(catalog.read(catalog.find(line[0])), *line[1:])] == []
