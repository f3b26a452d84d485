"""The workshop: its name, approval, local gravity, clock and language."""

from __future__ import annotations

from django.conf import settings
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods, require_safe

from hingeline_app.records.actions.workshop import change_workshop
from hingeline_app.web.access import Who, open_to
from hingeline_app.web.forms.page_form import begun
from hingeline_app.web.forms.set_up import WorkshopForm
from hingeline_app.web.pages.acts import done
from hingeline_app.web.requests import visit_of

HERE = {"here": "workshop", "section": "workshop"}
SETTINGS = ("approval_number", "authority", "local_gravity", "zone", "language")


@open_to(Who.SIGNED_IN)
@require_safe
def workshop(request: HttpRequest) -> HttpResponse:
    """Show the workshop's settings."""
    shop = visit_of(request).actor.workshop
    language = dict(settings.LANGUAGES).get(shop.language, shop.language)
    return render(
        request,
        "web/workshop.html",
        {**HERE, "workshop": shop, "language": language, "gravity": _raised(shop.local_gravity)},
    )


@open_to(Who.ADMINISTRATOR)
@require_http_methods(["GET", "HEAD", "POST"])
def workshop_change(request: HttpRequest) -> HttpResponse:
    """Change them."""
    actor = visit_of(request).actor
    kept = {"workshop": actor.workshop.name} | {name: getattr(actor.workshop, name) for name in SETTINGS}
    kept["local_gravity"] = _raised(kept["local_gravity"])
    form = WorkshopForm(request.POST) if request.method == "POST" else begun(request, WorkshopForm, kept)
    if request.method == "POST" and done(
        request,
        form,
        lambda: change_workshop(actor, name=form.cleaned_data["workshop"], **form.said(*SETTINGS)),
        _("The workshop's settings were changed. Weighings keep the gravity they were worked out with."),
    ):
        return redirect("workshop")
    return render(request, "web/workshop_change.html", {**HERE, "form": form}, status=422 if form.errors else 200)


def _raised(quantity: str) -> str:
    """Write the exponent of a unit as a page does; the records keep it as files do."""
    return quantity.replace("m/s^2", "m/s²")
