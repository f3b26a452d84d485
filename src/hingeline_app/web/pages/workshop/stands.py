"""Stands with their loose masses and their ±, and batches of material with the certificate they came with."""

from __future__ import annotations

from typing import Any

from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils.translation import gettext as _
from django.views.decorators.http import require_POST, require_safe

from hingeline_app.records.actions.equipment import add_material, add_stand, withdraw_material, withdraw_stand
from hingeline_app.records.queries.aircraft import materials_on_page, stands_on_page
from hingeline_app.records.queries.standing import may
from hingeline_app.records.roles import Act
from hingeline_app.web.access import Who, open_to
from hingeline_app.web.for_the_viewer import refuse_who_may_not, viewer_of
from hingeline_app.web.forms.aircraft import MaterialForm, StandForm
from hingeline_app.web.forms.page_form import PageForm
from hingeline_app.web.pages.acts import command_of, done, one_press
from hingeline_app.web.requests import visit_of

HERE = {"here": "stands", "section": "workshop"}
FORMS: dict[str, type[PageForm]] = {"stand": StandForm, "material": MaterialForm}


@open_to(Who.SIGNED_IN)
@require_safe
def stands_page(request: HttpRequest) -> HttpResponse:
    """List stands and materials."""
    return _page(request, {})


@open_to(Who.SIGNED_IN)
@require_POST
def stand_act(request: HttpRequest, act: str) -> HttpResponse:
    """Enter a stand or a batch, or take one out of use."""
    if act not in (*FORMS, "withdraw-stand", "withdraw-material"):
        raise Http404
    refuse_who_may_not(request, Act.KEEP_EQUIPMENT)
    if act not in FORMS:
        _withdraw(request, act)
        return redirect("stands")
    form = FORMS[act](request.POST, auto_id=f"{act}-%s")
    if done(request, form, lambda: _add(request, act, form), _("It was entered.")):
        return redirect("stands")
    return _page(request, {act: form})


def _add(request: HttpRequest, act: str, form: Any) -> Any:
    actor = visit_of(request).actor
    if act == "stand":
        more = {"masses": form.masses(), "uncertainty": form.uncertainty()}
        return add_stand(actor, form.cleaned_data["name"], **more, command=command_of(form))
    names = ("name", "batch", "release_certificate", "received_on", "expires_on")
    return add_material(actor, **form.said(*names), command=command_of(form))


def _withdraw(request: HttpRequest, act: str) -> None:
    actor, which, reason = visit_of(request).actor, request.POST.get("which", ""), request.POST.get("reason", "")
    todo = withdraw_stand if act == "withdraw-stand" else withdraw_material
    one_press(request, lambda: todo(actor, which, reason), _("It is out of use."))  # type: ignore[arg-type]


def _page(request: HttpRequest, tried: dict[str, PageForm]) -> HttpResponse:
    viewer = viewer_of(request)
    context = {
        "stands": stands_on_page(viewer),
        "materials": materials_on_page(viewer),
        "may_keep": may(viewer, Act.KEEP_EQUIPMENT).allowed,
        "forms": {name: tried.get(name) or kind(auto_id=f"{name}-%s") for name, kind in FORMS.items()},
        "form": next(iter(tried.values()), None),
    }
    return render(request, "web/stands.html", {**HERE, **context}, status=422 if tried else 200)
