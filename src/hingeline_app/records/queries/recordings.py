"""Recordings as pages show them: the list, one with its findings, and what a new one may be of."""

from __future__ import annotations

import json
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from pathlib import Path
from typing import Any
from uuid import UUID

from django.conf import settings
from django.db.models import OuterRef, Subquery

from hingeline_app.records.attachments import attachment_path
from hingeline_app.records.models import Aircraft, Job, Person, ShakeFinding, ShakeRecording, Surface
from hingeline_app.records.queries.matter import OPEN
from hingeline_app.records.queries.visible import Nowhere, visible_to
from hingeline_app.said import say

MOST_LOOKED_AT = 40


@dataclass(frozen=True)
class RecordingLine:
    """A recording in the list."""

    number: int
    kind: str
    name: str
    aircraft: str
    surface: str
    job: int | None
    taken_on: date | None
    added_on: date
    # None: nothing was worked out yet.
    statement: str | None


@dataclass(frozen=True)
class FindingRecord:
    """What was found once."""

    identifier: UUID
    number: int
    document: Mapping[str, Any]
    digest: str
    asked: Mapping[str, Any]
    tracks: Path | None
    software: str
    made_by: str
    made_on: date


@dataclass(frozen=True)
class RecordingRecord:
    """A recording with everything that was found in it, the last first."""

    identifier: UUID
    number: int
    kind: str
    name: str
    digest: str
    size: int
    file: Path
    preview: Path | None
    width: int | None
    height: int | None
    details: Mapping[str, Any]
    type_name: str
    aircraft_identifier: UUID
    surface_identifier: UUID | None
    aircraft: str
    surface: str
    job: int | None
    taken_on: date | None
    added_on: date
    added_by: str
    remark: str
    findings: tuple[FindingRecord, ...]


@dataclass(frozen=True)
class Subject:
    """Something that a recording may be of."""

    key: str
    words: str


def recordings(viewer: Person) -> list[RecordingLine]:
    """Give the recordings that a person may see, the last first; one query beside the viewer's own."""
    last = ShakeFinding.objects.filter(recording=OuterRef("pk")).order_by("-number").values("document")[:1]
    rows = visible_to(viewer, ShakeRecording).select_related("attachment", "aircraft", "surface", "job")
    return [_line(row) for row in rows.annotate(last_document=Subquery(last)).order_by("-number")]


def recording(viewer: Person, number: int) -> RecordingRecord:
    """Give one recording by its number.

    Raises
    ------
    Nowhere
        There is none of this number for this person.
    """
    joined = ("attachment", "aircraft", "surface", "job", "added_by")
    row = visible_to(viewer, ShakeRecording).select_related(*joined).filter(number=number).first()
    if row is None:
        raise Nowhere("there is no such recording")
    found = ShakeFinding.objects.filter(recording=row).select_related("tracks", "made_by").order_by("-number")
    stored = row.attachment
    return RecordingRecord(
        identifier=row.pk,
        number=row.number,
        kind=row.kind,
        name=stored.name,
        digest=stored.digest,
        size=stored.size,
        file=_path(stored.digest),
        preview=_path(stored.preview_digest) if stored.preview_digest else None,
        width=stored.width,
        height=stored.height,
        details=row.details,
        type_name=row.aircraft.type_name,
        aircraft_identifier=row.aircraft_id,
        surface_identifier=row.surface_id,
        aircraft=row.aircraft.registration,
        surface=row.surface.name if row.surface else "",
        job=row.job.number if row.job else None,
        taken_on=row.taken_on,
        added_on=row.added_on,
        added_by=row.added_by.name,
        remark=stored.remark,
        findings=tuple(_finding(each) for each in found),
    )


def columns_like(viewer: Person, header: Sequence[str]) -> dict[str, str]:
    """Give how the columns of a table with such a header were last named here; nothing where none was; one query."""
    tables = visible_to(viewer, ShakeFinding).filter(recording__kind="table").order_by("-made_on", "-number")
    for asked in tables.values_list("asked", flat=True)[:MOST_LOOKED_AT]:
        columns: dict[str, str] = json.loads(asked).get("columns", {})
        if columns and set(columns.values()) <= set(header):
            return columns
    return {}


def subjects(viewer: Person) -> list[Subject]:
    """Give what a new recording may be of: open jobs first, then surfaces, then aircraft; three queries."""
    jobs = visible_to(viewer, Job).filter(state=OPEN).select_related("surface__aircraft").order_by("-number")
    surfaces = visible_to(viewer, Surface).select_related("aircraft").order_by("aircraft__registration", "name")
    aircraft = visible_to(viewer, Aircraft).order_by("registration")
    return [
        *(Subject(f"job:{each.pk}", _of_a_job(each)) for each in jobs),
        *(Subject(f"surface:{each.pk}", f"{each.aircraft}, {each}") for each in surfaces),
        *(Subject(f"aircraft:{each.pk}", say(f"{each}, {each.type_name}: whole aircraft")) for each in aircraft),
    ]


def _of_a_job(job: Job) -> str:
    return f"{job.surface.aircraft}, {job.surface} · {say(f'job {job}')}"


def _line(row: Any) -> RecordingLine:
    document = json.loads(row.last_document) if row.last_document else {}
    return RecordingLine(
        number=row.number,
        kind=row.kind,
        name=row.attachment.name,
        aircraft=row.aircraft.registration,
        surface=row.surface.name if row.surface else "",
        job=row.job.number if row.job else None,
        taken_on=row.taken_on,
        added_on=row.added_on,
        statement=document.get("statement"),
    )


def _finding(row: ShakeFinding) -> FindingRecord:
    return FindingRecord(
        identifier=row.pk,
        number=row.number,
        document=json.loads(row.document),
        digest=row.digest,
        asked=json.loads(row.asked),
        tracks=_path(row.tracks.digest) if row.tracks else None,
        software=row.software,
        made_by=row.made_by.name,
        made_on=row.made_on,
    )


def _path(digest: str) -> Path:
    return attachment_path(Path(settings.DATA_FOLDER), digest)
