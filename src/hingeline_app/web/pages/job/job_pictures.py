"""Photographs of a job, as the copies that were drawn anew."""

from __future__ import annotations

from typing import Any
from uuid import UUID

from django.http import Http404, HttpRequest, HttpResponse
from django.views.decorators.http import require_safe

from hingeline_app.records.queries.jobs import job_identifier
from hingeline_app.records.queries.photographs import photographs_of
from hingeline_app.web.access import Who, open_to
from hingeline_app.web.for_the_viewer import or_no_page, viewer_of
from hingeline_app.web.photographs import shown


@open_to(Who.SIGNED_IN)
@require_safe
def job_picture(request: HttpRequest, number: int, photograph: UUID) -> HttpResponse:
    """Give a photograph."""
    viewer: Any = viewer_of(request)
    with or_no_page():
        job = job_identifier(viewer, number)
    for each in photographs_of(viewer, job):
        if each.identifier == photograph:
            return shown(each.preview_digest)
    raise Http404
