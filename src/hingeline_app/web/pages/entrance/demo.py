"""The demonstration's door: this browser counts as the tablet of the invented bench. Elsewhere it is not there."""

from __future__ import annotations

from django.conf import settings
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.views.decorators.http import require_safe

from hingeline_app.web.access import Who, open_to
from hingeline_app.web.pages.entrance.tablet_cookie import remember_tablet


@open_to(Who.ANYBODY)
@require_safe
def demo(request: HttpRequest) -> HttpResponse:
    """Hand this browser the tablet's secret, and go to the sign-in."""
    if not (settings.DEMO_TABLET and settings.LOOPBACK):
        raise Http404
    response = redirect("sign-in")
    remember_tablet(response, settings.DEMO_TABLET)
    return response
