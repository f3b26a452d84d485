"""The hangar: checks ahead for all aircraft, the selected one in full, the same as a due file."""

from __future__ import annotations

from typing import Any
from uuid import UUID

from django.core.paginator import Paginator
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_safe

from hingeline.due import words
from hingeline.due.tolerances import may_be_extended
from hingeline.errors import InputRefused
from hingeline_app.files.due_writing import write_due
from hingeline_app.records.queries.checks_ahead import ChecksAhead, checks_ahead, nearby, only
from hingeline_app.records.queries.clock_ahead import clock_ahead
from hingeline_app.records.queries.standing import may
from hingeline_app.records.queries.task_history import TaskInFull, entries_of_task, task_in_full
from hingeline_app.records.queries.visible import Nowhere
from hingeline_app.records.roles import Act
from hingeline_app.web.access import Who, open_to
from hingeline_app.web.for_the_viewer import or_no_page, viewer_of
from hingeline_app.web.hangar.arm_told import PLACES, arm_told
from hingeline_app.web.hangar.rows import counted_by_state, found_by_words, row_of, rows_of, used_of_span

HERE = {"here": "fleet"}
ROWS, ROWS_PRINTED = 40, 1000
ACTS = {"may_keep": Act.KEEP_TASKS, "may_sign_off": Act.SIGN_OFF, "may_count": Act.KEEP_AIRCRAFT, "may_work": Act.WORK}


@open_to(Who.SIGNED_IN)
@require_safe
def hangar(request: HttpRequest) -> HttpResponse:
    """List the checks ahead; one is selected: the one that was asked for, or else the most urgent."""
    whole, asked = checks_ahead(viewer_of(request)), request.GET.get("q", "").strip()[:200]
    found = found_by_words(whole.checks, asked)
    printed = "print" in request.GET
    page = Paginator(found, ROWS_PRINTED if printed else ROWS).get_page(request.GET.get("page"))
    chosen = _chosen(request, page.object_list)
    context = {
        **HERE,
        **may_of(request),
        "whole": whole,
        "clock": clock_ahead(viewer_of(request).workshop.pk),
        "states": [each for each in counted_by_state(whole.checks) if each[0] in ("overdue", "due", "unknown")],
        "aircraft_count": len(whole.question.aircraft),
        "rows": rows_of(page.object_list, whole),
        "page": page,
        "asked": asked,
        "printed": printed,
        "today": words.day(whole.on),
        "read": _last_read(whole),
        **({} if chosen is None or printed else in_full(whole, chosen)),
    }
    return render(request, "web/hangar/print.html" if printed else "web/hangar/list.html", context)


def _chosen(request: HttpRequest, listed: Any) -> TaskInFull | None:
    asked = request.GET.get("task", "")
    identifier = asked or (str(listed[0].identifier) if listed else "")
    if not identifier:
        return None
    try:
        return task_in_full(viewer_of(request), UUID(identifier))
    except (Nowhere, ValueError) as nothing:
        raise Http404(str(nothing)) from nothing


def in_full(whole: ChecksAhead, found: TaskInFull) -> dict[str, Any]:
    """Give what the page tells of one task."""
    check = found.check
    totals = next((each for each in whole.result.aircraft if each.name == check.state.aircraft), None)
    forecast = check.state.forecast
    return {
        "full": found,
        "state": check.state,
        "selected": check.identifier,
        "row": row_of(check, totals),
        "used": used_of_span(check),
        "facts": _facts(check.state),
        "forecast": None if forecast is None else {
            "mid": words.day(forecast.mid), "low": words.day(forecast.low),
            "high": words.day(forecast.high) if forecast.high else "",
        },
        "nearby": nearby(whole, check),
        "arm": arm_told(found.arm_file, found.check_points),
        "points_in_picture": bool(found.arm_file) and len(found.check_points) == PLACES,
        "may_wait": may_be_extended(check.task),
    }  # fmt: skip


def _facts(state: Any) -> dict[str, Any]:
    """Give the numbers of a due point as texts; what is not known is left out."""
    point, late = state.due_at, state.window.to
    hours = {name: words.hours(value) for name, value in {
        "hours": point.hours, "aircraft_hours": point.aircraft_hours if state.part else None,
        "on_meter": point.hours_on_meter if point.hours_on_meter != point.hours else None,
        "late_hours": late.hours if late.hours != point.hours else None,
    }.items() if value is not None}  # fmt: skip
    days = {name: words.day(value) for name, value in {
        "date": state.due_date, "late_date": late.date if late.date != state.due_date else None,
        "last_done": state.last_done,
    }.items() if value is not None}  # fmt: skip
    return {**hours, **days, "landings": point.landings}


def _last_read(whole: ChecksAhead) -> dict[str, Any]:
    """Say when hours were read last, and of which aircraft never."""
    known = [each for each in whole.result.aircraft if each.hours is not None]
    return {
        "last": words.day(max(each.counted_on for each in known)) if known else "",
        "never": [each.name for each in whole.result.aircraft if each.hours is None],
    }


@open_to(Who.SIGNED_IN)
@require_safe
def task_history(request: HttpRequest, task: UUID) -> HttpResponse:
    """Show what the ledger says of one task."""
    full, entries = found_task(request, task), entries_of_task(viewer_of(request), task)
    return render(request, "web/hangar/history.html", {**HERE, "full": full, "entries": entries})


@open_to(Who.SIGNED_IN)
@require_safe
def due_file(request: HttpRequest) -> HttpResponse:
    """Give the checks, or those of one aircraft, as a due file."""
    whole, name = checks_ahead(viewer_of(request)), request.GET.get("aircraft", "")
    question = whole.question
    if name:
        pairs = zip(question.tasks, whole.result.tasks, strict=True)
        question = only(question, {name}, [task for task, state in pairs if state.aircraft == name])
    try:
        data = write_due(question)
    except InputRefused as refused:
        return render(request, "web/hangar/too_many.html", {**HERE, "refused": refused.refusals}, status=422)
    response = HttpResponse(data, content_type="application/toml; charset=utf-8")
    response["Content-Disposition"] = 'attachment; filename="checks-ahead.toml"'
    return response


def found_task(request: HttpRequest, task: UUID) -> TaskInFull:
    """Find a task for who asks.

    Raises
    ------
    Http404
        There is none for this person.
    """
    with or_no_page():
        return task_in_full(viewer_of(request), task)


def may_of(request: HttpRequest) -> dict[str, bool]:
    """Say what a person may do in the hangar, so that the page offers no more."""
    viewer = viewer_of(request)
    return {name: may(viewer, act).allowed for name, act in ACTS.items()}
