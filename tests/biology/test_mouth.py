"""What fits into a mouth, held against published predators and prey."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from numpy.typing import ArrayLike, NDArray

from coswim.biology import mouth
from coswim.profiles.catalog import Catalog

MIDDLE_STRETCH = sum(mouth.STRETCH) / 2
ROACH_DEPTH = 0.324 * 0.826  # published: Brofeldt 1917, depth over standard, standard over total length
PIKE_STANDARD, PERCH_STANDARD = 0.871, 0.867  # published: Brofeldt 1917
FLATHEAD_MM = ((300, 37.1), (600, 79.5), (900, 133.4))  # published: gape width, 123 exp(0.0008 TL) - 119.3
sizes = st.floats(0.5, 300)
stretches = st.floats(*mouth.STRETCH)


def fits(cross_section: float, gape: float, *, stretch: ArrayLike, length_ratio: float) -> NDArray[np.bool_]:
    """It goes in."""
    return mouth.tightness(cross_section, gape, stretch=stretch, length_ratio=length_ratio) <= 1


@pytest.mark.parametrize(
    ("perch_mm", "roach_mm"),
    # published: Brabrand 2001, Ecol. Freshw. Group 10:97-104, longest roach = 0.478 L + 1.829; model within 20 %
    [(30, 16.17), (60, 30.51)],
)
def test_longest_roach_that_a_perch_swallows(catalog: Catalog, perch_mm: float, roach_mm: float) -> None:
    """Perch are not in the library: the gape of the perch-like largemouth bass stands for theirs (published)."""
    gape = catalog.profile("largemouth bass").mouth_gape
    assert gape is not None
    assert 0.478 * perch_mm + 1.829 == pytest.approx(roach_mm, abs=0.005)
    longest = mouth.longest_prey(
        gape.middle * PERCH_STANDARD * perch_mm,
        cross_section_per_length=ROACH_DEPTH,
        predator_length=perch_mm,
        stretch=MIDDLE_STRETCH,
    )
    assert float(longest) == pytest.approx(roach_mm, rel=0.20)


def test_gape_of_a_pike() -> None:
    """Published: 38.9 mm at 400 mm, Nilsson & Broenmark 2000, Oikos 88:539-546 (second-hand), within 10 %.

    As a fraction of standard length: 0.113, Dunic & Baum 2017 and check figures for fresh water.
    """
    by_fraction = 0.113 * PIKE_STANDARD * 400
    assert by_fraction == pytest.approx(38.9, rel=0.10)


def test_pike_eat_fish_deeper_than_their_gape() -> None:
    """Published: the same study found prey larger than the gape; the stretch lets a third of them in, not more."""
    deeper = fits(38.9 * 1.2, 38.9, stretch=np.array(mouth.STRETCH), length_ratio=0.4)
    assert deeper.tolist() == [False, True]
    assert not fits(38.9 * 1.31, 38.9, stretch=mouth.STRETCH[1], length_ratio=0.4)


def test_larval_bass() -> None:
    """Published: Timmerman, Annett & Bailey 2000, Trans. Am. Fish. Soc. 129:618-623, bass of 40 mm.

    Gape 4.551 mm, body height 4.520 mm: the mouth passes a body as high as its own, yet not its own length.
    """
    gape, height, shoulder = 0.117 * 40 - 0.129, 0.082 * 40 + 1.24, 0.079 * 40 + 0.712
    assert (round(gape, 3), round(height, 3), round(shoulder, 3)) == (4.551, 4.520, 3.872)
    assert fits(height, gape, stretch=1.0, length_ratio=0.6)
    assert not fits(height, gape, stretch=1.0, length_ratio=1.0)


def test_depth_of_the_deepest_prey() -> None:
    """Published: grouper 0.27 of its standard length (Mihalitsis & Bellwood 2017, PLoS ONE 12:e0184679), within 0.03.

    From the median gape of fish eaters, 0.238 (Dunic & Baum 2017, J. Anim. Ecol. 86:577-589).
    """
    assert pytest.approx(0.27, abs=0.03) == 0.238 * MIDDLE_STRETCH


def test_mouths_follow_the_feeding_guild(catalog: Catalog) -> None:
    """Published order: fish, invertebrates, plankton, grazing (0.238, 0.160, 0.099, 0.084), Dunic & Baum 2017.

    Their figures are of reef fish; freshwater mouths lie lower, so only the order is held against the library.
    """
    guilds: dict[str, list[float]] = {"piscivore": [], "insectivore": [], "plankton": [], "algae": []}
    for entry in catalog.entries.values():
        profile = catalog.read(entry)
        if profile.mouth_gape and profile.feeding_style and profile.feeding_style.diet in guilds:
            guilds[profile.feeding_style.diet].append(profile.mouth_gape.middle)
    medians = [float(np.median(gapes)) for gapes in guilds.values()]
    assert medians == sorted(medians, reverse=True)
    assert len(set(medians)) == len(medians)


def test_spread_of_gape_within_a_species() -> None:
    """Published: coefficient of variation 0.16-0.20, Dunic & Baum 2017."""
    mouths = mouth.individual((np.arange(10_000) + 0.5) / 10_000)
    assert 0.16 <= mouths.std() / mouths.mean() <= 0.20


def test_a_guess_spreads_wider_than_a_measurement() -> None:
    places = np.linspace(0, 1, 11)
    published = mouth.of_kind(places, low=0.14, high=0.18)
    guessed = mouth.of_kind(places, low=0.14, high=0.18, wider=mouth.GUESS_WIDENS)
    assert (published[0], published[-1]) == pytest.approx((0.14, 0.18))
    assert guessed[0] < published[0] < published[-1] < guessed[-1]


@pytest.mark.parametrize(("catfish_in", "bass_in"), [(28, 15), (39, 24), (47, 30)])
def test_longest_bass_that_a_flathead_catfish_takes(catalog: Catalog, catfish_in: float, bass_in: float) -> None:
    """Published: Slaughter & Jacobson 2008, N. Am. J. Fish. Manage. 28:198-202 (second-hand), within 20 %.

    The largest is limited by the length of a prey and not by its depth, with no rule of its own.
    """
    for length, gape in FLATHEAD_MM:
        assert 123 * np.exp(0.0008 * length) - 119.3 == pytest.approx(gape, abs=0.05)
    bass = catalog.profile("largemouth bass").body
    assert bass.standard_length is not None
    catfish_mm = catfish_in * 25.4
    slimness = bass.depth.middle * bass.standard_length
    longest = mouth.longest_prey(
        123 * np.exp(0.0008 * catfish_mm) - 119.3,
        cross_section_per_length=slimness,
        predator_length=catfish_mm,
        stretch=MIDDLE_STRETCH,
    )
    assert float(longest) / 25.4 == pytest.approx(bass_in, rel=0.20)


@pytest.mark.parametrize(
    ("part", "low", "high"),
    # published shape: cheapest to handle at half to three quarters of the largest, Hoyle & Keast 1987 (from memory)
    [(0.5, 1, 1), (0.6, 1, 1), (0.75, 0.2, 0.5), (0.9, 0.01, 0.1), (1.0, 0, 0), (1.3, 0, 0)],
)
def test_prey_is_taken_less_gladly_towards_the_limit(part: float, low: float, high: float) -> None:
    assert low <= float(mouth.readiness(part, full_to=0.6)) <= high


@pytest.mark.parametrize("ratio", [0.30, 0.35, 0.40, 0.45])
def test_readiness_follows_captures_over_handling(ratio: float) -> None:
    """Published: success = 0.861 - 1.82 PPR, handling = 0.339 exp(11.9 PPR), striped bass (Hartman 2000)."""
    limit = 0.861 / 1.82
    gain = [(0.861 - 1.82 * at) / (0.339 * np.exp(11.9 * at)) for at in (0.6 * limit, ratio)]
    assert float(mouth.readiness(ratio / limit, full_to=0.6)) == pytest.approx(gain[1] / gain[0], abs=0.01)


def test_longest_prey_seen_in_the_field_is_allowed() -> None:
    """Published: 0.59, perch, Doerner & Wagner 2003; 99th percentile 0.32-0.46, Gaeta et al. 2018, PLoS ONE 13."""
    assert 0.59 < mouth.LONGEST_PREY < 0.7


def test_prey_that_is_best_to_handle_fits_with_room(catalog: Catalog) -> None:
    """Published: 0.29 of the bass's length, bluegill, Hoyle & Keast 1987 (citation from memory)."""
    bass, bluegill = catalog.profile("largemouth bass"), catalog.profile("bluegill")
    assert bass.mouth_gape is not None
    assert bass.body.standard_length is not None
    assert bluegill.body.standard_length is not None
    gape = bass.mouth_gape.middle * bass.body.standard_length * 300
    depth = bluegill.body.depth.middle * bluegill.body.standard_length * 0.29 * 300
    assert fits(depth, gape, stretch=1.0, length_ratio=0.29)


@given(sizes, sizes, stretches, st.floats(0.01, 1.5), st.floats(1, 3))
@settings(deadline=None, max_examples=100)
def test_a_longer_prey_never_fits_where_a_shorter_did_not(
    girth: float, gape: float, stretch: float, ratio: float, times: float
) -> None:
    shorter = fits(girth, gape, stretch=stretch, length_ratio=ratio)
    longer = fits(girth * times, gape, stretch=stretch, length_ratio=ratio * times)
    assert shorter or not longer


@given(sizes, sizes, stretches, st.floats(0.01, 1.5), st.floats(1, 3))
@settings(deadline=None, max_examples=100)
def test_a_larger_mouth_never_takes_less(girth: float, gape: float, stretch: float, ratio: float, times: float) -> None:
    small = fits(girth, gape, stretch=stretch, length_ratio=ratio)
    large = fits(girth, gape * times, stretch=stretch, length_ratio=ratio)
    assert large or not small


@given(sizes, st.floats(0.05, 1), sizes, stretches)
@settings(deadline=None, max_examples=100)
def test_the_longest_prey_is_the_border_of_what_fits(
    gape: float, slimness: float, predator: float, stretch: float
) -> None:
    longest = float(
        mouth.longest_prey(gape, cross_section_per_length=slimness, predator_length=predator, stretch=stretch)
    )
    for length, goes_in in ((longest * 0.999, True), (longest * 1.001, False)):
        assert bool(fits(slimness * length, gape, stretch=stretch, length_ratio=length / predator)) is goes_in


@given(st.floats(0, 1.5), st.floats(0, 0.5), st.floats(0.3, 0.9))
@settings(deadline=None, max_examples=100)
def test_a_tighter_prey_is_never_taken_more_gladly(part: float, more: float, full_to: float) -> None:
    assert mouth.readiness(part + more, full_to=full_to) <= mouth.readiness(part, full_to=full_to) + 1e-6


def test_impossible_sizes_are_refused() -> None:
    with pytest.raises(ValueError, match="low <= high"):
        mouth.of_kind(0.5, low=0.2, high=0.1)
    with pytest.raises(ValueError, match="below 1"):
        mouth.readiness(0.5, full_to=1.0)
    with pytest.raises(ValueError, match="above 0 mm"):
        fits(0, 10, stretch=1, length_ratio=0.3)
    with pytest.raises(ValueError, match="above 0 mm"):
        fits(10, 0, stretch=1, length_ratio=0.3)
    with pytest.raises(ValueError, match="above 0"):
        mouth.longest_prey(10, cross_section_per_length=0, predator_length=30, stretch=1)
