"""Who changed what of one job, when and why: read out of the ledger."""

from __future__ import annotations

import json
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import datetime
from functools import lru_cache
from typing import Any
from uuid import UUID

from django.apps import apps
from django.db.models import ForeignKey

from hingeline_app.records.entries_of_jobs import read_on
from hingeline_app.records.models import (
    Entry,
    InspectionItem,
    Job,
    JobEntry,
    LimitRow,
    Person,
    Scale,
    Stand,
    Surface,
    Task,
    WorkOrder,
)
from hingeline_app.records.models.kept import KeptRow
from hingeline_app.records.queries.matter import OPEN
from hingeline_app.records.queries.visible import found
from hingeline_app.records.write_door import RECORDS

Known = dict[tuple[str, str], Mapping[str, Any]]
# What a change of tells nobody anything: every change of a job counts up.
COUNTING = frozenset({"changes", "version", "change"})
# Columns as entries note them. The entry itself says who made it, and the page which job it is about.
NOT_SHOWN = COUNTING | {
    *("job_id", "made_by_id", "opened_by_id", "added_by_id", "entered_by_id", "fitted_by_id", "withdrawn_by_id"),
    *("measurement_id", "workshop_id", "digest", "seen", "text", "software", "worked_on_by"),
}
# What names another row is shown by that row's own words; an identifier says nothing to a reader.
IN_WORDS: Mapping[type[KeptRow], Callable[[Any], str]] = {
    InspectionItem: lambda item: str(item.name),
    LimitRow: lambda row: f"{row.issue.document.number}, issue {row.issue.issue}, page {row.page}",
    Scale: str,
    Stand: str,
    Surface: str,
    Task: str,
    WorkOrder: lambda order: str(order.number),
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

    @property
    def moment(self) -> datetime:
        """Give when it was made, to be shown in the workshop's zone as signatures are."""
        return datetime.fromisoformat(self.at)


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
    return _named([_entry(each, known, hidden) for each in entries.order_by("position")])


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


def _named(entries: Sequence[HistoryEntry]) -> list[HistoryEntry]:
    """Put words in the place of identifiers, each table asked once; of a table without words the column is left out."""
    told = [change for entry in entries for change in entry.changes]
    words = {table: _words_of(table, told) for table in IN_WORDS}
    return [
        replace(entry, changes=tuple(shown for each in entry.changes for shown in _in_words(each, words)))
        for entry in entries
    ]


def _in_words(change: FieldChange, words: Mapping[type[KeptRow], Mapping[str, str]]) -> Iterator[FieldChange]:
    target = _target(change.table, change.field)
    if target is None:
        yield change
    elif target in words:
        was, now = (words[target].get(each, each) for each in (change.was, change.now))
        yield FieldChange(change.table, change.field.removesuffix(" id"), was, now)


def _words_of(table: type[KeptRow], changes: Sequence[FieldChange]) -> dict[str, str]:
    ends = [(each.was, each.now) for each in changes if _target(each.table, each.field) is table]
    named = {end for pair in ends for end in pair if end}
    return {str(row.pk): IN_WORDS[table](row) for row in table._default_manager.filter(pk__in=named)}


@lru_cache(maxsize=256)
def _target(table: str, field: str) -> type[KeptRow] | None:
    """Give the table whose row a column names."""
    columns = apps.get_model("records", table)._meta.concrete_fields
    named = (each for each in columns if isinstance(each, ForeignKey) and each.attname.replace("_", " ") == field)
    target: Any = next((each.remote_field.model for each in named), None)
    return target  # type: ignore[no-any-return]


def _words(value: Any) -> str:
    if value in (None, "", [], {}):
        return ""
    text = value if isinstance(value, str) else json.dumps(value, ensure_ascii=False)
    return text if len(text) <= 160 else text[:159] + "…"
