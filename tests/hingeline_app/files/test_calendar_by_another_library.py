"""The calendar file read back by another library than the one that wrote it: vobject, of its own make."""

from __future__ import annotations

from datetime import date, timedelta
from decimal import Decimal

import vobject

from hingeline.document import to_document
from hingeline.due import Aircraft, Done, Interval, Task, what_is_due
from hingeline_app.files.due_calendar import uid_of, write_calendar

ON = date(2027, 3, 12)
TASKS = [
    Task("hinge pins; „play“, both", "T2-03", source="manual", every=Interval(months=6), months_are="anniversary",
         counts_from="done", done=(Done(date(2027, 1, 31)),)),
    Task("crack check " + "at every weld of the arm, " * 6, "T2-03", source="directive",
         every=Interval(hours=Decimal(100)), counts_from="done", done=(Done(date(2026, 11, 2), Decimal("512.3")),)),
    Task("weigh after repaint", "T2-03", before_next_flight=True, done=(Done(date(2027, 2, 1)),)),
]  # fmt: skip


def test_another_library_reads_every_day_title_and_state() -> None:
    """Long lines unfolded, signs unescaped, days as days; one entry a task, each with its lasting name."""
    document = to_document(what_is_due([Aircraft("T2-03", Decimal("613.0"))], [], TASKS, ON))
    calendar = vobject.readOne(write_calendar(document).decode("utf-8"))
    events = list(calendar.vevent_list)
    assert len(events) == 3
    for event, task in zip(events, document["tasks"], strict=True):
        assert event.uid.value == uid_of(task)
        assert event.summary.value.endswith(f"{task['name']}, T2-03")
        assert task["because"] in event.description.value
        assert event.dtend.value - event.dtstart.value == timedelta(1)
    assert [event.dtstart.value for event in events] == [date(2027, 7, 31), ON, date(2027, 2, 1)]
    assert [event.status.value for event in events] == ["CONFIRMED", "CONFIRMED", "CANCELLED"]


def test_a_private_address_reads_the_same_without_reasons() -> None:
    document = to_document(what_is_due([Aircraft("T2-03", Decimal("613.0"))], [], TASKS, ON))
    both = [vobject.readOne(write_calendar(document, titles_only=only).decode("utf-8")) for only in (False, True)]
    told, titles = ([(event.dtstart.value, event.summary.value) for event in each.vevent_list] for each in both)
    assert told == titles
    assert not any(hasattr(event, "description") for event in both[1].vevent_list)
