"""What a person sees of a job before signing it, in one spelling: its digest is what a signature covers."""

from __future__ import annotations

from typing import Any

from hingeline_app.records.canonical import canonical, digest_of
from hingeline_app.records.models import (
    Attachment,
    BallastProposal,
    Correction,
    InspectionItem,
    Job,
    Measurement,
    Reading,
    Result,
    Signature,
)
from hingeline_app.records.rows import note_of

PARTS = (Measurement, Reading, Result, BallastProposal, Correction, InspectionItem, Signature, Attachment)


def seen_of(job: Job) -> str:
    """Give the digest of everything that a job holds now."""
    return digest_of(canonical(picture_of(job)))


def picture_of(job: Job) -> dict[str, Any]:
    """Give everything that a job holds now, row by row; looks of an inspector are that person's own."""
    parts = {str(table._meta.model_name): _notes(table, job) for table in PARTS}
    return {"job": note_of(job), "row": _row(job), **parts}


def _notes(table: Any, job: Job) -> list[dict[str, Any]]:
    return [note_of(row) for row in table.objects.filter(job=job).order_by("pk")]


def _row(job: Job) -> dict[str, Any] | None:
    """Give the row of limits as both read it; its state tells when a newer issue came."""
    return None if job.limit_row is None else note_of(job.limit_row)
