"""The life of a part with a number of its own: where it was fitted, from when to when, why it came off."""

from __future__ import annotations

from uuid import UUID

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_safe

from hingeline_app.records.queries.aircraft import life_of_part
from hingeline_app.web.access import Who, open_to
from hingeline_app.web.for_the_viewer import or_no_page, viewer_of


@open_to(Who.SIGNED_IN)
@require_safe
def part(request: HttpRequest, part: UUID) -> HttpResponse:
    """Show where a part was."""
    with or_no_page():
        life = life_of_part(viewer_of(request), part)
    return render(request, "web/part.html", {"here": "aircraft", "section": "workshop", "life": life})
