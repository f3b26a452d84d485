"""Which entries tell of which job: the ledger is read on from where it was read last, and each entry once.

The write path knows nothing of it, and neither does a rebuilt or restored database: what is missing is read then.
"""

from __future__ import annotations

import json
from collections.abc import Iterator
from typing import Any
from uuid import UUID

from django.db import transaction
from django.db.models import Max

from hingeline_app.records.locking import one_writer
from hingeline_app.records.models import Entry, JobEntry
from hingeline_app.records.write_door import RECORDS

AT_ONCE = 2000


def read_on(workshop: UUID) -> None:
    """Read the entries that came since the last time."""
    last = Entry.objects.filter(workshop=workshop, chain=RECORDS).aggregate(last=Max("position"))["last"] or 0
    while _read_up_to(workshop) < last:
        with one_writer(), transaction.atomic():
            begun = _read_up_to(workshop)
            bodies = Entry.objects.filter(workshop=workshop, chain=RECORDS, position__gt=begun).order_by("position")
            JobEntry.objects.bulk_create(
                JobEntry(workshop_id=workshop, job=job, position=position)
                for position, body in bodies.values_list("position", "body")[:AT_ONCE]
                for job in jobs_of(json.loads(body))
            )


def jobs_of(body: dict[str, Any]) -> set[UUID | None]:
    """Name the jobs that an entry tells of; none where it tells of none."""
    return set(_jobs(body)) or {None}


def _jobs(body: dict[str, Any]) -> Iterator[UUID]:
    if body["says"].get("job"):
        yield UUID(body["says"]["job"])
    for note in body["rows"]:
        if note["table"] == "job":
            yield UUID(note["identifier"])
        elif note["values"].get("job_id"):
            yield UUID(note["values"]["job_id"])


def _read_up_to(workshop: UUID) -> int:
    return JobEntry.objects.filter(workshop=workshop).aggregate(last=Max("position"))["last"] or 0
