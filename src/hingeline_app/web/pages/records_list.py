"""What was done: the list of records."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_safe

from hingeline_app.web.access import Who, open_to


@open_to(Who.SIGNED_IN)
@require_safe
def records(request: HttpRequest) -> HttpResponse:
    """List the records; there is none before a job is released."""
    return render(request, "web/records.html", {"here": "records"})
