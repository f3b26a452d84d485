"""Flutter models that the workshop loaded, and the weighings that may give one its static moment."""

from __future__ import annotations

import json
from dataclasses import dataclass
from datetime import date
from pathlib import Path
from typing import Any
from uuid import UUID

from django.conf import settings

from hingeline_app.records.attachments import attachment_path
from hingeline_app.records.models import Attachment, Person, Result
from hingeline_app.records.queries.matter import VOIDED, WEIGHING_RESULT
from hingeline_app.records.queries.visible import found, visible_to

MODEL = "model"


@dataclass(frozen=True)
class ModelRecord:
    """A model that was loaded."""

    identifier: UUID
    name: str
    aircraft: UUID
    registration: str


@dataclass(frozen=True)
class WeighedMoment:
    """What a weighing found: its moment [N m], tail-heavy positive, with standard uncertainty."""

    job: int
    surface: str
    registration: str
    aircraft: UUID
    on: date
    moment: float
    standard_uncertainty: float
    expanded: float


def flutter_models(viewer: Person) -> list[ModelRecord]:
    """Give the models that a person may see, by name; one query."""
    rows = visible_to(viewer, Attachment).filter(kind=MODEL).select_related("aircraft").order_by("name", "pk")
    return [_record(row) for row in rows]


def model_of(viewer: Person, identifier: UUID) -> tuple[ModelRecord, bytes]:
    """Give a model with its file's bytes.

    Raises
    ------
    Nowhere
        There is none for this person.
    """
    row = found(viewer, Attachment, identifier)
    return _record(row), attachment_path(Path(settings.DATA_FOLDER), row.digest).read_bytes()


def weighed_moments(viewer: Person, aircraft: UUID) -> list[WeighedMoment]:
    """Give the last weighing of each job of an aircraft but voided ones, the newest job first; one query."""
    rows = visible_to(viewer, Result).filter(
        document_format__startswith=WEIGHING_RESULT, job__surface__aircraft=aircraft, measurement__isnull=False
    )
    last: dict[int, WeighedMoment] = {}
    rows = rows.exclude(job__state=VOIDED)
    for row in rows.select_related("job__surface__aircraft", "measurement").order_by("-job__number", "change"):
        weighed = _moment(row)
        if weighed is not None:
            last[row.job.number] = weighed
    return list(last.values())


def _record(row: Any) -> ModelRecord:
    return ModelRecord(row.pk, row.name, row.aircraft_id, row.aircraft.registration)


def _moment(row: Any) -> WeighedMoment | None:
    said = json.loads(row.document).get("static_moment") or {}
    value, standard = said.get("value"), said.get("standard_uncertainty")
    if value is None or standard is None:
        return None
    surface, measured = row.job.surface, row.measurement
    return WeighedMoment(
        row.job.number, surface.name, surface.aircraft.registration, surface.aircraft_id, measured.begun_on, value,
        standard, said.get("expanded_uncertainty", 2.0 * standard),
    )  # fmt: skip
