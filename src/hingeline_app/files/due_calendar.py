"""What is due as a calendar file: one all-day entry a due point, which a later export brings up to date.

RFC 5545. An entry keeps its UID for ever: it is made from the aircraft, the part and the task. Its time stamp
and its SEQUENCE come from the day that was asked about, not from a clock, so that the same question gives the
same bytes. There is no rule of repetition: a month that is too short would drop out of one (3.3.10).
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from datetime import UTC, date, datetime, time, timedelta
from typing import Any
from uuid import UUID, uuid5

from hingeline.due.words import day as in_words
from hingeline.errors import MissingExtra
from hingeline_app.said import say

try:
    from icalendar import Calendar, Event
except ImportError as missing:
    raise MissingExtra('Calendar files need the package icalendar: pip install "hingeline[app]".') from missing

# Fixed for ever: a change would double every entry in people's calendars.
NAMESPACE = UUID("6a1f3f0e-5d0b-5c0c-9b61-2d1f9d0a7c55")
PRODUCT = "-//Hingeline//due//EN"
FIRST_DAY = date(2000, 1, 1)
ENDED = ("closed", "not applicable")

Document = Mapping[str, Any]


def write_calendar(document: Document, *, titles_only: bool = False) -> bytes:
    """Write what is due as iCalendar, in the reader's language.

    Parameters
    ----------
    document : mapping
        A ``hingeline/due-result/1``.
    titles_only : bool
        Days and titles, nothing of why: for an address that others may come to know.

    Returns
    -------
    bytes
        UTF-8, lines of at most 75 octets, ended by carriage return and line feed.
    """
    calendar = Calendar()
    calendar.add("prodid", PRODUCT)
    calendar.add("version", "2.0")
    calendar.add("method", "PUBLISH")
    on = date.fromisoformat(document["on"])
    for task in document["tasks"]:
        calendar.add_component(_entry(task, on, titles_only=titles_only))
    return bytes(calendar.to_ical())


def uid_of(task: Document) -> str:
    """Give the identity of a task's entry: of its part, which may change aircraft, or else of its aircraft."""
    owner = ("part", task["part"]) if task["part"] else ("aircraft", task["aircraft"])
    return f"{uuid5(NAMESPACE, repr((*owner, task['name'])))}@hingeline.invalid"


def _entry(task: Document, on: date, *, titles_only: bool) -> Event:
    day, summary = _day_and_summary(task, on)
    event = Event()
    event.add("uid", uid_of(task))
    event.add("dtstamp", datetime.combine(on, time(), UTC))
    event.add("sequence", max(0, (on - FIRST_DAY).days))
    event.add("dtstart", day)
    event.add("dtend", day + timedelta(1))
    event.add("summary", summary)
    if not titles_only:
        event.add("description", "\n".join(map(say, _description(task))))
    event.add("categories", [task["state"]])
    event.add("status", "CANCELLED" if task["state"] in ENDED else "CONFIRMED" if _has_date(task) else "TENTATIVE")
    event.add("transp", "TRANSPARENT")
    return event


def _has_date(task: Document) -> bool:
    return task["state"] in ("overdue", "due") or (task["binding"] == "date" and not _forecast_comes_first(task))


def _forecast_comes_first(task: Document) -> bool:
    """Whether the forecast begins before the date: then the entry must not wait for the date."""
    return task["forecast"] is not None and (task["due_date"] is None or task["forecast"]["low"] < task["due_date"])


def _day_and_summary(task: Document, on: date) -> tuple[date, str]:
    name, state = f"{task['name']}, {task['part'] or task['aircraft']}", say(task["state"])
    if task["state"] in ENDED:
        return date.fromisoformat(task["last_done"] or task["due_date"] or on.isoformat()), f"{state}: {name}"
    if task["state"] in ("overdue", "due", "unknown"):
        return on, f"{state}: {name}"
    if _forecast_comes_first(task):
        return date.fromisoformat(task["forecast"]["low"]), f"{say('forecast, from about here on')}: {name}"
    if task["due_date"] is not None:
        told = "due, last day" if task["binding"] == "date" else "by its date, the counter may come first"
        return date.fromisoformat(task["due_date"]), f"{say(told)}: {name}"
    return on, f"{say('no date, look at the counter')}: {name}"


def _in_words(day: str | None) -> str:
    return in_words(date.fromisoformat(day)) if day else "an end that nobody can tell"


def _description(task: Document) -> Iterator[str]:
    yield task["because"]
    forecast = task["forecast"]
    if forecast is not None:
        low, mid, high = (_in_words(forecast[name]) for name in ("low", "mid", "high"))
        yield f"Forecast: {low} to {high}, the middle {mid}. An estimate from past use: the counter decides."
    yield from task["notes"]
    if task["reference"]:
        yield f"{say(task['source'] or 'source')}: {task['reference']}"
