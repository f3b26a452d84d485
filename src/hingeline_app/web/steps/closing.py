"""What every step that a person closes shows: its state with the reason, and whether this person may work here."""

from __future__ import annotations

from typing import Any

from django.http import HttpRequest

from hingeline_app.bench.steps import states_of
from hingeline_app.records.queries.jobs import JobRecord
from hingeline_app.web.for_the_viewer import viewer_of
from hingeline_app.web.steps.arrive import may_enter


def closing(request: HttpRequest, job: JobRecord, name: str) -> dict[str, Any]:
    """Gather it."""
    viewer: Any = viewer_of(request)
    state = next(each for each in states_of(job) if each.name == name)
    told = job.details.get(name)
    was = told.get("state") if isinstance(told, dict) else None
    return {
        "closing": state,
        "closing_was": was or "",
        "may_work": may_enter(viewer, job),
    }
