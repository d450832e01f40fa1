"""The JSON contract: documented by a schema that an independent validator holds it to."""

from __future__ import annotations

import json
from collections.abc import Callable

import jsonschema
import pytest

from coswim.report import data
from coswim.screening import Screening

Screen = Callable[..., Screening]
PLAN = """
tank: {size: 120 x 50 x 50 cm, temperature: 26 C}
residents:
  - {species: oscar, length: 20 cm, private: {note: secret-word}}
proposals:
  - {name: tetras, add: [{species: neon tetra, count: 10, length: 3 cm}]}
  - {name: dollars, add: [{species: silver dollar, count: 5, length: 12 cm}]}
private: secret-word
"""


@pytest.fixture(scope="module")
def written(screened: Screen) -> dict[str, object]:
    loaded: dict[str, object] = json.loads(data.write(screened(PLAN)))
    return loaded


def test_the_schema_is_one(written: dict[str, object]) -> None:
    """oracle: jsonschema."""
    jsonschema.Draft202012Validator.check_schema(data.schema())
    jsonschema.validate(written, data.schema())


def test_the_keys_of_the_contract_are_there(written: dict[str, object]) -> None:
    assert {"coswim", "schema", "plan", "draws", "seed", "proposals"} <= set(written)
    proposals = written["proposals"]
    assert isinstance(proposals, list)
    first = proposals[0]
    assert {"name", "verdict", "risk", "level", "findings", "cautions"} <= set(first)
    assert {
        "hazard", "from", "to", "likelihood", "likelihood_level", "consequence", "risk", "level",
        "from_month", "to_month", "figures", "because", "confidence", "remedies",
    } <= set(first["findings"][0])  # fmt: skip


def test_findings_come_worst_first(written: dict[str, object]) -> None:
    proposals = written["proposals"]
    assert isinstance(proposals, list)
    for proposal in proposals:
        risks = [finding["risk"] for finding in proposal["findings"]]
        assert risks == sorted(risks, reverse=True)


def test_nothing_private_is_in_it(written: dict[str, object]) -> None:
    assert "secret-word" not in json.dumps(written)
