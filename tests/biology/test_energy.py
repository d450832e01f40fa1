"""What a fish needs and loses, held against measured fish."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from coswim.biology import energy

weights = st.floats(0.05, 5000)
degrees = st.floats(5, 35)


def test_maintenance_of_a_small_fish() -> None:
    """Published: 43.2 kJ/kg^0.8/day of gross energy at 27 C, Lupatsch et al. 2013 (clownfish); derived: 43.2 * 0.01^0.8."""
    assert float(energy.maintenance(10, 27)) == pytest.approx(1.085, abs=5e-4)


def test_food_for_maintenance_is_gross_energy_over_that_of_food() -> None:
    """Derived: 1.085 kJ over 20 kJ/g (common practice, 18 to 22), not over the part that can be used."""
    assert float(energy.maintenance_food(10, 27)) == pytest.approx(1.085 / 20, abs=5e-5)


def test_food_for_growth() -> None:
    """Derived: 5.79 kJ/g (Hartman & Brandt 1995) over 60 % of the 75 % of 20 kJ/g that can be used: 0.643 g a g."""
    assert float(energy.growth_food(1)) == pytest.approx(5.79 / (0.6 * 0.75 * 20))
    assert energy.growth_food([0.0, 2.0]).tolist() == pytest.approx([0, 1.287], abs=5e-4)


def test_energy_burnt_leaves_out_what_is_lost_and_what_is_laid_on() -> None:
    """Derived: of 20 kJ/g 15 can be used; all of it is burnt for maintenance, 40 % of it for growth."""
    assert float(energy.burnt(2.0, 0.0)) == pytest.approx(30)
    assert float(energy.burnt(2.0, 1.0)) == pytest.approx(30 + 6)
    laid_on = 1.0 * 20 * energy.USABLE * energy.GROWTH_EFFICIENCY
    assert float(energy.burnt(0.0, 1.0)) + laid_on == pytest.approx(20 * energy.USABLE)


def test_fasting_metabolism() -> None:
    """Published: 0.04643 W^0.7882 T^1.837 kJ/day, Aguilar 2017 (pacu); derived at 100 g and 26 C."""
    assert float(energy.fasting(100, 26)) == pytest.approx(3.005, abs=5e-4)


def test_energy_of_fish_tissue() -> None:
    """Published: 5.79 kJ/g wet at 25 % dry mass, Hartman & Brandt 1995."""
    assert energy.TISSUE_ENERGY == 5.79


@pytest.mark.parametrize(("grams", "percent"), [(10, 6.2), (50, 4.4), (200, 3.3)])
def test_weight_lost_in_the_first_week_without_food(grams: float, percent: float) -> None:
    """Derived from Aguilar 2017 and Hartman & Brandt 1995 at 26 C, good to a factor of 1.5."""
    lost = -100 * 7 * float(energy.daily_change(grams, 26, coverage=0))
    assert percent / 1.5 < lost < percent * 1.5
    assert lost == pytest.approx(percent, rel=0.1)


def test_metabolism_from_cold_to_warm() -> None:
    """Published: ln R = 15.7 - 5.02 (1000/T), Clarke & Johnston 1999, J. Anim. Ecol. 68:893-905; 6.16 and 1.834."""
    ratio = math.exp(5.02 * (1000 / 273.15 - 1000 / 303.15))
    assert ratio == pytest.approx(6.16, abs=0.01)
    assert ratio ** (1 / 3) == pytest.approx(energy.Q10_METABOLISM, abs=0.001)
    assert float(energy.maintenance(10, 30) / energy.maintenance(10, 0)) == pytest.approx(6.16, rel=0.005)


@given(weights, weights, degrees)
@settings(deadline=None, max_examples=60)
def test_a_larger_fish_needs_more_but_less_for_its_weight(one: float, other: float, warmth: float) -> None:
    small, large = sorted((one, other))
    needs = energy.maintenance([small, large], warmth)
    assert needs[0] <= needs[1]
    assert needs[0] / small >= needs[1] / large * (1 - 1e-6)


@given(weights, degrees, st.floats(0, 3), st.floats(0, 3))
@settings(deadline=None, max_examples=60)
def test_a_fish_that_gets_more_loses_less(grams: float, warmth: float, one: float, other: float) -> None:
    less, more = sorted((one, other))
    changes = energy.daily_change(grams, warmth, coverage=np.array([less, more]))
    assert changes[0] <= changes[1]
    assert float(energy.daily_change(grams, warmth, coverage=1)) == 0


@given(weights, degrees, st.floats(0, 1))
@settings(deadline=None, max_examples=60)
def test_nothing_is_gained_on_less_than_maintenance(grams: float, warmth: float, covered: float) -> None:
    assert float(energy.daily_change(grams, warmth, coverage=covered)) <= 0


def test_a_thin_fish_regains_what_the_surplus_holds() -> None:
    """Derived: 10 g at 27 C on twice its maintenance has 1.085 * 0.75 * 0.6 kJ to lay on at 5.79 kJ/g: 0.84 % a day."""
    assert float(energy.daily_change(10, 27, coverage=2)) == pytest.approx(1.085 * 0.45 / 5.79 / 10, rel=1e-3)


MODELS = (  # published parameters as collected with Fish Bioenergetics 4.0 (Deslauriers et al. 2017); derived: the ratios
    ("Lepomis macrochirus", "Kitchell et al. 1974", (3.4, 3.1, 2.7)),
    ("Ameiurus nebulosus", "Hartman et al. 2017", (2.4, 2.6, 2.8)),
    ("Phoxinus spp.", "He 1986; Trudel and Boisclair 1994", (4.2, 3.5)),
    ("Perca fluviatilis", "Karas & Thoresson 1993", (8.6, 7.7)),
    ("Pimephales promelas", "Duffy 1998", (3.4, 2.5)),
    ("Dorosoma cepedianum", "Sebring 2002", (9.1, 8.0, 7.0)),
    ("Gila cypha", "Petersen & Paukert 2005", (4.4, 3.5, 2.6)),
    ("Micropterus salmoides", "Rice et al. 1983", (3.8, 4.0, 4.2)),
    ("Lates niloticus", "Kitchell et al. 1997", (13.5, 12.0, 10.9)),
    ("Channa striatus", "Qin et al. 1997", (2.0, 1.5, 1.2)),
    ("Morone saxatilis", "Hartman and Brandt 1995", (2.1, 2.1, 2.2)),
    ("Oreochromis sp. (tilapia)", "Nitithamyong 1988", (1.9, 1.9, 1.8)),
    ("Gambusia affinis", "Chipps and Wahl 2004", (2.8,)),
    ("Perca flavescens", "Kitchell et al. 1977", (5.3, 4.8, 4.3)),
)
"""Most eaten in a day over maintenance at 1 to 2,000 g and 21 or 25 C, food at 4.2 kJ/g wet."""


def test_the_transcribed_models_have_the_published_quartiles() -> None:
    """Derived from the models: 37 rows of 14 species, quartiles 2.4, 3.4, 4.8."""
    rows = [ratio for _, _, ratios in MODELS for ratio in ratios]
    assert (len(rows), len(MODELS)) == (37, 14)
    assert np.quantile(rows, [0.25, 0.5, 0.75]).tolist() == [2.4, 3.4, 4.8]


def test_the_most_eaten_follows_the_models() -> None:
    """The middle of the kinds to a tenth, each quartile and the ends to a quarter."""
    kinds = [float(np.median(ratios)) for _, _, ratios in MODELS]
    rows = [ratio for _, _, ratios in MODELS for ratio in ratios]
    places = [0.25, 0.5, 0.75]
    model = energy.most_eaten(1.0, place=places)
    assert model.tolist() == pytest.approx([2.1, 3.3, 4.8])
    assert float(model[1]) == pytest.approx(float(np.median(kinds)), rel=0.1)
    for figures in (kinds, rows):
        assert model == pytest.approx(np.quantile(figures, places), rel=0.25)
    assert float(energy.most_eaten(1.0, place=0)) == pytest.approx(min(rows), rel=0.25)
    assert max(kinds) > float(energy.most_eaten(1.0, place=1)) > np.quantile(kinds, 0.9)


@given(st.floats(1e-6, 100), st.floats(0, 1), st.floats(0, 1))
@settings(deadline=None, max_examples=40)
def test_a_greedier_kind_eats_no_less(maintained: float, one: float, other: float) -> None:
    less, more = sorted((one, other))
    most = energy.most_eaten(maintained, place=[less, more])
    assert maintained * (1 - 1e-6) <= most[0] <= most[1]


@pytest.mark.parametrize("grams", [0, -1])
def test_a_fish_without_weight_is_refused(grams: float) -> None:
    with pytest.raises(ValueError, match="above 0"):
        energy.maintenance(grams, 26)
    with pytest.raises(ValueError, match="above 0"):
        energy.fasting(grams, 26)


def test_impossible_input_is_refused() -> None:
    with pytest.raises(ValueError, match="gain"):
        energy.growth_food(-1)
    with pytest.raises(ValueError, match="place"):
        energy.most_eaten(1.0, place=1.1)
