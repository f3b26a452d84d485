"""A second inspection for the one who looks at its page: items as that person may see them, and who may sign."""

from __future__ import annotations

import json
from dataclasses import dataclass, replace
from uuid import UUID

from hingeline_app.records.models import Entry, InspectionItem, Job, Person, Signature
from hingeline_app.records.permission import Answer
from hingeline_app.records.queries.items import ItemRecord, items_of
from hingeline_app.records.queries.matter import AGAIN, OPEN, RELEASED, SECOND, matter_of, standing_signature
from hingeline_app.records.queries.open_points import OpenPoint, points_by_step
from hingeline_app.records.queries.picture import seen_of
from hingeline_app.records.queries.standing import may
from hingeline_app.records.queries.visible import Nowhere, visible_to
from hingeline_app.records.roles import Act
from hingeline_app.records.write_door import RECORDS

# How many of the last entries are looked through for what ended an inspection.
LOOKED_THROUGH = 400


@dataclass(frozen=True)
class Inspection:
    """What the page of the second inspection shows."""

    job: UUID
    seen: str
    items: tuple[ItemRecord, ...]
    first: str
    may_inspect: Answer
    may_again: Answer
    # What was entered after the last second inspection, which ended it; empty where none was ended.
    ended_by: tuple[str, ...]


@dataclass(frozen=True)
class Releasing:
    """What the page of the release shows beside the job."""

    job: UUID
    seen: str
    points: tuple[OpenPoint, ...]
    may_release: Answer
    may_withdraw: Answer


def inspection_of(viewer: Person, number: int, inspector: Person | None = None) -> Inspection:
    """Give a second inspection as ``inspector`` may see it (a guest, or the viewer).

    Raises
    ------
    Nowhere
        There is no such job for the viewer.
    """
    job, looks = _job(viewer, number), inspector or viewer
    about = matter_of(job)
    return Inspection(
        job.pk,
        seen_of(job),
        tuple(items_of(looks, job)),
        _first(job),
        may(looks, Act.INSPECT, about),
        may(looks, Act.INSPECT_AGAIN, about),
        _ended_by(job),
    )


def releasing_of(viewer: Person, number: int) -> Releasing:
    """Give what is in the way of a release, and whether this viewer may sign it.

    Raises
    ------
    Nowhere
        There is no such job for the viewer.
    """
    job = _job(viewer, number)
    second, again = standing_signature(job, SECOND), standing_signature(job, AGAIN)
    about = replace(
        matter_of(job),
        inspected_by=second.made_by_id if second else None,
        on_own_inspection=second is None and again is not None,
        is_proved=True,
    )
    return Releasing(
        job.pk,
        seen_of(job),
        tuple(points_by_step(job)) if job.state != RELEASED else (),
        may(viewer, Act.RELEASE, about),
        may(viewer, Act.WITHDRAW_RELEASE, about),
    )


def numbers_of_open_jobs(viewer: Person, order: int) -> list[int]:
    """Give the numbers of the open jobs of a work order."""
    rows = visible_to(viewer, Job).filter(work_order__number=order, state=OPEN)
    return list(rows.order_by("number").values_list("number", flat=True))


def _job(viewer: Person, number: int) -> Job:
    job = visible_to(viewer, Job).filter(number=number).select_related("surface__aircraft", "limit_row").first()
    if job is None:
        raise Nowhere("there is no such job")
    return job


def _first(job: Job) -> str:
    names = InspectionItem.objects.filter(job=job).order_by().values_list("made_by__name", flat=True).distinct()
    return ", ".join(sorted(names))


def _ended_by(job: Job) -> tuple[str, ...]:
    """Name what was entered on the job after the second inspection that later changes ended."""
    last = Signature.objects.filter(job=job, purpose=SECOND).order_by("-change").first()
    if last is None or job.state == RELEASED or standing_signature(job, SECOND) is not None:
        return ()
    after = json.loads(last.text)["after"]["position"] + 1
    rows = Entry.objects.filter(
        workshop=job.workshop_id, chain=RECORDS, position__gt=after, body__contains=str(job.pk)
    ).order_by("position")[:LOOKED_THROUGH]
    said = [_said(json.loads(row.body)) for row in rows if row.kind != "item looked at"]
    return tuple(dict.fromkeys(said))


def _said(body: dict[str, object]) -> str:
    says, kind = body["says"], str(body["kind"])
    place = says.get("place") if isinstance(says, dict) else None
    return f"{kind}: {place}" if place else kind
