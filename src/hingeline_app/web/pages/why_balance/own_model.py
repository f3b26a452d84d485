"""Why balance with a model of the workshop's own: loaded, listed, and given a weighed surface's moment."""

from __future__ import annotations

import re
from typing import Any
from urllib.parse import urlencode
from uuid import UUID

from django.core.exceptions import PermissionDenied
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods, require_safe

from hingeline.errors import InputRefused
from hingeline.units import read
from hingeline_app.figures.wording import format_measured
from hingeline_app.files.flutter_file import read_flutter
from hingeline_app.records.actions.attaching import Upload, attach_model
from hingeline_app.records.queries.flutter_models import MODEL, WeighedMoment, flutter_models, model_of, weighed_moments
from hingeline_app.records.queries.recordings import subjects
from hingeline_app.records.queries.standing import may
from hingeline_app.records.queries.visible import Nowhere
from hingeline_app.records.roles import Act
from hingeline_app.web.access import Who, open_to
from hingeline_app.web.for_the_viewer import viewer_of
from hingeline_app.web.forms.flutter_model import ModelForm
from hingeline_app.web.pages.acts import command_of, done
from hingeline_app.web.requests import visit_of
from hingeline_app.why_balance.own_model import own_surface
from hingeline_app.why_balance.own_parts import Weighed
from hingeline_app.why_balance.surfaces import know

HERE = {"here": "why-balance"}
NAME = re.compile(r"own-([0-9a-f]{32})(?:-job(\d{1,9})-span(\d{1,5}))?")


@open_to(Who.SIGNED_IN)
@require_http_methods(["GET", "HEAD", "POST"])
def own_models(request: HttpRequest) -> HttpResponse:
    """List the models that were loaded, and load another."""
    actor = visit_of(request).actor
    viewer: Any = actor.person
    if request.method == "POST" and not may(viewer, Act.WORK).allowed:
        raise PermissionDenied(str(may(viewer, Act.WORK).reason))
    choices = [(each.key.partition(":")[2], each.words) for each in subjects(viewer) if each.key.startswith("air")]
    sent = (request.POST, request.FILES) if request.method == "POST" else ()
    form = ModelForm(*sent, aircraft=choices)
    if request.method == "POST" and done(request, form, lambda: _load(actor, form), _("The model was loaded.")):
        return redirect("why-balance-own")
    models = flutter_models(viewer)
    return render(
        request,
        "web/why_balance_own.html",
        {**HERE, "form": form, "models": models},
        status=422 if form.errors else 200,
    )


@open_to(Who.SIGNED_IN)
@require_safe
def own_model(request: HttpRequest, model: UUID) -> HttpResponse:
    """Show one model: as its file says, or with the moment of a weighing."""
    record, _data = _found(request, model)
    weighings = weighed_moments(viewer_of(request), record.aircraft)
    job, span, fault = request.GET.get("job", ""), request.GET.get("span", ""), ""
    if "plain" in request.GET or job:
        try:
            return redirect(f"{reverse('why-balance')}?{urlencode({'surface': _name(model, job, span)})}")
        except InputRefused as refused:
            fault = " ".join(str(each) for each in refused.refusals)
    context = {**HERE, "model": record, "weighings": [(each.job, _words(each)) for each in weighings], "job": job,
               "span": span, "fault": fault}  # fmt: skip
    return render(request, "web/why_balance_weighed.html", context, status=422 if fault else 200)


def load_named(request: HttpRequest, name: str) -> None:
    """Bring the model that an address names to hand, for a person who may see it.

    Raises
    ------
    Http404
        There is none for this person.
    InputRefused
        It cannot be drawn.
    """
    parts = NAME.fullmatch(name)
    if parts is None:
        raise Http404
    record, data = _found(request, UUID(parts.group(1)))
    weighed = None
    if parts.group(2):
        viewer: Any = viewer_of(request)
        found = next(
            (each for each in weighed_moments(viewer, record.aircraft) if each.job == int(parts.group(2))), None
        )
        if found is None:
            raise Http404
        weighed = Weighed(_words(found), found.moment, found.standard_uncertainty, int(parts.group(3)) / 1000.0)
    know(own_surface(name, record.name, read_flutter(data), weighed))


def _load(actor: Any, form: ModelForm) -> None:
    data, name = form.cleaned_data["file"]
    aircraft = UUID(form.cleaned_data["aircraft"])
    attach_model(actor, aircraft, Upload(MODEL, data, "application/toml", name=name), command=command_of(form))


def _found(request: HttpRequest, model: UUID) -> Any:
    try:
        return model_of(viewer_of(request), model)
    except Nowhere as nothing:
        raise Http404 from nothing


def _name(model: UUID, job: str, span: str) -> str:
    if not job:
        return f"own-{model.hex}"
    metres = float(read(span, "length", field="span", page=True))
    if not 0.05 <= metres <= 50.0 or not job.isdecimal():
        raise InputRefused.of("span", span, "a length from 0.05 m to 50 m", "Measure the surface along its hinge line.")
    return f"own-{model.hex}-job{int(job)}-span{round(1000.0 * metres)}"


def _words(weighed: WeighedMoment) -> str:
    """Name a weighing with its value and ±."""
    moment = format_measured(weighed.moment, weighed.expanded, "N m", sense=True)
    return f"job {weighed.job:04d}, {weighed.registration} {weighed.surface}, weighed {weighed.on}: {moment}"
