"""A long report goes through the reader's pager, whatever else the reader has set."""

from __future__ import annotations

import sys
from pathlib import Path

import pytest

from coswim.cli import output
from coswim.report.document import Document, Paragraph, strong


@pytest.mark.parametrize(("theirs", "given"), [(None, "FRX"), ("", " -R"), ("-i", "-i -R")])
def test_a_pager_shows_colours_whatever_its_reader_has_set(
    theirs: str | None, given: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Else `less` prints them as ESC[1m."""
    seen, pager = tmp_path / "seen", tmp_path / "pager"
    pager.write_text(f'#!/bin/sh\nprintf %s "$LESS" > {seen}\ncat > {seen}.text\n', encoding="utf-8")
    pager.chmod(0o755)
    monkeypatch.setenv("PAGER", str(pager))
    monkeypatch.delenv("NO_COLOR", raising=False)
    monkeypatch.setenv("TERM", "xterm")
    monkeypatch.delenv("LESS", raising=False)
    if theirs is not None:
        monkeypatch.setenv("LESS", theirs)
    monkeypatch.setattr(sys.stdout, "isatty", lambda: True, raising=False)
    output.show(Document("", (Paragraph((strong("Long."),)),)), paged=True)
    assert seen.read_text(encoding="utf-8") == given
    assert Path(f"{seen}.text").read_text(encoding="utf-8") == "\x1b[1mLong.\x1b[0m\n"
