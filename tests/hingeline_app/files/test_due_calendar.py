"""The calendar file: read back by a reader of our own that knows only RFC 5545, and by a library of dates."""

from __future__ import annotations

import re
from dataclasses import replace
from datetime import date
from decimal import Decimal
from typing import Any

import pytest
from dateutil.rrule import rrulestr

from hingeline.document import to_document
from hingeline.due import Aircraft, Done, DueResult, Interval, Reading, Task, sign_off, what_is_due
from hingeline_app.files.due_calendar import write_calendar
from hingeline_app.files.due_file import read_due
from hingeline_app.said import reading_in
from tests.doors.checkouts import ROOT

ON = date(2027, 3, 12)
MONTHLY = Task("monthly", "T2-03", source="manual", every=Interval(months=1), counts_from="due",
               done=(Done(date(2027, 1, 31)), Done(date(2027, 2, 28))))  # fmt: skip
FLOWN = Aircraft("T2-03", Decimal("130.0"), readings=tuple(
    Reading(date(2027, month, 1), Decimal(hours)) for month, hours in ((1, "100.0"), (2, "112.0"), (3, "126.0"))
))  # fmt: skip
HOURLY = Task("hourly", "T2-03", source="manual", every=Interval(Decimal(100)), counts_from="done",
              done=(Done(date(2027, 1, 1), Decimal("100.0")),))  # fmt: skip


def asked(*tasks: Task, aircraft: Aircraft = FLOWN, on: date = ON) -> DueResult:
    """What is due."""
    return what_is_due([aircraft], [], tasks, on)


def entries(written: bytes) -> list[dict[str, str]]:
    """Read a calendar back as the standard says: unfold, then name, parameters and value."""
    assert written.endswith(b"\r\n")
    text = re.sub("\r\n[ \t]", "", written.decode("utf-8"))
    found: list[dict[str, str]] = []
    for line in text.split("\r\n"):
        name, _, value = line.partition(":")
        if line == "BEGIN:VEVENT":
            found.append({})
        elif found and line:
            found[-1].setdefault(name, unescaped(value))
    return found


def unescaped(value: str) -> str:
    """Take the escapes off a text (3.3.11)."""
    return re.sub(r"\\([\\;,nN])", lambda found: "\n" if found[1] in "nN" else found[1], value)


def calendar(*tasks: Task, **given: Any) -> list[dict[str, str]]:
    """The entries of these tasks."""
    return entries(write_calendar(to_document(asked(*tasks, **given))))


def test_a_date_is_one_whole_day() -> None:
    """A date limit is an all-day entry on its last usable day, and says so."""
    (entry,) = calendar(MONTHLY)
    assert entry["DTSTART;VALUE=DATE"] == "20270331"
    assert entry["DTEND;VALUE=DATE"] == "20270401"
    assert entry["SUMMARY"] == "due, last day: monthly, T2-03"
    assert entry["STATUS"] == "CONFIRMED"
    assert "19 days left: due on 31 Mar 2027" in entry["DESCRIPTION"]


def test_hours_are_a_forecast_at_its_early_end() -> None:
    """A limit in hours has no date: the entry begins where the forecast does, tentative, with the band in words."""
    (state,) = asked(HOURLY).tasks
    assert state.forecast is not None
    (entry,) = calendar(HOURLY)
    assert entry["DTSTART;VALUE=DATE"] == state.forecast.low.strftime("%Y%m%d")
    assert entry["SUMMARY"].startswith("forecast, from about here on")
    assert entry["STATUS"] == "TENTATIVE"
    assert "An estimate from past use: the counter decides." in entry["DESCRIPTION"]


def test_a_reader_of_german_is_told_in_german_that_it_is_an_estimate() -> None:
    """Title and caution alike; the name of the task, its day and its identity are the same in every language."""
    (english,) = calendar(HOURLY)
    with reading_in("de"):
        (german,) = calendar(HOURLY)
    assert german["SUMMARY"].startswith("Vorhersage, etwa ab hier: hourly")
    assert "Eine Schätzung aus dem bisherigen Gebrauch: Der Zähler entscheidet." in german["DESCRIPTION"]
    assert [german[name] for name in ("UID", "SEQUENCE")] == [english[name] for name in ("UID", "SEQUENCE")]


def test_without_a_forecast_there_is_no_date() -> None:
    """Hours without readings stand on the day asked about and say that the counter must be looked at."""
    (entry,) = calendar(HOURLY, aircraft=replace(FLOWN, readings=()))
    assert entry["DTSTART;VALUE=DATE"] == "20270312"
    assert entry["SUMMARY"] == "no date, look at the counter: hourly, T2-03"


@pytest.mark.parametrize(
    ("task", "word"),
    [
        (replace(HOURLY, done=(Done(date(2026, 1, 1), Decimal("20.0")),)), "overdue"),
        (Task("flaps", "T2-03", before_next_flight=True), "due"),
        (Task("lost", "T2-03", every=Interval(Decimal(10))), "unknown"),
    ],
)
def test_what_presses_stands_on_the_day(task: Task, word: str) -> None:
    """What is overdue, due or not known stands on the day asked about, with its word first and as its category."""
    (entry,) = calendar(task)
    assert entry["DTSTART;VALUE=DATE"] == "20270312"
    assert entry["SUMMARY"].startswith(f"{word}: ")
    assert entry["CATEGORIES"] == word


def test_what_ended_is_cancelled() -> None:
    """A task that is closed or not applicable cancels the entry that an earlier file made."""
    closed, other = calendar(
        Task("once", "T2-03", before_next_flight=True, done=(Done(date(2027, 3, 1)),)),
        replace(MONTHLY, applies=False),
    )
    assert (closed["STATUS"], other["STATUS"]) == ("CANCELLED", "CANCELLED")
    assert closed["DTSTART;VALUE=DATE"] == "20270301"


def test_a_later_file_brings_entries_up_to_date_and_never_doubles() -> None:
    """After a sign-off and days later each task has the UID it had, and a higher SEQUENCE."""
    before = calendar(MONTHLY, HOURLY)
    done = sign_off(MONTHLY, Done(date(2027, 3, 14)))
    after = calendar(done, HOURLY, on=date(2027, 3, 15))
    assert [each["UID"] for each in after] == [each["UID"] for each in before]
    assert len({each["UID"] for each in before}) == 2
    assert int(after[0]["SEQUENCE"]) > int(before[0]["SEQUENCE"])
    assert after[0]["DTSTART;VALUE=DATE"] == "20270430"


def test_the_same_question_gives_the_same_bytes() -> None:
    """Time stamps come from the day asked about, not from a clock."""
    document = to_document(asked(MONTHLY, HOURLY))
    assert write_calendar(document) == write_calendar(document)
    assert calendar(MONTHLY)[0]["DTSTAMP"] == "20270312T000000Z"


def test_a_part_keeps_its_entry_on_another_aircraft() -> None:
    """The identity of a part's task is the part's: moved to another aircraft it stays one entry."""
    text = (ROOT / "examples" / "due" / "01-checks-of-a-merle.toml").read_text("utf-8")
    moved = text.replace('{aircraft = "T2-03", from = 770.1}', '{aircraft = "T2-03", from = 770.1, to = 1400.0}')
    assert moved != text
    found = [read_due(each.encode()) for each in (text, moved)]
    written = [write_calendar(to_document(what_is_due(q.aircraft, q.parts, q.tasks, q.on))) for q in found]
    assert entries(written[0])[0]["UID"] == entries(written[1])[0]["UID"]


def test_lines_are_folded_and_escaped() -> None:
    """No line is longer than 75 octets, also with letters of two octets; commas and line breaks come back."""
    task = replace(MONTHLY, name="Höhenruder, Lager; außen " * 5, reference="Merle T2, 5-10; issue C")
    written = write_calendar(to_document(asked(task)))
    assert max(len(line) for line in written.split(b"\r\n")) <= 75
    (entry,) = entries(written)
    assert entry["SUMMARY"] == f"due, last day: {task.name}, T2-03"
    assert entry["DESCRIPTION"].endswith("manual: Merle T2, 5-10; issue C")


def test_there_is_no_rule_of_repetition_since_it_would_skip_months() -> None:
    """A monthly rule from the 31st skips the short months (RFC 5545, 3.3.10); our next date is in the next month."""
    skipping = rrulestr("DTSTART:20141231T000000\nRRULE:FREQ=MONTHLY;COUNT=4")
    dates = [day.date().isoformat() for day in skipping]
    assert dates == ["2014-12-31", "2015-01-31", "2015-03-31", "2015-05-31"]
    task = replace(MONTHLY, done=(Done(date(2014, 12, 31)), Done(date(2015, 1, 31))))
    written = write_calendar(to_document(asked(task, aircraft=Aircraft("T2-03"), on=date(2015, 2, 1))))
    assert b"RRULE" not in written
    assert entries(written)[0]["DTSTART;VALUE=DATE"] == "20150228"


def test_a_calendar_library_reads_it_back() -> None:
    """Every entry of both examples is read back with the same number of entries, each with what the standard asks."""
    from icalendar import Calendar

    for path in sorted((ROOT / "examples" / "due").glob("*.toml")):
        question = read_due(path.read_bytes())
        result = what_is_due(question.aircraft, question.parts, question.tasks, question.on)
        read = Calendar.from_ical(write_calendar(to_document(result)))
        events = read.walk("VEVENT")
        assert len(events) == len(result.tasks)
        for event in events:
            assert {"UID", "DTSTAMP", "DTSTART", "SUMMARY"} <= set(event)
            assert not event.errors
