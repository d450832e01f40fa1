"""A calendar as iCalendar (RFC 5545), for any calendar program: all-day events, the same bytes each time."""

from __future__ import annotations

import hashlib
from datetime import UTC, datetime, time, timedelta

import icalendar

from coswim import __version__
from coswim.aftercare.calendar import Calendar, DatedStep

NAMESPACE = "coswim"


def write_ics(made: Calendar) -> bytes:
    """The steps as events; a step that is due again and again is one event that comes again."""
    book = icalendar.Calendar()
    book.add("prodid", f"-//coswim//coswim {__version__}//EN")
    book.add("version", "2.0")
    book.add("calscale", "GREGORIAN")
    for number, step in enumerate(made.steps):
        book.add_component(_event(step, number, made))
    return bytes(book.to_ical())


def _event(step: DatedStep, number: int, made: Calendar) -> icalendar.Event:
    event = icalendar.Event()
    event.add("uid", _uid(step, number, made))
    event.add("dtstamp", datetime.combine(made.company.start, time.min, UTC))
    event.add("summary", _plain(f"{made.company.name}: {step.title}"))
    event.add("description", "\n".join(map(_plain, step.what)))
    event.add("dtstart", step.day)
    last = step.day if step.every else step.until
    event.add("dtend", last + timedelta(days=1))  # the first day that is no longer part of it
    if step.every:
        event.add("rrule", {"freq": "daily", "interval": step.every, "until": step.until})
    event.add("transp", "TRANSPARENT")
    return event


def _plain(words: str) -> str:
    """A name of the plan's may hold signs that no calendar should obey."""
    return "".join(sign if sign.isprintable() else " " for sign in words)


def _uid(step: DatedStep, number: int, made: Calendar) -> str:
    """The same for the same step of the same calendar, so that a second import replaces the first."""
    words = f"{made.company.name}|{made.company.start}|{step.kind}|{step.title}|{number}"
    return f"{hashlib.sha256(words.encode('utf-8', 'replace')).hexdigest()[:32]}@{NAMESPACE}"
