"""The security log: who came to the door, who was turned away, what was refused. For administrators."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_safe

from hingeline_app.records.queries.security import A_PAGE, kinds_of_security, security_log
from hingeline_app.web.access import Who, open_to
from hingeline_app.web.for_the_viewer import viewer_of

HERE = {"here": "security", "section": "workshop"}
LONGEST_NUMBER = 12


@open_to(Who.ADMINISTRATOR)
@require_safe
def security(request: HttpRequest) -> HttpResponse:
    """List a page of the log, the newest first."""
    viewer = viewer_of(request)
    assert viewer is not None, "this page is for signed-in people"
    before, kind = request.GET.get("before", ""), request.GET.get("kind", "")[:60]
    number = int(before) if before.isascii() and before.isdigit() and len(before) <= LONGEST_NUMBER else None
    entries = security_log(viewer, number, kind)
    context = {
        "entries": entries,
        "kinds": kinds_of_security(viewer),
        "kind": kind,
        "older": entries[-1].position if len(entries) == A_PAGE else None,
    }
    return render(request, "web/security.html", {**HERE, **context})
