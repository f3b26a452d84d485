"""Rows of limits for a person: the first reading is hidden from whoever is to read it again."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any
from uuid import UUID

from hingeline_app.records.models import LimitRow, Person, RowReading
from hingeline_app.records.queries.turned_before import may_be_turned
from hingeline_app.records.queries.two_readings import Difference, differences, who_looks_again
from hingeline_app.records.queries.visible import visible_to

DRAFT, READ_ONCE, READ_TWICE, SUPERSEDED = "draft", "read once", "read twice", "superseded"


@dataclass(frozen=True)
class RowRecord:
    """A row as one person may see it."""

    identifier: UUID
    document: str
    issue: str
    surface: str
    page: str
    state: str
    first_reader: str
    second_reader: str | None
    # None: hidden from this person, who is to read it blind.
    printed: Mapping[str, Any] | None
    contradictions: tuple[Mapping[str, Any], ...]
    differences: tuple[Difference, ...]
    # Typed before a word for the sense beside a number was refused: to be compared with its document.
    may_be_turned: bool = False
    # Whether one of the two has not looked again since they read it differently.
    waits_for_a_look: bool = False

    @property
    def is_unsettled(self) -> bool:
        """Whether two persons read it differently and have not both looked again: no statement rests on it."""
        return self.state == READ_ONCE and (bool(self.differences) or self.waits_for_a_look)


def rows_of_limits(viewer: Person, type_name: str | None = None) -> list[RowRecord]:
    """Give the rows of limits, by type, surface and page; two queries more than the rows need."""
    rows = visible_to(viewer, LimitRow).select_related("issue__document", "first_reader", "second_reader")
    if type_name is not None:
        rows = rows.filter(issue__document__type_name=type_name)
    listed = list(rows.order_by("issue__document__type_name", "surface", "page", "pk"))
    readings: dict[UUID, list[RowReading]] = {}
    for reading in visible_to(viewer, RowReading).filter(row__in=listed).order_by("turn"):
        readings.setdefault(reading.row_id, []).append(reading)
    return [record_of(row, readings.get(row.pk, [])) for row in listed]


def last_reading(row: LimitRow, reader: UUID | None) -> RowReading | None:
    """Give the reading of a person that counts: the last one."""
    return RowReading.objects.filter(row=row, read_by=reader).order_by("-turn").first()


def record_of(row: LimitRow, readings: list[RowReading]) -> RowRecord:
    """Make the record of a row from the readings that a person may see."""
    by = {reading.read_by_id: reading for reading in readings}
    first, second = by.get(row.first_reader_id), by.get(row.second_reader_id) if row.second_reader_id else None
    shown = first or second
    found = tuple(differences(first.printed, second.printed)) if first and second else ()
    return RowRecord(
        row.pk,
        row.issue.document.number,
        row.issue.issue,
        row.surface,
        row.page,
        row.state,
        row.first_reader.name,
        row.second_reader.name if row.second_reader else None,
        row.agreed if row.agreed is not None else (shown.printed if shown else None),
        tuple(shown.contradictions) if shown else (),
        found,
        may_be_rested_on(row) and may_be_turned(first, second, differ=bool(found)),
        bool(who_looks_again(row, readings)),
    )


def may_be_rested_on(row: LimitRow) -> bool:
    """Whether a release can rest on a row, or have rested: on no draft, nor on one superseded before it was read again.

    Nobody could compare such a one either: the first reading stays hidden from who would.
    """
    return row.state != DRAFT and (row.state != SUPERSEDED or row.second_reader_id is not None)
