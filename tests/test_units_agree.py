"""A plan in inches and Fahrenheit is judged as the same plan in centimetres and Celsius is."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from coswim.plans.reading import read_plan
from coswim.profiles.catalog import Catalog
from coswim.screening import Screened, Screening, screen
from coswim.text.quantities import CM_PER_INCH, PPM_PER_DGH

PLANS = [
    *sorted((Path(__file__).parents[1] / "examples").glob("*.yaml")),
    *(Path(__file__).parent / "report" / "scenarios" / f"{name}.yaml" for name in ("as-it-stands", "reasonable")),
]
NUMBER = r"\d+(?:\.\d+)?"
PAIR = """\
tank: {{size: {size}, temperature: {temperature}, ph: 7, hardness: {hardness}}}
residents: [{{species: honey gourami, count: 1, length: {resident}}}]
proposals:
  - {{name: neon tetras, add: [{{species: neon tetra, count: 10, length: {small}}}]}}
  - {{name: tiger barbs, add: [{{species: tiger barb, count: 6, length: {small}}}]}}
  - {{name: an oscar, add: [{{species: oscar, count: 1, length: {resident}}}]}}
"""
METRIC = {"size": "60 x 30 x 30 cm", "temperature": "24-26 C", "hardness": "6 dGH", "resident": "5 cm", "small": "3 cm"}
IMPERIAL = {"size": "24 x 12 x 12 in", "temperature": "75-79 F", "hardness": "107 ppm", "resident": "2 in",
            "small": "1.2 in"}  # fmt: skip


def in_inches(text: str) -> str:
    """A plan as somebody would have measured the same in inches, Fahrenheit and ppm; sides and lengths to a tenth."""

    def inches(match: re.Match[str]) -> str:
        return re.sub(NUMBER, lambda number: f"{float(number[0]) / CM_PER_INCH:.1f}", match[1]) + " in"

    def fahrenheit(match: re.Match[str]) -> str:
        return re.sub(NUMBER, lambda number: f"{float(number[0]) * 1.8 + 32:.0f}", match[1]) + " F"

    text = re.sub(rf"((?:{NUMBER} x ){{0,2}}{NUMBER}) cm", inches, text)
    text = re.sub(rf"({NUMBER}(?:-{NUMBER})?) C\b", fahrenheit, text)
    text = re.sub(rf"(temperature: )({NUMBER})(?=,)", lambda m: f"{m[1]}{float(m[2]) * 1.8 + 32:.0f} F", text)
    return re.sub(rf"({NUMBER}) dGH", lambda match: f"{float(match[1]) * PPM_PER_DGH:.0f} ppm", text)


def screened(text: str, name: str, catalog: Catalog) -> Screening:
    return screen(read_plan(text, name, catalog), catalog, remedies=False)


def agree(one: Screening, other: Screening) -> None:
    """24 inches are 61 cm: the shares may move with that, by 12 of 100 futures at most, and the verdict may not."""
    for left, right in zip(one.judged, other.judged, strict=True):
        assert left.verdict == right.verdict, left.name
        assert abs(left.risk_number - right.risk_number) <= 2, left.name  # a neighbour in the risk table
        here, there = shares(left), shares(right)
        for key in here.keys() & there.keys():
            assert here[key] == pytest.approx(there[key], abs=0.12), key


def shares(one: Screened) -> dict[tuple[str, str, str, str], float]:
    """How often each consequence is what decides of a finding."""
    return {
        (told.found.hazard, told.found.topic, told.found.target.name, told.consequence): told.likelihood
        for told in one.findings
    }


@pytest.mark.parametrize("path", PLANS, ids=lambda path: path.stem)
def test_the_examples_are_judged_alike_in_inches_and_fahrenheit(path: Path, catalog: Catalog) -> None:
    metric = path.read_text(encoding="utf-8")
    imperial = in_inches(metric)
    assert not re.search(r"\d (?:cm|C|dGH)\b", imperial)
    agree(screened(metric, path.name, catalog), screened(imperial, path.name, catalog))


@pytest.mark.parametrize("changed", [*IMPERIAL, "all"])
def test_a_converted_quantity_changes_no_verdict(changed: str, catalog: Catalog) -> None:
    other = IMPERIAL if changed == "all" else METRIC | {changed: IMPERIAL[changed]}
    agree(*(screened(PAIR.format(**values), "plan.yaml", catalog) for values in (METRIC, other)))
