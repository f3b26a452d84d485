"""Jobs as the pages of the bench show them: one job in full, and the list of jobs in short."""

from __future__ import annotations

import json
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime
from typing import Any
from uuid import UUID

from hingeline_app.records.certificates import certificate_on
from hingeline_app.records.models import (
    BallastProposal,
    Correction,
    InspectionItem,
    Job,
    LimitRow,
    Measurement,
    Person,
    Reading,
    Result,
    RowReading,
    Scale,
    Signature,
    Stand,
)
from hingeline_app.records.models.jobs import JobRow
from hingeline_app.records.queries.limits import RowRecord, record_of
from hingeline_app.records.queries.matter import RELEASE, SECOND, signer_of
from hingeline_app.records.queries.visible import Nowhere, visible_to
from hingeline_app.records.treatment import treated_after


@dataclass(frozen=True)
class ReadingRecord:
    """One reading, as typed and in SI."""

    identifier: UUID
    place: str
    typed: str
    si_value: float
    si_unit: str
    made_by: str
    change: int
    withdrawn_because: str


@dataclass(frozen=True)
class ResultRecord:
    """What was worked out, and from what."""

    identifier: UUID
    document: Mapping[str, Any]
    asked: Mapping[str, Any]
    change: int
    digest: str


@dataclass(frozen=True)
class MeasurementRecord:
    """A weighing or another measurement with its readings, and what was last worked out from it."""

    identifier: UUID
    kind: str
    number: int
    begun_on: date
    change: int
    set_up: Mapping[str, Any]
    scale: Mapping[str, Any] | None
    stand: Mapping[str, Any] | None
    readings: tuple[ReadingRecord, ...]
    result: ResultRecord | None
    # Something was added, withdrawn or corrected after the result.
    is_stale: bool

    @property
    def counting(self) -> tuple[ReadingRecord, ...]:
        """Give the readings that were not withdrawn."""
        return tuple(each for each in self.readings if not each.withdrawn_because)


@dataclass(frozen=True)
class ProposalRecord:
    """A correction worked out, and whether it was fitted."""

    identifier: UUID
    document: Mapping[str, Any]
    change: int
    fitted_at_change: int | None


@dataclass(frozen=True)
class SignatureRecord:
    """A signature under a job."""

    purpose: str
    signer: str
    licence_number: str
    signed_at: datetime
    change: int
    reason: str
    notes: tuple[str, ...]
    is_withdrawn: bool
    digest: str


@dataclass(frozen=True)
class JobRecord:
    """One job in full."""

    identifier: UUID
    number: int
    state: str
    order: int | None
    order_title: str
    surface: UUID
    surface_name: str
    surface_serial: str
    hinge_to_trailing_edge: str
    aircraft: UUID
    type_name: str
    registration: str
    aircraft_serial: str
    why_here: str
    opened_by: str
    opened_on: date
    details: Mapping[str, Any]
    version: int
    changes: int
    local_gravity: str
    limit_row: RowRecord | None
    measurements: tuple[MeasurementRecord, ...]
    proposals: tuple[ProposalRecord, ...]
    items: int
    signatures: tuple[SignatureRecord, ...]
    # When the order that it belongs to was closed.
    order_closed_on: date | None = None

    def of_kind(self, kind: str) -> tuple[MeasurementRecord, ...]:
        """Give the measurements of a kind, the first first."""
        return tuple(each for each in self.measurements if each.kind == kind)

    @property
    def weighing(self) -> MeasurementRecord | None:
        """Give the last weighing."""
        return (self.of_kind("weighing") or (None,))[-1]

    @property
    def fitted(self) -> ProposalRecord | None:
        """Give the correction that was fitted last."""
        fitted = [each for each in self.proposals if each.fitted_at_change is not None]
        return max(fitted, key=lambda each: each.fitted_at_change or 0, default=None)

    @property
    def weigh_again(self) -> bool:
        """Whether a correction was fitted, or the arm was treated, after the last weighing was begun."""
        last = self.weighing
        if last is None:
            return False
        fitted = bool(self.fitted and last.change <= (self.fitted.fitted_at_change or 0))
        return fitted or treated_after(self.details) >= last.number

    def standing(self, purpose: str) -> SignatureRecord | None:
        """Give the signature that holds for the job as it is now."""
        signed = [each for each in self.signatures if each.purpose == purpose and not each.is_withdrawn]
        if not signed or purpose == RELEASE:
            return signed[-1] if signed else None
        released = self.standing(RELEASE)
        return signed[-1] if signed[-1].change == (released.change - 1 if released else self.changes) else None

    @property
    def second(self) -> SignatureRecord | None:
        """Give the second inspection that holds."""
        return self.standing(SECOND)


# What a job is fetched with, and the rows that belong to it: so many queries for one job as for many.
NEEDED = ("surface__aircraft", "work_order", "opened_by", "workshop", "limit_row__issue__document",
          "limit_row__first_reader", "limit_row__second_reader")  # fmt: skip
ROWS: Mapping[type[JobRow], tuple[str, ...]] = {
    Measurement: ("scale", "stand"),
    Reading: ("made_by",),
    Result: (),
    BallastProposal: (),
    Correction: (),
    InspectionItem: (),
    Signature: ("made_by",),
}
Rows = Mapping[type[JobRow], Sequence[Any]]


def job_of(viewer: Person, number: int) -> JobRecord:
    """Give one job by its number.

    Raises
    ------
    Nowhere
        There is none for this person.
    """
    job = visible_to(viewer, Job).filter(number=number).select_related(*NEEDED).first()
    if job is None:
        raise Nowhere("there is no such job")
    return records_of(viewer, [job])[0]


def records_of(viewer: Person, jobs: Sequence[Job]) -> list[JobRecord]:
    """Give the records of jobs that were fetched with ``NEEDED``: as many queries for one as for many."""
    rows: dict[UUID, dict[type[JobRow], list[Any]]] = {job.pk: {table: [] for table in ROWS} for job in jobs}
    for table, beside in ROWS.items():
        found = table._default_manager.filter(job__in=jobs).order_by("change", "pk")
        # Without a name select_related would fetch everything that a row names.
        for row in found.select_related(*beside) if beside else found:
            rows[row.job_id][table].append(row)
    limits = _limits(viewer, [job.limit_row for job in jobs if job.limit_row])
    return [_record(job, rows[job.pk], limits.get(job.limit_row_id)) for job in jobs]


def job_identifier(viewer: Person, number: int) -> UUID:
    """Give the identifier of a job by its number.

    Raises
    ------
    Nowhere
        There is none for this person.
    """
    found = visible_to(viewer, Job).filter(number=number).values_list("pk", flat=True).first()
    if found is None:
        raise Nowhere("there is no such job")
    return found


def _record(job: Job, rows: Rows, limit_row: RowRecord | None) -> JobRecord:
    surface, aircraft, order = job.surface, job.surface.aircraft, job.work_order
    return JobRecord(
        identifier=job.pk,
        number=job.number,
        state=job.state,
        order=order.number if order else None,
        order_title=order.title if order else "",
        surface=surface.pk,
        surface_name=surface.name,
        surface_serial=surface.serial_number,
        hinge_to_trailing_edge=surface.hinge_to_trailing_edge,
        aircraft=aircraft.pk,
        type_name=aircraft.type_name,
        registration=aircraft.registration,
        aircraft_serial=aircraft.serial_number,
        why_here=job.why_here,
        opened_by=job.opened_by.name,
        opened_on=job.opened_on,
        details=job.details,
        version=job.version,
        changes=job.changes,
        local_gravity=job.workshop.local_gravity,
        limit_row=limit_row,
        measurements=_measurements(rows),
        proposals=tuple(_proposal(each) for each in rows[BallastProposal]),
        items=len(rows[InspectionItem]),
        signatures=_signatures(rows[Signature]),
        order_closed_on=order.closed_on if order else None,
    )


def _limits(viewer: Person, rows: Sequence[LimitRow]) -> dict[UUID | None, RowRecord]:
    readings: dict[UUID, list[RowReading]] = {row.pk: [] for row in rows}
    if rows:
        for reading in visible_to(viewer, RowReading).filter(row__in=list(readings)).order_by("turn"):
            readings[reading.row_id].append(reading)
    return {row.pk: record_of(row, readings[row.pk]) for row in rows}


def _measurements(rows: Rows) -> tuple[MeasurementRecord, ...]:
    readings: dict[UUID, list[Reading]] = {}
    for reading in rows[Reading]:
        readings.setdefault(reading.measurement_id, []).append(reading)
    results = {each.measurement_id: each for each in rows[Result]}
    corrected = {each.row: each.change for each in rows[Correction]}
    listed = sorted(rows[Measurement], key=lambda each: (each.kind, each.number))
    return tuple(
        _measurement(each, readings.get(each.pk, []), results.get(each.pk), corrected.get(each.pk, 0))
        for each in listed
    )


def _measurement(row: Measurement, readings: list[Reading], result: Result | None, corrected: int) -> MeasurementRecord:
    touched = max([corrected, *(max(each.change, each.withdrawn_at_change or 0) for each in readings)])
    return MeasurementRecord(
        identifier=row.pk,
        kind=row.kind,
        number=row.number,
        begun_on=row.begun_on,
        change=row.change,
        set_up=row.set_up,
        scale=_scale(row.scale, row.begun_on),
        stand=_stand(row.stand),
        readings=tuple(_reading(each) for each in readings),
        result=_result(result) if result else None,
        is_stale=result is not None and touched > result.change,
    )


def _reading(row: Reading) -> ReadingRecord:
    return ReadingRecord(
        row.pk,
        row.place,
        row.typed,
        row.si_value,
        row.si_unit,
        row.made_by.initials,
        row.change,
        row.withdrawn_because,
    )


def _result(row: Result) -> ResultRecord:
    asked = json.loads(row.asked) if row.asked else {}
    return ResultRecord(row.pk, json.loads(row.document), asked, row.change, row.digest)


def _scale(row: Scale | None, on: date) -> dict[str, Any] | None:
    """Give of a scale what a weighing of that day and its sheet need: a certificate that came later is not its own."""
    if row is None:
        return None
    held = certificate_on(row.certificates, on)
    return {
        "identifier": row.pk,
        **{name: getattr(row, name) for name in ("name", "step", "largest")},
        "certificate": held.name,
        "certificate_begins": held.begins,
        "certificate_expires": held.expires,
        "uncertainty": held.uncertainty,
    }


def _stand(row: Stand | None) -> dict[str, Any] | None:
    return (
        None
        if row is None
        else {"identifier": row.pk, "name": row.name, "masses": row.masses, "uncertainty": row.uncertainty}
    )


def _proposal(row: BallastProposal) -> ProposalRecord:
    return ProposalRecord(row.pk, json.loads(row.document), row.change, row.fitted_at_change)


def _signatures(rows: Sequence[Signature]) -> tuple[SignatureRecord, ...]:
    return tuple(
        SignatureRecord(
            row.purpose,
            *signer_of(row),
            row.signed_at,
            row.change,
            row.reason,
            tuple(row.notes),
            row.withdrawn_at_change is not None,
            row.digest,
        )
        for row in rows
    )
