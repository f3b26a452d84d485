"""What a job is printed as: worksheet, blank, owner's sheet, line for the aircraft's record, wording of the release.

Prints are in the workshop's language, whoever asks, unless ``?language=`` asks for another; the owner's sheet is in the
owner's. No print is stored: each is made anew from the record, and says in its foot when, and in which language.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import replace
from datetime import UTC, datetime
from functools import wraps
from typing import Any

from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import render
from django.urls import reverse
from django.utils import translation
from django.views.decorators.http import require_safe

import hingeline
from hingeline.errors import InputRefused
from hingeline_app.bench.due_again import due_again
from hingeline_app.bench.on_paper.balance_line_of import balance_line_of
from hingeline_app.bench.on_paper.blank_of import blank_of
from hingeline_app.bench.on_paper.record_of import given_head, order_records, record_of
from hingeline_app.records.giving_heads import give_head
from hingeline_app.records.queries.checks_ahead import checks_ahead
from hingeline_app.records.queries.job_record import PrintedPart, printed_part
from hingeline_app.records.queries.jobs import JobRecord, job_of
from hingeline_app.records.queries.last_weighing import last_weighing
from hingeline_app.records.queries.orders import order_of
from hingeline_app.records.queries.surfaces import surfaces_of
from hingeline_app.records.queries.visible import Nowhere
from hingeline_app.records.queries.workshop_texts import RELEASE_WORDING, workshop_text
from hingeline_app.report import job_record as printed
from hingeline_app.report import make_blank_worksheet, make_job_worksheet
from hingeline_app.report.balance_line import make_balance_line
from hingeline_app.report.owner_sheet import make_owner_sheet
from hingeline_app.report.owner_words import LANGUAGES
from hingeline_app.report.release_wording import make_release_wording
from hingeline_app.report.worksheet import Paper
from hingeline_app.said import reading_in
from hingeline_app.web.access import Who, open_to
from hingeline_app.web.for_the_viewer import viewer_of
from hingeline_app.web.printed_photographs import photographs_on
from hingeline_app.web.requests import visit_of
from hingeline_app.web.steps.release import found_by_the_bench

HERE = {"here": "bench"}
NumberedPage = Callable[[HttpRequest, int], HttpResponse]
MOST_JOBS = 60


def of_a_number(page: NumberedPage) -> NumberedPage:
    """Answer what is not there, and say in words why something cannot be printed yet."""

    @wraps(page)
    def answered(request: HttpRequest, number: int) -> HttpResponse:
        try:
            with in_its_language(request):
                return page(request, number)
        except Nowhere as nothing:
            raise Http404(str(nothing)) from nothing
        except InputRefused as refused:
            of_order = page.__name__.startswith("order_")
            back = reverse("order" if of_order else "job", args=[number])
            context = {**HERE, "refusals": [str(each) for each in refused.refusals], "back": back, "of_order": of_order}
            return render(request, "web/print_refused.html", context, status=422)

    return answered


@open_to(Who.SIGNED_IN)
@require_safe
@of_a_number
def job_worksheet(request: HttpRequest, number: int) -> HttpResponse:
    """Print a job's worksheet, with the ledger's head as it stands."""
    record = _record(request, number, weighing=_weighing(request))
    return as_pdf(make_job_worksheet([record], *_made(), paper_of(request)), f"worksheet-{record.number}.pdf")


@open_to(Who.SIGNED_IN)
@require_safe
@of_a_number
def order_worksheet(request: HttpRequest, number: int) -> HttpResponse:
    """Print the worksheets of all jobs of a work order that were weighed."""
    viewer = viewer_of(request)
    order = order_of(viewer, number)
    if len(order.jobs) > MOST_JOBS:
        remedy = "Print them job by job."
        raise InputRefused.of("order", f"{len(order.jobs)} jobs", f"at most {MOST_JOBS} jobs", remedy)
    jobs = [job_of(viewer, each) for each in order.jobs]
    records = order_records([(job, _part(request, job)) for job in jobs], None, _again(request))
    by_number = {f"{job.number:04d}": job for job in jobs}
    records = [photographs_on(request, by_number[each.sheet.job], each) for each in records]
    # With what is refused nothing is given away.
    head = given_head(_head(request))
    records = [replace(each, head=head) for each in records]
    return as_pdf(make_job_worksheet(records, *_made(), paper_of(request)), f"worksheets-order-{number}.pdf")


@open_to(Who.SIGNED_IN)
@require_safe
@of_a_number
def job_blank(request: HttpRequest, number: int) -> HttpResponse:
    """Print a blank worksheet for a bench without a tablet."""
    job = job_of(viewer_of(request), number)
    before = None if job.weighing else last_weighing(viewer_of(request), job)
    blank = blank_of(job, _workshop(request).name, before.set_up if before else None)
    pdf = make_blank_worksheet(blank.plan, blank.weighing, blank.text, blank.sheet, *_made(), paper_of(request))
    return as_pdf(pdf, f"blank-{number:04d}.pdf")


@open_to(Who.SIGNED_IN)
@require_safe
@of_a_number
def job_owner_sheet(request: HttpRequest, number: int) -> HttpResponse:
    """Print the owner's sheet, in the language of the aircraft's owner or in the one that is asked for."""
    job = job_of(viewer_of(request), number)
    part = _part(request, job)
    record = record_of(job, part)
    others = [each.name for each in surfaces_of(viewer_of(request), job.aircraft) if each.identifier != job.surface]
    due = due_again(checks_ahead(viewer_of(request)), job, others)
    language = request.GET.get("language") or part.owner_language
    pdf = make_owner_sheet(record, due, *_made(), paper_of(request), language if language in LANGUAGES else "en")
    return as_pdf(pdf, f"owner-{record.number}.pdf")


@open_to(Who.SIGNED_IN)
@require_safe
@of_a_number
def job_balance_line(request: HttpRequest, number: int) -> HttpResponse:
    """Print the line for the aircraft's weight-and-balance record; ``arm`` is that of the hinge line from the datum."""
    job = job_of(viewer_of(request), number)
    line = balance_line_of(job, _workshop(request).name, request.GET.get("arm", "")[:40])
    return as_pdf(make_balance_line(line, *_made(), paper_of(request)), f"balance-line-{number:04d}.pdf")


@open_to(Who.SIGNED_IN)
@require_safe
@of_a_number
def job_release_wording(request: HttpRequest, number: int) -> HttpResponse:
    """Print the wording of the release, prepared for the licensed person."""
    job = job_of(viewer_of(request), number)
    part = _part(request, job)
    record = record_of(job, part)
    wording = workshop_text(viewer_of(request), RELEASE_WORDING)
    workshop = {name: getattr(part, name) for name in ("workshop", "approval_number", "authority")}
    pdf = make_release_wording(record, wording, workshop, *_made(), paper_of(request))
    return as_pdf(pdf, f"release-wording-{record.number}.pdf")


def paper_of(request: HttpRequest) -> Paper:
    """Read which paper is asked for; A4 unless it is Letter."""
    return "letter" if request.GET.get("paper", "").lower() == "letter" else "a4"


def as_pdf(data: bytes, name: str) -> HttpResponse:
    """Answer with a PDF that the browser shows; it is never kept, since the next one may say more."""
    response = HttpResponse(data, content_type="application/pdf")
    response["Content-Disposition"] = f'inline; filename="{name}"'
    response["Cache-Control"] = "no-store"
    return response


@contextmanager
def in_its_language(request: HttpRequest) -> Iterator[None]:
    """Say a print in the language that is asked for, else in the workshop's; whoever asks."""
    asked = request.GET.get("language", "")
    language = asked if asked in LANGUAGES else str(_workshop(request).language)
    with reading_in(language), translation.override(language):
        yield


def _made() -> tuple[datetime, str]:
    return datetime.now(UTC).replace(microsecond=0), hingeline.__version__


def _workshop(request: HttpRequest) -> Any:
    return visit_of(request).actor.workshop


def _head(request: HttpRequest) -> Any:
    """Give the ledger's head away with this print; a mere look at the page's head gives none."""
    return give_head(_workshop(request).pk) if request.method == "GET" else None


def _record(request: HttpRequest, number: int, *, weighing: int | None = None) -> printed.JobRecord:
    """Compose a record with the ledger's head; with what is refused nothing is given away."""
    job = job_of(viewer_of(request), number)
    part = _part(request, job)
    record = photographs_on(request, job, record_of(job, part, None, _again(request)(number), weighing))
    return replace(record, head=given_head(_head(request)))


def _part(request: HttpRequest, job: JobRecord) -> PrintedPart:
    """Give what the records say beside the job; a paper names everything in the way of a release, as the page does."""
    part = printed_part(viewer_of(request), job.number)
    return replace(part, in_the_way=(*part.in_the_way, *found_by_the_bench(job)))


def _again(request: HttpRequest) -> Callable[[int], str]:
    """Give the address of a job, for the code "work it out again"."""
    return lambda number: request.build_absolute_uri(reverse("job", args=[number]))


def _weighing(request: HttpRequest) -> int | None:
    text = request.GET.get("weighing", "")
    if not text:
        return None
    if not text.isascii() or not text.isdigit() or len(text) > 6:
        raise InputRefused.of("weighing", text[:20], "the number of a weighing", "Leave it out for the last one.")
    return int(text)
