"""Who changed what of one job, when and why: read out of the ledger."""

from __future__ import annotations

import json
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any
from uuid import UUID

from hingeline_app.records.entries_of_jobs import read_on
from hingeline_app.records.models import Entry, Job, JobEntry, Person
from hingeline_app.records.queries.matter import OPEN
from hingeline_app.records.queries.visible import found
from hingeline_app.records.write_door import RECORDS

Known = dict[tuple[str, str], Mapping[str, Any]]
# What a change of tells nobody anything: every change of a job counts up.
COUNTING = frozenset({"changes", "version", "change"})
# The entry itself says who made it.
NOT_SHOWN = COUNTING | {
    *("identifier", "job", "made_by", "measurement", "workshop", "digest", "seen", "text", "software", "worked_on_by"),
}
# What the worker says of an item, and what an inspector saw of it.
BLIND = frozenset({"tick", "finding", "note"})


@dataclass(frozen=True)
class FieldChange:
    """One value of a row: what it was, and what it is now."""

    table: str
    field: str
    was: str
    now: str


@dataclass(frozen=True)
class HistoryEntry:
    """One entry of the ledger about a job."""

    position: int
    short: str
    kind: str
    by: str
    at: str
    why: str
    changes: tuple[FieldChange, ...]


def history_of_job(viewer: Person, job: UUID) -> list[HistoryEntry]:
    """Give every entry about a job, the first first.

    Raises
    ------
    Nowhere
        There is no such job for this person.
    """
    kept = found(viewer, Job, job)
    read_on(kept.workshop_id)
    told = JobEntry.objects.filter(workshop=kept.workshop_id, job=kept.pk).values("position")
    entries = Entry.objects.filter(workshop=kept.workshop_id, chain=RECORDS, position__in=told)
    known: Known = {}
    # An inspection is blind while the job is open: neither the worker's ticks are shown then, nor what one who looked
    # at an item found, which would tell the next one who looks.
    hidden = NOT_SHOWN | (BLIND if kept.state == OPEN else frozenset())
    return [_entry(each, known, hidden) for each in entries.order_by("position")]


def _entry(entry: Entry, known: Known, hidden: frozenset[str]) -> HistoryEntry:
    body = json.loads(entry.body)
    changes = tuple(change for note in body["rows"] for change in _changes(note, known, hidden))
    says = body["says"]
    return HistoryEntry(
        position=entry.position,
        short=f"{entry.position}-{entry.digest[:8]}",
        kind=entry.kind,
        by=(body["by"] or {}).get("name", ""),
        at=body["at"],
        why=str(says.get("reason") or says.get("because") or ""),
        changes=changes,
    )


def _changes(note: Mapping[str, Any], known: Known, hidden: frozenset[str]) -> Iterator[FieldChange]:
    """Name what a note of a row says that the note before it did not."""
    key = (note["table"], note["identifier"])
    before, values = known.get(key), note["values"]
    known[key] = values
    for field, value in values.items():
        was = None if before is None else before.get(field)
        if field not in hidden and _words(was) != _words(value):
            yield FieldChange(note["table"], field.replace("_", " "), _words(was), _words(value))


def _words(value: Any) -> str:
    if value in (None, "", [], {}):
        return ""
    text = value if isinstance(value, str) else json.dumps(value, ensure_ascii=False)
    return text if len(text) <= 160 else text[:159] + "…"
