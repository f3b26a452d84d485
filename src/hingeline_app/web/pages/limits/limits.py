"""Limits: what the approved data says, and whether two people have read them."""

from __future__ import annotations

from typing import Any
from uuid import UUID

from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods, require_safe

from hingeline_app.records.actions.limits import add_document, add_issue
from hingeline_app.records.queries.approved_data import (
    IssueRecord,
    documents_without_issue,
    issues_of,
    rows_on_page,
    uses_on_page,
)
from hingeline_app.records.roles import Act
from hingeline_app.web.access import Who, open_to
from hingeline_app.web.for_the_viewer import may_do, refuse_who_may_not, viewer_of
from hingeline_app.web.forms.limits import DocumentForm, IssueForm
from hingeline_app.web.forms.page_form import begun
from hingeline_app.web.limit_pictures import types_on_page
from hingeline_app.web.pages.acts import command_of, done
from hingeline_app.web.requests import visit_of

HERE = {"here": "limits"}


@open_to(Who.SIGNED_IN)
@require_safe
def limits(request: HttpRequest) -> HttpResponse:
    """List the rows by type, and the documents they were read from."""
    viewer = viewer_of(request)
    rows = rows_on_page(viewer)
    standing = [row for row in rows if not row.is_superseded]
    context = {
        "types": types_on_page(standing, visit_of(request).actor.workshop.local_gravity),
        "superseded": [row for row in rows if row.is_superseded],
        "waiting": sum(row.waits and not row.is_first for row in standing),
        "differing": sum(row.is_unsettled for row in standing),
        "issues": [issue for issue in issues_of(viewer) if not issue.is_superseded],
        "bare": documents_without_issue(viewer),
        "may_enter": may_enter(request),
    }
    return render(request, "web/limits.html", {**HERE, **context})


@open_to(Who.SIGNED_IN)
@require_http_methods(["GET", "HEAD", "POST"])
def document_add(request: HttpRequest) -> HttpResponse:
    """Enter an approved document."""
    refuse_who_may_not(request, Act.ENTER_LIMITS)
    form = DocumentForm(request.POST) if request.method == "POST" else begun(request, DocumentForm)
    kept: list[Any] = []
    if request.method == "POST" and done(request, form, lambda: kept.append(_add(request, form)), _(
        "The document was entered. Now enter its issue."
    )):  # fmt: skip
        return redirect("limits-issue-add", document=kept[0].pk) if kept else redirect("limits")
    return render(request, "web/limits_document_new.html", {**HERE, "form": form}, status=422 if form.errors else 200)


@open_to(Who.SIGNED_IN)
@require_safe
def document_page(request: HttpRequest, document: UUID) -> HttpResponse:
    """Show a document with its issues; of each that was superseded, what used its rows."""
    viewer = viewer_of(request)
    issues = _issues(request, document)
    rows = [row for row in rows_on_page(viewer) if row.issue.document == document]
    old = [row.identifier for row in rows if row.is_superseded]
    context = {
        "document": issues[0],
        "issues": [(issue, [row for row in rows if row.issue.identifier == issue.identifier]) for issue in issues],
        "uses": uses_on_page(viewer, old) if old else [],
        "may_enter": may_enter(request),
    }
    return render(request, "web/limits_document.html", {**HERE, **context})


@open_to(Who.SIGNED_IN)
@require_http_methods(["GET", "HEAD", "POST"])
def issue_add(request: HttpRequest, document: UUID) -> HttpResponse:
    """Enter an issue; rows of the issue before are superseded by it."""
    refuse_who_may_not(request, Act.ENTER_LIMITS)
    form = IssueForm(request.POST) if request.method == "POST" else begun(request, IssueForm)
    actor = visit_of(request).actor
    before = [issue for issue in issues_of(actor.person) if issue.document == document]  # type: ignore[arg-type]
    if request.method == "POST" and done(
        request,
        form,
        lambda: add_issue(actor, document, **form.said("issue", "issued_on"), command=command_of(form)),
        _("The issue was entered. Rows of the issue before are superseded: what used them is listed here.")
        if before
        else _("The issue was entered. Now enter its rows."),
    ):
        return redirect("limits-document", document=document)
    if not before and not any(each.pk == document for each in documents_without_issue(actor.person)):  # type: ignore[arg-type]
        raise Http404
    context = {**HERE, "form": form, "before": before[0] if before else None, "document": document}
    return render(request, "web/limits_issue_new.html", context, status=422 if form.errors else 200)


def may_enter(request: HttpRequest) -> bool:
    """Whether this person enters rows."""
    return may_do(request, Act.ENTER_LIMITS)


def _issues(request: HttpRequest, document: UUID) -> list[IssueRecord]:
    issues = [each for each in issues_of(viewer_of(request)) if each.document == document]
    if not issues:
        raise Http404
    return issues


def _add(request: HttpRequest, form: DocumentForm) -> Any:
    actor = visit_of(request).actor
    return add_document(actor, **form.said("title", "number", "type_name"), command=command_of(form))
