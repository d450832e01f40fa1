"""The sketch is to scale: length, depth and bar agree with the figures that it was given."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from coswim.findings.pictures import FishPicture
from coswim.report.document import plain
from coswim.report.drawing_parts import BLOCKS, SIGNS, Ink
from coswim.report.fish_sketch import COLUMNS, OUTLINES, sketch

DOTS = BLOCKS.dots


def shown(form: str, length: float, standard: float, depth: float, *, width: int = 80, ink: Ink = BLOCKS) -> str:
    """The sketch of a fish, lengths in cm, as text."""
    return "\n".join(map(plain, sketch(FishPicture("fish", form, length, standard, depth), width, ink)))


def fish(drawn: str) -> list[str]:
    """The lines of the fish, without the bar."""
    return drawn.split("\n\n", 1)[0].split("\n")


def bar(drawn: str) -> int:
    """The length of the bar in columns."""
    return len(drawn.rsplit("\n", 1)[1].partition(" ")[0])


def dots_high(drawn: str) -> int:
    """The height of the fish in dots, two to a line."""
    full, upper, lower = DOTS[3], DOTS[1], DOTS[2]
    rows = [
        (any(sign in (full, upper) for sign in line), any(sign in (full, lower) for sign in line))
        for line in fish(drawn)
    ]
    return sum(row for pair in rows for row in pair)


@settings(max_examples=80, deadline=None)
@given(
    form=st.sampled_from(sorted(OUTLINES)),
    length=st.floats(1.5, 150),
    standard=st.floats(0.6, 0.98),
    depth=st.floats(0.05, 0.9),
)
def test_length_depth_and_bar_are_in_one_scale(form: str, length: float, standard: float, depth: float) -> None:
    """derived: one dot is the larger of fish and bar over 60; rounding moves an end by a dot, the depth by two."""
    drawn = shown(form, length, length * standard, length * standard * depth)
    cm_per_dot = max(length, 10) / COLUMNS
    assert max(map(len, fish(drawn))) == pytest.approx(length / cm_per_dot, abs=1)
    assert bar(drawn) == pytest.approx(10 / cm_per_dot, abs=1)
    tallest = max(length * standard * depth, 0.35 * length * (1 - standard))  # a tail fin may stand higher
    assert dots_high(drawn) <= tallest / cm_per_dot + 2.1
    assert dots_high(drawn) >= length * standard * depth / cm_per_dot - 2.1
    assert max(map(len, drawn.split("\n"))) <= COLUMNS + len(" 10 cm")


def test_a_neon_tetra_beside_the_bar() -> None:
    """pinned: what the drawing looks like; its measures are tested above."""
    drawn = shown("fusiform", 3.5, 2.765, 0.876)
    assert drawn.split("\n") == [
        "     ▄▄▄▄",
        "▄▄█████████████▄▄▄▄▄▀",
        "▀██████████████▀▀▀▀▀▄",
        "     ▀▀▀▀",
        "",
        "├" + "─" * 58 + "┤ 10 cm",
    ]


def test_the_plain_drawing_is_the_same_in_ascii() -> None:
    ascii_only, drawn = shown("short-deep", 15, 12, 9, ink=SIGNS), shown("short-deep", 15, 12, 9)
    assert ascii_only.isascii()
    signs = dict(zip(DOTS, SIGNS.dots, strict=True))
    assert fish(ascii_only) == ["".join(signs[sign] for sign in line) for line in fish(drawn)]
    assert bar(ascii_only) == bar(drawn)


def test_the_sketch_shrinks_to_the_width_and_goes_where_there_is_too_little() -> None:
    """derived: ` 10 cm` takes 6 of 40 columns, so the bar of a fish of less than 10 cm is 34 long."""
    assert bar(shown("fusiform", 3.5, 2.765, 0.876, width=40)) == 34
    assert shown("fusiform", 3.5, 2.765, 0.876, width=15) == ""
