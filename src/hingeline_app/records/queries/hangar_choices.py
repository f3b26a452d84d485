"""What a person may choose from in the hangar: whose check, which issue, which released job; the last readings."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from uuid import UUID

from hingeline import due
from hingeline_app.records.dates import today
from hingeline_app.records.models import Aircraft, CounterReading, Issue, Job, MeterChange, Part, Person
from hingeline_app.records.queries.counters import total_of
from hingeline_app.records.queries.due_question import asked_of, names_of_parts, shortest
from hingeline_app.records.queries.matter import RELEASED
from hingeline_app.records.queries.visible import found, visible_to

MOST_JOBS, MOST_READINGS = 30, 20


@dataclass(frozen=True)
class Choice:
    """One thing to choose, with its words."""

    identifier: UUID
    words: str
    # Of a job.
    number: int = 0


@dataclass(frozen=True)
class ReadingRecord:
    """A reading of a counter, newest first."""

    identifier: UUID
    counter: str
    read_on: date
    shown: Decimal
    total: Decimal
    read_by: str
    withdrawn_because: str


@dataclass(frozen=True)
class CountersOf:
    """The counters of an aircraft: as the due room has them, the last readings, the changes of its meters."""

    identifier: UUID
    registration: str
    type_name: str
    asked: due.Aircraft
    readings: tuple[ReadingRecord, ...]
    changes: tuple[tuple[str, date, Decimal, Decimal], ...]
    # Whether a task of it, or of a part on it, counts landings.
    counts_landings: bool


def aircraft_choices(viewer: Person) -> list[Choice]:
    """Give the aircraft, by registration."""
    rows = visible_to(viewer, Aircraft).order_by("registration")
    return [Choice(row.pk, f"{row.registration} · {row.type_name}") for row in rows]


def part_choices(viewer: Person) -> list[Choice]:
    """Give the parts with a number of their own."""
    rows = visible_to(viewer, Part).order_by("name", "serial_number", "part_number")
    return [Choice(part.pk, name) for part, name in names_of_parts(rows).items()]


def issue_choices(viewer: Person) -> list[Choice]:
    """Give the issues of approved documents that are in force."""
    rows = visible_to(viewer, Issue).filter(superseded_by__isnull=True).select_related("document")
    ordered = rows.order_by("document__number", "-issued_on")
    return [Choice(row.pk, f"{row.document.number}, {row.issue} · {row.document.title}") for row in ordered]


def released_jobs(viewer: Person, registration: str) -> list[Choice]:
    """Give the released jobs of an aircraft, the last first."""
    rows = visible_to(viewer, Job).filter(state=RELEASED, surface__aircraft__registration=registration)
    listed = rows.select_related("surface").order_by("-number")[:MOST_JOBS]
    return [Choice(row.pk, f"{row} · {row.surface}", row.number) for row in listed]


def counters_of(viewer: Person, aircraft: UUID) -> CountersOf:
    """Give the counters of an aircraft.

    Raises
    ------
    Nowhere
        There is none for this person.
    """
    row = found(viewer, Aircraft, aircraft)
    question = asked_of(row.workshop, today(row.workshop), row).question
    readings = CounterReading.objects.filter(aircraft=row).select_related("read_by")
    changes = MeterChange.objects.filter(aircraft=row).order_by("-changed_on")
    return CountersOf(
        row.pk,
        row.registration,
        row.type_name,
        question.aircraft[0],
        tuple(map(_reading, readings.order_by("-read_on", "counter", "-meter", "-shown")[:MOST_READINGS])),
        tuple((each.counter, each.changed_on, each.old_shown, each.new_shown) for each in changes),
        any(_counts_landings(task) for task in question.tasks),
    )


def _reading(row: CounterReading) -> ReadingRecord:
    shown, total = shortest(row.shown), shortest(total_of(row))
    assert shown is not None
    assert total is not None
    return ReadingRecord(row.pk, row.counter, row.read_on, shown, total, row.read_by.name, row.withdrawn_because)


def _counts_landings(task: due.Task) -> bool:
    start = task.start
    begins = start is not None and (start.total_landings is not None or start.within_landings is not None)
    return begins or (task.every is not None and task.every.landings is not None)
