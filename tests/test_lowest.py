"""The oldest versions that the tests are run with are those that pyproject.toml allows."""

from __future__ import annotations

import re
import tomllib
from pathlib import Path

ROOT = Path(__file__).parents[1]
PINNED = ROOT / "tests" / "lowest.txt"


def test_every_lower_bound_is_among_the_versions_tested() -> None:
    project = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]
    wanted = [*project["dependencies"], *project["optional-dependencies"]["test"]]
    lines = [line for line in PINNED.read_text(encoding="utf-8").splitlines() if not line.startswith("#")]
    assert sorted(lines) == sorted(bound.replace(">=", "==") for bound in wanted)
    assert all(re.fullmatch(r"[a-z0-9-]+==[0-9.]+", line) for line in lines)
