"""Writing a file whole: what it does to links, devices and pipes; the kill test is with the editing of profiles."""

from __future__ import annotations

import os
import stat
from pathlib import Path

import pytest

from coswim.text.problems import InputProblems
from coswim.text.saving import write_whole


def test_a_file_keeps_its_mode_and_a_link_stays_a_link(tmp_path: Path) -> None:
    file, link = tmp_path / "mine.html", tmp_path / "shown.html"
    file.write_bytes(b"old")
    file.chmod(0o640)
    link.symlink_to(file)
    write_whole(link, b"new")
    assert link.is_symlink()
    assert file.read_bytes() == b"new"
    assert stat.S_IMODE(file.stat().st_mode) == 0o640


def test_a_pipe_is_written_to_and_stays_a_pipe(tmp_path: Path) -> None:
    pipe = tmp_path / "pipe"
    os.mkfifo(pipe)
    reader = os.open(pipe, os.O_RDONLY | os.O_NONBLOCK)
    try:
        write_whole(pipe, b"report")
        assert os.read(reader, 100) == b"report"
    finally:
        os.close(reader)
    assert stat.S_ISFIFO(pipe.stat().st_mode)
    assert list(tmp_path.iterdir()) == [pipe]


@pytest.mark.parametrize(
    ("name", "says"), [("", "Is a directory"), ("missing/report.html", "No such file or directory")]
)
def test_where_nothing_can_be_written_it_says_so_and_leaves_nothing(tmp_path: Path, name: str, says: str) -> None:
    with pytest.raises(InputProblems, match=says):
        write_whole(tmp_path / name, b"report")
    assert list(tmp_path.iterdir()) == []
