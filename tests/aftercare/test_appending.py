"""Adding to a diary: nothing is lost when two write at once, and what was cut off is told (kills: `tests/fuzz/`)."""

from __future__ import annotations

import errno
import os
import subprocess
import sys
from datetime import date
from pathlib import Path

import pytest

from coswim.aftercare.appending import append, diary_of
from coswim.aftercare.diary import Diary, DiaryEntry
from coswim.aftercare.stream import read_diary
from coswim.text.problems import InputProblems

DAY = date(2026, 1, 5)
WRITER = """
import sys
from datetime import date
from pathlib import Path
from coswim.aftercare.appending import append
from coswim.aftercare.diary import DiaryEntry
path, name, count = Path(sys.argv[1]), sys.argv[2], int(sys.argv[3])
print("ready", flush=True)
sys.stdin.readline()
for number in range(count):
    append(DiaryEntry(date=date(2026, 1, 5), group="oscar", note=f"{name} {number} " + "padding " * 40), path)
    print(number, flush=True)
"""


def read(path: Path) -> Diary:
    return read_diary(path.read_bytes(), path.name)


def entry(note: str) -> DiaryEntry:
    return DiaryEntry(date=DAY, note=note)


def writer(path: Path, name: str, count: int) -> subprocess.Popen[str]:
    process = subprocess.Popen(
        [sys.executable, "-c", WRITER, str(path), name, str(count)],
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        text=True,
    )
    assert process.stdout
    assert process.stdout.readline() == "ready\n"
    return process


def start(process: subprocess.Popen[str]) -> None:
    assert process.stdin
    process.stdin.write("go\n")
    process.stdin.flush()


def test_entries_stand_in_the_order_in_which_they_were_added(tmp_path: Path) -> None:
    path = diary_of(tmp_path / "my-tank.yaml")
    for note in ("first", "second"):
        assert append(entry(note), path).put_aside is None
    assert path.read_text() == "--- {date: 2026-01-05, note: first}\n--- {date: 2026-01-05, note: second}\n"


def test_two_at_once_lose_nothing(tmp_path: Path) -> None:
    path = tmp_path / "d.yaml"
    both = [writer(path, name, 100) for name in ("one", "two")]
    for process in both:
        start(process)
    for process in both:
        process.communicate(timeout=60)
        assert process.returncode == 0
    notes = [" ".join((found.note or "").split()[:2]) for found in read(path).entries]
    assert sorted(notes) == sorted(f"{name} {number}" for name in ("one", "two") for number in range(100))


@pytest.mark.parametrize("cut", range(1, len('--- {date: 2026-01-05, note: "the last, ñ}"}')))
def test_an_entry_that_was_cut_off_anywhere_is_reported_and_put_aside(tmp_path: Path, cut: int) -> None:
    path = tmp_path / "d.yaml"
    append(entry("first"), path)
    whole = path.read_bytes()
    append(entry("the last, ñ}"), path)
    torn = path.read_bytes()[len(whole) :][:cut]
    path.write_bytes(whole + torn)

    diary = read(path)
    assert [found.note for found in diary.entries] == ["first"]
    assert str(diary.torn) == "d.yaml:2:1: the last entry was cut off while it was written and takes no part"

    added = append(entry("after"), path)
    assert added.put_aside == tmp_path / "d.yaml.torn"
    assert added.put_aside.read_bytes() == torn + b"\n"
    assert [found.note for found in read(path).entries] == ["first", "after"]
    assert read(path).torn is None


def test_an_entry_that_lacks_only_its_line_end_is_whole(tmp_path: Path) -> None:
    path = tmp_path / "d.yaml"
    append(entry("first"), path)
    path.write_bytes(path.read_bytes().rstrip(b"\n"))
    append(entry("second"), path)
    assert [found.note for found in read(path).entries] == ["first", "second"]


def test_a_persons_own_lines_are_kept(tmp_path: Path) -> None:
    path = tmp_path / "d.yaml"
    path.write_text("# my fish\ndate: 2026-01-04\nnote: by hand")
    append(entry("by coswim"), path)
    assert path.read_text().startswith("# my fish\ndate: 2026-01-04\nnote: by hand\n--- {")
    assert [found.note for found in read(path).entries] == ["by hand", "by coswim"]


def test_a_file_that_an_editor_has_replaced_meanwhile_is_written_to_in_its_new_place(tmp_path: Path) -> None:
    path = tmp_path / "d.yaml"
    append(entry("first"), path)
    new = tmp_path / "new"
    new.write_bytes(path.read_bytes() + b"--- {date: 2026-01-05, note: edited}\n")
    new.replace(path)
    append(entry("last"), path)
    assert [found.note for found in read(path).entries] == ["first", "edited", "last"]


def test_a_full_disk_leaves_no_half_entry(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    path = tmp_path / "d.yaml"
    append(entry("first"), path)
    before, write = path.read_bytes(), os.write

    def half(handle: int, content: bytes) -> int:
        if len(content) < 20:
            raise OSError(errno.ENOSPC, "No space left on device")
        return write(handle, content[: len(content) // 2])

    monkeypatch.setattr("coswim.aftercare.appending.os.write", half)
    with pytest.raises(InputProblems, match="cannot be written: No space left on device"):
        append(entry("second"), path)
    assert path.read_bytes() == before


@pytest.mark.skipif(os.geteuid() == 0, reason="nothing is unwritable for root")
def test_a_folder_without_permission_is_a_problem(tmp_path: Path) -> None:
    tmp_path.chmod(0o500)
    with pytest.raises(InputProblems, match=r"d\.yaml: cannot be written: Permission denied"):
        append(entry("x"), tmp_path / "d.yaml")


def test_a_diary_in_a_folder_that_is_not_there_is_a_problem(tmp_path: Path) -> None:
    with pytest.raises(InputProblems, match=r"cannot be written: No such file"):
        append(entry("x"), tmp_path / "nowhere" / "d.yaml")
