"""The calendar of the checks ahead: one file, and a private address that a calendar program fetches."""

from __future__ import annotations

from typing import Any

from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils.translation import gettext as _
from django.views.decorators.http import require_POST, require_safe

from hingeline.document import to_document
from hingeline_app.files.due_calendar import write_calendar
from hingeline_app.records.actions.calendar_feeds import end_feed, make_feed
from hingeline_app.records.actions.entrance import NotAllowed
from hingeline_app.records.queries.calendar_feeds import feed_since, person_of_feed
from hingeline_app.records.queries.checks_ahead import checks_ahead
from hingeline_app.web.access import Who, open_to
from hingeline_app.web.for_the_viewer import viewer_of
from hingeline_app.web.pages.acts import one_press
from hingeline_app.web.pages.hangar.hangar import HERE
from hingeline_app.web.requests import visit_of


@open_to(Who.SIGNED_IN)
@require_safe
def calendar(request: HttpRequest) -> HttpResponse:
    """Show how the checks come into a calendar."""
    return _page(request)


@open_to(Who.SIGNED_IN)
@require_safe
def calendar_file(request: HttpRequest) -> HttpResponse:
    """Give the calendar file, with the reasons."""
    response = _calendar(viewer_of(request), titles_only=False)
    response["Content-Disposition"] = 'attachment; filename="checks-ahead.ics"'
    return response


@open_to(Who.SIGNED_IN)
@require_POST
def feed_make(request: HttpRequest) -> HttpResponse:
    """Make a private address and show it, this once."""
    try:
        token = make_feed(visit_of(request).actor)
    except NotAllowed as refused:
        return _page(request, refused=str(refused.reason))
    return _page(request, address=request.build_absolute_uri(reverse("fleet-feed", args=[token])))


@open_to(Who.SIGNED_IN)
@require_POST
def feed_end(request: HttpRequest) -> HttpResponse:
    """End one's private address."""
    one_press(
        request, lambda: end_feed(visit_of(request).actor), _("The address is withdrawn: it gives nothing any more.")
    )
    return redirect("fleet-calendar")


@open_to(Who.ANYBODY)
@require_safe
def feed(request: HttpRequest, token: str) -> HttpResponse:
    """Give days and titles to whoever has the address."""
    person = person_of_feed(token)
    if person is None:
        raise Http404
    return _calendar(person, titles_only=True)


def _calendar(person: Any, *, titles_only: bool) -> HttpResponse:
    document = to_document(checks_ahead(person).result)
    data = write_calendar(document, titles_only=titles_only)
    return HttpResponse(data, content_type="text/calendar; charset=utf-8")


def _page(request: HttpRequest, address: str = "", refused: str = "") -> HttpResponse:
    since = feed_since(viewer_of(request))
    context = {**HERE, "since": since, "address": address, "refused": refused}
    return render(request, "web/hangar/calendar.html", context)
