"""The first page: to set-up, to sign-in, or to where the work is."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.views.decorators.http import require_safe

from hingeline_app.records.queries.at_the_door import workshop_is_set_up
from hingeline_app.web.access import Who, open_to


@open_to(Who.ANYBODY)
@require_safe
def home(request: HttpRequest) -> HttpResponse:
    """Send to the first page that this request may see."""
    if not workshop_is_set_up():
        return redirect("set-up")
    if request.visit is None:  # type: ignore[attr-defined]
        return redirect("sign-in")
    return redirect("bench")
