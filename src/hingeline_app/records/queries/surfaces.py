"""Aircraft and surfaces to choose from, each surface with its open job; and what a label on a surface leads to."""

from __future__ import annotations

from dataclasses import dataclass
from uuid import UUID

from django.db.models import Exists, OuterRef

from hingeline_app.records.models import Aircraft, Job, Person, Surface, WorkOrder
from hingeline_app.records.queries.matter import OPEN
from hingeline_app.records.queries.visible import found, visible_to


@dataclass(frozen=True)
class AircraftChoice:
    """An aircraft of the workshop."""

    identifier: UUID
    type_name: str
    registration: str
    serial_number: str


@dataclass(frozen=True)
class SurfaceChoice:
    """A movable surface, and the job that is open on it."""

    identifier: UUID
    name: str
    serial_number: str
    open_job: int | None


@dataclass(frozen=True)
class OrderChoice:
    """An open work order that a surface can join."""

    identifier: UUID
    number: int
    title: str


def aircraft_to_choose(viewer: Person) -> list[AircraftChoice]:
    """List the aircraft by registration."""
    fields = ("pk", "type_name", "registration", "serial_number")
    return [AircraftChoice(*row) for row in visible_to(viewer, Aircraft).order_by("registration").values_list(*fields)]


def surfaces_of(viewer: Person, aircraft: UUID) -> list[SurfaceChoice]:
    """List the surfaces of an aircraft by name."""
    rows = visible_to(viewer, Surface).filter(aircraft=aircraft).order_by("name")
    jobs = dict(Job.objects.filter(surface__in=rows, state=OPEN).order_by("number").values_list("surface", "number"))
    return [SurfaceChoice(row.pk, row.name, row.serial_number, jobs.get(row.pk)) for row in rows]


def open_orders_of(viewer: Person, aircraft: UUID) -> list[OrderChoice]:
    """List the work orders of an aircraft that are not closed, the newest first."""
    rows = visible_to(viewer, WorkOrder).filter(aircraft=aircraft, closed_on__isnull=True).order_by("-number")
    return [OrderChoice(*row) for row in rows.values_list("pk", "number", "title")]


def behind_a_label(viewer: Person, surface: UUID) -> tuple[UUID, int | None]:
    """Give the aircraft of a surface, and the job that is open on it.

    Raises
    ------
    Nowhere
        It is no surface that this person may see.
    """
    row = found(viewer, Surface, surface)
    number = Job.objects.filter(surface=row, state=OPEN).order_by("-number").values_list("number", flat=True).first()
    return row.aircraft_id, number


def free_surfaces(viewer: Person) -> list[tuple[UUID, str]]:
    """List every surface without an open job, by aircraft and name."""
    busy = Job.objects.filter(surface=OuterRef("pk"), state=OPEN)
    rows = visible_to(viewer, Surface).filter(~Exists(busy)).order_by("aircraft__registration", "name")
    fields = ("pk", "aircraft__registration", "name")
    return [(key, f"{registration} · {name}") for key, registration, name in rows.values_list(*fields)]
