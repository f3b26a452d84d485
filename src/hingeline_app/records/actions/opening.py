"""Several surfaces of one visit are opened at once; a job on the wrong surface goes on at the right one."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any
from uuid import UUID

from hingeline.errors import InputRefused
from hingeline_app.records.actions.entrance import acting, require, signed_in
from hingeline_app.records.actions.jobs import open_order_of, opened_job, opened_order
from hingeline_app.records.actions.working import Work, working
from hingeline_app.records.legible import mark, remark
from hingeline_app.records.models import Job, Surface, WorkOrder
from hingeline_app.records.queries.matter import OPEN, VOIDED
from hingeline_app.records.queries.pieces import INSTEAD_OF, SWAPPED
from hingeline_app.records.queries.visible import found
from hingeline_app.records.roles import Act
from hingeline_app.records.write_door import Actor, Command

# What was seen when it arrived goes with the surface; that the step was closed does not.
CARRIED = ("why", "task")
OF_ARRIVAL = "arrive"


@dataclass(frozen=True)
class Visit:
    """Why the surfaces are here, and under which work order.

    Parameters
    ----------
    why_here : str
    details : mapping
        What every job of the visit begins with.
    order : UUID or None
        An open order that they join; None opens one where they are several.
    title : str
        Of a new order; without it, why they are here.
    """

    why_here: str
    details: Mapping[str, Any] = field(default_factory=dict)
    order: UUID | None = None
    title: str = ""


def open_jobs(actor: Actor, surfaces: Sequence[UUID], visit: Visit, command: Command | None = None) -> list[Job]:
    """Open a job for each surface, in the order given; several share a work order.

    Raises
    ------
    InputRefused
        No surface; surfaces of two aircraft; one that has an open job; an order that is closed or another aircraft's.
    """
    with acting(actor, Act.WORK, "jobs opened", command=command) as entry:
        person = signed_in(actor)
        kept = [found(person, Surface, each) for each in dict.fromkeys(surfaces)]
        _refuse_choice(kept)
        order = open_order_of(found(person, WorkOrder, visit.order), kept[0]) if visit.order else None
        if order is None and len(kept) > 1:
            order = opened_order(entry, actor, kept[0].aircraft, visit.title or visit.why_here)
        jobs = [opened_job(entry, actor, each, visit.why_here, visit.details, order) for each in kept]
        entry.says |= {"numbers": [job.number for job in jobs], "order": order.number if order else None}
    return jobs


def go_on_elsewhere(actor: Actor, job: UUID, surface: UUID, reason: str, command: Command | None = None) -> Job:
    """Void a job that was opened on the wrong surface, and open it on the right one with what was seen on arrival.

    Raises
    ------
    InputRefused
        It is the same surface, or the other has an open job.
    """
    says = {"reason": remark("reason", reason, needed=True)}
    with working(actor, Act.WORK, "job goes on elsewhere", job, says=says, command=command) as work:
        right = found(work.person, Surface, surface)
        if right.pk == work.job.surface_id:
            raise InputRefused.of("surface", right.name, "another surface", "Choose the right one.")
        _refuse_open(right)
        # Whoever ticked the arrival ticked that of the job it goes on with.
        return _instead(work, actor, right, _arrival(work.job), work.job.worked_on_by)


def swap_surface(actor: Actor, job: UUID, serial_number: str, reason: str, command: Command | None = None) -> Job:
    """Void a job whose surface was taken off for good, and open one for the piece fitted in its place.

    Nothing that was seen or weighed goes with it: it is another piece.

    Raises
    ------
    InputRefused
        The serial number is missing, or is the one that was taken off.
    """
    says = {"reason": remark("reason", reason, needed=True)}
    with working(actor, Act.WORK, "surface swapped", job, says=says, command=command) as work:
        require(actor, Act.KEEP_AIRCRAFT)
        surface = work.job.surface
        new = mark("serial number", serial_number)
        if new == surface.serial_number:
            raise InputRefused.of("serial number", new, "another serial number", "Read the plate of the new piece.")
        swapped = {"taken off": surface.serial_number, "fitted": new}
        work.entry.says |= swapped
        surface.serial_number = new
        work.keep(surface)
        return _instead(work, actor, surface, {"why": "other", SWAPPED: swapped})


def _instead(
    work: Work, actor: Actor, surface: Surface, details: Mapping[str, Any], worked_on_by: Sequence[str] = ()
) -> Job:
    """Void the job of this act and open another; one of another aircraft leaves the work order."""
    old = work.job
    old.state, old.version = VOIDED, old.version + 1
    order = old.work_order if old.work_order and old.work_order.aircraft_id == surface.aircraft_id else None
    said = {**details, INSTEAD_OF: old.number}
    kept = opened_job(work.entry, actor, surface, old.why_here, said, order, worked_on_by)
    work.entry.says |= {"instead": kept.number}
    return kept


def _arrival(job: Job) -> dict[str, Any]:
    arrived = {name: value for name, value in (job.details.get(OF_ARRIVAL) or {}).items() if name != "state"}
    carried = {name: job.details[name] for name in CARRIED if name in job.details}
    return carried | ({OF_ARRIVAL: arrived} if arrived else {})


def _refuse_choice(surfaces: Sequence[Surface]) -> None:
    if not surfaces:
        raise InputRefused.of("surfaces", "none", "at least one surface", "Tap one in the picture, or tick it.")
    if len({each.aircraft_id for each in surfaces}) > 1:
        raise InputRefused.of("surfaces", len(surfaces), "surfaces of one aircraft", "One work order, one aircraft.")
    for each in surfaces:
        _refuse_open(each)


def _refuse_open(surface: Surface) -> None:
    number = Job.objects.filter(surface=surface, state=OPEN).values_list("number", flat=True).first()
    if number is not None:
        remedy = f"Go on with job {number:04d}."
        raise InputRefused.of("surfaces", surface.name, "a surface without an open job", remedy)
