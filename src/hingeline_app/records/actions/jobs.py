"""Work orders and jobs are opened; a job's details change; its row of limits is chosen."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any
from uuid import UUID

from hingeline.errors import InputRefused
from hingeline_app.records.actions.entrance import NotAllowed, acting, signed_in
from hingeline_app.records.actions.hands import hand_on
from hingeline_app.records.actions.working import Moved, Work, follows_own, from_to, refuse_another_s, working
from hingeline_app.records.dates import today
from hingeline_app.records.legible import legible, remark
from hingeline_app.records.models import Aircraft, Job, LimitRow, Surface, WorkOrder
from hingeline_app.records.numbering import next_number
from hingeline_app.records.plain_data import plain_data
from hingeline_app.records.plain_places import value_at, with_value
from hingeline_app.records.queries.limits import SUPERSEDED
from hingeline_app.records.queries.matter import OPEN, VOIDED
from hingeline_app.records.queries.visible import found
from hingeline_app.records.roles import Act
from hingeline_app.records.write_door import Actor, Command, OpenEntry

LIMITS_CHOSEN, DETAIL_SET = "limits chosen", "job detail set"


def open_order(actor: Actor, aircraft: UUID, title: str, command: Command | None = None) -> WorkOrder:
    """Open a work order for one visit of an aircraft."""
    with acting(actor, Act.WORK, "work order opened", command=command) as entry:
        order = opened_order(entry, actor, found(signed_in(actor), Aircraft, aircraft), title)
    return order


def open_job(
    actor: Actor,
    surface: UUID,
    why_here: str,
    *,
    details: Mapping[str, Any] | None = None,
    work_order: UUID | None = None,
    command: Command | None = None,
) -> Job:
    """Open a job for a surface.

    Raises
    ------
    NotAllowed, Nowhere, InputRefused
        The table of roles has no yes; there is no such surface; the work order is another aircraft's.
    """
    with acting(actor, Act.WORK, "job opened", command=command) as entry:
        person = signed_in(actor)
        kept = found(person, Surface, surface)
        order = open_order_of(found(person, WorkOrder, work_order), kept) if work_order else None
        job = opened_job(entry, actor, kept, why_here, details or {}, order)
        entry.says |= {"job": str(job.pk), "number": job.number}
    return job


def opened_order(entry: OpenEntry, actor: Actor, aircraft: Aircraft, title: str) -> WorkOrder:
    """Open a work order while the door is open."""
    order = WorkOrder(
        workshop=actor.workshop,
        number=next_number(WorkOrder, workshop=actor.workshop),
        aircraft=aircraft,
        title=legible("title", title, longest=200),
        opened_on=today(actor.workshop),
    )
    entry.keep(order)
    return order


def opened_job(
    entry: OpenEntry,
    actor: Actor,
    surface: Surface,
    why_here: str,
    details: Mapping[str, Any],
    order: WorkOrder | None = None,
    worked_on_by: Sequence[str] = (),
) -> Job:
    """Open a job while the door is open; ``worked_on_by`` are those whose answers it goes on with."""
    job = Job(
        workshop=actor.workshop,
        number=next_number(Job, workshop=actor.workshop),
        work_order=order,
        surface=surface,
        opened_by=signed_in(actor),
        opened_on=today(actor.workshop),
        state=OPEN,
        why_here=remark("why it is here", why_here, needed=True),
        details=plain_data("details", details),
        worked_on_by=list(worked_on_by),
    )
    entry.keep(job)
    return job


def set_detail(
    actor: Actor,
    job: UUID,
    place: str,
    was: Any,
    value: Any,
    command: Command | None = None,
    *,
    undoes: int | None = None,
) -> Job:
    """Set one detail of a job, such as ``arrive.drains``, where it still is as it was seen.

    Two tablets that set different details never meet; who sets the same one to something else is told.
    ``undoes`` is the position of the entry that is taken back by it.

    Raises
    ------
    Moved
        Another person set it since: both values are in it, nothing was written.
    """
    with working(actor, Act.WORK, DETAIL_SET, job, says={"place": place}, command=command) as work:
        is_now = value_at(work.job.details, place)
        refuse_another_s(work, place, is_now, (was, value), command)
        work.entry.says |= from_to(is_now, value, undoes)
        work.job.details = plain_data("details", with_value(work.job.details, place, value))
        work.job.version += 1
    return work.job


def choose_limits(actor: Actor, job: UUID, row: UUID, was: UUID | None, command: Command | None = None) -> Job:
    """Choose the row that applies where the one that was seen still does: ticks and readings meanwhile do not matter.

    Two choices may wait on a tablet: the second follows on the first.

    Raises
    ------
    NotAllowed
        The row is superseded.
    Moved
        Another person chose another row since.
    """
    with working(actor, Act.WORK, LIMITS_CHOSEN, job, command=command) as work:
        kept, is_now = _in_force(work, row), work.job.limit_row_id
        own = follows_own(actor, LIMITS_CHOSEN, job, None, _identifier(is_now), command)
        if is_now not in (was, kept.pk) and not own:
            raise Moved({"limit row": _row_words(kept)}, {"limit row": _row_words(work.job.limit_row)})
        _let_apply(work, kept)
    return work.job


def _in_force(work: Work, row: UUID) -> LimitRow:
    kept = found(work.person, LimitRow, row)
    if kept.state == SUPERSEDED:
        raise NotAllowed("This row is superseded: choose the row of the newer issue.")
    return kept


def _let_apply(work: Work, row: LimitRow) -> None:
    work.entry.says |= from_to(_identifier(work.job.limit_row_id), str(row.pk))
    work.job.limit_row, work.job.version = row, work.job.version + 1


def _row_words(row: LimitRow | None) -> str:
    return "none" if row is None else f"{row.issue.document.number}, issue {row.issue.issue}, page {row.page}"


def take_limits_back(actor: Actor, job: UUID, undoes: int, was: UUID | None, command: Command | None = None) -> Job:
    """Take a choice of limits back: the row before it applies again, or none."""
    with working(actor, Act.WORK, LIMITS_CHOSEN, job, command=command) as work:
        before = found(work.person, LimitRow, was) if was else None
        work.entry.says |= from_to(_identifier(work.job.limit_row_id), _identifier(was), undoes)
        work.job.limit_row, work.job.version = before, work.job.version + 1
    return work.job


def set_aside(actor: Actor, job: UUID, place: str, yours: str, theirs: str, command: Command | None = None) -> None:
    """Note a value that was typed and not taken, since another person's stands: both stay in the history."""
    says = {"place": legible("place", place, longest=120), "set aside": remark("value", yours), "stands": theirs[:2000]}
    with acting(actor, Act.WORK, "value set aside", says, command=command) as entry:
        person = signed_in(actor)
        kept = found(person, Job, job)
        entry.says |= {"job": str(kept.pk), "number": kept.number}
        hand_on(entry, person, [kept])


def void_job(actor: Actor, job: UUID, reason: str, command: Command | None = None) -> Job:
    """Close a job that was opened by mistake; it stays readable."""
    says = {"reason": remark("reason", reason, needed=True)}
    with working(actor, Act.WORK, "job voided", job, says=says, command=command) as work:
        work.job.state, work.job.version = VOIDED, work.job.version + 1
    return work.job


def _identifier(value: UUID | None) -> str | None:
    return None if value is None else str(value)


def open_order_of(order: WorkOrder, surface: Surface) -> WorkOrder:
    """Refuse an order that is closed, or another aircraft's."""
    if order.aircraft_id != surface.aircraft_id or order.closed_on is not None:
        remedy = "Choose an open order of the surface's aircraft, or none."
        raise InputRefused.of("work order", order.number, "an open order of this aircraft", remedy)
    return order
