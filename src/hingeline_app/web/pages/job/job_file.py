"""The file of a weighing and of its correction: what the commands read, for the same numbers to the last digit."""

from __future__ import annotations

from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_safe

from hingeline.errors import InputRefused
from hingeline_app.bench.arm.arm_estimate import arm_text, estimate_of
from hingeline_app.bench.correcting.correction_of import correction_text
from hingeline_app.bench.weighing.weighing_of import text_as_it_stands, weighed
from hingeline_app.records.queries.jobs import JobRecord, MeasurementRecord
from hingeline_app.web.access import Who, open_to
from hingeline_app.web.pages.job.job import the_job


@open_to(Who.SIGNED_IN)
@require_safe
def weighing_file(request: HttpRequest, number: int, weighing: int) -> HttpResponse:
    """Give the weighing file."""
    job = the_job(request, number)
    try:
        return _file(text_as_it_stands(job, _weighing(job, weighing)), f"weighing-{number:04d}-{weighing}.toml")
    except InputRefused as refused:
        return _no_file(request, job, refused)


@open_to(Who.SIGNED_IN)
@require_safe
def correction_file(request: HttpRequest, number: int, weighing: int) -> HttpResponse:
    """Give the ballast file of the correction after a weighing."""
    job = the_job(request, number)
    row = _weighing(job, weighing)
    try:
        found = weighed(text_as_it_stands(job, row))
    except InputRefused as refused:
        return _no_file(request, job, refused)
    return _file(correction_text(job, row, found), f"correction-{number:04d}-{weighing}.toml")


@open_to(Who.SIGNED_IN)
@require_safe
def arm_file(request: HttpRequest, number: int) -> HttpResponse:
    """Give the arm file of what was typed on the step Arm."""
    job = the_job(request, number)
    try:
        if estimate_of(job) is None:
            raise Http404
        return _file(arm_text(job), f"arm-{number:04d}.toml")
    except InputRefused as refused:
        return _no_file(request, job, refused)


def _no_file(request: HttpRequest, job: JobRecord, refused: InputRefused) -> HttpResponse:
    """Say what is in the way of a file and how to mend it; where a word of the limits is, lead to their row."""
    is_of_limits = any(each.field.startswith("limits") for each in refused.refusals)
    row = job.limit_row.identifier if is_of_limits and job.limit_row else None
    said = {"refusals": [str(each) for each in refused.refusals], "number": job.number, "row": row, "here": "bench"}
    return render(request, "web/file_refused.html", said, status=422)


def _weighing(job: JobRecord, number: int) -> MeasurementRecord:
    for each in job.of_kind("weighing"):
        if each.number == number:
            return each
    raise Http404


def _file(text: str, name: str) -> HttpResponse:
    answer = HttpResponse(text, content_type="application/toml; charset=utf-8")
    answer["Content-Disposition"] = f'attachment; filename="{name}"'
    return answer
