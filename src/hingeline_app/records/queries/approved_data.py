"""Approved documents, their issues and rows, as the pages of limits show them to one person."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from typing import Any
from uuid import UUID

from django.db.models import Count

from hingeline_app.records.models import ApprovedDocument, Attachment, Issue, Job, LimitRow, Person, Result, RowReading
from hingeline_app.records.queries.limits import (
    DRAFT,
    READ_ONCE,
    READ_TWICE,
    SUPERSEDED,
    may_be_rested_on,
)
from hingeline_app.records.queries.matter import OPEN
from hingeline_app.records.queries.turned_before import may_be_turned
from hingeline_app.records.queries.two_readings import Difference, differ, differences, still_reading, who_looks_again
from hingeline_app.records.queries.visible import Nowhere, visible_to

Printed = Mapping[str, Any]
Readings = Mapping[UUID, Sequence[RowReading]]
OF_A_ROW = ("issue__document", "issue__superseded_by", "first_reader", "second_reader")


@dataclass(frozen=True)
class IssueRecord:
    """An issue of a document."""

    identifier: UUID
    document: UUID
    number: str
    title: str
    type_name: str
    issue: str
    issued_on: date
    is_superseded: bool
    # The issue that took its place, and the date on it.
    next_issue: str = ""
    next_issued_on: date | None = None


@dataclass(frozen=True)
class RowOnPage:
    """A row as one person may see it, with both readings once both are to be seen.

    ``first`` and ``second`` are what each read last; None where it is hidden, or was not read.
    """

    identifier: UUID
    issue: IssueRecord
    surface: str
    page: str
    state: str
    first_reader: str
    second_reader: str
    is_first: bool
    is_second: bool
    first: Printed | None
    second: Printed | None
    agreed: Printed | None
    found: tuple[Mapping[str, Any], ...]
    # Typed before a word for the sense beside a number was refused: to be compared with its document.
    may_be_turned: bool = False
    # Who typed it anew after the two readings differed, and so after seeing both.
    looked_again: tuple[str, ...] = ()
    # Who has not looked again since the two readings differed; and whether one of the two has left, or may not by now.
    looks_again: tuple[str, ...] = ()
    one_is_gone: bool = False

    @property
    def shown(self) -> Printed | None:
        """Give what may be shown as the row: what both agreed on, or else what the first read."""
        return self.agreed or self.first

    @property
    def differences(self) -> tuple[Difference, ...]:
        """Name what the two read differently."""
        return tuple(differences(self.first, self.second)) if self.first and self.second else ()

    @property
    def differs(self) -> bool:
        """Whether both read it, not the same, and it is not settled."""
        return self.state == READ_ONCE and bool(self.differences)

    @property
    def is_unsettled(self) -> bool:
        """Whether the two differ, or read the same now and have not both looked again."""
        return self.differs or (self.state == READ_ONCE and bool(self.looks_again))

    @property
    def waits_for_another(self) -> bool:
        """Whether a third person reads it, since one of two who differ looks at no page again."""
        return self.is_unsettled and self.one_is_gone

    @property
    def waits(self) -> bool:
        """Whether another person is to read it, blind."""
        return self.state == READ_ONCE and not self.second_reader

    @property
    def is_hidden(self) -> bool:
        """Whether the first reading is hidden from this person."""
        return self.shown is None

    @property
    def is_superseded(self) -> bool:
        """Whether a newer issue took its place."""
        return self.state == SUPERSEDED

    @property
    def waits_to_be_compared(self) -> bool:
        """Whether another person than its first reader is to compare it with its document."""
        return self.may_be_turned and self.state in (READ_TWICE, SUPERSEDED)

    @property
    def is_draft(self) -> bool:
        """Whether the first reader has not finished."""
        return self.state == DRAFT

    @property
    def is_read_twice(self) -> bool:
        """Whether two persons read the same."""
        return self.state == READ_TWICE


@dataclass(frozen=True)
class PhotographRecord:
    """A photograph of a printed page."""

    identifier: UUID
    added_by: str
    preview_digest: str
    width: int | None
    height: int | None


@dataclass(frozen=True)
class UseRecord:
    """A job that chose a row, and how many statements it made on it."""

    number: int
    aircraft: str
    surface: str
    state: str
    statements: int

    @property
    def is_open(self) -> bool:
        """Whether it still goes on."""
        return self.state == OPEN


def issues_of(viewer: Person) -> list[IssueRecord]:
    """Give every issue of every document, the newest of each first."""
    rows = visible_to(viewer, Issue).select_related("document", "superseded_by")
    return [_issue(row) for row in rows.order_by("document__type_name", "document__number", "-issued_on")]


def documents_without_issue(viewer: Person) -> list[ApprovedDocument]:
    """Give documents that were entered and have no issue yet."""
    return list(visible_to(viewer, ApprovedDocument).filter(issues__isnull=True).order_by("number"))


def rows_on_page(viewer: Person) -> list[RowOnPage]:
    """Give every row of the workshop's limits, by type, surface and page."""
    rows = visible_to(viewer, LimitRow).select_related(*OF_A_ROW)
    listed = list(rows.order_by("issue__document__type_name", "surface", "page", "pk"))
    readings: dict[UUID, list[RowReading]] = {}
    for each in visible_to(viewer, RowReading).order_by("turn"):
        readings.setdefault(each.row_id, []).append(each)
    return [_row(row, readings.get(row.pk, []), viewer) for row in listed]


def row_on_page(viewer: Person, row: UUID) -> RowOnPage:
    """Give one row.

    Raises
    ------
    Nowhere
        There is none for this person.
    """
    kept = visible_to(viewer, LimitRow).filter(pk=row).select_related(*OF_A_ROW).first()
    if kept is None:
        raise Nowhere("there is no such row")
    return _row(kept, list(visible_to(viewer, RowReading).filter(row=kept).order_by("turn")), viewer)


def photographs_of_row(viewer: Person, row: UUID) -> list[PhotographRecord]:
    """Give the photographs of a row's printed page, the newest first."""
    kept = visible_to(viewer, Attachment).filter(limit_row=row).exclude(preview_digest="").select_related("added_by")
    # The order of identifiers means nothing; the ledger's position is not in the row: the larger picture first.
    return [_photograph(each) for each in kept.order_by("-size", "pk")]


def uses_on_page(viewer: Person, rows: Sequence[UUID]) -> list[UseRecord]:
    """List the jobs that used rows, open ones first, with the number of statements made on each."""
    jobs = visible_to(viewer, Job).filter(limit_row__in=rows).select_related("surface__aircraft")
    counted = visible_to(viewer, Result).filter(job__limit_row__in=rows).values("job").annotate(many=Count("pk"))
    many = {each["job"]: each["many"] for each in counted.order_by()}
    used = [
        UseRecord(job.number, str(job.surface.aircraft), job.surface.name, job.state, many.get(job.pk, 0))
        for job in jobs.order_by("number")
    ]
    return sorted(used, key=lambda each: (not each.is_open, each.number))


def _issue(row: Issue) -> IssueRecord:
    document, newer = row.document, row.superseded_by
    return IssueRecord(
        row.pk,
        document.pk,
        document.number,
        document.title,
        document.type_name,
        row.issue,
        row.issued_on,
        newer is not None,
        newer.issue if newer else "",
        newer.issued_on if newer else None,
    )


def _row(row: LimitRow, readings: Sequence[RowReading], viewer: Person) -> RowOnPage:
    by = {reading.read_by_id: reading for reading in readings}
    first = by.get(row.first_reader_id)
    second = by.get(row.second_reader_id) if row.second_reader_id else None
    counting = second if second and row.agreed is not None else first
    names = {each.pk: each.name for each in (row.first_reader, row.second_reader) if each is not None}
    return RowOnPage(
        identifier=row.pk,
        issue=_issue(row.issue),
        surface=row.surface,
        page=row.page,
        state=row.state,
        first_reader=row.first_reader.name,
        second_reader=row.second_reader.name if row.second_reader else "",
        is_first=row.first_reader_id == viewer.pk,
        is_second=row.second_reader_id == viewer.pk,
        first=first.printed if first else None,
        second=second.printed if second else None,
        agreed=row.agreed,
        found=tuple(counting.contradictions) if counting else (),
        may_be_turned=may_be_rested_on(row) and may_be_turned(first, second, differ=differ(first, second)),
        looked_again=_looked_again(row, readings),
        looks_again=tuple(names[each] for each in who_looks_again(row, readings)),
        one_is_gone=_one_is_gone(row) if row.state == READ_ONCE else False,
    )


def _one_is_gone(row: LimitRow) -> bool:
    return row.second_reader_id is not None and len(still_reading(row)) < 2


def _looked_again(row: LimitRow, readings: Sequence[RowReading]) -> tuple[str, ...]:
    """Name who read once more while the readings of the two differed, and so after seeing both.

    They may differ at the first reading or later, where one of them compared the row with its document.
    """
    if row.second_reader is None:
        return ()
    names = {row.first_reader_id: row.first_reader.name, row.second_reader.pk: row.second_reader.name}
    last: dict[UUID, RowReading] = {}
    again: dict[str, None] = {}
    for each in readings:
        if each.read_by_id in names:
            if differ(last.get(row.first_reader_id), last.get(row.second_reader.pk)):
                again[names[each.read_by_id]] = None
            last[each.read_by_id] = each
    return tuple(again)


def _photograph(row: Attachment) -> PhotographRecord:
    return PhotographRecord(row.pk, row.added_by.name, row.preview_digest, row.width, row.height)
