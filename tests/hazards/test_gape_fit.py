"""Who fits into whose mouth; only this hazard is asked."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from coswim.biology import mouth
from coswim.hazards import gape_fit
from coswim.plans.reading import read_plan
from coswim.profiles.catalog import Catalog
from coswim.simulation.scene import Effort, Scene, build_scene
from coswim.text.quantities import Range
from coswim.verdict.rating import Finding, Unrated, rate

Told = list[Finding | Unrated]
Ask = Callable[..., Told]
TANK = "tank: {size: 150 x 60 x 60 cm, temperature: 25 C, ph: 7, hardness: 8 dGH}\n"


@pytest.fixture(scope="module")
def asked(simulated: Callable[..., Scene], catalog: Catalog) -> Ask:
    """What the hazard says of a plan given as text."""

    def ask(text: str, *, draws: int = 300) -> Told:
        return [told for found in gape_fit.find(simulated(text, draws=draws)) if (told := rate(found, catalog))]

    return ask


def plan(resident: str, newcomer: str) -> str:
    """A plan of two groups, each `count species, length`."""

    def group(text: str) -> str:
        count, rest = text.split(" ", 1)
        species, length = rest.rsplit(", ", 1)
        return f"{{species: {species}, count: {count}, length: {length}}}"

    return f"{TANK}residents: [{group(resident)}]\nproposals: [{{name: p, add: [{group(newcomer)}]}}]\n"


def found(told: Told, eater: str) -> Finding | None:
    """The finding in which `eater` eats."""
    return next((f for f in told if isinstance(f, Finding) and f.found.doer and f.found.doer.name == eater), None)


def likelihood(told: Told, eater: str) -> float:
    finding = found(told, eater)
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
def test_who_eats_whom(asked: Ask, resident: str, newcomer: str, eater: str, low: float, high: float) -> None:
    assert low <= likelihood(asked(plan(resident, newcomer)), eater) <= high


def test_the_window_closes_when_the_prey_outgrows_the_mouth(asked: Ask) -> None:
    finding = found(asked(plan("1 saddled bichir, 38 cm", "8 tinfoil barb, 10 cm")), "saddled bichir")
    assert finding is not None
    assert finding.found.to_month is not None
    assert 0 < finding.found.to_month < 24
    assert any("would no longer fit" in reason for reason in finding.found.because)


def one_is_eaten(told: Told) -> float:
    """The share of draws in which a newcomer ends up in a resident's mouth."""
    flags = [one.found.outcomes[0].happens for one in told if one.found.doer and one.found.doer.is_resident]
    return float(np.any(flags, axis=0).mean()) if flags else 0.0


TIGHT = "Jack Dempsey, 15 cm", "tiger barb, 6 cm"
LOOSE = "oscar, 15 cm", "tiger barb, 6 cm"
SPINY = "oscar, 15 cm", "bronze corydoras, 5 cm"


@pytest.mark.parametrize(("eater", "prey"), [TIGHT, LOOSE, SPINY])
def test_splitting_a_group_changes_nothing(asked: Ask, eater: str, prey: str) -> None:
    """Beyond the spread of the draws, as each part's sizes are drawn by themselves."""

    def share(eaters: list[int], prey_counts: list[int]) -> float:
        def entries(counts: list[int], kind: str) -> str:
            species, length = kind.rsplit(", ", 1)
            return ", ".join(f"{{species: {species}, count: {count}, length: {length}}}" for count in counts)

        text = f"{TANK}residents: [{entries(eaters, eater)}]\nproposals: [{{name: p, add: [{entries(prey_counts, prey)}]}}]\n"
        return one_is_eaten(asked(text, draws=1500))

    whole = share([4], [8])
    for eaters, prey_counts in (([2, 2], [8]), ([1, 3], [8]), ([4], [4, 4]), ([2, 2], [4, 4])):
        assert share(eaters, prey_counts) == pytest.approx(whole, abs=0.05)


@settings(max_examples=12, deadline=None)
@given(st.integers(1, 20), st.integers(1, 20), st.integers(1, 6), st.integers(0, 3))
def test_more_prey_or_eaters_never_lower_it(
    asked: Ask, prey: int, more_prey: int, eaters: int, more_eaters: int
) -> None:
    def odds(eaters: int, prey: int) -> float:
        return one_is_eaten(asked(plan(f"{eaters} {TIGHT[0]}", f"{prey} {TIGHT[1]}"), draws=120))

    assert odds(eaters, prey) <= odds(eaters, prey + more_prey)
    assert odds(eaters, prey) <= odds(eaters + more_eaters, prey)


def test_one_eater_is_bold_towards_all(catalog: Catalog) -> None:
    """The same individual's appetite counts towards every prey: who eats the barbs is who eats the tetras."""
    read = read_plan(
        f"{TANK}residents: [{{species: Jack Dempsey, length: 15 cm}}]\n"
        "proposals: [{name: p, add: [{species: tiger barb, length: 5.5 cm}, {species: rosy barb, length: 5.5 cm}]}]\n",
        "plan.yaml",
        catalog,
    )
    found = list(gape_fit.find(build_scene(read, read.plan.proposals[0], catalog, Effort(draws=2000))))
    one, other = (each.outcomes[0].happens for each in found)
    assert np.mean(one & other) > 2 * one.mean() * other.mean()


def test_hardly_a_hunter_is_born_refusing(asked: Ask) -> None:
    """Small prey of a size that goes in with ease is eaten in every future of two years but three in a hundred.

    Derived: those are the individuals that a record of sparing its tankmates must be able to single out.
    """
    assert likelihood(asked(plan("1 oscar, 20 cm", "8 zebrafish, 3 cm")), "oscar") == pytest.approx(1 - 0.03, abs=0.005)


@pytest.mark.parametrize(("features", "left"), [("[]", 1.0), ("[armoured]", 0.25)], ids=["bare", "armoured"])
def test_a_horizon_of_one_month_is_one_months_chance(catalog: Catalog, features: str, left: float) -> None:
    """Derived: 0.8 (0.3 + 0.7 u) for what goes in with ease, u even above the three in a hundred that never do: 0.51.

    A second month would make it 0.71; the fish meet at month 0, and the last month is the end of the time. Of bony
    plates a quarter of that is left.
    """
    text = plan("1 oscar, 20 cm", "1 zebrafish, 3 cm").replace("3 cm", f"3 cm, this_fish: {{features: {features}}}")
    read = read_plan(f"{text}horizon: 1 month\n", "plan.yaml", catalog)
    scene = build_scene(read, read.plan.proposals[0], catalog, Effort(draws=4000))
    (found,) = (each for each in gape_fit.find(scene) if each.doer is not None and each.doer.is_resident)
    expected = left * 0.8 * (0.3 * 0.97 + 0.35 * (1 - 0.03**2))
    assert float(found.outcomes[0].happens.mean()) == pytest.approx(expected, abs=0.025)


@pytest.mark.parametrize(
    ("longest", "eaten"),
    # published, derived from them: 0.70 of its length, shovelnose (Baras et al. 2011, Aquat. Living Resour. 24:379-390);
    # 0.47 in muskellunge (Bozek, Burri & Frie 1999, N. Am. J. Fish. Manage. 19:258-270)
    [(0.70, True), (0.47, False)],
)
def test_how_long_a_prey_goes_in_is_the_kinds_own(catalog: Catalog, longest: float, eaten: bool) -> None:
    read = read_plan(plan("1 tiger shovelnose catfish, 60 cm", "1 zebrafish, 5 cm"), "plan.yaml", catalog)
    scene = build_scene(read, read.plan.proposals[0], catalog, Effort(draws=200))
    prey, eater = scene.groups
    style = eater.profile.feeding_style
    assert style is not None
    profile = eater.profile.model_copy(
        update={"feeding_style": style.model_copy(update={"longest_prey": longest}), "growth": Range(0.01, 0.01)}
    )
    # a slim prey of 0.6 of its length
    prey = replace(prey, start_length=36.0, profile=prey.profile.model_copy(update={"adult_length": Range(36, 36)}))
    tight = replace(scene, groups=(prey, replace(eater, profile=profile)))
    found = [each for each in gape_fit.find(tight) if each.doer is not None and each.doer.key == eater.key]
    assert bool(found) is eaten


@pytest.mark.parametrize(("prey", "goes_in"), [("30 cm", True), ("120 cm", False)])
def test_a_prey_that_folds_counts_by_its_bulk(catalog: Catalog, prey: str, goes_in: bool) -> None:
    """Derived from the forms' weights: the eel of 30 cm weighs 34 g, that of 120 cm 2.4 kg, a bichir of 45 cm 0.56 kg.

    A quarter of the eater's weight is 0.65 of its length.
    """
    read = read_plan(plan("1 saddled bichir, 45 cm", f"1 fire eel, {prey}"), "plan.yaml", catalog)
    scene = build_scene(read, read.plan.proposals[0], catalog, Effort(draws=200))
    eater = next(group for group in scene.groups if group.is_resident)
    eel = next(group for group in scene.groups if not group.is_resident)
    ratio = float(eater.prey_ratio(eel)[:, 0].max())
    assert ratio < eel.start_length / eater.start_length
    assert (ratio < eater.longest_prey) is goes_in


def test_locked_spines_keep_most_prey_out(asked: Ask) -> None:
    """published: 88 % of intact channel catfish survived a bass's mouth (Bosher, Newton & Fine 2006)."""
    spiny = likelihood(asked(plan("1 oscar, 15 cm", "6 bronze corydoras, 5 cm"), draws=1000), "oscar")
    bare = likelihood(asked(plan("1 oscar, 15 cm", "6 rosy barb, 5 cm"), draws=1000), "oscar")
    assert spiny < bare


def test_where_locked_spines_never_pass_the_fish_is_left_alone(asked: Ask) -> None:
    """Derived: 1.9 x 31 mm is more than 41 mm gives way to."""

    def share(features: str) -> float:
        text = plan("1 oscar, 25 cm", "1 rosy barb, 7 cm").replace("25 cm", "25 cm, this_fish: {mouth: 41 mm}")
        known = f"7 cm, this_fish: {{depth: 31 mm, features: {features}}}"
        return one_is_eaten(asked(f"{text.replace('7 cm', known)}horizon: 1 month\n", draws=1000))

    assert share("[locking-spines]") == 0 < share("[]")


def test_the_length_called_safe_fits_in_one_future_of_twenty(simulated: Callable[..., Scene]) -> None:
    """Derived: the prey scaled to that length, beside the grown eater."""
    found = next(gape_fit.find(simulated(plan("1 oscar, 20 cm", "6 rosy barb, 5 cm"), draws=1000)))
    eater, prey = found.pair
    safe = next(figure.value for figure in found.figures if figure.key == "safe_length_cm")
    tight = mouth.tightness(
        prey.girth_mm[:, -1] * safe / prey.total_length[:, -1],
        eater.widest_gape_mm[:, -1],
        stretch=eater.stretch,
        length_ratio=safe / eater.total_length[:, -1],
        longest=eater.longest_prey,
    )
    assert np.mean(tight <= 1) == pytest.approx(0.05, abs=0.01)


@settings(max_examples=12, deadline=None)
@given(st.floats(3, 14), st.floats(0.2, 8))
def test_a_longer_newcomer_is_never_more_likely_to_be_swallowed(asked: Ask, length: float, more: float) -> None:
    def odds(size: float) -> float:
        return likelihood(
            asked(plan("1 saddled bichir, 38 cm", f"6 tinfoil barb, {size:.2f} cm"), draws=120), "saddled bichir"
        )

    assert odds(length + more) <= odds(length)


@settings(max_examples=12, deadline=None)
@given(st.floats(8, 30), st.floats(0.2, 6))
def test_a_larger_predator_never_lowers_the_likelihood(asked: Ask, length: float, more: float) -> None:
    def odds(size: float) -> float:
        return likelihood(asked(plan(f"1 oscar, {size:.2f} cm", "6 rosy barb, 5 cm"), draws=120), "oscar")

    assert odds(length + more) >= odds(length)


def test_who_only_snaps_up_small_fish_leaves_longer_ones_alone(asked: Ask) -> None:
    """derived: the word `small` tries up to 0.3 of its own length; angelfish of 13 cm grow no longer than 18."""
    finding = found(asked(plan("4 freshwater angelfish, 13 cm", "10 zebrafish, 5.5 cm")), "freshwater angelfish")
    assert finding is None or finding.likelihood == 0


def test_no_length_is_called_safe_that_is_eaten(asked: Ask) -> None:
    """An arowana folds an eel of its own length, so no eel is too long for it."""
    reasons = " ".join(found_reasons(asked(plan("1 silver arowana, 60 cm", "1 fire eel, 20 cm")), "silver arowana"))
    assert "would no longer fit" not in reasons


def found_reasons(told: Told, eater: str) -> tuple[str, ...]:
    finding = found(told, eater)
    assert finding is not None
    return tuple(finding.found.because)


def test_what_needs_an_unknown_growth_is_not_rated(
    asked: Ask, catalog: Catalog, monkeypatch: pytest.MonkeyPatch
) -> None:
    oscar = catalog.profile("oscar").model_copy(update={"growth": None})
    monkeypatch.setattr(
        Catalog, "profile", lambda _, name: oscar if "oscar" in name else catalog.read(catalog.find(name))
    )
    told = asked(plan("1 oscar, 20 cm", "10 neon tetra, 3 cm"))
    missing = [one.found.missing for one in told if isinstance(one, Unrated)]
    assert missing == ["oscar: the profile does not state growth"]
