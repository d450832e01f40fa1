"""Who fits into whose mouth, through whole screenings."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from coswim.profiles.catalog import Catalog
from coswim.screening import Screening
from coswim.verdict.rating import Finding

Screen = Callable[..., Screening]
TANK = "tank: {size: 150 x 60 x 60 cm, temperature: 25 C, ph: 7, hardness: 8 dGH}\n"


def plan(resident: str, newcomer: str) -> str:
    """A plan of two groups, each `count species, length`."""

    def group(text: str) -> str:
        count, rest = text.split(" ", 1)
        species, length = rest.rsplit(", ", 1)
        return f"{{species: {species}, count: {count}, length: {length}}}"

    return f"{TANK}residents: [{group(resident)}]\nproposals: [{{name: p, add: [{group(newcomer)}]}}]\n"


def found(screening: Screening, eater: str) -> Finding | None:
    """The gape-fit finding in which `eater` eats."""
    findings = screening.proposals[0].findings
    return next(
        (f for f in findings if f.found.hazard == "gape-fit" and f.found.doer and f.found.doer.name == eater), None
    )


def likelihood(screening: Screening, eater: str) -> float:
    finding = found(screening, eater)
    return finding.likelihood or 0.0 if finding else 0.0


@pytest.mark.parametrize(
    ("resident", "newcomer", "eater", "low", "high"),
    [
        # common practice, no source: the classic accidents, and pairs that are kept together for years
        ("1 oscar, 20 cm", "10 neon tetra, 3 cm", "oscar", 0.9, 1),
        ("1 silver arowana, 40 cm", "6 silver dollar, 5 cm", "silver arowana", 0.5, 1),
        ("4 freshwater angelfish, 13 cm", "10 neon tetra, 2.5 cm", "freshwater angelfish", 0.2, 1),
        ("4 freshwater angelfish, 7 cm", "10 black skirt tetra, 4 cm", "freshwater angelfish", 0, 0.05),
        ("6 neon tetra, 3 cm", "1 oscar, 6 cm", "oscar", 0.5, 1),  # the newcomer grows and eats the residents
        ("1 oscar, 25 cm", "5 silver dollar, 13 cm", "oscar", 0, 0.05),
        ("8 ember tetra, 2 cm", "6 harlequin rasbora, 3 cm", "harlequin rasbora", 0, 0),
        ("6 bronze corydoras, 5 cm", "10 neon tetra, 3 cm", "bronze corydoras", 0, 0),
    ],
)
def test_who_eats_whom(screened: Screen, resident: str, newcomer: str, eater: str, low: float, high: float) -> None:
    assert low <= likelihood(screened(plan(resident, newcomer)), eater) <= high


def test_the_window_closes_when_the_prey_outgrows_the_mouth(screened: Screen) -> None:
    finding = found(screened(plan("1 saddled bichir, 38 cm", "8 tinfoil barb, 10 cm")), "saddled bichir")
    assert finding is not None
    assert finding.found.to_month is not None
    assert 0 < finding.found.to_month < 24
    assert any("would no longer fit" in reason for reason in finding.found.because)


def test_locked_spines_keep_most_prey_out(screened: Screen) -> None:
    """published: 88 % of intact channel catfish survived a bass's mouth (Bosher, Newton & Fine 2006)."""
    spiny = likelihood(screened(plan("1 oscar, 15 cm", "6 bronze corydoras, 5 cm"), draws=1000), "oscar")
    bare = likelihood(screened(plan("1 oscar, 15 cm", "6 rosy barb, 5 cm"), draws=1000), "oscar")
    assert spiny < bare


@settings(max_examples=12, deadline=None)
@given(st.floats(3, 14), st.floats(0.2, 8))
def test_a_longer_newcomer_is_never_more_likely_to_be_swallowed(screened: Screen, length: float, more: float) -> None:
    def odds(size: float) -> float:
        return likelihood(
            screened(plan("1 saddled bichir, 38 cm", f"6 tinfoil barb, {size:.2f} cm"), draws=120), "saddled bichir"
        )

    assert odds(length + more) <= odds(length)


@settings(max_examples=12, deadline=None)
@given(st.floats(8, 30), st.floats(0.2, 6))
def test_a_larger_predator_never_lowers_the_likelihood(screened: Screen, length: float, more: float) -> None:
    def odds(size: float) -> float:
        return likelihood(screened(plan(f"1 oscar, {size:.2f} cm", "6 rosy barb, 5 cm"), draws=120), "oscar")

    assert odds(length + more) >= odds(length)


def test_who_only_snaps_up_small_fish_leaves_longer_ones_alone(screened: Screen) -> None:
    """derived: the word `small` tries up to 0.3 of its own length; angelfish of 13 cm grow no longer than 18."""
    finding = found(screened(plan("4 freshwater angelfish, 13 cm", "10 zebrafish, 5.5 cm")), "freshwater angelfish")
    assert finding is None or finding.likelihood == 0


def test_no_length_is_called_safe_that_is_eaten(screened: Screen) -> None:
    """An arowana folds an eel of its own length, so no eel is too long for it."""
    reasons = " ".join(found_reasons(screened(plan("1 silver arowana, 60 cm", "1 fire eel, 20 cm")), "silver arowana"))
    assert "would no longer fit" not in reasons


def found_reasons(screening: Screening, eater: str) -> tuple[str, ...]:
    finding = found(screening, eater)
    assert finding is not None
    return finding.found.because


def test_what_needs_an_unknown_growth_is_not_rated(
    screened: Screen, catalog: Catalog, monkeypatch: pytest.MonkeyPatch
) -> None:
    oscar = catalog.profile("oscar").model_copy(update={"growth": None})
    monkeypatch.setattr(
        Catalog, "profile", lambda _, name: oscar if "oscar" in name else catalog.read(catalog.find(name))
    )
    proposal = screened(plan("1 oscar, 20 cm", "10 neon tetra, 3 cm")).proposals[0]
    missing = [one.found.missing for one in proposal.unrated if one.found.hazard == "gape-fit"]
    assert missing == ["oscar: the profile does not state growth"]
