"""Editing never loses a profile: not to a crash, not to a broken copy, not to another hand; built-ins stay as they are."""

from __future__ import annotations

import os
import shutil
import signal
import stat
import subprocess
import sys
import time
from pathlib import Path
from textwrap import dedent

import pytest

from coswim.library import checking, editing
from coswim.library.checking import check
from coswim.library.editing import Edit
from coswim.library.schema import FILE as SCHEMA_FILE
from coswim.library.template import commented, template
from coswim.profiles import catalog as catalogs
from coswim.profiles.catalog import BUILT_IN, Catalog
from coswim.profiles.names import Entry
from coswim.text.document import read_document, read_file
from coswim.text.problems import InputProblems

SPECIES = "Paracheirodon innesi"
KEPT = (
    "acestrorhamphidae/paracheirodon-innesi.yaml",
    "acestrorhamphidae/paracheirodon-axelrodi.yaml",
    "acestrorhamphidae/gymnocorymbus-ternetzi.yaml",
    "acestrorhamphidae/pristella-maxillaris.yaml",
    "botiidae/chromobotia-macracanthus.yaml",
    "danionidae/danio-rerio.yaml",
    "osphronemidae/betta-splendens.yaml",
    "potamotrygonidae/potamotrygon-motoro.yaml",
)
COMMENT = "# my own fish are smaller"


@pytest.fixture
def own(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """The keeper's own folder, not there yet, beside a small built-in library."""
    built_in = tmp_path / "built-in"
    for name in ("sources.yaml", *KEPT):
        copy = built_in / name
        copy.parent.mkdir(parents=True, exist_ok=True)
        shutil.copy(catalogs.BUILT_IN / name, copy)
    for module in (catalogs, checking, editing):
        monkeypatch.setattr(module, "BUILT_IN", built_in)
    return tmp_path / "data" / "species_profiles"


def library(own: Path) -> Catalog:
    """The built-in library and the keeper's folder as it is now."""
    return Catalog((catalogs.BUILT_IN, *([own] if own.is_dir() else [])))


def begin(own: Path) -> Edit:
    """An edit of the neon tetra."""
    return editing.begin_edit(library(own).find(SPECIES), own)


def typed(edit: Edit, old: str, new: str) -> None:
    """What the keeper does in the editor."""
    text = edit.draft.read_text(encoding="utf-8")
    assert old in text
    edit.draft.write_text(text.replace(old, new, 1), encoding="utf-8")


def saved(own: Path, old: str = "swimming: cruiser", new: str = f"swimming: local  {COMMENT}") -> Edit:
    """A finished edit."""
    edit = begin(own)
    typed(edit, old, new)
    assert editing.finish(edit, library(own)).saved
    return edit


def partials(folder: Path) -> list[Path]:
    """Half-written files left behind."""
    return [path for path in folder.iterdir() if path.suffix == ".part"]


def test_editing_a_built_in_makes_the_keepers_own_and_leaves_the_built_in_alone(own: Path) -> None:
    built_in = library(own).find(SPECIES).path
    before = (built_in.read_bytes(), built_in.stat().st_mtime_ns)
    edit = saved(own)
    assert (built_in.read_bytes(), built_in.stat().st_mtime_ns) == before
    assert edit.target.parent == own
    assert library(own).find(SPECIES).path == edit.target
    assert library(own).profile(SPECIES).swimming == "local"


def test_comments_and_order_survive(own: Path) -> None:
    first = saved(own).target.read_text(encoding="utf-8")
    second = saved(own, "swimming: local", "swimming: still").target.read_text(encoding="utf-8")
    assert COMMENT in first
    assert second == first.replace("swimming: local", "swimming: still", 1)


def test_an_edit_of_a_built_in_starts_with_the_comments_of_a_new_profile(own: Path) -> None:
    draft = begin(own).draft.read_text(encoding="utf-8")
    hints = {
        line.partition(" # ")[2] for line in template("Danio kyathit").splitlines() if " # " in line.removeprefix("# ")
    }
    of_a_part = ("a part of a block", "smallest group; 0 =")  # which stands on one line with its block
    assert [hint for hint in hints if hint not in draft and not hint.startswith(of_a_part)] == []
    built_in = library(own).find(SPECIES).path.read_text(encoding="utf-8").splitlines()
    lines = [line.partition(" # ")[0].rstrip() for line in draft.splitlines()]
    assert [line for line in lines if line in built_in] == built_in


@pytest.mark.parametrize("entry", [*Catalog((BUILT_IN,)).entries.values()][::25], ids=lambda entry: entry.path.stem)
def test_comments_change_nothing_that_a_profile_says(entry: Entry) -> None:
    text = entry.path.read_text(encoding="utf-8")
    draft = commented(text, entry.path.name)
    assert draft.count("#") > text.count("#") + 30
    assert read_document(draft, "draft").data == read_document(text, "built-in").data


def test_a_text_that_comments_would_change_stays_as_it_is() -> None:
    text = "scientific_name: Exemplum primum\nfamily: Aidae\nnotes: 'one\n  family: two'\n"
    assert read_document(commented(text, "p"), "p").data == read_document(text, "p").data


def test_the_keepers_own_profile_is_edited_in_its_place(own: Path) -> None:
    first = saved(own)
    second = saved(own, "swimming: local", "swimming: still")
    assert second.target == first.target
    assert COMMENT in second.target.read_text(encoding="utf-8")


def test_line_ends_and_the_mode_of_the_file_are_kept(own: Path) -> None:
    target = saved(own).target
    target.write_bytes(target.read_bytes().replace(b"\n", b"\r\n"))
    target.chmod(0o600)
    edit = begin(own)
    edit.draft.write_bytes(edit.draft.read_bytes().replace(b"swimming: local", b"swimming: still"))
    assert editing.finish(edit, library(own)).saved
    assert target.read_bytes().count(b"\r\n") == target.read_bytes().count(b"\n")
    assert stat.S_IMODE(target.stat().st_mode) == 0o600


def test_a_broken_copy_replaces_nothing_and_is_kept(own: Path) -> None:
    target = saved(own).target
    before = target.read_bytes()
    edit = begin(own)
    typed(edit, "diet: omnivore", "diet: everything")
    outcome = editing.finish(edit, library(own))
    assert not outcome.done
    assert [remark.problem.path for remark in outcome.remarks] == ["feeding_style.diet"]
    assert target.read_bytes() == before
    assert "diet: everything" in edit.draft.read_text(encoding="utf-8")


def test_a_copy_that_is_mended_in_a_second_round_is_saved(own: Path) -> None:
    edit = begin(own)
    typed(edit, "diet: omnivore", "diet: everything")
    assert not editing.finish(edit, library(own)).done
    typed(edit, "diet: everything", "diet: insectivore")
    assert editing.finish(edit, library(own)).saved
    assert not edit.draft.exists()


def test_an_edit_that_did_not_end_well_goes_on_where_it_stopped(own: Path) -> None:
    first = begin(own)
    typed(first, "diet: omnivore", "diet: insectivore")
    second = begin(own)  # the first one was never finished
    assert second.resumed
    assert "diet: insectivore" in second.draft.read_text(encoding="utf-8")
    assert editing.finish(second, library(own)).saved


def test_an_unchanged_copy_is_not_saved(own: Path) -> None:
    edit = begin(own)
    outcome = editing.finish(edit, library(own))
    assert outcome.unchanged
    assert outcome.done
    assert not edit.target.exists()
    assert not edit.draft.exists()


def test_warnings_are_told_and_do_not_keep_a_copy_from_being_saved(own: Path) -> None:
    edit = begin(own)
    typed(edit, "smallest_group: 6", "smallest_group: 1")
    outcome = editing.finish(edit, library(own))
    assert outcome.saved
    assert {remark.problem.path for remark in outcome.remarks} == {"schooling.smallest_group"}


def test_another_species_name_is_refused(own: Path) -> None:
    edit = begin(own)
    typed(edit, f"scientific_name: {SPECIES}", "scientific_name: Paracheirodon novus")
    outcome = editing.finish(edit, library(own))
    assert not outcome.done
    assert "is another species than 'Paracheirodon innesi'" in outcome.remarks[0].problem.message


def test_a_file_that_changed_meanwhile_is_not_written_over(own: Path) -> None:
    target = saved(own).target
    edit = begin(own)
    typed(edit, "swimming: local", "swimming: still")
    target.write_text("somebody else's", encoding="utf-8")
    outcome = editing.finish(edit, library(own))
    assert not outcome.done
    assert "was changed by someone else meanwhile" in outcome.remarks[-1].problem.message
    assert target.read_text(encoding="utf-8") == "somebody else's"


def test_a_profile_of_ones_own_that_is_read_only_is_refused(own: Path) -> None:
    target = saved(own).target
    target.chmod(0o444)
    with pytest.raises(InputProblems, match="is read-only"):
        begin(own)


def test_a_built_in_folder_named_by_hand_is_still_built_in(own: Path) -> None:
    """`--profiles` may point at the library itself, by another path."""
    entry = Catalog((catalogs.BUILT_IN / ".." / catalogs.BUILT_IN.name,)).find(SPECIES)
    assert not entry.built_in
    assert editing.begin_edit(entry, own).target.parent == own


def test_a_link_stays_a_link(own: Path, tmp_path: Path) -> None:
    target = saved(own).target
    real = tmp_path / "real.yaml"
    target.rename(real)
    target.symlink_to(real)
    edit = begin(own)
    typed(edit, "swimming: local", "swimming: still")
    assert editing.finish(edit, library(own)).saved
    assert target.is_symlink()
    assert "swimming: still" in real.read_text(encoding="utf-8")


@pytest.mark.parametrize("moment", ["fsync", "chmod", "replace"])
def test_a_crash_before_the_new_file_takes_its_place_leaves_the_old_one(
    own: Path, monkeypatch: pytest.MonkeyPatch, moment: str
) -> None:
    target = saved(own).target
    before = target.read_bytes()
    edit = begin(own)
    typed(edit, "swimming: local", "swimming: still")

    def crash(*_: object) -> None:
        raise KeyboardInterrupt

    monkeypatch.setattr(os if moment == "fsync" else Path, moment, crash)
    with pytest.raises(KeyboardInterrupt):
        editing.finish(edit, library(own))
    assert target.read_bytes() == before
    assert partials(own) == []
    assert "swimming: still" in edit.draft.read_text(encoding="utf-8")


def test_a_full_disk_is_said_and_leaves_the_old_file(own: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    target = saved(own).target
    before = target.read_bytes()
    edit = begin(own)
    typed(edit, "swimming: local", "swimming: still")

    def full(_: int) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(os, "fsync", full)
    with pytest.raises(InputProblems, match="cannot be written: No space left on device"):
        editing.finish(edit, library(own))
    assert target.read_bytes() == before


WRITER = """
    import sys
    from pathlib import Path
    from coswim.text.saving import write_whole
    target, size = Path(sys.argv[1]), int(sys.argv[2])
    print("ready", flush=True)
    while True:
        for sign in (b"a", b"b"):
            write_whole(target, sign * size)
"""


@pytest.mark.parametrize("milliseconds", [1, 5, 20])
def test_killed_at_any_moment_the_file_is_whole(tmp_path: Path, milliseconds: int) -> None:
    """A process that writes all the time is killed: the file is all of one text or all of the other."""
    target, size = tmp_path / "profile.yaml", 8_000_000
    target.write_bytes(b"a" * size)
    process = subprocess.Popen(
        [sys.executable, "-c", dedent(WRITER), str(target), str(size)],
        stdout=subprocess.PIPE,
        env={**os.environ, "PYTHONPATH": os.pathsep.join(sys.path)},
    )
    assert process.stdout is not None
    assert process.stdout.readline() == b"ready\n"
    time.sleep(milliseconds / 1000)
    process.send_signal(signal.SIGKILL)
    process.wait()
    process.stdout.close()
    assert target.read_bytes() in {b"a" * size, b"b" * size}


def test_what_a_kill_leaves_behind_is_no_profile(own: Path) -> None:
    target = saved(own).target
    (own / f".{target.name}.abc123.part").write_text("scientific_name: Half a", encoding="utf-8")
    assert library(own).find(SPECIES).path == target
    assert len(library(own).entries) == len(library(own / "none").entries)


def test_a_new_species_starts_from_a_template_and_is_saved_once_it_is_filled_in(own: Path) -> None:
    edit = editing.begin_new("Danio kyathit", template("Danio kyathit"), own)
    typed(edit, "common_names: []", "common_names: [orange-finned danio]")
    typed(edit, "family:", "family: Danionidae")
    typed(edit, "adult_length:", "adult_length: 6-8 cm")
    typed(edit, "  form:", "  form: fusiform")
    typed(edit, "  depth:", "  depth: 0.25-0.29")
    outcome = editing.finish(edit, library(own))
    assert outcome.saved
    assert library(own).find("orange-finned danio").path == own / "danio-kyathit.yaml"
    assert all("is missing" in remark.problem.message for remark in outcome.remarks)


def test_profiles_are_saved_beside_the_schema_that_their_header_names(own: Path) -> None:
    edit = editing.begin_new("Danio kyathit", template("Danio kyathit"), own)
    assert f"$schema={SCHEMA_FILE}" in edit.draft.read_text(encoding="utf-8").splitlines()[0]
    assert (edit.draft.parent / SCHEMA_FILE).exists()
    saved(own)
    assert (own / SCHEMA_FILE).exists()


@pytest.mark.parametrize("name", ["zebra danio", "clown loach", "ocellate river stingray", "betta"])
def test_a_template_from_a_similar_species_is_sound_once_it_has_a_name(own: Path, tmp_path: Path, name: str) -> None:
    """Every value comes over, every source becomes memory, and nothing else is claimed."""
    catalog = library(own)
    entry = catalog.find(name)
    like = read_document(read_file(entry.path), str(entry.path))
    text = template("Exemplum novum", like=like).replace("common_names: []", "common_names: [new example]")
    file = tmp_path / "exemplum-novum.yaml"
    file.write_text(text, encoding="utf-8")
    assert check([file], catalog).problems == ()
    new, old = Catalog((tmp_path,)).profile("Exemplum novum"), catalog.profile(name)
    own_traits = {"scientific_name", "also_known_as", "common_names", "record_length", "notes", "sources"}
    assert new.model_dump(exclude=own_traits) == old.model_dump(exclude=own_traits)
    assert set(new.sources.values()) == {("memory",)}
    assert (new.notes, new.record_length) == ((), None)


@pytest.mark.parametrize(
    ("visual", "editor", "command"),
    [("code -w", "nano", ("code", "-w")), ("", "nano", ("nano",)), (" ", "vi '/my file'", ("vi", "/my file"))],
)
def test_visual_comes_before_editor(
    monkeypatch: pytest.MonkeyPatch, visual: str, editor: str, command: tuple[str, ...]
) -> None:
    monkeypatch.setenv("VISUAL", visual)
    monkeypatch.setenv("EDITOR", editor)
    assert editing.editor_command() == command


def test_without_an_editor_it_says_what_to_do(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.delenv("VISUAL", raising=False)
    monkeypatch.delenv("EDITOR", raising=False)
    with pytest.raises(InputProblems, match="editor: none is set"):
        editing.editor_command()


@pytest.mark.parametrize(
    ("command", "words"),
    [(("no-such-editor",), "'no-such-editor' cannot be run"), (("false",), "'false' ended with status 1")],
)
def test_an_editor_that_fails_changes_nothing(own: Path, command: tuple[str, ...], words: str) -> None:
    edit = begin(own)
    with pytest.raises(InputProblems, match=words):
        editing.open_editor(command, edit)
    assert not edit.draft.exists()
    assert not edit.target.exists()


def test_an_editor_that_fails_keeps_what_was_written(own: Path) -> None:
    edit = begin(own)
    typed(edit, "diet: omnivore", "diet: insectivore")
    with pytest.raises(InputProblems, match="your text is kept in"):
        editing.open_editor(("false",), edit)
    assert edit.draft.exists()


def test_a_draft_in_which_nothing_was_written_is_no_edit_to_go_on_with(own: Path) -> None:
    begin(own)
    second = begin(own)
    assert not second.resumed
    assert editing.finish(second, library(own)).unchanged
    assert not second.target.exists()
