"""Scales: their certificates, and the daily check before the first weighing."""

from __future__ import annotations

from typing import Any
from uuid import UUID

from django.core.exceptions import PermissionDenied
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from hingeline_app.records.actions.equipment import add_scale, check_scale, renew_certificate, withdraw_scale
from hingeline_app.records.queries.equipment import ScaleRecord, scales
from hingeline_app.records.queries.standing import may
from hingeline_app.records.roles import Act
from hingeline_app.web.access import Who, open_to
from hingeline_app.web.forms.equipment import CertificateForm, CheckForm, ScaleForm
from hingeline_app.web.forms.page_form import begun
from hingeline_app.web.pages.acts import command_of, done, one_press
from hingeline_app.web.requests import visit_of

HERE = {"here": "scales", "section": "workshop"}
DETAILS = (
    "step",
    "largest",
    "certificate",
    "certificate_begins",
    "certificate_expires",
    "check_weight",
    "check_tolerance",
)


@open_to(Who.SIGNED_IN)
@require_safe
def scales_page(request: HttpRequest) -> HttpResponse:
    """List the scales."""
    return render(request, "web/scales.html", {**HERE, "scales": scales(_viewer(request)), "may_keep": _may(request)})


@open_to(Who.SIGNED_IN)
@require_http_methods(["GET", "HEAD", "POST"])
def scale_add(request: HttpRequest) -> HttpResponse:
    """Enter a scale."""
    _refuse_who_may_not(request)
    form = ScaleForm(request.POST) if request.method == "POST" else begun(request, ScaleForm)
    if request.method == "POST" and done(request, form, lambda: _add(request, form), _("The scale was entered.")):
        return redirect("scales")
    return render(request, "web/scale_new.html", {**HERE, "form": form}, status=422 if form.errors else 200)


@open_to(Who.SIGNED_IN)
@require_http_methods(["GET", "HEAD", "POST"])
def scale_check(request: HttpRequest, scale: UUID) -> HttpResponse:
    """Enter what a scale shows under its check weight."""
    _refuse_who_may_not(request)
    record = _record(request, scale)
    form = CheckForm(request.POST) if request.method == "POST" else begun(request, CheckForm)
    actor = visit_of(request).actor
    if request.method == "POST" and done(
        request,
        form,
        lambda: check_scale(actor, scale, form.cleaned_data["shown"], command=command_of(form)),
        _("The check was kept."),
    ):
        return redirect("scales")
    context = {**HERE, "form": form, "scale": record}
    return render(request, "web/scale_check.html", context, status=422 if form.errors else 200)


@open_to(Who.SIGNED_IN)
@require_http_methods(["GET", "HEAD", "POST"])
def scale_certificate(request: HttpRequest, scale: UUID) -> HttpResponse:
    """Enter the certificate that takes the place of the one a scale has."""
    _refuse_who_may_not(request)
    record = _record(request, scale)
    form = CertificateForm(request.POST) if request.method == "POST" else begun(request, CertificateForm)
    if request.method == "POST" and done(request, form, lambda: _renew(request, scale, form), _(
        "The certificate was entered.")):  # fmt: skip
        return redirect("scales")
    context = {**HERE, "form": form, "scale": record}
    return render(request, "web/scale_certificate.html", context, status=422 if form.errors else 200)


@open_to(Who.SIGNED_IN)
@require_POST
def scale_withdraw(request: HttpRequest, scale: UUID) -> HttpResponse:
    """Take a scale out of use."""
    _refuse_who_may_not(request)
    actor = visit_of(request).actor
    one_press(request, lambda: withdraw_scale(actor, scale, request.POST.get("reason", "")), _(
        "The scale is out of use."))  # fmt: skip
    return redirect("scales")


def _add(request: HttpRequest, form: ScaleForm) -> Any:
    return add_scale(
        visit_of(request).actor,
        form.cleaned_data["name"],
        **form.said(*DETAILS),
        uncertainty=form.uncertainty(),
        command=command_of(form),
    )


def _renew(request: HttpRequest, scale: UUID, form: CertificateForm) -> Any:
    said = form.cleaned_data
    return renew_certificate(
        visit_of(request).actor,
        scale,
        said["certificate"],
        said["certificate_begins"],
        said["certificate_expires"],
        form.uncertainty(),
        command_of(form),
    )


def _record(request: HttpRequest, scale: UUID) -> ScaleRecord:
    for record in scales(_viewer(request)):
        if record.identifier == scale:
            return record
    raise Http404


def _viewer(request: HttpRequest) -> Any:
    return visit_of(request).actor.person


def _may(request: HttpRequest) -> bool:
    return may(_viewer(request), Act.KEEP_EQUIPMENT).allowed


def _refuse_who_may_not(request: HttpRequest) -> None:
    answer = may(_viewer(request), Act.KEEP_EQUIPMENT)
    if not answer.allowed:
        raise PermissionDenied(str(answer.reason))
