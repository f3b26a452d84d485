"""Series of recordings as pages show them: the list, one with its recordings, and what may stand in a new one."""

from __future__ import annotations

import json
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from pathlib import Path
from typing import Any
from uuid import UUID

from django.conf import settings

from hingeline_app.records.attachments import attachment_path
from hingeline_app.records.models import Person, ShakeFinding, ShakeSeries
from hingeline_app.records.queries.visible import Nowhere, visible_to

MOST_OFFERED = 400


@dataclass(frozen=True)
class Offered:
    """A finding that may stand in a series: how its recording was read, and what it showed alone."""

    finding: UUID
    number: int
    name: str
    remark: str
    digest: str
    aircraft: str
    aircraft_identifier: UUID
    surface: str
    surface_identifier: UUID | None
    statement: str
    taken_on: date | None
    file: Path
    tracks: Path | None
    asked: Mapping[str, Any]


@dataclass(frozen=True)
class SeriesRecord:
    """A series and what it was found to show."""

    number: int
    against: str
    aircraft: str
    surface: str
    document: Mapping[str, Any]
    digest: str
    asked: Mapping[str, Any]
    remark: str
    software: str
    made_by: str
    made_on: date


def offered(viewer: Person, among: Sequence[UUID] | None = None) -> list[Offered]:
    """Give what a series may be made of, of each recording the last finding; or those that are named; one query."""
    rows = visible_to(viewer, ShakeFinding).exclude(recording__kind="sound")
    joined = ("recording__attachment", "recording__aircraft", "recording__surface", "tracks")
    rows = rows.select_related(*joined).order_by("-recording__number", "-number")
    if among is not None:
        return [_offered(row) for row in rows.filter(pk__in=among)]
    last: dict[UUID, ShakeFinding] = {}
    for row in rows[:MOST_OFFERED]:
        last.setdefault(row.recording_id, row)
    return [_offered(row) for row in last.values()]


def all_series(viewer: Person) -> list[SeriesRecord]:
    """Give the series that a person may see, the last first; one query."""
    joined = ("aircraft", "surface", "made_by")
    return [_record(row) for row in visible_to(viewer, ShakeSeries).select_related(*joined).order_by("-number")]


def one_series(viewer: Person, number: int) -> SeriesRecord:
    """Give one series by its number.

    Raises
    ------
    Nowhere
        There is none of this number for this person.
    """
    joined = ("aircraft", "surface", "made_by")
    row = visible_to(viewer, ShakeSeries).select_related(*joined).filter(number=number).first()
    if row is None:
        raise Nowhere("there is no such series")
    return _record(row)


def _record(row: ShakeSeries) -> SeriesRecord:
    return SeriesRecord(
        number=row.number,
        against=row.against,
        aircraft=row.aircraft.registration,
        surface=row.surface.name if row.surface else "",
        document=json.loads(row.document),
        digest=row.digest,
        asked=json.loads(row.asked),
        remark=row.remark,
        software=row.software,
        made_by=row.made_by.name,
        made_on=row.made_on,
    )


def _offered(row: ShakeFinding) -> Offered:
    recording, data = row.recording, Path(settings.DATA_FOLDER)
    return Offered(
        finding=row.pk,
        number=recording.number,
        name=recording.attachment.name,
        remark=recording.attachment.remark,
        digest=recording.attachment.digest,
        aircraft=recording.aircraft.registration,
        aircraft_identifier=recording.aircraft_id,
        surface=recording.surface.name if recording.surface else "",
        surface_identifier=recording.surface_id,
        statement=json.loads(row.document)["statement"],
        taken_on=recording.taken_on,
        file=attachment_path(data, recording.attachment.digest),
        tracks=attachment_path(data, row.tracks.digest) if row.tracks else None,
        asked=json.loads(row.asked),
    )
