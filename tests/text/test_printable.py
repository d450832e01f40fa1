"""What must not reach a reader's screen is replaced in text, escaped in JSON, and shortened where it is quoted."""

from __future__ import annotations

import json
import unicodedata

import pytest

from coswim.text.printable import (
    LONGEST_QUOTE,
    REPLACEMENT,
    UNPRINTABLE,
    json_text,
    printable,
    printable_lines,
    quoted,
)

HOSTILE = (
    "\x00\x1b]0;owned\a\x1b[2J\x7f\x9b31m\x85\N{LINE SEPARATOR}\N{RIGHT-TO-LEFT OVERRIDE}\N{RIGHT-TO-LEFT ISOLATE}"
)


@pytest.mark.parametrize(
    ("text", "shown"),
    [
        ("saddled bichir", "saddled bichir"),
        ("26 °C, ≤ 8 dGH, Brönmark", "26 °C, ≤ 8 dGH, Brönmark"),
        ("a\x1b[31mb", f"a{REPLACEMENT}[31mb"),
        ("a\x9b31mb", f"a{REPLACEMENT}31mb"),
        ("a\x00b\x07c\x7f", f"a{REPLACEMENT}b{REPLACEMENT}c{REPLACEMENT}"),
        ("a\r\nb\tc\x85d\N{LINE SEPARATOR}e", "a  b c d e"),
        ("a\N{RIGHT-TO-LEFT OVERRIDE}b\N{RIGHT-TO-LEFT ISOLATE}c", f"a{REPLACEMENT}b{REPLACEMENT}c"),
        ("a\udcffb", f"a{REPLACEMENT}b"),
        ("fish\N{TAG LATIN SMALL LETTER A}", f"fish{REPLACEMENT}"),
        ("\N{MAN}\N{ZERO WIDTH JOINER}\N{FISH}", "\N{MAN}\N{ZERO WIDTH JOINER}\N{FISH}"),
    ],
    ids=["plain", "signs", "escape", "C1", "controls", "breaks", "direction", "surrogate", "tag", "joiner"],
)
def test_printable(text: str, shown: str) -> None:
    assert printable(text) == shown


def test_printable_lines_keep_their_line_breaks() -> None:
    assert printable_lines("a\r\n  b\x1b\n\nc\n") == ["a", f"  b{REPLACEMENT}", "", "c"]


def test_json_shows_nothing_that_a_screen_would_obey_and_reads_back_the_same() -> None:
    data = {HOSTILE: [HOSTILE, "26 °C", "\N{TAG LATIN SMALL LETTER A}"]}
    text = json_text(data)
    assert not {character for character in text if unicodedata.category(character) in UNPRINTABLE} - {"\n"}
    assert json.loads(text) == data
    assert "26 °C" in text


def test_json_holds_no_half_characters_and_no_nan() -> None:
    assert json.loads(json_text("a\udcff")) == f"a{REPLACEMENT}"
    with pytest.raises(ValueError, match="not JSON compliant"):
        json_text(float("nan"))


def test_what_a_message_quotes_is_short_and_visible() -> None:
    said = quoted(HOSTILE + "x" * 5000)
    assert said.isprintable()
    assert quoted("x" * 5000) == repr("x" * (LONGEST_QUOTE - 3) + "...")
    assert quoted("x" * LONGEST_QUOTE) == repr("x" * LONGEST_QUOTE)
