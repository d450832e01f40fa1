"""What a keeper knows of one fish stands for what its species' profile says."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from coswim.plans.reading import read_plan
from coswim.profiles.catalog import Catalog
from coswim.screening import Screening
from coswim.simulation.scene import Effort, build_scene
from coswim.text.problems import InputProblems

PLAN = """
tank: {{size: 180 x 60 x 60 cm, temperature: 26 C, ph: 7, hardness: 6 dGH}}
residents: [{{species: saddled bichir, length: 38 cm, this_fish: {{{known}}}}}]
proposals: [{{add: [{{species: tinfoil barb, count: 8, length: 14 cm}}]}}]
"""


@pytest.mark.parametrize(
    ("known", "trait", "value"),
    [
        ("pace: fast", "feeding_style.pace", "fast"),
        ("level: mid", "feeding_style.level", ("mid",)),
        ("eats_fish: no", "feeding_style.eats_fish", "no"),
        ("own_kind: aggressive", "temperament.own_kind", "aggressive"),
        ("boldness: bold", "temperament.boldness", "bold"),
        ("features: [armoured]", "features", ("armoured",)),
    ],
)
def test_a_word_stands_for_that_of_the_profile(catalog: Catalog, known: str, trait: str, value: object) -> None:
    read = read_plan(PLAN.format(known=known), "plan.yaml", catalog)
    profile = read.profile(read.plan.residents[0])
    assert profile.value(trait) == value
    assert profile.source_keys(trait) == ("own-observation",)
    assert catalog.profile("saddled bichir").value(trait) != value


def test_what_was_measured_reaches_the_scene(catalog: Catalog) -> None:
    read = read_plan(PLAN.format(known="mouth: 4.1 cm, depth: 48 mm, weight: 1 lb"), "plan.yaml", catalog)
    scene = build_scene(read, None, catalog, Effort(draws=50))
    measured = scene.groups[0].measured
    assert measured.mouth_mm == pytest.approx(41)
    assert measured.depth_mm == pytest.approx(48)
    assert measured.weight_g == pytest.approx(453.59, abs=0.01)  # oracle: 1 lb avoirdupois, NIST


def test_a_fish_that_takes_no_fish_eats_none(screened: Callable[..., Screening]) -> None:
    found = screened(PLAN.format(known="eats_fish: no"), draws=200).proposals[0].findings
    assert "gape-fit" not in {finding.found.hazard for finding in found}


def test_a_word_that_is_none_is_refused_where_it_stands(catalog: Catalog) -> None:
    with pytest.raises(InputProblems) as caught:
        read_plan(PLAN.format(known="pace: hasty"), "plan.yaml", catalog)
    assert str(caught.value.problems[0]).startswith("plan.yaml:3:")
    assert "residents[0].this_fish.pace: 'hasty' is not a word for pace; allowed: still, slow" in str(
        caught.value.problems[0]
    )
