"""YAML is read strictly: text stays text, places are kept, and nothing dangerous gets in."""

from __future__ import annotations

import pytest

from coswim.text.document import MOST_BYTES, read_document
from coswim.text.problems import InputProblems


def problems(text: str) -> list[str]:
    with pytest.raises(InputProblems) as error:
        read_document(text, "f.yaml")
    return [str(problem) for problem in error.value.problems]


def test_every_scalar_stays_text() -> None:
    data = read_document("a: no\nb: 1:30\nc: 0x1F\nd: null\ne: 2026-01-01\n", "f.yaml").data
    assert data == {"a": "no", "b": "1:30", "c": "0x1F", "d": "null", "e": "2026-01-01"}


def test_a_place_is_the_longest_prefix_that_is_there() -> None:
    document = read_document("a:\n  b:\n    - c: 1\n", "f.yaml")
    assert document.place(("a", "b", 0, "c")) == (3, 10)
    assert document.place(("a", "b", 0, "missing", "deeper")) == (3, 7)
    assert document.place(("a", "b", 7)) == (3, 5)


@pytest.mark.parametrize(
    ("text", "message"),
    [
        ("a: 1\nb: 2\na: 3\n", "f.yaml:3:1: a: key 'a' is written twice (first in line 1); keep one"),
        ("x: {a: 1, a: 2}", "f.yaml:1:11: x.a: key 'a' is written twice (first in line 1); keep one"),
        ("a: !!python/object:os.system ls", "f.yaml:1:4: a: tag 'tag:yaml.org,2002:python/object:os.system' is not"),
        ("a: !x 1", "f.yaml:1:4: a: tag '!x' is not allowed; write plain text"),
        ("a:\n\t- 1", "f.yaml:2:1: is indented with a tab; YAML wants spaces"),
        ("a: 1\n---\nb: 2", "f.yaml:2:1: holds more than one YAML document; keep one ('---' starts another)"),
        ("? [a]\n: 1", "f.yaml:1:3: a key must be plain text, not a list or mapping"),
        ("a: &a [*a]", "f.yaml: has more than 100,000 values, a value inside itself, or is nested deeper"),
        ("a: " + "[" * 60 + "]" * 60, "f.yaml: has more than 100,000 values, a value inside itself, or is nested deeper"),
        ("a: " + "[" * 5000, "f.yaml:1:1003: is not valid YAML: exceeded maximum nesting depth"),
        ("a: [1, 2", "f.yaml:2:1: is not valid YAML: did not find expected ',' or ']'"),
        ("a: @b", "f.yaml:1:4: is not valid YAML: found character that cannot start any token"),
        ("a: \x07", "f.yaml:1:4: character '\\x07' is not allowed in YAML"),
        ("a: *b", "f.yaml:1:4: is not valid YAML: found undefined alias"),
        ("#" * (MOST_BYTES + 1), "f.yaml: is larger than 1 MiB; a plan or profile is a few KiB at most"),
    ],
    ids=["twice", "twice inside", "object tag", "tag", "tab", "two documents", "list as key", "loop", "deep", "deeper",
         "open", "at sign", "control", "alias", "large"],
)  # fmt: skip
def test_what_is_refused(text: str, message: str) -> None:
    assert problems(text)[0].startswith(message)


def test_an_alias_bomb_is_counted_as_written_out() -> None:
    bomb = "a0: &a0 [x, x, x, x, x, x, x, x, x, x]\n" + "".join(
        f"a{n}: &a{n} [{', '.join([f'*a{n - 1}'] * 10)}]\n" for n in range(1, 9)
    )
    assert "100,000 values" in problems(bomb)[0]


def test_all_problems_come_at_once_and_in_order() -> None:
    found = problems("a: !x 1\nb: 2\nb: 3\nc: !y 4\n")
    assert [line.split(":")[1] for line in found] == ["1", "3", "4"]
