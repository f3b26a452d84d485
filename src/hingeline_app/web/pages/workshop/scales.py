"""Scales: their certificates, and the daily check before the first weighing."""

from __future__ import annotations

from typing import Any
from uuid import UUID

from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from hingeline_app.records.actions.equipment import (
    add_scale,
    check_scale,
    correct_scale,
    renew_certificate,
    withdraw_scale,
)
from hingeline_app.records.queries.equipment import ScaleRecord, scales
from hingeline_app.records.roles import Act
from hingeline_app.records.write_door import Actor
from hingeline_app.web.access import Who, open_to
from hingeline_app.web.for_the_viewer import may_do, refuse_who_may_not, viewer_of
from hingeline_app.web.forms.equipment import CertificateForm, CheckForm, CorrectedScaleForm, ScaleForm
from hingeline_app.web.pages.acts import command_of, form_page, one_press
from hingeline_app.web.requests import visit_of

PLATE = ("name", "step", "largest", "check_weight", "check_tolerance")
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
    context = {"scales": scales(viewer_of(request)), "may_keep": may_do(request, Act.KEEP_EQUIPMENT)}
    return render(request, "web/scales.html", {**HERE, **context})


@open_to(Who.SIGNED_IN)
@require_http_methods(["GET", "HEAD", "POST"])
def scale_add(request: HttpRequest) -> HttpResponse:
    """Enter a scale."""
    refuse_who_may_not(request, Act.KEEP_EQUIPMENT)
    actor = visit_of(request).actor
    return form_page(
        request, ScaleForm, "web/scale_new.html", lambda form: _add(actor, form), _("The scale was entered."),
        then="scales", context=HERE,
    )  # fmt: skip


@open_to(Who.SIGNED_IN)
@require_http_methods(["GET", "HEAD", "POST"])
def scale_check(request: HttpRequest, scale: UUID) -> HttpResponse:
    """Enter what a scale shows under its check weight."""
    refuse_who_may_not(request, Act.KEEP_EQUIPMENT)
    actor, context = visit_of(request).actor, {**HERE, "scale": _record(request, scale)}
    return form_page(
        request, CheckForm, "web/scale_check.html", lambda form: _check(actor, scale, form), _("The check was kept."),
        then="scales", context=context,
    )  # fmt: skip


@open_to(Who.SIGNED_IN)
@require_http_methods(["GET", "HEAD", "POST"])
def scale_certificate(request: HttpRequest, scale: UUID) -> HttpResponse:
    """Enter the certificate that takes the place of the one a scale has."""
    refuse_who_may_not(request, Act.KEEP_EQUIPMENT)
    actor, context = visit_of(request).actor, {**HERE, "scale": _record(request, scale)}
    return form_page(
        request, CertificateForm, "web/scale_certificate.html", lambda form: _renew(actor, scale, form),
        _("The certificate was entered."), then="scales", context=context,
    )  # fmt: skip


@open_to(Who.SIGNED_IN)
@require_http_methods(["GET", "HEAD", "POST"])
def scale_correct(request: HttpRequest, scale: UUID) -> HttpResponse:
    """Enter anew what was typed wrong of a scale, or its check weight."""
    refuse_who_may_not(request, Act.KEEP_EQUIPMENT)
    actor, kept = visit_of(request).actor, _record(request, scale)
    return form_page(
        request, CorrectedScaleForm, "web/scale_correct.html", lambda form: _correct(actor, scale, form),
        _("The details were entered anew; the old ones stay readable."), then="scales",
        context={**HERE, "scale": kept}, initial={name: getattr(kept, name) for name in PLATE},
    )  # fmt: skip


@open_to(Who.SIGNED_IN)
@require_POST
def scale_withdraw(request: HttpRequest, scale: UUID) -> HttpResponse:
    """Take a scale out of use."""
    refuse_who_may_not(request, Act.KEEP_EQUIPMENT)
    actor = visit_of(request).actor
    one_press(request, lambda: withdraw_scale(actor, scale, request.POST.get("reason", "")), _(
        "The scale is out of use."))  # fmt: skip
    return redirect("scales")


def _add(actor: Actor, form: ScaleForm) -> Any:
    said = form.said(*DETAILS)
    command = command_of(form)
    return add_scale(actor, form.cleaned_data["name"], **said, uncertainty=form.uncertainty(), command=command)


def _correct(actor: Actor, scale: UUID, form: CorrectedScaleForm) -> Any:
    return correct_scale(actor, scale, form.cleaned_data["reason"], **form.said(*PLATE))


def _check(actor: Actor, scale: UUID, form: CheckForm) -> Any:
    return check_scale(actor, scale, form.cleaned_data["shown"], command=command_of(form))


def _renew(actor: Actor, scale: UUID, form: CertificateForm) -> Any:
    said = form.cleaned_data
    begins, expires = said["certificate_begins"], said["certificate_expires"]
    return renew_certificate(actor, scale, said["certificate"], begins, expires, form.uncertainty(), command_of(form))


def _record(request: HttpRequest, scale: UUID) -> ScaleRecord:
    for record in scales(viewer_of(request)):
        if record.identifier == scale:
            return record
    raise Http404
