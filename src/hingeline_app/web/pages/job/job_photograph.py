"""One photograph of a job, large: places are tapped or typed, numbered and worded; the photograph stays as it came."""

from __future__ import annotations

import json
from collections.abc import Mapping
from typing import Any
from uuid import UUID

from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_safe

from hingeline_app.bench.on_paper.photo_marks import MOST, next_number, place_of
from hingeline_app.records.plain_places import value_at
from hingeline_app.records.queries.jobs import JobRecord
from hingeline_app.records.queries.photographs import PAGE
from hingeline_app.web.access import Who, open_to
from hingeline_app.web.for_the_viewer import viewer_of
from hingeline_app.web.marked_photographs import MarkedPhotograph, every_photograph
from hingeline_app.web.pages.job.job import step_of_photographs, the_job
from hingeline_app.web.steps.arrive import may_enter


@open_to(Who.SIGNED_IN)
@require_safe
def job_photograph(request: HttpRequest, number: int, photograph: UUID) -> HttpResponse:
    """Show a photograph with its marks, and let them be set."""
    job = the_job(request, number)
    found = next((each for each in every_photograph(request, job) if each.photograph.identifier == photograph), None)
    if found is None:
        raise Http404("there is no such photograph")
    return render(request, "web/job_photograph.html", _context(request, job, found))


def _context(request: HttpRequest, job: JobRecord, found: MarkedPhotograph) -> Mapping[str, Any]:
    photograph, number = found.photograph.identifier, next_number(job, found.photograph.identifier)
    viewer: Any = viewer_of(request)
    return {
        "here": "bench",
        "job": job,
        "number_text": f"{job.number:04d}",
        "shown": found,
        "rows": [(each, json.dumps(value_at(job.details, place_of(photograph, each.number)))) for each in found.marks],
        "next": number if number <= MOST else None,
        "may_mark": may_enter(viewer, job) and found.photograph.kind != PAGE,
        "step": step_of_photographs(found.photograph.kind, found.photograph.remark),
    }
