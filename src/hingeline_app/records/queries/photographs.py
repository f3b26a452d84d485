"""Photographs of a job: what is shown of them is the copy that was drawn anew."""

from __future__ import annotations

from dataclasses import dataclass
from uuid import UUID

from hingeline_app.records.models import Attachment, Person
from hingeline_app.records.queries.matter import INSPECTION
from hingeline_app.records.queries.visible import visible_to

PHOTOGRAPH, PAGE = "photograph", "page"
KINDS = (PHOTOGRAPH, INSPECTION, PAGE)


@dataclass(frozen=True)
class PhotographRecord:
    """One photograph."""

    identifier: UUID
    kind: str
    digest: str
    preview_digest: str
    name: str
    remark: str
    added_by: str


def photographs_of(viewer: Person, job: UUID) -> list[PhotographRecord]:
    """List the photographs of a job, those of an inspection and of an answer too, as they were named and remarked."""
    rows = visible_to(viewer, Attachment).filter(job=job, kind__in=KINDS).select_related("added_by")
    return [_record(row) for row in rows.order_by("remark", "name", "pk")]


def _record(row: Attachment) -> PhotographRecord:
    by = row.added_by.initials
    return PhotographRecord(row.pk, row.kind, row.digest, row.preview_digest, row.name, row.remark, by)
