"""Who has a job now: whom it was handed to, or who opened it."""

from __future__ import annotations

from hingeline_app.records.plain_places import value_at
from hingeline_app.records.queries.jobs import JobRecord

HANDED_TO, HANDED_TO_NAME = "hand_over.to", "hand_over.to_name"


def who_has_it(job: JobRecord) -> str:
    """Name the person."""
    return str(value_at(job.details, HANDED_TO_NAME) or job.opened_by)
