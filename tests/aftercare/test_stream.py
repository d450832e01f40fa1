"""Diaries as text: what is written reads back, what a person wrote wrong is reported where it stands."""

from __future__ import annotations

from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st

from coswim.aftercare.diary import Damage, Diary, DiaryEntry, WaterTest
from coswim.aftercare.stream import read_diary, write_entry
from coswim.text.problems import InputProblems

WHOLE = """\
# how my fish do
--- {date: 2026-01-07, group: oscar, ate: some, chased: often, damage: {grade: 2, place: barbel}}
---
date: 2026-01-05
group: saddled bichir
length: 15 in
weight: 1 lb
note: >
  ate from the tongs,
  calm
--- {date: 2026-01-07, water: {ammonia: 0.5, nitrite: 0.1 ppm, ph: 7.4, temperature: 79 F, hardness: 8 dGH}}
"""


def read(text: str) -> Diary:
    return read_diary(text.encode(), "d.yaml")


def problems(text: str) -> list[str]:
    with pytest.raises(InputProblems) as caught:
        read(text)
    return [str(problem) for problem in caught.value.problems]


def test_a_diary_is_read_in_the_order_of_its_days() -> None:
    diary = read(WHOLE)
    assert diary.lines == (4, 2, 11)
    first, second, third = diary.entries
    assert (first.date, first.group, first.note) == (date(2026, 1, 5), "saddled bichir", "ate from the tongs, calm")
    assert first.length == pytest.approx(38.1)  # derived: 15 x 2.54
    assert first.weight == pytest.approx(453.59237)  # published: the international pound
    assert second.damage == Damage(grade=2, place="barbels")
    assert third.water is not None
    assert third.water.temperature == 26  # derived: (79 - 32) / 1.8 = 26.1, to the half degree


def test_an_empty_diary_has_no_entries() -> None:
    assert read("").entries == read("# nothing yet\n---\n...\n").entries == ()


@pytest.mark.parametrize(
    ("text", "messages"),
    [
        (
            "--- {date: 2026-01-05, note: a}\n--- {date: 5 January, note: b}\n---\ndate: 2026-01-06\nate: lots\ngroup: x\n",
            [
                "d.yaml:2:12: date: '5 January' is not a day; write year-month-day, e.g. '2026-01-05'",
                "d.yaml:5:6: ate: 'lots' is not a word for eating; allowed: yes, some, no",
            ],
        ),
        (
            "--- {date: 2026-01-05, group: x, damage: {grade: 4, place: tale}}\n",
            [
                "d.yaml:1:50: damage.grade: '4' is outside 0 to 3",
                "d.yaml:1:60: damage.place: 'tale' is not a place on a fish; allowed: fins, tail, scales, body, head, "
                "eye, barbels, mouth, gills, belly; did you mean 'tail' or 'scales'?",
            ],
        ),
        ("--- {note: no day}\n", ["d.yaml:1:5: date: is missing (the day, e.g. 2026-01-05)"]),
        (
            "--- {date: 2026-01-05, ate: no}\n",
            ["d.yaml:1:5: says ate but not of which fish; add group"],
        ),
        (
            "--- {date: 2026-01-05}\n",
            ["d.yaml:1:5: says nothing; add one of ate, chased, damage, length, weight, water, note"],
        ),
        (
            "--- {date: 2026-01-05, group: x, wieght: 4 g}\n",
            ["d.yaml:1:34: wieght: unknown key 'wieght'; did you mean 'weight'?"],
        ),
    ],
    ids=["day and word", "grade and place", "no day", "no group", "nothing", "unknown key"],
)
def test_a_problem_names_its_line_and_column_in_the_whole_file(text: str, messages: list[str]) -> None:
    assert problems(text) == messages


@pytest.mark.parametrize(
    "note",
    [
        "a: b",
        "- x",
        "{x}",
        "# no",
        'it\'s "quoted" \\ back',
        "yes",
        "ends.",
        "two  spaces",
        "é–ñ 金魚",
        "a\x1b[31m",
        "}",
        "12",
    ],
)
def test_a_note_reads_back_as_it_was_written(note: str) -> None:
    written = write_entry(DiaryEntry(date=date(2026, 1, 5), note=note))
    assert written.count("\n") == 1
    (entry,) = read(written).entries
    assert entry.note == " ".join(note.split())


@given(
    ate=st.sampled_from(["yes", "some", "no", None]),
    grade=st.integers(0, 3),
    weight=st.floats(0.01, 200_000),
    length=st.floats(0.5, 500),
    ammonia=st.floats(1e-9, 1000),
    note=st.text(min_size=1, max_size=60).filter(lambda words: words.strip() != ""),
)
def test_every_entry_reads_back(
    ate: str | None, grade: int, weight: float, length: float, ammonia: float, note: str
) -> None:
    entry = DiaryEntry(
        date=date(2026, 1, 5), group="oscar", ate=ate, damage=Damage(grade=grade, place="eye"), weight=weight,
        length=length, water=WaterTest(ammonia=ammonia, ph=7.0), note=note,
    )  # fmt: skip
    (found,) = read(write_entry(entry)).entries
    assert (found.ate, found.damage) == (ate, entry.damage)
    assert found.weight == pytest.approx(weight, rel=1e-5)
    assert found.length == pytest.approx(length, rel=1e-5)
    assert found.water is not None
    assert found.water.ammonia == pytest.approx(ammonia, rel=1e-5, abs=1e-9)
