"""Work orders as the pages of the bench show them."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from uuid import UUID

from django.db.models import Exists, OuterRef

from hingeline_app.records.models import Job, Person, WorkOrder
from hingeline_app.records.queries.jobs import NEEDED, JobRecord, records_of
from hingeline_app.records.queries.matter import OPEN
from hingeline_app.records.queries.visible import Nowhere, visible_to

MOST_TO_CLOSE = 12


@dataclass(frozen=True)
class OrderRecord:
    """A work order with the numbers of its jobs."""

    identifier: UUID
    number: int
    title: str
    type_name: str
    registration: str
    opened_on: date
    closed_on: date | None
    jobs: tuple[int, ...]


def order_of(viewer: Person, number: int) -> OrderRecord:
    """Give one work order by its number.

    Raises
    ------
    Nowhere
        There is none for this person.
    """
    order = visible_to(viewer, WorkOrder).filter(number=number).select_related("aircraft").first()
    if order is None:
        raise Nowhere("there is no such work order")
    jobs = visible_to(viewer, Job).filter(work_order=order).order_by("number").values_list("number", flat=True)
    aircraft = order.aircraft
    return OrderRecord(
        order.pk,
        order.number,
        order.title,
        aircraft.type_name,
        aircraft.registration,
        order.opened_on,
        order.closed_on,
        tuple(jobs),
    )


def jobs_of_order(viewer: Person, order: UUID) -> list[JobRecord]:
    """Give the jobs of a work order."""
    rows = visible_to(viewer, Job).filter(work_order=order).select_related(*NEEDED).order_by("number")
    return records_of(viewer, list(rows))


def orders_to_close(viewer: Person) -> list[tuple[int, str]]:
    """Give number and registration of open work orders in which no job is open any more, the oldest first."""
    jobs = Job.objects.filter(work_order=OuterRef("pk"))
    rows = visible_to(viewer, WorkOrder).filter(Exists(jobs), ~Exists(jobs.filter(state=OPEN)), closed_on__isnull=True)
    return list(rows.order_by("number").values_list("number", "aircraft__registration")[:MOST_TO_CLOSE])
