"""What a second process parses is what is read, and nothing hangs on it."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest

from coswim.cli import ahead
from coswim.cli.ahead import Ahead, parsed_in
from coswim.profiles.catalog import BUILT_IN, Catalog
from coswim.text.problems import InputProblems

NAME = "Aequidens diadema"
BEGUN = """
import os, signal
from coswim.cli.ahead import Ahead, may_part, parsed_in
from coswim.profiles.catalog import BUILT_IN

assert may_part()
parsing = Ahead(BUILT_IN)
process = parsing._parsing._process
"""
IS_GONE = """
try:
    os.kill(process, 0)
except ProcessLookupError:
    print("gone")
"""


def said(code: str) -> str:
    """What a process without threads prints that has begun to have the library parsed."""
    if sys.platform != "linux" or not ahead.THREADS.is_dir() or (os.cpu_count() or 1) < 2:
        pytest.skip("no second process is started here")
    ran = subprocess.run([sys.executable, "-c", BEGUN + code], capture_output=True, text=True, check=False)
    assert ran.stderr == ""
    return ran.stdout


def test_profiles_are_the_same_as_read_from_their_files() -> None:
    known, read = Catalog((BUILT_IN,)), Catalog((BUILT_IN,))
    known.take(parsed_in(BUILT_IN))
    assert len(known._parsed) == len(read.entries)
    assert known.all_entries == read.all_entries
    assert [known.read(one) for one in known.entries.values()] == [read.read(one) for one in read.entries.values()]


def test_a_second_process_sends_all_of_it_and_ends() -> None:
    assert said("print(parsing.parsed() == parsed_in(BUILT_IN), parsing.parsed())" + IS_GONE) == "True {}\ngone\n"


def test_one_that_dies_leaves_everything_to_be_read() -> None:
    assert said("os.kill(process, signal.SIGKILL)\nprint(parsing.parsed())" + IS_GONE) == "{}\ngone\n"


def test_one_that_nobody_asks_is_ended() -> None:
    assert said("parsing.close()\nparsing.close()" + IS_GONE) == "gone\n"


def test_without_a_second_process_nothing_is_parsed(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(ahead, "may_part", lambda: False)
    parsing = Ahead(BUILT_IN)
    assert parsing.parsed() == {}
    parsing.close()


def test_a_file_that_cannot_be_parsed_is_left_to_who_asks_for_it(tmp_path: Path) -> None:
    (tmp_path / "broken.yaml").write_text("scientific_name: [Aequidens\n", encoding="utf-8")
    (tmp_path / "empty.yaml").write_text("", encoding="utf-8")
    assert parsed_in(tmp_path) == {str(tmp_path / "empty.yaml"): None}


@pytest.mark.parametrize("data", [{"scientific_name": NAME, "family": "none"}, None, [NAME]])
def test_a_wrong_profile_is_read_again_and_complained_about_with_its_place(tmp_path: Path, data: object) -> None:
    path = tmp_path / "wrong.yaml"
    path.write_text(f"scientific_name: {NAME}\nfamily: none\n", encoding="utf-8")
    catalog = Catalog((tmp_path,))
    catalog.take({str(path): data})
    with pytest.raises(InputProblems) as refused:
        catalog.read(catalog.find(NAME))
    assert {problem.file for problem in refused.value.problems} == {str(path)}
