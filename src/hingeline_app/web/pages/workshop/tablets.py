"""Tablets: this one is enrolled by an administrator who holds it; a lost one is withdrawn from anywhere."""

from __future__ import annotations

from uuid import UUID

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from hingeline_app.records.actions.tablets import Enrolled, enrol_tablet, withdraw_tablet
from hingeline_app.records.queries.people import tablets
from hingeline_app.web.access import Who, open_to
from hingeline_app.web.for_the_viewer import viewer_of
from hingeline_app.web.forms.page_form import begun
from hingeline_app.web.forms.people import TabletForm
from hingeline_app.web.pages.acts import done, one_press
from hingeline_app.web.pages.entrance.tablet_cookie import remember_tablet
from hingeline_app.web.requests import visit_of

HERE = {"here": "tablets", "section": "workshop"}


@open_to(Who.SIGNED_IN)
@require_safe
def tablets_page(request: HttpRequest) -> HttpResponse:
    """List the tablets."""
    found = tablets(viewer_of(request))
    return render(request, "web/tablets.html", {**HERE, "tablets": found})


@open_to(Who.ADMINISTRATOR)
@require_http_methods(["GET", "HEAD", "POST"])
def enrol_page(request: HttpRequest) -> HttpResponse:
    """Enrol the device that shows this page."""
    form = TabletForm(request.POST) if request.method == "POST" else begun(request, TabletForm)
    made: list[Enrolled] = []
    if request.method == "POST" and done(
        request,
        form,
        lambda: made.append(enrol_tablet(visit_of(request).actor, form.cleaned_data["tablet"])),
        _("This device is enrolled: people sign in with their PIN here."),
    ):
        response = redirect("tablets")
        remember_tablet(response, made[0].token)
        return response
    return render(request, "web/tablet_new.html", {**HERE, "form": form}, status=422 if form.errors else 200)


@open_to(Who.ADMINISTRATOR)
@require_POST
def withdraw_page(request: HttpRequest, tablet: UUID) -> HttpResponse:
    """Withdraw a tablet."""
    actor = visit_of(request).actor
    one_press(request, lambda: withdraw_tablet(actor, tablet, request.POST.get("reason", "")), _(
        "The tablet was withdrawn: nobody signs in with a PIN there any more."))  # fmt: skip
    return redirect("tablets")
