"""Editing a profile without ever losing one: a copy goes to the editor, and only a sound copy replaces the file.

The copy is the text itself, so comments and order survive; that of a built-in profile says beside each key what it
wants. A built-in profile is never touched: what is saved is the keeper's own, which overrides it. At any moment, even
when the machine is switched off, the file is there whole: the old one or the new one.
"""

from __future__ import annotations

import os
import shlex
import subprocess
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path

from coswim.library.checking import check
from coswim.library.remark import Remark
from coswim.library.schema import FILE as SCHEMA_FILE
from coswim.library.schema import WRITTEN_HERE, schema_text
from coswim.library.template import commented
from coswim.profiles.catalog import BUILT_IN, Catalog, read_profile
from coswim.profiles.names import Entry, file_name, is_scientific, no_name
from coswim.text.document import decode, read_bytes, read_file
from coswim.text.printable import quoted
from coswim.text.problems import InputProblems, Problem, whole_file
from coswim.text.saving import Busy, locked, may_replace, write_whole

EDITORS = ("VISUAL", "EDITOR")
DRAFTS = "drafts"


@dataclass(frozen=True)
class Edit:
    """A profile on its way through the editor: the draft, and the file that it is to become."""

    species: str
    draft: Path
    target: Path
    before: bytes | None
    """What the target held at the start; None when it was not there."""
    start: bytes
    """What the draft started from; an unchanged draft is not saved."""
    resumed: bool
    """The draft is left over from an earlier edit that did not end well."""


@dataclass(frozen=True)
class Finished:
    """How an edit ended: saved, nothing changed, or (neither) not fit to be saved yet."""

    saved: bool
    unchanged: bool
    remarks: tuple[Remark, ...] = ()

    @property
    def done(self) -> bool:
        """There is no reason to open the editor again."""
        return self.saved or self.unchanged


@contextmanager
def alone(species: str, own: Path) -> Iterator[None]:
    """Nobody else edits this species meanwhile, since there is one draft; InputProblems where somebody does."""
    draft = own.parent / DRAFTS / file_name(species)
    lock = draft.with_suffix(".lock")
    try:
        lock.parent.mkdir(parents=True, exist_ok=True)
        with locked(lock, wait=False):
            try:
                yield
            finally:
                lock.unlink(missing_ok=True)
    except Busy:
        raise whole_file(str(draft), "is being edited by another coswim; finish that edit first") from None


def species_of(entry: Entry) -> str:
    """The name of an entry's species; InputProblems where its file states none."""
    if not is_scientific(entry.scientific_name):
        raise whole_file(str(entry.path), f"{no_name(entry.scientific_name)}; correct it in the file first")
    return entry.scientific_name


def begin_edit(entry: Entry, own: Path) -> Edit:
    """A draft of an existing profile; a built-in one is to become the keeper's own in the folder `own`."""
    species, source = species_of(entry), entry.path.resolve()
    if entry.built_in or source.is_relative_to(BUILT_IN.resolve()):
        text = commented(decode(read_bytes(source), str(source)), str(source)).encode()
        return _begin(species, text, _free(own / file_name(species)), own)
    text = read_bytes(source)
    if not may_replace(source):
        raise whole_file(str(source), "is read-only; allow writing to it first, or edit a copy in a folder of your own")
    return _begin(species, text, source, own)


def begin_new(species: str, text: str, own: Path) -> Edit:
    """A draft of a species that has no profile yet."""
    return _begin(species, text.encode(), _free(own / file_name(species)), own)


def editor_command() -> tuple[str, ...]:
    """The keeper's editor, from VISUAL or EDITOR; InputProblems when neither is set."""
    for name in EDITORS:
        typed = os.environ.get(name, "")
        try:
            command = shlex.split(typed)
        except ValueError as error:
            message = (
                f"{name}={quoted(typed)} is no command ({str(error).lower()}); set it anew, e.g. export {name}=nano"
            )
            raise whole_file("editor", message) from None
        if command:
            return tuple(command)
    message = "none is set; name one (export EDITOR=nano), or edit a copy by hand and check it: coswim profile check"
    raise whole_file("editor", message)


def open_editor(command: tuple[str, ...], edit: Edit) -> None:
    """Wait until the keeper has closed the editor; InputProblems when it cannot be run or fails.

    A draft in which nothing was written goes then: there is nothing in it to go on with.
    """
    try:
        status = subprocess.run([*command, str(edit.draft)], check=False).returncode  # noqa: S603 - the keeper's own
    except OSError as error:
        _drop_untouched(edit)
        raise whole_file("editor", f"{command[0]!r} cannot be run: {error.strerror or 'unknown reason'}") from None
    if status:
        _drop_untouched(edit)
        kept = f", your text is kept in {edit.draft}" if edit.draft.exists() else ""
        raise whole_file("editor", f"{command[0]!r} ended with status {status}; nothing was saved{kept}")


def finish(edit: Edit, catalog: Catalog) -> Finished:
    """Save the draft if it is sound; otherwise say why not and leave everything as it was."""
    text = _content(edit.draft)
    if text is None:
        raise whole_file(str(edit.draft), "is gone after the editor was closed; nothing was saved")
    if text == edit.start:
        edit.draft.unlink(missing_ok=True)
        return Finished(saved=False, unchanged=True)
    checked = check([edit.draft], catalog)
    problems = (*(checked.problems or _other_species(edit)), *_changed_meanwhile(edit))
    if problems:
        return Finished(saved=False, unchanged=False, remarks=problems)
    write_whole(edit.target, text, make_folder=True)
    write_schema(edit.target.parent)
    edit.draft.unlink(missing_ok=True)
    return Finished(saved=True, unchanged=False, remarks=checked.warnings)


def _drop_untouched(edit: Edit) -> None:
    if _content(edit.draft) == edit.start:
        edit.draft.unlink(missing_ok=True)


def write_schema(folder: Path) -> None:
    """Keep the JSON Schema that the profiles' header names beside them; a file that is not ours stays."""
    path, text = folder / SCHEMA_FILE, schema_text()
    if path.is_symlink() or (path.exists() and not _is_old_schema(path, text)):
        return
    write_whole(path, text.encode(), make_folder=True)


def _is_old_schema(path: Path, text: str) -> bool:
    """It was written by coswim and is no longer what coswim writes."""
    try:
        kept = read_file(path)
    except InputProblems:
        return False
    return WRITTEN_HERE in kept and kept != text


def _begin(species: str, text: bytes, target: Path, own: Path) -> Edit:
    draft = own.parent / DRAFTS / file_name(species)
    resumed = _content(draft) not in (None, text)
    if not resumed:
        write_whole(draft, text, make_folder=True)
        write_schema(draft.parent)
    return Edit(species, draft, target, _content(target), text, resumed)


def _free(path: Path) -> Path:
    """The path of a profile that is not there yet; what bears its name and is none is left alone."""
    if path.exists() or path.is_symlink():
        raise whole_file(str(path), "is there already and is not the profile of this species; move it away first")
    return path


def _content(path: Path) -> bytes | None:
    """What a file holds; None where there is none."""
    return read_bytes(path) if path.exists() else None


def _other_species(edit: Edit) -> tuple[Remark, ...]:
    found = read_profile(edit.draft).scientific_name
    if found == edit.species:
        return ()
    message = f"{quoted(found)} is another species than {edit.species!r}; use `coswim profile new` for it"
    return (Remark(Problem(str(edit.draft), 0, 0, "scientific_name", message), certain=True),)


def _changed_meanwhile(edit: Edit) -> tuple[Remark, ...]:
    if _content(edit.target) == edit.before:
        return ()
    message = f"was changed by someone else meanwhile; your text is in {edit.draft}: bring the two together by hand"
    return (Remark(Problem(str(edit.target), 0, 0, "", message), certain=True),)
