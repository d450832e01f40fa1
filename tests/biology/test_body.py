"""Weights and shapes, held against published tables."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from coswim.biology import body
from coswim.profiles.catalog import Catalog


@pytest.mark.parametrize(
    ("form", "grams"),
    # published: Froese, Thorson & Reyes 2014, J. Appl. Ichthyol. 30:78-85, mass at 10 cm total length
    [("eel-like", 1.175), ("elongated", 5.129), ("fusiform", 12.303), ("short-deep", 20.417)],
)
def test_weight_of_a_fish_of_ten_centimetres(form: str, grams: float) -> None:
    log_a, b = body.WEIGHT_PRIORS[form]
    assert float(body.weight(10, a=10**log_a, b=b)) == pytest.approx(grams, abs=5e-4)


@pytest.mark.parametrize(
    ("length_mm", "grams", "standard", "relative"),
    # published equation: Hillman 1982, bluegill, log10 Ws[g] = -5.374 + 3.316 log10 TL[mm]; the results derived
    [(125, 39, 37.962, 102.733), (95, 13, 15.280, 85.077)],
)
def test_relative_weight_of_bluegill(length_mm: float, grams: float, standard: float, relative: float) -> None:
    expected = float(body.weight(length_mm, a=10**-5.374, b=3.316))
    assert expected == pytest.approx(standard, abs=5e-4)
    assert 100 * grams / expected == pytest.approx(relative, abs=5e-3)


@pytest.mark.parametrize("length_cm", [9.5, 12.5, 18.0])
def test_the_prior_of_deep_fish_is_near_the_standard_weight_of_bluegill(length_cm: float) -> None:
    """Published: Hillman 1982 as above; priors scatter by a factor of about 1.5."""
    log_a, b = body.WEIGHT_PRIORS["short-deep"]
    standard = float(body.weight(length_cm * 10, a=10**-5.374, b=3.316))
    assert 1 / 1.5 < float(body.weight(length_cm, a=10**log_a, b=b)) / standard < 1.5


BROFELDT = [  # published: Brofeldt 1917 (159 fish, Laengelmaevesi): standard over total length, width over depth
    pytest.param("short-deep", 0.789, 0.36, 0.05, id="bream"),
    pytest.param("fusiform", 0.826, 0.55, 0.05, id="roach"),
    pytest.param("fusiform", 0.867, 0.60, 0.05, id="perch"),
    pytest.param("elongated", 0.871, 0.66, 0.10, id="pike, whose form also holds rounder loaches and bichirs"),
]


@pytest.mark.parametrize(("form", "standard", "width", "within"), BROFELDT)
def test_shapes_taken_where_a_profile_is_silent(form: str, standard: float, width: float, within: float) -> None:
    assert body.STANDARD_LENGTH_BY_FORM[form] == pytest.approx(standard, rel=0.06)
    assert body.WIDTH_BY_FORM[form] == pytest.approx(width, abs=within)


@pytest.mark.parametrize(
    ("name", "depth"),
    [  # published: FISHMORPH, Brosse et al. 2021, doi 10.1111/geb.13395, depth over standard length, within 15 %
        ("Pterophyllum scalare", 0.786),
        ("Symphysodon aequifasciatus", 0.844),
        ("cardinal tetra", 0.278),
        ("bronze corydoras", 0.376),
        ("Pangio kuhlii", 0.103),
    ],
)
def test_depth_of_known_fish(catalog: Catalog, name: str, depth: float) -> None:
    assert catalog.profile(name).body.depth.middle == pytest.approx(depth, rel=0.15)


@given(st.floats(0.1, 200), st.floats(1.001, 3), st.sampled_from(sorted(body.WEIGHT_PRIORS)))
@settings(deadline=None, max_examples=40)
def test_a_longer_fish_is_heavier(length: float, times: float, form: str) -> None:
    log_a, b = body.WEIGHT_PRIORS[form]
    grams = body.weight([length, length * times], a=10**log_a, b=b)
    assert grams[1] / grams[0] == pytest.approx(times**b)


def test_a_fish_without_length_is_refused() -> None:
    with pytest.raises(ValueError, match="above 0 cm"):
        body.weight([10, 0], a=0.01, b=3)
