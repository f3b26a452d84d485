"""Aircraft of the workshop: their surfaces, the parts fitted to them, and what was written on paper before."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any, NamedTuple
from uuid import UUID

from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from hingeline_app.records.actions.aircraft import add_aircraft, add_surface, correct_aircraft, correct_surface
from hingeline_app.records.actions.attaching import PAGE, transcribe
from hingeline_app.records.actions.parts import add_part, fit_part, remove_part
from hingeline_app.records.queries.aircraft import (
    AircraftRecord,
    SurfaceRecord,
    aircraft_on_page,
    fittings_of,
    loose_parts,
    one_aircraft,
    paper_of,
    preview_of,
)
from hingeline_app.records.queries.people import people
from hingeline_app.records.roles import Act
from hingeline_app.web.access import Who, open_to
from hingeline_app.web.for_the_viewer import may_do, or_no_page, refuse_who_may_not, viewer_of
from hingeline_app.web.forms.aircraft import (
    AircraftForm,
    CorrectedAircraftForm,
    CorrectedSurfaceForm,
    FitForm,
    PaperForm,
    PartForm,
    RemoveForm,
    SurfaceForm,
)
from hingeline_app.web.forms.page_form import PageForm, begun
from hingeline_app.web.pages.acts import command_of, done
from hingeline_app.web.photographs import shown, upload_of
from hingeline_app.web.requests import sent, visit_of

HERE = {"here": "aircraft", "section": "workshop"}


@open_to(Who.SIGNED_IN)
@require_safe
def aircraft_list(request: HttpRequest) -> HttpResponse:
    """List the aircraft."""
    context = {"aircraft": aircraft_on_page(viewer_of(request)), "may_keep": may_do(request, Act.KEEP_AIRCRAFT)}
    return render(request, "web/aircraft_list.html", {**HERE, **context})


@open_to(Who.SIGNED_IN)
@require_http_methods(["GET", "HEAD", "POST"])
def aircraft_add(request: HttpRequest) -> HttpResponse:
    """Enter an aircraft."""
    refuse_who_may_not(request, Act.KEEP_AIRCRAFT)
    options: dict[str, Any] = {"people": _people(request)}
    form = (
        AircraftForm(request.POST, **options) if request.method == "POST" else begun(request, AircraftForm, **options)
    )
    kept: list[Any] = []
    if request.method == "POST" and done(request, form, lambda: kept.append(_add(request, form)), _(
        "The aircraft was entered. Now enter its surfaces."
    )):  # fmt: skip
        return redirect("aircraft-page", aircraft=kept[0].pk) if kept else redirect("aircraft")
    return render(request, "web/aircraft_new.html", {**HERE, "form": form}, status=422 if form.errors else 200)


@open_to(Who.SIGNED_IN)
@require_safe
def aircraft_page(request: HttpRequest, aircraft: UUID) -> HttpResponse:
    """Show an aircraft with its surfaces, parts and paper records."""
    return _page(request, _record(request, aircraft), {})


@open_to(Who.SIGNED_IN)
@require_POST
def aircraft_act(request: HttpRequest, aircraft: UUID, act: str) -> HttpResponse:
    """Do one of the acts of an aircraft's page."""
    record = _record(request, aircraft)
    if act not in ACTS or (act == CORRECTED and _chosen(request, record) is None):
        raise Http404
    refuse_who_may_not(request, Act.KEEP_AIRCRAFT)
    form = _form(request, record, act, request.POST)
    if done(request, form, lambda: ACTS[act].do(visit_of(request).actor, aircraft, form), ACTS[act].words()):
        return redirect("aircraft-page", aircraft=aircraft)
    return _page(request, record, {act: form})


@open_to(Who.SIGNED_IN)
@require_http_methods(["GET", "HEAD", "POST"])
def paper_add(request: HttpRequest, aircraft: UUID) -> HttpResponse:
    """Transcribe what was signed on paper, with a photograph of it."""
    record = _record(request, aircraft)
    refuse_who_may_not(request, Act.TRANSCRIBE)
    options: dict[str, Any] = {"surfaces": _surfaces(record)}
    form = (
        PaperForm(sent(request), request.FILES, **options)
        if request.method == "POST"
        else begun(request, PaperForm, **options)
    )
    if request.method == "POST" and done(request, form, lambda: _transcribe(request, aircraft, form), _(
        "The paper was transcribed. It carries no signature of ours."
    )):  # fmt: skip
        return redirect("aircraft-page", aircraft=aircraft)
    context = {**HERE, "form": form, "aircraft": record}
    return render(request, "web/paper_new.html", context, status=422 if form.errors else 200)


@open_to(Who.SIGNED_IN)
@require_safe
def picture(request: HttpRequest, attachment: UUID) -> HttpResponse:
    """Give the copy of a photograph that was drawn anew."""
    with or_no_page():
        return shown(preview_of(viewer_of(request), attachment))


def _page(request: HttpRequest, record: AircraftRecord, tried: dict[str, PageForm]) -> HttpResponse:
    viewer = viewer_of(request)
    offered = [act for act in ACTS if act != CORRECTED or _chosen(request, record)]
    offered = offered if may_do(request, Act.KEEP_AIRCRAFT) else []
    forms = {act.replace("-", "_"): tried.get(act) or _form(request, record, act) for act in offered}
    context = {
        "aircraft": record,
        "fittings": fittings_of(viewer, record.identifier),
        "paper": paper_of(viewer, record.identifier),
        "forms": forms,
        "form": next(iter(tried.values()), None),
        "may_transcribe": may_do(request, Act.TRANSCRIBE),
        "may_export": may_do(request, Act.EXPORT),
    }
    status = 422 if any(form.errors for form in tried.values()) else 200
    return render(request, "web/aircraft.html", {**HERE, **context}, status=status)


class ActOnPage(NamedTuple):
    """An act of the page: its form, what it does, what is said then."""

    form: type[PageForm]
    do: Callable[[Any, UUID, PageForm], Any]
    words: Callable[[], str]


def _correct(actor: Any, aircraft: UUID, form: PageForm) -> Any:
    said = form.said("registration", "type_name", "serial_number", "built_on", "owner", "owner_language")
    return correct_aircraft(actor, aircraft, form.cleaned_data["reason"], **said | {"owner": said["owner"] or None})


def _surface(actor: Any, aircraft: UUID, form: PageForm) -> Any:
    said = form.said("name", "serial_number", "hinge_to_trailing_edge")
    return add_surface(actor, aircraft, **said, command=command_of(form))


def _correct_surface(actor: Any, _aircraft: UUID, form: PageForm) -> Any:
    said = form.said("name", "serial_number", "hinge_to_trailing_edge")
    return correct_surface(actor, form.cleaned_data["corrected"], form.cleaned_data["reason"], **said)


def _part(actor: Any, _aircraft: UUID, form: PageForm) -> Any:
    said = form.cleaned_data
    return add_part(
        actor,
        said["part"],
        said["serial_number"],
        part_number=said["part_number"],
        hours_when_new_fitted=said["hours"],
        landings_when_new_fitted=said["landings"],
        command=command_of(form),
    )


def _fit(actor: Any, aircraft: UUID, form: PageForm) -> Any:
    said = form.cleaned_data
    more = {"surface": said["surface"] or None, "command": command_of(form), **form.said("at_hours", "at_landings")}
    return fit_part(actor, said["part"], aircraft, said["on"], **more)


def _remove(actor: Any, _aircraft: UUID, form: PageForm) -> Any:
    said = form.cleaned_data
    more = {"command": command_of(form), **form.said("at_hours", "at_landings")}
    return remove_part(actor, said["part"], said["on"], said["reason"], **more)


CORRECTED = "correct-surface"
ACTS: dict[str, ActOnPage] = {
    CORRECTED: ActOnPage(CorrectedSurfaceForm, _correct_surface, lambda: _(
        "The details were entered anew; the old ones stay readable.")),
    "surface": ActOnPage(SurfaceForm, _surface, lambda: _("The surface was entered.")),
    "part": ActOnPage(PartForm, _part, lambda: _("The part was entered: now it can be fitted.")),
    "fit": ActOnPage(FitForm, _fit, lambda: _("The part is fitted.")),
    "remove": ActOnPage(RemoveForm, _remove, lambda: _("The part was removed; its history stays with it.")),
    "correct": ActOnPage(CorrectedAircraftForm, _correct, lambda: _(
        "The details were entered anew; the old ones stay readable.")),
}  # fmt: skip


def _form(request: HttpRequest, record: AircraftRecord, act: str, data: Any = None) -> PageForm:
    viewer, options = viewer_of(request), dict[str, Any]()
    if act == "fit":
        parts = [(each.identifier, each.words) for each in loose_parts(viewer)]
        options = {"parts": parts, "surfaces": _surfaces(record)}
    elif act == "remove":
        fitted = [each for each in fittings_of(viewer, record.identifier) if each.removed_on is None]
        options = {"fitted": [(each.part, f"{each.name} {each.serial_number}") for each in fitted]}
    elif act == CORRECTED and (chosen := _chosen(request, record)) is not None:
        options = {"initial": {"corrected": chosen.identifier, **_typed_of(chosen)}}
    elif act == "correct":
        details = {"registration": record.registration, "type_name": record.type_name,
                   "serial_number": record.serial_number, "built_on": record.built_on, "owner": record.owner,
                   "owner_language": record.owner_language}  # fmt: skip
        options = {"people": _people(request), "initial": details}
    return ACTS[act].form(data, auto_id=f"{act}-%s", **options)


def _chosen(request: HttpRequest, record: AircraftRecord) -> SurfaceRecord | None:
    """Give the surface that is to be corrected, where one of this aircraft's was named."""
    named = request.POST.get("corrected", "") or request.GET.get("correct", "")
    return next((each for each in record.surfaces if str(each.identifier) == named), None)


def _typed_of(surface: SurfaceRecord) -> dict[str, str]:
    return {name: getattr(surface, name) for name in ("name", "serial_number", "hinge_to_trailing_edge")}


def _add(request: HttpRequest, form: AircraftForm) -> Any:
    said = form.said("type_name", "registration", "serial_number", "built_on", "owner", "owner_language")
    actor = visit_of(request).actor
    return add_aircraft(actor, **said | {"owner": said["owner"] or None}, command=command_of(form))


def _transcribe(request: HttpRequest, aircraft: UUID, form: PaperForm) -> Any:
    said = form.cleaned_data
    names = ("original_date", "original_signer", "original_licence", "says", "moment")
    photograph = upload_of(said["photograph"], PAGE) if said["photograph"] else None
    more: dict[str, Any] = {"surface": said["surface"] or None, "photograph": photograph}
    return transcribe(visit_of(request).actor, aircraft, **form.said(*names), **more)


def _surfaces(record: AircraftRecord) -> list[tuple[UUID, str]]:
    return [(each.identifier, each.name) for each in record.surfaces]


def _people(request: HttpRequest) -> list[tuple[UUID, str]]:
    return [(each.identifier, each.name) for each in people(viewer_of(request)) if each.left_on is None]


def _record(request: HttpRequest, aircraft: UUID) -> AircraftRecord:
    with or_no_page():
        return one_aircraft(viewer_of(request), aircraft)
