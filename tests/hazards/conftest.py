"""What the tests of single hazards share: one hazard's findings on a tank, rated, without the others."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from pathlib import Path
from types import ModuleType

import pytest

from coswim.plans.reading import resolve
from coswim.plans.shorthand import Shorthand
from coswim.profiles.catalog import BUILT_IN, Catalog
from coswim.simulation.scene import Effort, build_scene
from coswim.verdict.assessment import with_pictures
from coswim.verdict.rating import Finding, rate

RatedBy = Callable[..., list[Finding]]


@pytest.fixture(scope="session")
def rated_by(catalog: Catalog) -> RatedBy:
    """One hazard's findings, worst first, on a tank `60x30x30` with residents and newcomers `8 neon tetra, 3 cm`."""

    def run(
        hazard: ModuleType,
        tank: str,
        residents: Sequence[str],
        newcomers: Sequence[str] = (),
        *,
        lid: bool = True,
        draws: int = 400,
        months: int = 24,
        library: Catalog = catalog,
    ) -> list[Finding]:
        document = Shorthand(f"{tank} cm", "25 C", "7", "8", residents, newcomers, no_lid=not lid).document()
        read = resolve(document, library)
        proposal = read.plan.proposals[0] if newcomers else None
        scene = build_scene(read, proposal, library, Effort(draws=draws, months=months))
        findings = [with_pictures(one, scene) for found in hazard.find(scene) if (one := rate(found, library))]
        return sorted(findings, key=lambda finding: -finding.risk)

    return run


ODDFISH = {
    "scientific_name": "Mirus fictus",
    "common_names": "[oddfish]",
    "family": "Cichlidae",
    "adult_length": "20-25 cm",
    "body": "{form: fusiform, depth: 0.3-0.4}",
    "mouth_gape": "0.1-0.14",
    "growth": "0.5-0.8",
    "temperament": "{own_kind: aggressive, other_fish: aggressive}",
    "feeding_style": "{diet: carnivore, eats_fish: any that fit, level: [mid], pace: steady, active: day}",
    "schooling": "{smallest_group: 1}",
    "swimming": "cruiser",
    "sources": "{adult_length: memory}",
}


@pytest.fixture
def bare_library(tmp_path: Path) -> Callable[..., Catalog]:
    """The built-in library with an invented `oddfish` whose profile lacks one block."""

    def build(missing: str) -> Catalog:
        lines = [f"{key}: {value}" for key, value in ODDFISH.items() if key != missing]
        (tmp_path / "mirus-fictus.yaml").write_text("\n".join(lines) + "\n", encoding="utf-8")
        return Catalog((BUILT_IN, tmp_path))

    return build
