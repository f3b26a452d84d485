"""A new job: which aircraft, which surfaces, why they are here; several surfaces become a work order."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import Any
from urllib.parse import urlencode
from uuid import UUID

from django.core.exceptions import PermissionDenied
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils.safestring import mark_safe
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods, require_safe

from hingeline_app.bench.arriving.order_of_work import in_order_of_work
from hingeline_app.bench.arriving.plan_of import places_of
from hingeline_app.figures.hangar.aeroplane_plan import draw_aeroplane_plan
from hingeline_app.records.actions.opening import Visit, open_jobs
from hingeline_app.records.queries.labels import is_equipment
from hingeline_app.records.queries.standing import may
from hingeline_app.records.queries.surfaces import (
    SurfaceChoice,
    aircraft_to_choose,
    behind_a_label,
    open_orders_of,
    surfaces_of,
)
from hingeline_app.records.queries.visible import Nowhere
from hingeline_app.records.roles import Act
from hingeline_app.web.access import Who, open_to
from hingeline_app.web.for_the_viewer import viewer_of
from hingeline_app.web.forms.jobs import NewJobForm
from hingeline_app.web.forms.page_form import begun
from hingeline_app.web.pages.acts import command_of, done
from hingeline_app.web.requests import visit_of
from hingeline_app.web.why_here import title_words

HERE = {"here": "bench"}


@open_to(Who.SIGNED_IN)
@require_http_methods(["GET", "HEAD", "POST"])
def new_job(request: HttpRequest) -> HttpResponse:
    """Open jobs."""
    viewer: Any = viewer_of(request)
    answer = may(viewer, Act.WORK)
    if not answer.allowed:
        raise PermissionDenied(str(answer.reason))
    fleet = aircraft_to_choose(viewer)
    chosen = _chosen(request, [each.identifier for each in fleet])
    surfaces = surfaces_of(viewer, chosen) if chosen else []
    form = _form(request, viewer, chosen, surfaces)
    kept: list[Any] = []
    if request.method == "POST" and done(request, form, lambda: kept.extend(_open(request, form, surfaces)), _(
        "Opened.")):  # fmt: skip
        return _on(kept)
    context = {
        **HERE,
        "fleet": fleet,
        "aircraft": next((each for each in fleet if each.identifier == chosen), None),
        "surfaces": _numbered(surfaces, form),
        "form": form,
        "picture": _picture(request, surfaces, form),
    }
    return render(request, "web/job_new.html", context, status=422 if form.errors else 200)


@open_to(Who.SIGNED_IN)
@require_safe
def at_label(request: HttpRequest, mark: str) -> HttpResponse:
    """Lead from the label on a surface to its open job, or to a new one; on a scale or stand to the list of them."""
    viewer: Any = viewer_of(request)
    try:
        surface = UUID(mark)
        if is_equipment(viewer, surface):
            return redirect("scales")
        aircraft, number = behind_a_label(viewer, surface)
    except (ValueError, Nowhere) as nothing:
        raise Http404(str(nothing)) from nothing
    if number is not None:
        return redirect("job", number)
    return redirect(f"{reverse('job-new')}?{urlencode({'aircraft': aircraft, 'surface': surface})}")


def _chosen(request: HttpRequest, fleet: Sequence[UUID]) -> UUID | None:
    asked = request.GET.get("aircraft", "")
    found = next((each for each in fleet if str(each) == asked), None)
    return found if found or len(fleet) != 1 else fleet[0]


def _form(request: HttpRequest, viewer: Any, aircraft: UUID | None, surfaces: Sequence[SurfaceChoice]) -> NewJobForm:
    found = open_orders_of(viewer, aircraft) if aircraft else []
    orders = [replace(each, title=title_words(each.title)) for each in found]
    if request.method == "POST":
        return NewJobForm(request.POST, surfaces=surfaces, orders=orders)
    asked = {"surfaces": request.GET.getlist("surface"), "task": request.GET.get("task", "")}
    joins = next((str(each.identifier) for each in orders if str(each.number) == request.GET.get("order")), "")
    return begun(request, NewJobForm, {**asked, "order": joins}, surfaces=surfaces, orders=orders)


def _open(request: HttpRequest, form: NewJobForm, surfaces: Sequence[SurfaceChoice]) -> list[Any]:
    """Open the jobs in the order of work."""
    said = form.cleaned_data
    named = [(each.name, each.identifier) for each in surfaces if str(each.identifier) in said["surfaces"]]
    visit = Visit(form.why_here, form.details, UUID(said["order"]) if said["order"] else None)
    return open_jobs(visit_of(request).actor, in_order_of_work(named), visit, command_of(form))


def _on(kept: Sequence[Any]) -> HttpResponse:
    """Go to the job, or to the order that several share; a form sent twice goes to the bench."""
    if not kept:
        return redirect("bench")
    if len(kept) == 1:
        return redirect("job", kept[0].number)
    return redirect("order", kept[0].work_order.number)


def _numbered(surfaces: Sequence[SurfaceChoice], form: NewJobForm) -> list[dict[str, Any]]:
    ticked = _ticked(form)
    return [
        {"number": number, "surface": each, "is_ticked": str(each.identifier) in ticked}
        for number, each in enumerate(surfaces, 1)
    ]


def _ticked(form: NewJobForm) -> frozenset[str]:
    return frozenset(str(each) for each in form["surfaces"].value() or [])


def _picture(request: HttpRequest, surfaces: Sequence[SurfaceChoice], form: NewJobForm) -> str:
    """Draw the aircraft; a tap without script leads to the same page with that surface ticked or not."""
    ticked = _ticked(form)
    chosen = frozenset(each.name for each in surfaces if str(each.identifier) in ticked)
    places = places_of([each.name for each in surfaces], chosen, _taps(request, surfaces, ticked))
    if not places:
        return ""
    keyed = {each.name: str(each.identifier) for each in surfaces}
    named = [replace(place, key=keyed[place.name]) for place in places]
    return mark_safe(draw_aeroplane_plan(named, _("The aircraft from above, with its surfaces.")))


def _taps(request: HttpRequest, surfaces: Sequence[SurfaceChoice], ticked: frozenset[str]) -> dict[str, str]:
    kept = {name: value for name, value in request.GET.items() if name != "surface"}
    taps = {}
    for each in surfaces:
        key = str(each.identifier)
        if each.open_job is not None:
            taps[each.name] = reverse("job", args=[each.open_job])
        else:
            taps[each.name] = "?" + urlencode({**kept, "surface": sorted(ticked ^ {key})}, doseq=True)
    return taps
