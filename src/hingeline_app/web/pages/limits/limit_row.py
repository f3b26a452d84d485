"""One row of limits: typed as printed, read again blind by another person, and settled where the two differ."""

from __future__ import annotations

from typing import Any
from uuid import UUID

from django.core.exceptions import PermissionDenied
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from hingeline_app.records.actions.attaching import PAGE, attach_to_row
from hingeline_app.records.actions.limits import compare_again, enter_limits, finish_draft, look_again, read_again
from hingeline_app.records.permission import Matter
from hingeline_app.records.queries.approved_data import (
    RowOnPage,
    issues_of,
    photographs_of_row,
    row_on_page,
    rows_on_page,
    uses_on_page,
)
from hingeline_app.records.queries.standing import may
from hingeline_app.records.queries.two_readings import right_to_look_again
from hingeline_app.records.roles import Act
from hingeline_app.web.access import Who, open_to
from hingeline_app.web.for_the_viewer import or_no_page, refuse_who_may_not, viewer_of
from hingeline_app.web.forms.limits import NewRowForm, PagePhotographForm, PrintedRowForm, as_typed
from hingeline_app.web.forms.page_form import begun
from hingeline_app.web.limit_comparison import compared, found_words, sums_of
from hingeline_app.web.limit_pictures import types_on_page
from hingeline_app.web.pages.acts import command_of, done
from hingeline_app.web.pages.limits.limits import HERE, may_enter
from hingeline_app.web.photographs import shown, upload_of
from hingeline_app.web.requests import visit_of


@open_to(Who.SIGNED_IN)
@require_http_methods(["GET", "HEAD", "POST"])
def row_add(request: HttpRequest, issue: UUID) -> HttpResponse:
    """Type a row as it is printed, as the first reader."""
    refuse_who_may_not(request, Act.ENTER_LIMITS)
    actor = visit_of(request).actor
    record = next((each for each in issues_of(actor.person) if each.identifier == issue), None)  # type: ignore[arg-type]
    if record is None or record.is_superseded:
        raise Http404
    form = NewRowForm(request.POST) if request.method == "POST" else begun(request, NewRowForm)
    kept: list[Any] = []
    if request.method == "POST" and done(request, form, lambda: kept.append(_enter(request, issue, form)), _(
        "The row was kept as you read it."
    )):  # fmt: skip
        return redirect("limits-row", row=kept[0].pk) if kept else redirect("limits")
    context = {**HERE, "form": form, "issue": record}
    return render(request, "web/limits_row_new.html", context, status=422 if form.errors else 200)


@open_to(Who.SIGNED_IN)
@require_safe
def row_page(request: HttpRequest, row: UUID) -> HttpResponse:
    """Show a row: what each read, where they differ, its printed page, and what used it."""
    return _page(request, _row(request, row), PagePhotographForm())


@open_to(Who.SIGNED_IN)
@require_http_methods(["GET", "HEAD", "POST"])
def row_read(request: HttpRequest, row: UUID) -> HttpResponse:
    """Finish a draft, read a row again blind, or look again where the two readings differ."""
    record = _row(request, row)
    _refuse_who_may_not_read(request, record)
    own = None if record.waits_to_be_compared else _own_reading(record)
    options = {"surface": record.surface}
    form = (
        PrintedRowForm(request.POST, **options)
        if request.method == "POST"
        else begun(request, PrintedRowForm, as_typed(own or {}), **options)
    )
    if request.method == "POST" and done(request, form, lambda: _read(request, record, form), _(
        "What you read was kept."
    )):  # fmt: skip
        return redirect("limits-row", row=row)
    context = {**HERE, "form": form, "row": record, "photographs": photographs_of_row(viewer_of(request), row)}
    return render(request, "web/limits_read.html", context, status=422 if form.errors else 200)


@open_to(Who.SIGNED_IN)
@require_POST
def row_photograph(request: HttpRequest, row: UUID) -> HttpResponse:
    """Add a photograph of the printed page."""
    record = _row(request, row)
    refuse_who_may_not(request, Act.ENTER_LIMITS)
    form = PagePhotographForm(request.POST, request.FILES)
    actor = visit_of(request).actor
    if done(request, form, lambda: attach_to_row(
        actor, row, upload_of(form.cleaned_data["photograph"], PAGE), command=None
    ), _("The photograph was kept.")):  # fmt: skip
        return redirect("limits-row", row=row)
    return _page(request, record, form)


@open_to(Who.SIGNED_IN)
@require_safe
def row_picture(request: HttpRequest, row: UUID, photograph: UUID) -> HttpResponse:
    """Give the copy of a photograph that was drawn anew."""
    for each in photographs_of_row(viewer_of(request), row):
        if each.identifier == photograph:
            return shown(each.preview_digest)
    raise Http404


def _page(request: HttpRequest, record: RowOnPage, form: PagePhotographForm) -> HttpResponse:
    viewer = viewer_of(request)
    same_type = [
        each
        for each in rows_on_page(viewer)
        if each.issue.type_name == record.issue.type_name
        and (not each.is_superseded or each.identifier == record.identifier)
    ]
    lines = compared(record)
    context = {
        "row": record,
        "compared": lines,
        # As many as the table marks: a pair of limits has two lines there, and is one field of the reading.
        "differing": sum(each.differs for each in lines) or len(record.differences),
        "sums": sums_of(record),
        "found": found_words(record),
        "type": types_on_page(same_type, visit_of(request).actor.workshop.local_gravity)[0],
        "photographs": photographs_of_row(viewer, record.identifier),
        "uses": uses_on_page(viewer, [record.identifier]),
        "may_enter": may_enter(request),
        "may_read": _reads(request, record).allowed,
        "why_not": _reads(request, record).reason,
        "may_compare": record.waits_to_be_compared and not record.is_first and _reads(request, record).allowed,
        "form": form,
    }
    return render(request, "web/limits_row.html", {**HERE, **context}, status=422 if form.errors else 200)


def _own_reading(record: RowOnPage) -> Any:
    return record.first if record.is_first else record.second if record.is_second else None


def _is_reader(record: RowOnPage) -> bool:
    return record.is_first or record.is_second


def _reads(request: HttpRequest, record: RowOnPage) -> Any:
    """Say whether this person may read the row now."""
    viewer = viewer_of(request)
    if record.is_unsettled and record.is_first:
        return may(viewer, right_to_look_again(viewer, is_first=True))
    if record.is_first:
        return may(viewer, Act.ENTER_LIMITS)
    return may(viewer, Act.CONFIRM_LIMITS, Matter(workshop=viewer.workshop_id))


def _refuse_who_may_not_read(request: HttpRequest, record: RowOnPage) -> None:
    turn = (record.is_draft and record.is_first) or (record.waits and not record.is_first)
    turn = turn or (record.waits_to_be_compared and not record.is_first)
    if not (turn or (record.is_unsettled and (_is_reader(record) or record.waits_for_another))):
        raise PermissionDenied(_("This row does not wait for you to read it."))
    answer = _reads(request, record)
    if not answer.allowed:
        raise PermissionDenied(str(answer.reason))


def _read(request: HttpRequest, record: RowOnPage, form: PrintedRowForm) -> Any:
    actor, printed = visit_of(request).actor, form.printed()
    found = form.check.plain() if form.check else []
    if record.is_draft:
        return finish_draft(actor, record.identifier, printed, found)
    if record.is_unsettled and _is_reader(record):
        return look_again(actor, record.identifier, printed, found)
    act = compare_again if record.waits_to_be_compared else read_again
    return act(actor, record.identifier, printed, found, command=command_of(form))


def _enter(request: HttpRequest, issue: UUID, form: NewRowForm) -> Any:
    said = form.cleaned_data
    return enter_limits(
        visit_of(request).actor,
        issue,
        said["surface"],
        said["page"],
        form.printed(),
        contradictions=form.check.plain() if form.check else [],
        is_draft=said["is_draft"],
        command=command_of(form),
    )


def _row(request: HttpRequest, row: UUID) -> RowOnPage:
    with or_no_page():
        return row_on_page(viewer_of(request), row)
