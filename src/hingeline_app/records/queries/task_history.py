"""One task in full: its row, when it was done and on what word, what was put off, and what the ledger says of it."""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from typing import Any
from uuid import UUID

from hingeline_app.records.models import Deferral, Entry, Issue, Job, Person, SignOff, Task
from hingeline_app.records.queries.checks_ahead import CheckAhead, checks_ahead
from hingeline_app.records.queries.due_question import shortest
from hingeline_app.records.queries.matter import RELEASED, VOIDED
from hingeline_app.records.queries.visible import Nowhere

MOST_JOBS = 60
# What names the issue of a document, as changes of a task are told: an identifier says nothing to a reader.
ISSUE = "issue_id"


@dataclass(frozen=True)
class SignedOff:
    """A time that a task was done. ``stands``: it counts."""

    identifier: UUID
    done_on: date
    hours: Decimal | None
    landings: int | None
    job: int | None
    paper: str
    signer: str
    entered_by: str
    withdrawn_because: str
    stands: bool


@dataclass(frozen=True)
class PutOff:
    """What an approval let wait, and up to where."""

    identifier: UUID
    until_date: date | None
    until_hours: Decimal | None
    until_landings: int | None
    approval: str
    reason: str
    entered_by: str
    entered_on: date
    withdrawn_because: str


@dataclass(frozen=True)
class TaskInFull:
    """A task as its page shows it."""

    check: CheckAhead
    owner: UUID
    document: str
    issue: str
    issue_of: UUID | None
    is_superseded: bool
    check_points: tuple[str, ...]
    arm_file: str
    signed: tuple[SignedOff, ...]
    put_off: tuple[PutOff, ...]
    # Where a job for it would be: the aircraft it is on now, and the surface of a part.
    aircraft: UUID | None
    surface: UUID | None
    # Jobs that were opened for it, with their state, the last first.
    jobs: tuple[tuple[int, str], ...]


@dataclass(frozen=True)
class TaskEntry:
    """One entry of the ledger that is about a task."""

    position: int
    digest: str
    at: str
    kind: str
    by: str
    says: Mapping[str, Any]
    # Names of what changed, with what it was and what it is.
    changed: tuple[tuple[str, str, str], ...]
    # What was entered for the first time: how it was done, up to where it may wait.
    held: tuple[tuple[str, str], ...] = ()


def task_in_full(viewer: Person, identifier: UUID) -> TaskInFull:
    """Give one task that a person may see; four queries beside those of the list.

    Raises
    ------
    Nowhere
        There is none for this person.
    """
    check = next((each for each in checks_ahead(viewer).checks if each.identifier == identifier), None)
    if check is None:
        raise Nowhere("there is no such task")
    row = Task.objects.select_related("issue__document", "part").get(pk=identifier)
    signed = SignOff.objects.filter(task=row).select_related("job", "entered_by").order_by("-done_on", "-hours", "pk")
    waiting = Deferral.objects.filter(task=row).select_related("entered_by").order_by("-entered_on", "pk")
    owner = row.aircraft_id or row.part_id
    assert owner is not None, "a task has one owner"
    return TaskInFull(
        check,
        owner,
        row.issue.document.number if row.issue else "",
        row.issue.issue if row.issue else "",
        row.issue_id,
        row.issue is not None and row.issue.superseded_by_id is not None,
        tuple(row.check_points),
        row.arm_file,
        tuple(map(_signed, signed)),
        tuple(map(_put_off, waiting)),
        *_place(row),
    )


def _place(row: Task) -> tuple[UUID | None, UUID | None, tuple[tuple[int, str], ...]]:
    fitting = row.part.fittings.filter(removed_on__isnull=True).first() if row.part else None
    aircraft = fitting.aircraft_id if fitting else row.aircraft_id
    jobs = Job.objects.filter(surface__aircraft=aircraft).exclude(state=VOIDED).order_by("-number")[:MOST_JOBS]
    named = [(job.number, job.state) for job in jobs if _is_for(job, row)]
    return aircraft, fitting.surface_id if fitting else None, tuple(named)


def _is_for(job: Job, task: Task) -> bool:
    return isinstance(job.details, dict) and job.details.get("task") == str(task.pk)


def _signed(row: SignOff) -> SignedOff:
    stands = not row.withdrawn_because and (row.job is None or row.job.state == RELEASED)
    return SignedOff(
        row.pk,
        row.done_on,
        shortest(row.hours),
        row.landings,
        row.job.number if row.job else None,
        row.paper,
        row.signer,
        row.entered_by.name,
        row.withdrawn_because,
        stands,
    )


def _put_off(row: Deferral) -> PutOff:
    return PutOff(
        row.pk,
        row.until_date,
        shortest(row.until_hours),
        row.until_landings,
        row.approval,
        row.reason,
        row.entered_by.name,
        row.entered_on,
        row.withdrawn_because,
    )


def entries_of_task(viewer: Person, identifier: UUID) -> list[TaskEntry]:
    """Give what the ledger says of a task, the last first; it goes through the whole chain."""
    task_in_full(viewer, identifier)
    bodies = Entry.objects.filter(workshop=viewer.workshop, chain="records", body__contains=str(identifier))
    found, before = list[TaskEntry](), dict[str, dict[str, Any]]()
    for entry in bodies.order_by("position"):
        body = json.loads(entry.body)
        notes = [
            note for note in body["rows"] if str(identifier) in (note["identifier"], note["values"].get("task_id"))
        ]
        if notes:
            found.append(_entry(entry, body, notes, before))
    return found[::-1]


def _entry(
    entry: Entry, body: Mapping[str, Any], notes: list[Mapping[str, Any]], before: dict[str, dict[str, Any]]
) -> TaskEntry:
    changed = [one for note in notes for one in _changed(before.get(note["identifier"]), note["values"])]
    held = [one for note in notes if note["identifier"] not in before for one in _held(note["values"])]
    before |= {note["identifier"]: note["values"] for note in notes}
    by = body["by"]["name"] if body["by"] else ""
    return TaskEntry(
        entry.position, entry.digest, body["at"], entry.kind, by, body["says"], tuple(changed), tuple(held)
    )


_TOLD = (
    "done_on", "hours", "landings", "paper", "signer", "due_hours", "due_landings", "due_date",
    "until_date", "until_hours", "until_landings", "approval", "reason",
)  # fmt: skip


def _held(values: Mapping[str, Any]) -> list[tuple[str, str]]:
    """Give what a reader asks of a new row, in the order of the form it came from."""
    return [
        (name.replace("_", " "), _as_read(name, values[name])) for name in _TOLD if values.get(name) not in (None, "")
    ]


def _as_read(name: str, value: Any) -> str:
    """Give a value as pages show it: hours without the zeros of their column, with their unit; a list in one line."""
    if isinstance(value, list):
        return "; ".join(map(str, value))
    if name.replace(" ", "_") == ISSUE:
        return _issue_in_words(value)
    is_hours = "hours" in name.replace("_", " ").split()
    return f"{shortest(Decimal(str(value)))} h" if is_hours else str(value)


def _issue_in_words(identifier: str) -> str:
    row = Issue.objects.select_related("document").filter(pk=identifier).first()
    return f"{row.document.number}, {row.issue}" if row else identifier


def _changed(old: Mapping[str, Any] | None, new: Mapping[str, Any]) -> list[tuple[str, str, str]]:
    if old is None:
        return []
    one, other = _flat(old), _flat(new)
    return [(name.removesuffix(" id"), one.get(name, ""), other.get(name, "")) for name in sorted({*one, *other})
            if one.get(name) != other.get(name)]  # fmt: skip


def _flat(values: Any, place: str = "") -> dict[str, str]:
    """Give nested values by their places, as pages show them."""
    if isinstance(values, Mapping):
        return {key: text for name, each in values.items() for key, text in _flat(each, f"{place} {name}").items()}
    name = place.strip().replace("_", " ")
    return {name: "" if values is None else _as_read(name, values)}
