"""What a second process parses is what is read, and nothing hangs on it."""

from __future__ import annotations

import os
import signal
from pathlib import Path

import pytest

from coswim.profiles import ahead
from coswim.profiles.ahead import Ahead
from coswim.profiles.catalog import BUILT_IN, Catalog
from coswim.text.problems import InputProblems

NAME = "Aequidens diadema"
BROKEN = "scientific_name: [Aequidens\n"
needs_a_second_process = pytest.mark.skipif(not ahead.IS_WORTH_IT, reason="no second process is started here")


@needs_a_second_process
def test_profiles_are_the_same_as_read_from_their_files() -> None:
    known, read = Catalog((BUILT_IN,)), Catalog((BUILT_IN,))
    parsed = Ahead(BUILT_IN).parsed()
    known.take(parsed)
    assert len(parsed) == len(read.entries)
    assert [known.read(one) for one in known.entries.values()] == [read.read(one) for one in read.entries.values()]


@needs_a_second_process
def test_a_file_that_cannot_be_parsed_is_left_to_who_asks_for_it(tmp_path: Path) -> None:
    (tmp_path / "broken.yaml").write_text(BROKEN, encoding="utf-8")
    (tmp_path / "empty.yaml").write_text("", encoding="utf-8")
    assert Ahead(tmp_path).parsed() == {str(tmp_path / "empty.yaml"): None}


@pytest.mark.parametrize("data", [{"scientific_name": NAME, "family": "none"}, None, [NAME]])
def test_a_wrong_profile_is_read_again_and_complained_about_with_its_place(tmp_path: Path, data: object) -> None:
    path = tmp_path / "wrong.yaml"
    path.write_text(f"scientific_name: {NAME}\nfamily: none\n", encoding="utf-8")
    catalog = Catalog((tmp_path,))
    catalog.take({str(path): data})
    with pytest.raises(InputProblems) as refused:
        catalog.read(catalog.find(NAME))
    assert {problem.file for problem in refused.value.problems} == {str(path)}


@needs_a_second_process
def test_one_that_dies_leaves_everything_to_be_read() -> None:
    parsing = Ahead(BUILT_IN)
    os.kill(parsing._parser, signal.SIGKILL)
    assert parsing.parsed() == {}


@needs_a_second_process
def test_one_that_nobody_asks_is_ended() -> None:
    parsing = Ahead(BUILT_IN)
    process = parsing._parser
    parsing.close()
    parsing.close()
    with pytest.raises(ProcessLookupError):
        os.kill(process, 0)


def test_without_a_second_core_nothing_is_parsed(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(ahead, "IS_WORTH_IT", False)
    parsing = Ahead(BUILT_IN)
    assert parsing.parsed() == {}
    parsing.close()
