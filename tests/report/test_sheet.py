"""Text in a drawing takes no more room than it was given, and none of it is lost."""

from __future__ import annotations

from hypothesis import given, settings
from hypothesis import strategies as st

from coswim.report import sheet


def test_lines_break_between_words() -> None:
    assert sheet.wrapped("the mouth of the saddled bichir", 110, 13) == ("the mouth of", "the saddled", "bichir")


@given(st.text(st.characters(exclude_categories=["Cs"]), max_size=80), st.floats(30, 300))
@settings(max_examples=100, deadline=None)
def test_lines_fit_and_lose_nothing(words: str, width: float) -> None:
    lines = sheet.wrapped(words, width, 13)
    assert all(sheet.text_width(line, 13) <= width for line in lines)
    assert "".join("".join(lines).split()) == "".join(words.split())
