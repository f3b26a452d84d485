"""The paper for incomplete work, of one job or of an order."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import UTC, datetime

from django.http import HttpRequest, HttpResponse
from django.views.decorators.http import require_safe

import hingeline
from hingeline.errors import InputRefused
from hingeline_app.bench.on_paper.incomplete_of import incomplete_of, is_stated
from hingeline_app.records.queries.inspection import releasing_of
from hingeline_app.records.queries.jobs import JobRecord, job_of
from hingeline_app.records.queries.orders import jobs_of_order, order_of
from hingeline_app.report.incomplete_work import make_incomplete_paper
from hingeline_app.web.access import Who, open_to
from hingeline_app.web.for_the_viewer import viewer_of
from hingeline_app.web.pages.job.prints import as_pdf, of_a_number, paper_of
from hingeline_app.web.requests import visit_of
from hingeline_app.web.steps.release import open_of


@open_to(Who.SIGNED_IN)
@require_safe
@of_a_number
def job_incomplete(request: HttpRequest, number: int) -> HttpResponse:
    """Print the paper for one job."""
    return _paper(request, [job_of(viewer_of(request), number)], f"incomplete-{number:04d}.pdf")


@open_to(Who.SIGNED_IN)
@require_safe
@of_a_number
def order_incomplete(request: HttpRequest, number: int) -> HttpResponse:
    """Print the paper for those jobs of an order whose work was stated to stop."""
    jobs = jobs_of_order(viewer_of(request), order_of(viewer_of(request), number).identifier)
    stated = [each for each in jobs if is_stated(each)]
    if not stated:
        remedy = "State on a job's step Release why the work stops and how it is left."
        raise InputRefused.of("order", f"{number:04d}", "a job whose work was stated to stop incomplete", remedy)
    return _paper(request, stated, f"incomplete-order-{number:04d}.pdf")


def _paper(request: HttpRequest, jobs: Sequence[JobRecord], name: str) -> HttpResponse:
    told = [incomplete_of(job, _in_the_way(request, job)) for job in jobs]
    made_at, workshop = datetime.now(UTC).replace(microsecond=0), visit_of(request).actor.workshop.name
    return as_pdf(make_incomplete_paper(told, workshop, made_at, hingeline.__version__, paper_of(request)), name)


def _in_the_way(request: HttpRequest, job: JobRecord) -> list[str]:
    return [each.words for each in open_of(job, releasing_of(viewer_of(request), job.number))]
