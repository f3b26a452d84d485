"""Records: what was done, by whom, with which readings; and whether it still computes the same."""

from __future__ import annotations

from typing import Any
from urllib.parse import urlencode
from uuid import UUID

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.utils.safestring import mark_safe
from django.views.decorators.http import require_safe

from hingeline_app.bench.weighing.scale_against import NOT_CERTIFIED, is_not_used, why_not_used
from hingeline_app.figures.limits.bar import draw_limit_bar
from hingeline_app.figures.limits.moment_over_years import draw_moment_over_years
from hingeline_app.figures.limits.thumbnail import common_axis, draw_limit_thumbnail
from hingeline_app.figures.wording import format_measured
from hingeline_app.records.queries.job_history import history_of_job
from hingeline_app.records.queries.jobs import JobRecord, job_of
from hingeline_app.records.queries.matter import RELEASE
from hingeline_app.records.queries.records_search import (
    RecordLine,
    SurfaceHistory,
    find_records,
    results_to_replay,
    surface_history,
)
from hingeline_app.replaying.kept_result import replayed
from hingeline_app.report.pictures import limit_bar
from hingeline_app.web.access import Who, open_to
from hingeline_app.web.for_a_job import as_weighed
from hingeline_app.web.for_the_viewer import or_no_page, viewer_of
from hingeline_app.web.forms.records import SearchForm
from hingeline_app.web.history_pictures import history_on_page
from hingeline_app.web.marked_photographs import every_photograph

HERE = {"here": "records"}
WIDE, NARROW = 650, 348


@open_to(Who.SIGNED_IN)
@require_safe
def records(request: HttpRequest) -> HttpResponse:
    """List the records that a search finds, a page at a time."""
    form = SearchForm(request.GET)
    form.is_valid()
    page = find_records(viewer_of(request), form.wanted(), _number(request.GET.get("page", "")))
    asked = request.GET.copy()
    asked.pop("page", None)
    context = {
        "form": form,
        "page": page,
        "lines": [(line, _little(line), line.scale_against in NOT_CERTIFIED) for line in page.lines],
        "asked": asked.urlencode(),
        "searching": any(asked.values()),
    }
    return render(request, "web/records.html", {**HERE, **context})


@open_to(Who.SIGNED_IN)
@require_safe
def record(request: HttpRequest, number: int) -> HttpResponse:
    """Show one record: what was done, with all readings, the signatures and the history."""
    job = _job(request, number)
    return render(request, "web/record.html", {**HERE, **_record(request, job)})


@open_to(Who.SIGNED_IN)
@require_safe
def record_again(request: HttpRequest, number: int) -> HttpResponse:
    """Work every result of a record out again, and say whether it is the same to the last digit."""
    job = _job(request, number)
    again = [replayed(*each) for each in results_to_replay(viewer_of(request), job.identifier)]
    context = _record(request, job) | {"again": again, "all_same": bool(again) and all(each.same for each in again)}
    return render(request, "web/record.html", {**HERE, **context})


@open_to(Who.SIGNED_IN)
@require_safe
def surface_page(request: HttpRequest, surface: UUID) -> HttpResponse:
    """Show a surface's history as a picture: the moment over the years."""
    with or_no_page():
        history = surface_history(viewer_of(request), surface)
    shown = history_on_page(history)
    context = {
        "history": history,
        "shown": shown,
        "drawn": {name: _picture(draw_moment_over_years(shown.rows, width)) for name, width in _widths()},
        "weighings": _told(history),
        "paint": _paint(history),
    }
    return render(request, "web/surface_history.html", {**HERE, **context})


def _record(request: HttpRequest, job: JobRecord) -> dict[str, Any]:
    weighings = [each for each in reversed(job.of_kind("weighing"))]
    last = next((each for each in weighings if each.result), None)
    bar = limit_bar(last.result.document) if last and last.result else None
    drawn = {name: _picture(draw_limit_bar(bar, width)) for name, width in _widths()} if bar else {}
    return {
        "job": job,
        "number_text": f"{job.number:04d}",
        "weighings": weighings,
        "others": [each for each in job.measurements if each.kind != "weighing"],
        "last": last,
        "not_used": why_not_used(last) if last else "",
        "is_not_used": is_not_used(last),
        "drawn": drawn,
        "photographs": every_photograph(request, job),
        "released": job.standing(RELEASE),
        "second": job.second,
        "history": history_of_job(viewer_of(request), job.identifier),
    }


def _little(line: RecordLine) -> Any:
    """Draw the limits and the moment of a job in little, on an axis of its own."""
    if not line.weighing or "static_moment" not in line.weighing:
        return ""
    bar = limit_bar(line.weighing)
    return _picture(draw_limit_thumbnail(bar, common_axis([bar])))


def _told(history: SurfaceHistory) -> list[tuple[Any, str, bool]]:
    """Give each weighing with its moment in words, and whether its statement is not used, the latest first."""
    bars = [
        (each, limit_bar(each.document)) for each in reversed(history.weighings) if "static_moment" in each.document
    ]
    return [
        (
            each,
            format_measured(bar.value or 0.0, bar.uncertainty, "N m", sense=True),
            each.scale_against in NOT_CERTIFIED,
        )
        for each, bar in bars
    ]


def _paint(history: SurfaceHistory) -> str:
    """Give what a coating plan begins with: the last weighing that has a moment."""
    last = next((each.document for each in reversed(history.weighings) if "static_moment" in each.document), None)
    return urlencode({"begin": "yes", "name": history.name, **({} if last is None else as_weighed(last))})


def _number(text: str) -> int:
    """Read the number of a page; what is none, such as "²", is the first."""
    return int(text) if text.isascii() and text.isdigit() and len(text) < 7 else 1


def _widths() -> tuple[tuple[str, int], ...]:
    return (("wide", WIDE), ("narrow", NARROW))


def _picture(drawing: str) -> Any:
    return mark_safe(drawing)


def _job(request: HttpRequest, number: int) -> JobRecord:
    with or_no_page():
        return job_of(viewer_of(request), number)
