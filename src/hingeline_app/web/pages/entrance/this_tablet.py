"""The tablet at hand: what it is set to, who is at it now, and what it needs to go on without a connection."""

from __future__ import annotations

from django.contrib import messages
from django.http import HttpRequest, HttpResponse, JsonResponse
from django.middleware.csrf import get_token
from django.shortcuts import redirect, render
from django.template.loader import render_to_string
from django.utils.translation import get_language, override
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods, require_safe

from hingeline_app.web.access import Who, open_to
from hingeline_app.web.frame import light_of
from hingeline_app.web.offline import offline_files, version_of, worker_script
from hingeline_app.web.requests import Visit, visit_of
from hingeline_app.web.tablet_settings import LANGUAGE, SETTINGS, remember_settings

HERE = {"here": "this-tablet", "section": "workshop"}


@open_to(Who.SIGNED_IN)
@require_http_methods(["GET", "HEAD", "POST"])
def this_tablet(request: HttpRequest) -> HttpResponse:
    """Show the settings of this tablet, and change them."""
    if request.method == "POST":
        response = redirect("this-tablet")
        remember_settings(request, response)
        # In the language that was just chosen: the page that says it is in that one.
        chosen = request.POST.get("language") or visit_of(request).actor.workshop.language
        with override(chosen if chosen in LANGUAGE.choices else get_language()):
            messages.success(request, _("This tablet is set so, for everybody who works at it."))
        return response
    asked = [(each, each.of(request)) for each in SETTINGS]
    return render(request, "web/this_tablet.html", {**HERE, "asked": asked})


@open_to(Who.ANYBODY)
@require_safe
def tablet_now(request: HttpRequest) -> HttpResponse:
    """Say to the tablet's queue who is here now, with the token that an entry of theirs needs."""
    visit: Visit | None = request.visit  # type: ignore[attr-defined]
    state = "nobody" if visit is None else "locked" if visit.locked else "here"
    person = str(visit.actor.person.pk) if visit and visit.actor.person else ""
    return JsonResponse({"state": state, "person": person, "token": get_token(request)})


@open_to(Who.ANYBODY)
@require_safe
def worker(request: HttpRequest) -> HttpResponse:
    """Give the script that answers on the tablet while there is no connection; another version is another script."""
    files = offline_files()
    return HttpResponse(worker_script(files, version_of(files)), content_type="text/javascript; charset=utf-8")


@open_to(Who.ANYBODY)
@require_safe
def without_connection(request: HttpRequest) -> HttpResponse:
    """Give the page that stands for a page the tablet does not have."""
    return HttpResponse(render_to_string("web/without_connection.html", {"light": light_of(request)}))
