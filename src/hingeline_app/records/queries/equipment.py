"""Scales of the workshop, as pages show them."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from uuid import UUID

from django.db.models import Prefetch

from hingeline_app.records.dates import today
from hingeline_app.records.models import DailyCheck, Material, Person, Scale, Stand
from hingeline_app.records.queries.visible import visible_to


@dataclass(frozen=True)
class ScaleRecord:
    """A scale with its certificate and its last daily check."""

    identifier: UUID
    name: str
    step: str
    largest: str
    certificate: str
    # None: not known.
    certificate_begins: date | None
    certificate_expires: date | None
    # The certificate's last day is over: no statement may rest on this scale.
    is_expired: bool
    check_weight: str
    check_tolerance: str
    last_checked_on: date | None
    last_shown: str
    last_is_within: bool | None
    withdrawn_on: date | None


def scales(viewer: Person) -> list[ScaleRecord]:
    """Give the scales of the viewer's workshop, by name; two queries beside the viewer's own."""
    day = today(viewer.workshop)
    rows = visible_to(viewer, Scale).prefetch_related(Prefetch("checks", DailyCheck.objects.order_by("-number")))
    return [_record(row, day) for row in rows.order_by("withdrawn_on", "name")]


def _record(row: Scale, day: date) -> ScaleRecord:
    checks = list(row.checks.all())
    last = checks[0] if checks else None
    return ScaleRecord(
        identifier=row.pk,
        name=row.name,
        step=row.step,
        largest=row.largest,
        certificate=row.certificate,
        certificate_begins=row.certificate_begins,
        certificate_expires=row.certificate_expires,
        is_expired=row.certificate_expires is not None and row.certificate_expires < day,
        check_weight=row.check_weight,
        check_tolerance=row.check_tolerance,
        last_checked_on=last.checked_on if last else None,
        last_shown=last.shown if last else "",
        last_is_within=last.is_within if last else None,
        withdrawn_on=row.withdrawn_on,
    )


@dataclass(frozen=True)
class Choice:
    """Something of the workshop that is chosen by its words."""

    identifier: UUID
    words: str


@dataclass(frozen=True)
class StandChoice(Choice):
    """A stand; one whose level has a ± asks for the surface's mass and the height of its centre of gravity."""

    has_level: bool


def stand_choices(viewer: Person) -> list[StandChoice]:
    """Give the stands in use, by name."""
    rows = visible_to(viewer, Stand).filter(withdrawn_on=None).order_by("name")
    return [StandChoice(row.pk, row.name, bool(row.uncertainty.get("level"))) for row in rows]


def material_choices(viewer: Person) -> list[Choice]:
    """Give the batches of material that may be used today, by name."""
    day = today(viewer.workshop)
    rows = visible_to(viewer, Material).filter(withdrawn_because="").order_by("name", "batch")
    return [
        Choice(row.pk, f"{row.name}, batch {row.batch}, {row.release_certificate}")
        for row in rows
        if row.expires_on is None or row.expires_on >= day
    ]
