"""Photographs of a job: what is shown of them is the copy that was drawn anew."""

from __future__ import annotations

from dataclasses import dataclass
from uuid import UUID

from hingeline_app.records.models import Attachment, Person
from hingeline_app.records.queries.visible import visible_to


@dataclass(frozen=True)
class PhotographRecord:
    """One photograph."""

    identifier: UUID
    preview_digest: str
    name: str
    remark: str
    added_by: str


def photographs_of(viewer: Person, job: UUID) -> list[PhotographRecord]:
    """List the photographs of a job, as they were named and remarked."""
    rows = visible_to(viewer, Attachment).filter(job=job, kind="photograph").select_related("added_by")
    listed = rows.order_by("remark", "name", "pk")
    return [PhotographRecord(row.pk, row.preview_digest, row.name, row.remark, row.added_by.initials) for row in listed]
