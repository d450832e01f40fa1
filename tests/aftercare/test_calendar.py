"""The dated steps, and the calendar file read back by the library that others use for it (oracle: icalendar)."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date, timedelta
from typing import Any

import icalendar
import pytest

from coswim.aftercare.calendar import make_calendar, quarantine_end
from coswim.aftercare.ics import write_ics
from coswim.aftercare.two_waters import Water, differences

DAY = date(2026, 1, 5)
TWO_KINDS = """
    tank: {size: 150 x 60 x 60 cm, temperature: 26 C, ph: 6.8, hardness: 6 dGH}
    residents: [{species: yoyo loach, count: 6, length: 11 cm}]
    proposals:
      - name: "two, kinds;"
        add: [{species: Jack Dempsey, length: 8 cm}, {species: neon tetra, count: 10, length: 3 cm}]
"""


@pytest.mark.parametrize(
    ("added", "end"),
    [
        ([], date(2026, 2, 4)),  # derived: 30 days
        ([date(2026, 1, 20)], date(2026, 2, 19)),
        ([date(2026, 2, 3), date(2026, 1, 20)], date(2026, 3, 5)),
        ([date(2026, 2, 4)], date(2026, 2, 4)),  # quarantine is over
    ],
)
def test_quarantine_is_thirty_days_and_starts_anew_with_each_addition(added: list[date], end: date) -> None:
    assert quarantine_end(DAY, added) == end


def test_an_addition_before_the_start_is_refused() -> None:
    with pytest.raises(ValueError, match="2026-01-04 is before the quarantine starts"):
        quarantine_end(DAY, [date(2026, 1, 4)])


def test_the_gentle_move_in_before_those_who_hold_a_place(bought: Callable[..., Any]) -> None:
    theirs = bought(TWO_KINDS)
    steps = [step for step in make_calendar(theirs.company, theirs.concerns).steps if step.kind == "moving in"]
    assert [(step.title, step.day) for step in steps] == [
        ("The 10 neon tetras move in", date(2026, 2, 4)),
        ("The Jack Dempsey moves in", date(2026, 2, 18)),
    ]


@pytest.mark.parametrize(("resident", "hour"), [("oscar", "In the evening"), ("saddled bichir", "In the morning")])
def test_fish_move_in_when_those_who_might_harm_them_rest(resident: str, hour: str, bought: Callable[..., Any]) -> None:
    theirs = bought(f"""
        tank: {{size: 180 x 60 x 60 cm, temperature: 26 C}}
        residents: [{{species: {resident}, length: 20 cm}}]
        proposals: [{{name: barbs, add: [{{species: tinfoil barb, count: 6, length: 12 cm}}]}}]
    """)
    steps = make_calendar(theirs.company, theirs.concerns).steps
    assert any(step.kind == "moving in" and hour in " ".join(step.what) for step in steps)


def test_the_calendar_has_every_kind_of_step(bought: Callable[..., Any]) -> None:
    theirs = bought("""
        tank: {size: 120 x 50 x 50 cm, temperature: 26 C, ph: 7.8, hardness: 6 dGH, filter: young}
        residents: [{species: oscar, length: 9 cm}]
        proposals: [{name: tetras, add: [{species: Buenos Aires tetra, count: 20, length: 5 cm}]}]
    """)
    steps = make_calendar(theirs.company, theirs.concerns).steps
    kinds = {step.kind for step in steps}
    assert kinds == {
        "quarantine",
        "waters",
        "prepare",
        "feeding",
        "moving in",
        "filter",
        "watch",
        "measure",
        "gape",
        "space",
    }
    (opens, *_) = [step for step in steps if step.kind == "gape"]
    concern = next(concern for concern in theirs.concerns if concern.hazard == "gape-fit")
    assert concern.sentence in opens.what
    assert [step.day for step in steps] == sorted(step.day for step in steps)
    (filter_,) = [step for step in steps if step.kind == "filter"]
    assert (filter_.until - filter_.day).days + 1 >= 14


def test_no_step_names_a_medicine(bought: Callable[..., Any]) -> None:
    theirs = bought(TWO_KINDS)
    words = " ".join(" ".join(step.what) for step in make_calendar(theirs.company, theirs.concerns).steps).casefold()
    assert "veterinarian" in words
    assert not any(
        drug in words for drug in ("mg of", "copper", "methylene", "antibiotic", "formalin", "salt bath", "dose")
    )


def test_two_waters(bichir: Any) -> None:
    """Common practice: 2 C, 0.5 of pH, 5 dGH are what fish bear at once."""
    found = differences(Water(24.0, 7.8, 8.0), bichir.company.plan.tank)
    assert [(one.name, one.is_large, one.days) for one in found] == [
        ("temperature", False, 1),
        ("pH", True, 3),  # derived: 0.8 / 0.3
        ("hardness", False, 1),
    ]


def test_the_calendar_file_reads_back_as_the_same_days(bought: Callable[..., Any]) -> None:
    theirs = bought(TWO_KINDS)
    made = make_calendar(theirs.company, theirs.concerns)
    raw = write_ics(made)
    book = icalendar.Calendar.from_ical(raw)
    events = book.walk("VEVENT")
    assert len(events) == len(made.steps)
    for event, step in zip(events, made.steps, strict=True):
        assert str(event["SUMMARY"]) == f"two, kinds;: {step.title}"
        assert str(event["DESCRIPTION"]) == "\n".join(step.what)
        assert event.decoded("DTSTART") == step.day
        last = event.decoded("DTEND") - timedelta(days=1)
        if step.every:
            rule: Any = event["RRULE"]
            assert (last, rule["FREQ"], rule["INTERVAL"], rule["UNTIL"]) == (
                step.day,
                ["DAILY"],
                [step.every],
                [step.until],
            )
        else:
            assert last == step.until
    assert len({str(event["UID"]) for event in events}) == len(events)
    assert book.errors == [event_errors for event in events for event_errors in event.errors]
    assert raw == write_ics(made)


def test_lines_of_the_calendar_file_are_as_the_standard_wants_them(bought: Callable[..., Any]) -> None:
    """RFC 5545, 3.1: lines end with CR LF and hold at most 75 octets."""
    theirs = bought(TWO_KINDS)
    raw = write_ics(make_calendar(theirs.company, theirs.concerns))
    assert raw.endswith(b"END:VCALENDAR\r\n")
    assert b"\n" not in raw.replace(b"\r\n", b"")
    assert max(map(len, raw.split(b"\r\n"))) <= 75
