"""How a surface was last weighed, in whichever job but a voided one: what a new weighing of it begins from."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from typing import Any
from uuid import UUID

from hingeline_app.records.models import Measurement, Person
from hingeline_app.records.queries.jobs import JobRecord
from hingeline_app.records.queries.matter import VOIDED
from hingeline_app.records.queries.pieces import swapped_at
from hingeline_app.records.queries.visible import visible_to


@dataclass(frozen=True)
class LastWeighing:
    """The last weighing of a surface."""

    job: int
    number: int
    begun_on: date
    scale: UUID | None
    stand: UUID | None
    set_up: Mapping[str, Any]
    # The places for a correction, as that job had them.
    places: tuple[Mapping[str, Any], ...]


def last_weighing(viewer: Person, job: JobRecord) -> LastWeighing | None:
    """Give the last weighing of the piece that the job is about; None where it never was weighed here.

    A voided job was opened on the wrong surface, or on a piece that is gone; weighings from before a piece was swapped
    are of the other one: what was set up there, and where mass is allowed, need not hold for this one. Two queries.
    """
    rows = visible_to(viewer, Measurement).filter(kind="weighing", job__surface=job.surface)
    rows = rows.exclude(job__state=VOIDED).filter(job__number__gte=max(swapped_at(job.surface), default=0))
    last = rows.select_related("job").order_by("-job__number", "-number").first()
    if last is None:
        return None
    told = last.job.details.get("correct") or {}
    places = tuple(each for each in told.get("place") or [] if each)
    return LastWeighing(
        last.job.number, last.number, last.begun_on, last.scale_id, last.stand_id, last.set_up, places
    )  # fmt: skip
