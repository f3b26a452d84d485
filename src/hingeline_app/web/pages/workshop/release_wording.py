"""The workshop's own wording of a release, or its authority's."""

from __future__ import annotations

from typing import Any

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods

from hingeline_app.records.actions.workshop_texts import set_workshop_text
from hingeline_app.records.queries.workshop_texts import RELEASE_WORDING, workshop_text
from hingeline_app.report.release_wording import DEFAULT, NAMES, check_wording
from hingeline_app.said import say
from hingeline_app.web.access import Who, open_to
from hingeline_app.web.for_the_viewer import viewer_of
from hingeline_app.web.forms.page_form import begun
from hingeline_app.web.forms.wording import WordingForm
from hingeline_app.web.pages.acts import command_of, done
from hingeline_app.web.requests import visit_of

HERE = {"here": "release-wording", "section": "workshop"}


@open_to(Who.ADMINISTRATOR)
@require_http_methods(["GET", "HEAD", "POST"])
def release_wording(request: HttpRequest) -> HttpResponse:
    """Show the wording, and set it; an empty one is the program's own."""
    kept = workshop_text(viewer_of(request), RELEASE_WORDING)
    first = {"wording": kept or say(DEFAULT)}
    form = WordingForm(request.POST) if request.method == "POST" else begun(request, WordingForm, first)
    if request.method == "POST" and done(request, form, lambda: _set(request, form), _("The wording was kept.")):
        return redirect("release-wording")
    places = [("{" + name + "}", words) for name, words in NAMES.items()]
    context = {**HERE, "form": form, "places": places, "is_own": bool(kept)}
    return render(request, "web/release_wording.html", context, status=422 if form.errors else 200)


def _set(request: HttpRequest, form: WordingForm) -> Any:
    typed = check_wording(form.cleaned_data["wording"])
    own = "" if typed in (DEFAULT.strip(), say(DEFAULT).strip()) else typed
    return set_workshop_text(visit_of(request).actor, RELEASE_WORDING, own, command=command_of(form))
