"""Writing a file whole: what it does to links, devices, pipes, rights and left-overs; the kill test is with the editing."""

from __future__ import annotations

import os
import re
import stat
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path

import pytest

import coswim
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


@pytest.mark.parametrize("mask", [0o022, 0o027, 0o077])
def test_a_new_file_allows_what_the_keepers_umask_leaves(tmp_path: Path, mask: int) -> None:
    before = os.umask(mask)
    try:
        write_whole(tmp_path / "new.html", b"report")
    finally:
        os.umask(before)
    assert stat.S_IMODE((tmp_path / "new.html").stat().st_mode) == 0o666 & ~mask


def test_a_read_only_file_is_refused_even_to_an_administrator(tmp_path: Path) -> None:
    file = tmp_path / "mine.html"
    file.write_bytes(b"precious")
    file.chmod(0o444)
    with pytest.raises(InputProblems, match="is read-only; allow writing to it first, or name another file"):
        write_whole(file, b"report")
    assert (file.read_bytes(), list(tmp_path.iterdir())) == (b"precious", [file])


@pytest.mark.parametrize("make", [Path.touch, lambda path: path.symlink_to("nowhere")], ids=["file", "dangling link"])
def test_what_has_to_be_new_replaces_nothing(tmp_path: Path, make: Callable[[Path], None]) -> None:
    make(tmp_path / "plan.yaml")
    with pytest.raises(InputProblems, match="is there already; name another file or move it away"):
        write_whole(tmp_path / "plan.yaml", b"plan", new=True)
    assert {path.name for path in tmp_path.iterdir()} == {"plan.yaml"}


def test_a_link_to_itself_is_told(tmp_path: Path) -> None:
    (tmp_path / "loop").symlink_to("loop")
    with pytest.raises(InputProblems, match="cannot be written: Too many levels of symbolic links"):
        write_whole(tmp_path / "loop", b"report")
    assert (tmp_path / "loop").is_symlink()


def test_what_a_killed_writer_left_is_tidied_and_what_another_writes_is_not(tmp_path: Path) -> None:
    ended = subprocess.run([sys.executable, "-c", "import os; print(os.getpid())"], capture_output=True, check=True)
    mine = [f".mine.html.coswim{int(ended.stdout)}.part", f".mine.html.coswim{os.getpid()}.part"]
    others = [
        f".mine.html.coswim{os.getppid()}.part", ".yours.html.coswim1.part", ".mine.html.part", ".mine.html.coswim1.part.txt",
    ]  # fmt: skip
    for name in (*mine, *others):
        (tmp_path / name).write_bytes(b"half")
    write_whole(tmp_path / "mine.html", b"report")
    assert {path.name for path in tmp_path.iterdir()} == {"mine.html", *others}
    os.utime(tmp_path / others[0], (0, 0))
    write_whole(tmp_path / "mine.html", b"report")
    assert {path.name for path in tmp_path.iterdir()} == {"mine.html", *others[1:]}


@pytest.mark.parametrize("name", ["x" * 255, "ä" * 127, os.fsdecode(b"\xff.html")])
def test_any_name_that_the_system_takes_is_written(tmp_path: Path, name: str) -> None:
    try:
        (tmp_path / name).touch()
    except OSError:
        pytest.skip("this file system does not take the name")
    write_whole(tmp_path / name, b"report")
    assert {path.name for path in tmp_path.iterdir()} == {name}


def test_everything_that_coswim_writes_goes_through_here() -> None:
    """No other module opens a file to write to it."""
    source = Path(coswim.__file__).parent
    writes = re.compile(r"write_text|write_bytes|\bmkstemp|NamedTemporary|os\.open\(|open\([^)]*[\"'][rb]*[wax]")
    found = [path.name for path in source.rglob("*.py") if writes.search(path.read_text(encoding="utf-8"))]
    # the first opens the null device, then a pipe, then diaries
    assert sorted(found) == ["__main__.py", "appending.py", "saving.py", "second_process.py"]
