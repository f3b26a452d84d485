"""From which job on the piece that is on an aircraft now has been there: what was weighed before was another one."""

from __future__ import annotations

import json
from collections.abc import Mapping
from typing import Any
from uuid import UUID

from django.db.models import CharField
from django.db.models.functions import Cast

from hingeline_app.records.models import Entry, Job
from hingeline_app.records.queries.matter import VOIDED

# Where a job's details say that it was opened for a piece fitted in the place of another, and instead of which job.
SWAPPED, INSTEAD_OF = "swapped", "instead_of"
# The same of a job that stayed in another workshop, by its number there and the workshop's name: it has no number here.
INSTEAD_OF_ELSEWHERE = "instead_elsewhere"


def swapped_at(surface: UUID) -> list[int]:
    """Give the numbers of the jobs that were opened for another piece of a surface, the last first.

    Jobs from before they said so: one of the same surface in place of which it was opened was voided by the swap; on
    a wrong surface, a job goes on at another.
    """
    told = Job.objects.annotate(told=Cast("details", CharField())).filter(surface=surface, told__contains=INSTEAD_OF)
    jobs: list[tuple[int, Mapping[str, Any]]] = list(told.order_by("-number").values_list("number", "details"))
    unsaid = [details[INSTEAD_OF] for _number, details in jobs if SWAPPED not in details and INSTEAD_OF in details]
    before = _voided(surface, unsaid) if unsaid else set()
    return [number for number, details in jobs if SWAPPED in details or details.get(INSTEAD_OF) in before]


def is_numbered_elsewhere(job: UUID) -> bool:
    """Whether the number of the job that one was opened instead of is another workshop's.

    Imports of before kept it as it was there, and nothing that was kept is written over. It is a number of here where
    the job of that number was voided earlier on the same aircraft, or where the ledger of here says that it goes on in
    this one.
    """
    kept = Job.objects.select_related("surface__aircraft").get(pk=job)
    was = kept.details.get(INSTEAD_OF)
    if was is None or not kept.surface.aircraft.came_from:
        return False
    earlier = Job.objects.filter(workshop=kept.workshop_id, number=was, number__lt=kept.number, state=VOIDED)
    of_here = earlier.filter(surface__aircraft=kept.surface.aircraft_id).exists()
    return not (of_here or (earlier.exists() and _goes_on_in(kept)))


def _goes_on_in(job: Job) -> bool:
    voiding = Entry.objects.filter(workshop=job.workshop_id, kind="job goes on elsewhere", body__contains='"instead"')
    return any(json.loads(body)["says"].get("instead") == job.number for body in voiding.values_list("body", flat=True))


def _voided(surface: UUID, numbers: list[int]) -> set[int]:
    rows = Job.objects.filter(surface=surface, number__in=numbers, state=VOIDED)
    return set(rows.values_list("number", flat=True))
