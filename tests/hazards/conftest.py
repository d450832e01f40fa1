"""What the tests of single hazards share: one hazard's findings on a tank, rated, without the others."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from pathlib import Path
from typing import Any

import pytest

from coswim.findings.hazard import Hazard
from coswim.plans.reading import resolve
from coswim.plans.shorthand import ADD, Fish, Shorthand
from coswim.profiles.catalog import BUILT_IN, Catalog
from coswim.simulation.scene import Effort, Scene, build_scene
from coswim.verdict.assessment import with_pictures
from coswim.verdict.rating import Finding, Unrated, rate

RatedBy = Callable[..., list[Finding]]
UnratedBy = Callable[..., list[Unrated]]


def scene_of(
    tank: str,
    residents: Sequence[str],
    newcomers: Sequence[str] = (),
    *,
    library: Catalog,
    lid: bool = True,
    draws: int = 400,
    months: int = 24,
) -> Scene:
    """A tank `60x30x30` with residents and newcomers `8 neon tetra, 3 cm`."""
    fish = [Fish(ADD, typed) for typed in newcomers]
    read = resolve(Shorthand(f"{tank} cm", "25 C", "7", "8", residents, fish, no_lid=not lid).document(), library)
    proposal = read.plan.proposals[0] if newcomers else None
    return build_scene(read, proposal, library, Effort(draws=draws, months=months))


@pytest.fixture(scope="session")
def rated_by(catalog: Catalog) -> RatedBy:
    """One hazard's findings, worst first, with their pictures; arguments as of `scene_of`."""

    def run(
        hazard: Hazard, tank: str, *groups: Sequence[str], library: Catalog = catalog, **more: Any
    ) -> list[Finding]:
        scene = scene_of(tank, *groups, library=library, **more)
        rated = [rate(found, library) for found in hazard.find(scene)]
        findings = [with_pictures(one, scene) for one in rated if isinstance(one, Finding)]
        return sorted(findings, key=lambda finding: -finding.risk)

    return run


@pytest.fixture(scope="session")
def unrated_by(catalog: Catalog) -> UnratedBy:
    """What one hazard cannot rate; arguments as of `scene_of`."""

    def run(hazard: Hazard, tank: str, *groups: Sequence[str], library: Catalog = catalog) -> list[Unrated]:
        rated = [rate(found, library) for found in hazard.find(scene_of(tank, *groups, library=library))]
        return [one for one in rated if isinstance(one, Unrated)]

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
